/**
 * Blanks for visors. The rim of an opening, where the visor's own neutral layer lies over it, is laid on the sheet that
 * bends one way and comes nearest to it; that sheet unrolls without stretch. How far the rim is from the sheet says how
 * far the opening is from what a flat blank can cover.
 */
import type { Issue } from '../base';
import {
  add3,
  cross3,
  directionAngle,
  distance3,
  dot3,
  norm,
  type Point,
  type Point3,
  point,
  point3,
  ringArea,
  rotate,
  scaleBy3,
  subtract3,
  unitOf3,
} from '../math';
import {
  extraPanelId,
  type FoamDecisions,
  type PanelFold,
  type PanelGuide,
  type Plane3,
  type Seams,
  type Shell,
  type VisorPart,
} from '../model';
import { offsetRings, uniteRings } from '../plane';
import { faceNormals } from '../shell';
import { degrees, type Mm, type Rad } from '../units';
import { bentSheet, type CoveringSheet, follows, longerBy, mostOff } from './bentSheet';
import { insideParts, joined } from './clip';
import { besideCourse, ribbon } from './course';
import { foldedSheet } from './foldedSheet';
import type { Ground } from './ground';
import { openingWith } from './openings';
import { finding, type MadePart, stuck } from './part';
import { layerDepth, skinUnder } from './skins';
import { mitreLimit, overlapShare, shaving, visibleBend, visorFold, visorLook, visorOff } from './tolerance';

const wayOut = 'Choose its opening again under “Extra parts” in the Panels step, or take the visor out.';
const nearer =
  'Cover a part of the rim instead (select those edges), build it of several parts with raised layers, or leave the opening free and use a smaller margin.';

/** A stretch of rim in the order of the shell's sides: the shell lies on its left. */
interface Rim {
  readonly vertices: readonly number[];
  readonly closed: boolean;
  /** Edges were chosen in several places, and this is the longest. */
  readonly inPart: boolean;
}

/** @param brow plane of the brow at the final size; null where it is not known */
export function makeVisor(
  part: VisorPart,
  ground: Ground,
  shell: Shell,
  seams: Seams,
  foam: FoamDecisions,
  brow: Plane3 | null,
): MadePart {
  const opening = openingWith(shell, ground.sides, part.edges);
  if (!opening) return stuck(part, 'its opening is not there any more', wayOut);
  const rim = rimOf(part, ground, opening.vertices);
  const stretches = sidesOf(rim);
  const faces = stretches.flatMap(([a, b]) => ground.sideAt(a, b)?.face ?? []);
  const skin = skinUnder(ground, faces, part.side);
  if (!skin) return stuck(part, 'no panel at its opening is on the folded shell', wayOut);
  if (rim.vertices.length < 4) return stuck(part, 'its rim has too few corners', wayOut);
  const thickness = part.thickness ?? foam.thickness;
  const places = ground.at(layerDepth(skin.height, part.side, thickness, foam.neutralRatio));
  const points = rim.vertices.map((v) => places[v]!);
  const into = intoShell(rim, ground, places);
  const covering = sheetOver(points, into, middleOf(places), rim.closed);
  if ('refused' in covering) return stuck(part, covering.refused, nearer);
  const { sheet, bentOff } = covering;
  const line = rim.closed ? [...sheet.flat, sheet.flat[0]!] : sheet.flat;
  const ring = ringArea(sheet.flat) < 0 ? [...sheet.flat].reverse() : sheet.flat;
  const clean = uniteRings([ring]).filter((r) => Math.abs(ringArea(r)) > shaving);
  const grown =
    part.margin > 0 ? offsetRings(clean, part.margin, { kind: 'mitre', limit: mitreLimit }) : clean;
  // A part of a rim that is straight when laid flat encloses nothing: there is its margin alone.
  const rings = rim.closed ? grown : uniteRings([...grown, ...ribbon(line, part.margin, part.margin)]);
  const outer = rings.filter((r) => ringArea(r) > shaving);
  if (outer.length !== 1)
    return stuck(
      part,
      outer.length === 0
        ? 'its outline encloses nothing: give it a margin'
        : 'the outline of its opening crosses itself when laid flat',
      nearer,
    );
  const id = extraPanelId(part.id);
  const issues = [...skin.uneven(part), fitOf(part, rim, sheet, bentOff, points, standing(into, sheet))];
  if (rim.inPart)
    issues.push(
      finding(
        'extra-in-part',
        'warning',
        part,
        `“${part.name}” covers the longest of several stretches of rim that are chosen for it.`,
        'Choose edges that follow each other.',
      ),
    );
  const eyes = eyeLine(part, sheet, brow, outer, id, issues);
  const guides: PanelGuide[] = [
    ...(part.margin > 0
      ? [{ id: `${id}:rim`, points: sheet.flat, closed: rim.closed, label: 'rim of the opening' }]
      : []),
    ...seamTicks(part, ground, seams, rim, line, id),
    ...eyes,
  ];
  return {
    flats: [
      { id, name: part.name, rings: outer, quantity: 1, thickness, folds: foldsIn(sheet, ring, id), guides },
    ],
    guides: part.margin > 0 ? placement(part, ground, rim, id) : new Map(),
    issues,
    stuck: false,
  };
}

/**
 * A sheet that bends evenly where the rim is near enough to one; else one folded along lines, as long as it is laid flat
 * without lying on itself and no fold is sharper than foam follows when it is scored.
 */
function sheetOver(
  points: readonly Point3[],
  into: readonly Point3[],
  middle: Point3,
  closed: boolean,
): { sheet: CoveringSheet; bentOff: Mm | null } | { refused: string } {
  const bent = bentSheet(points, into, middle, closed);
  const bentOff = bent ? mostOff(bent) : null;
  if (bent && follows(bent, points, closed)) return { sheet: upright(bent, points), bentOff };
  const longer = bent ? Math.abs(longerBy(bent, points, closed)) : 0;
  const far =
    bentOff === null
      ? 'no sheet that bends evenly covers its opening'
      : bentOff > visorOff
        ? `its rim is up to ${mm(bentOff)} off any sheet that bends evenly (${mm(visorOff)} can be pulled in)`
        : `on a sheet that bends evenly its rim would stretch by ${mm(longer)}`;
  const sheet = foldedSheet(points);
  if (!sheet) return { refused: `${far}, and its rim has too many corners to be folded` };
  const sharpest = Math.max(0, ...sheet.folds.map((f) => Math.abs(f.bend)));
  if (sharpest > visorFold)
    return { refused: `${far}, and folded it would need a bend of ${Math.round(degrees(sharpest))}°` };
  if (liesOnItself(sheet.flat)) return { refused: `${far}, and folded it lies on itself when laid flat` };
  return { sheet: upright(sheet, points), bentOff };
}

/** The flat sheet turned so that what is higher on the wearer is higher on it; of a level opening, what is in front. */
function upright(sheet: CoveringSheet, points: readonly Point3[]): CoveringSheet {
  const rise = slopeOf(
    sheet.flat,
    points.map((p) => p.z),
  );
  const up =
    norm(rise) > leastRise
      ? rise
      : slopeOf(
          sheet.flat,
          points.map((p) => p.y),
        );
  const turn: Rad = norm(up) === 0 ? 0 : Math.PI / 2 - directionAngle(up);
  const at = (p: Point) => rotate(p, turn);
  return {
    ...sheet,
    flat: sheet.flat.map(at),
    folds: sheet.folds.map((f) => ({ ...f, points: [at(f.points[0]), at(f.points[1])] })),
    lineOf: (plane) => sheet.lineOf(plane).map(([a, b]) => [at(a), at(b)] as const),
  };
}

/** A sheet that rises by less, mm a mm, has no upper end. */
const leastRise = 0.3;

/** The direction in which values at points of the plane grow, by least squares. */
function slopeOf(points: readonly Point[], values: readonly number[]): Point {
  const n = points.length;
  const [mx, my, mv] = [mean(points.map((p) => p.x)), mean(points.map((p) => p.y)), mean(values)];
  let [xx, xy, yy, xv, yv] = [0, 0, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    const [x, y, v] = [points[i]!.x - mx, points[i]!.y - my, values[i]! - mv];
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xv += x * v;
    yv += y * v;
  }
  const det = xx * yy - xy * xy;
  return det === 0 ? point(0, 0) : point((xv * yy - yv * xy) / det, (yv * xx - xv * xy) / det);
}

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;

/** A ring that crosses itself covers less, or other, ground than its area says. */
function liesOnItself(ring: readonly Point[]): boolean {
  const area = Math.abs(ringArea(ring));
  const covered = uniteRings([ring], 'nonZero').reduce((sum, r) => sum + ringArea(r), 0);
  return Math.abs(covered - area) > overlapShare * area;
}

const mm = (length: Mm): string => `${length.toFixed(1)} mm`;

const sidesOf = ({ vertices, closed }: Rim): [number, number][] =>
  vertices.flatMap((v, i): [number, number][] => {
    const next = i + 1 < vertices.length ? vertices[i + 1]! : closed ? vertices[0]! : null;
    return next === null ? [] : [[v, next]];
  });

function rimOf(part: VisorPart, ground: Ground, vertices: readonly number[]): Rim {
  const whole: Rim = { vertices, closed: true, inPart: false };
  if (part.rim === 'whole') return whole;
  const wanted = new Set(part.edges);
  const chosen = new Map(
    ground.sides.flatMap((s) => (s.kind === 'open' && wanted.has(s.id) ? [[s.from, s.to] as const] : [])),
  );
  const n = vertices.length;
  const on = vertices.map((v, i) => chosen.get(v) === vertices[(i + 1) % n]);
  if (on.every(Boolean)) return whole;
  const first = on.findIndex((is, i) => is && !on[(i + n - 1) % n]);
  const runs: number[][] = [];
  for (let k = 0; k < n; k++) {
    const i = (first + k) % n;
    if (!on[i]) continue;
    const last = runs.at(-1);
    if (last && last.at(-1) === vertices[i]) last.push(vertices[(i + 1) % n]!);
    else runs.push([vertices[i]!, vertices[(i + 1) % n]!]);
  }
  const lengthOf = (run: readonly number[]) =>
    run.slice(1).reduce((sum, v, i) => sum + distance3(ground.places[run[i]!]!, ground.places[v]!), 0);
  const longest = runs.reduce((best, run) => (lengthOf(run) > lengthOf(best) ? run : best));
  return { vertices: longest, closed: false, inPart: runs.length > 1 };
}

function middleOf(places: readonly Point3[]): Point3 {
  return places.reduce((sum, p) => add3(sum, scaleBy3(p, 1 / places.length)), point3(0, 0, 0));
}

/** Folds as far as they cross the opening; the margin follows by itself. */
const foldsIn = ({ folds }: CoveringSheet, ring: readonly Point[], id: string): PanelFold[] =>
  folds.flatMap(({ points: [a, b], bend }, k) =>
    Math.abs(bend) < visibleBend
      ? []
      : insideParts(a, b, [ring]).map((points, j) => ({
          id: `${id}:fold-${k}-${j}`,
          points,
          role: bend > 0 ? ('mountain' as const) : ('valley' as const),
          bend,
          bendFrom: 'shell' as const,
        })),
  );

/** At each corner of the rim the way into the shell beside it, square to the rim: the mean of both sides. */
function intoShell(rim: Rim, ground: Ground, places: readonly Point3[]): Point3[] {
  const normals = faceNormals({ vertices: places, faces: ground.patches });
  const found = new Map<number, Point3>();
  for (const [a, b] of sidesOf(rim)) {
    const side = ground.sideAt(a, b);
    if (!side) continue;
    const into = unitOf3(cross3(normals[side.face]!, subtract3(places[b]!, places[a]!)));
    for (const v of [a, b]) found.set(v, add3(found.get(v) ?? point3(0, 0, 0), into));
  }
  return rim.vertices.map((v) => unitOf3(found.get(v) ?? point3(0, 0, 0)));
}

/** How far a margin of 1 mm stands off the shell at its edge, or the shell out through it, at the worst place. */
const standing = (into: readonly Point3[], { normals }: CoveringSheet): number =>
  Math.max(...into.map((way, i) => Math.abs(dot3(way, normals[i]!))));

/** Foam buckles at sharper folds unless they are scored, degrees: common practice, no source. */
const scoredFrom = 35;

function fitOf(
  part: VisorPart,
  rim: Rim,
  sheet: CoveringSheet,
  bentOff: Mm | null,
  points: readonly Point3[],
  leaning: number,
): Issue {
  const off = sheet.off.map(Math.abs);
  const most = Math.max(...off);
  const longer = longerBy(sheet, points, rim.closed);
  const stretch =
    Math.abs(longer) < 0.05
      ? ''
      : ` Its rim comes out ${mm(Math.abs(longer))} ${longer > 0 ? 'longer' : 'shorter'}.`;
  const stands = part.margin * leaning;
  const margin =
    stands < visorLook
      ? ''
      : ` At its edge the margin is up to ${mm(stands)} off the shell, which curves away there.`;
  const { folds } = sheet;
  if (folds.length > 0) {
    const bends = folds.map((f) => Math.abs(f.bend)).filter((b) => b >= visibleBend);
    const sharpest = Math.round(degrees(Math.max(0, ...bends)));
    const even =
      bentOff === null
        ? 'Nothing that bends evenly covers it'
        : `A sheet that bends evenly is up to ${mm(bentOff)} off the rim`;
    return finding(
      'visor-folded',
      'warning',
      part,
      `“${part.name}” is folded along ${bends.length === 1 ? '1 line' : `${bends.length} lines`}, the sharpest by ${sharpest}°. ${even}; folded, it meets the rim.${margin}`,
      `${sharpest > scoredFrom ? `Score the folds over ${scoredFrom}° on the side that closes` : 'Bend it along its folds'}, cut it in card first, or cover a part of the rim.`,
    );
  }
  return finding(
    'visor-fit',
    most > visorLook ? 'warning' : 'note',
    part,
    `“${part.name}” bends one way only: the rim is up to ${mm(most)} off it, ${mm(mean(off))} on average.${stretch}${margin}`,
    most > visorLook
      ? 'Cut it in card first, and pull it in or fill the gap where it shows; or cover a part of the rim.'
      : 'Nothing needs to be done. Cut it in card first and hold it on the opening.',
  );
}

/** Where seams of the shell meet the rim: a tick over the margin, with the seam's number. */
function seamTicks(
  part: VisorPart,
  ground: Ground,
  seams: Seams,
  { vertices, closed }: Rim,
  line: readonly Point[],
  id: string,
): PanelGuide[] {
  const numbers = new Map(seams.runs.flatMap((run) => run.seams.map((s) => [s, run.number] as const)));
  const meets = new Map<number, number>();
  for (const s of ground.sides) {
    const number = s.kind === 'seam' ? numbers.get(s.id) : undefined;
    if (number !== undefined) for (const v of [s.from, s.to]) meets.set(v, number);
  }
  // Without a margin the ticks stand inside.
  const reach = part.margin > 0 ? part.margin : -inwardTick;
  const wrapped = closed ? [line.at(-2)!, ...line, line[1]!] : line;
  const beside = closed ? besideCourse(wrapped, reach).slice(1) : besideCourse(wrapped, reach);
  return vertices.flatMap((v, i): PanelGuide[] => {
    const number = meets.get(v);
    if (number === undefined) return [];
    return [{ id: `${id}:seam-${i}`, points: [line[i]!, beside[i]!], closed: false, label: String(number) }];
  });
}

const inwardTick: Mm = 6;

function eyeLine(
  part: VisorPart,
  sheet: CoveringSheet,
  brow: Plane3 | null,
  outline: readonly (readonly Point[])[],
  id: string,
  issues: Issue[],
): PanelGuide[] {
  if (part.eyes === null) return [];
  const fail = (why: string, remedy: string): PanelGuide[] => {
    issues.push(
      finding('eye-line-missing', 'warning', part, `The eye line of “${part.name}” ${why}.`, remedy),
    );
    return [];
  };
  if (!brow)
    return fail(
      'is not marked: the shell has no brow line to count from',
      'Place the brow in the Size step.',
    );
  const line = sheet.lineOf({ normal: brow.normal, offset: brow.offset - part.eyes });
  const parts = joined(line.flatMap(([a, b]) => insideParts(a, b, outline)));
  if (parts.length === 0)
    return fail(
      'does not cross the blank: the eyes would be behind the shell',
      'Check how far the eyes are below the brow, the height of the brow in the Size step, and which opening it covers.',
    );
  return parts.map(({ points }, k) => ({ id: `${id}:eyes-${k}`, points, closed: false, label: 'eye line' }));
}

/** Where the edge of the margin comes to lie on the panels round the opening. */
function placement(part: VisorPart, ground: Ground, rim: Rim, id: string): Map<string, PanelGuide[]> {
  const runs: { panel: string; line: Point[]; starts: boolean; ends: boolean }[] = [];
  for (const [a, b] of sidesOf(rim)) {
    const side = ground.sideAt(a, b);
    const seat = side ? ground.seats[side.face] : null;
    if (!side || !seat) continue;
    const [p, q] = [seat.ring[side.corner]!, seat.ring[(side.corner + 1) % seat.ring.length]!];
    const last = runs.at(-1);
    if (last?.panel === seat.panel) last.line.push(q);
    else runs.push({ panel: seat.panel, line: [p, q], starts: rim.closed || runs.length > 0, ends: true });
  }
  if (!rim.closed && runs.length > 0) runs[runs.length - 1]!.ends = false;
  const [first, last] = [runs[0], runs.at(-1)];
  // The round may have begun in the middle of a panel's stretch.
  if (rim.closed && first && last && first !== last && first.panel === last.panel) {
    first.line = [...last.line, ...first.line.slice(1)];
    runs.pop();
  }
  const found = new Map<string, PanelGuide[]>();
  runs.forEach(({ panel, line, starts, ends }, k) => {
    // At a seam the line goes on as far as the panel does.
    const long = [
      ...(starts ? [beyond(line[1]!, line[0]!, 3 * part.margin)] : []),
      ...line,
      ...(ends ? [beyond(line.at(-2)!, line.at(-1)!, 3 * part.margin)] : []),
    ];
    const beside = besideCourse(long, part.margin);
    const outline = ground.outlines.get(panel) ?? [];
    const lines = joined(beside.slice(1).flatMap((q, i) => insideParts(beside[i]!, q, outline)));
    found.set(panel, [
      ...(found.get(panel) ?? []),
      ...lines.map((l, j) => ({ id: `${id}:on:${panel}:${k}-${j}`, ...l, label: part.name })),
    ]);
  });
  return found;
}

function beyond(from: Point, to: Point, by: Mm): Point {
  const length = Math.hypot(to.x - from.x, to.y - from.y) || 1;
  return { x: to.x + ((to.x - from.x) * by) / length, y: to.y + ((to.y - from.y) * by) / length };
}
