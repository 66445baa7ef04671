/**
 * Whether the head passes the opening of the finished inside that it goes through: the largest one below the brow. The rule: along the way in, square to the opening,
 * the head needs the largest taut girth among its own sections, and 2π times its ease more; the opening gives the taut
 * girth of its rim seen along the way. That foam gives way, and that hair and ears are in the way, stays out of account.
 */
import { add3, cross3, dot3, norm3, type Point3, point3, scaleBy3, subtract3 } from '../math';
import type { GoesOn, Pattern } from '../model';
import { largestPart, type Opening, openingsOf, tautGirthOf } from '../shell';
import { formatLength, type Mm } from '../units';
import type { FinishedShell } from './finishedShell';
import type { SeatedHead } from './headform';

/** Openings with less girth than this part of the longest are eyelets and vents. */
const realOpening = 0.2;
/** Sections of the head that are looked at between its two ends along the way. */
const sections = 24;

export function goesOn(
  pattern: Pattern,
  finished: FinishedShell,
  head: SeatedHead,
  ease: Mm,
  scale: number,
): GoesOn | null {
  const rim = openingBelowBrow(finished, head);
  if (!rim) return null;
  const way = wayThrough(rim);
  const opening = tautGirthOf(rim.points, way);
  const needed = largestSection(head, way) + 2 * Math.PI * ease;
  const short = Math.max(0, needed - opening);
  return {
    passes: short === 0,
    opening,
    needed,
    short,
    vertices: rim.vertices,
    help: short === 0 ? [] : helpFor(pattern, finished, rim, way, short, scale),
  };
}

/** The largest opening with its middle below the brow; where none is, the lowest. */
function openingBelowBrow(finished: FinishedShell, { frame }: SeatedHead): Opening | null {
  const openings = openingsOf({ ...largestPart(finished.shell), vertices: finished.inside });
  const longest = openings[0]?.girth ?? 0;
  const real = openings.filter((o) => o.girth >= realOpening * longest);
  const below = real.filter((o) => dot3(subtract3(o.middle, frame.middle), frame.up) < 0);
  if (below.length > 0) return below.reduce((most, o) => (o.girth > most.girth ? o : most));
  return real.reduce<Opening | null>((low, o) => (low === null || o.middle.z < low.middle.z ? o : low), null);
}

/** Square to an opening (Newell's sum over its rim), upwards. */
function wayThrough(rim: Opening): Point3 {
  const o = rim.points[0]!;
  let n = point3(0, 0, 0);
  for (let i = 1; i + 1 < rim.points.length; i++)
    n = add3(n, cross3(subtract3(rim.points[i]!, o), subtract3(rim.points[i + 1]!, o)));
  const size = norm3(n);
  if (size === 0) return point3(0, 0, 1);
  return scaleBy3(n, (n.z < 0 ? -1 : 1) / size);
}

/** Largest taut girth of the head's sections square to the way. */
function largestSection({ headform, frame }: SeatedHead, way: Point3): Mm {
  // Square to the way the brow is the widest: dome and lower head both narrow from it.
  if (Math.abs(dot3(frame.up, way)) > alongBrow) return headform.girth;
  const level = headform.vertices.map((p) => dot3(p, way));
  const least = Math.min(...level);
  const most = Math.max(...level);
  let largest = 0;
  const cuts = Array.from({ length: sections }, (_, k) => least + ((k + 0.5) / sections) * (most - least));
  for (const cut of cuts) {
    const points: Point3[] = [];
    for (const t of headform.triangles)
      for (let k = 0; k < 3; k++) {
        const a = t[k]!;
        const b = t[(k + 1) % 3]!;
        const la = level[a]! - cut;
        const lb = level[b]! - cut;
        if (a < b && la >= 0 !== lb >= 0) {
          const s = la / (la - lb);
          const p = headform.vertices[a]!;
          points.push(add3(p, scaleBy3(subtract3(headform.vertices[b]!, p), s)));
        }
      }
    largest = Math.max(largest, tautGirthOf(points, way));
  }
  return largest;
}

/** Ways within about 2.5° of the brow's own direction. */
const alongBrow = 0.999;

function helpFor(
  pattern: Pattern,
  finished: FinishedShell,
  rim: Opening,
  way: Point3,
  short: Mm,
  scale: number,
): string[] {
  const paperRim = tautGirthOf(
    rim.vertices.map((v) => finished.paper[v]!),
    way,
  );
  const factor = 1 + short / paperRim;
  const behind = rim.vertices.reduce((low, v) => (finished.inside[v]!.y < finished.inside[low]!.y ? v : low));
  const face = (finished.shell.components[0]?.faces ?? []).find((f) =>
    finished.shell.faces[f]!.vertices.includes(behind),
  );
  const piece = pattern.pieces.find((p) => p.id === finished.shell.faces[face ?? -1]?.piece);
  return [
    `Split the shell at the back, from the rim upwards${piece ? ` through or beside piece ${piece.name}` : ''}, so that the rim opens by ${formatLength(short, 'mm')}, and close the split with straps or hook tape.`,
    `Or make it larger: at ${(100 * scale * factor).toFixed(1)} % the head with its ease would pass, and the brow would be looser by the same ${(100 * (factor - 1)).toFixed(1)} %.`,
  ];
}
