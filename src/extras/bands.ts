/**
 * Rings for openings. The length is that of the rim on the surface where the band's neutral layer lies: outside, the
 * outer skin and K · t beyond; inside, the inner skin and (1 − K) · t within. Corners of the rim are mitred, as folds of
 * panels are.
 */
import type { Issue } from '../base';
import { distance3, type Point3 } from '../math';
import {
  type BandPart,
  extraPanelId,
  type FoamDecisions,
  type PanelGuide,
  type Seams,
  type Shell,
} from '../model';
import type { Mm } from '../units';
import type { FlatPart } from './asPanel';
import { besideCourse, flatCourse, ribbon } from './course';
import { farMisfit, type StripPart, stripParts } from './fittedStrip';
import { fanAngle, type Ground } from './ground';
import { besideInSpace, ribbonBetween } from './inSpace';
import { openingWith } from './openings';
import { finding, type MadePart, made, stuck } from './part';
import { sidesOf, waysLeft } from './rims';
import { layerDepth, skinUnder } from './skins';
import { flatMisfit } from './tolerance';

const wayOut = 'Choose its opening again under “Extra parts” in the Panels step, or take the part out.';

export function makeBand(
  part: BandPart,
  ground: Ground,
  shell: Shell,
  seams: Seams,
  foam: FoamDecisions,
): MadePart {
  const opening = openingWith(shell, ground.sides, part.edges);
  if (!opening) return stuck(part, 'its opening is not there any more', wayOut);
  const rim = opening.vertices;
  const n = rim.length;
  const thickness = part.thickness ?? foam.thickness;
  const faces = rim.flatMap((v, i) => ground.sideAt(v, rim[(i + 1) % n]!)?.face ?? []);
  const skin = skinUnder(ground, faces, part.side);
  if (!skin) return stuck(part, 'no panel at its opening is on the folded shell', wayOut);
  const places = ground.at(layerDepth(skin.height, part.side, thickness, foam.neutralRatio));
  // Ends meet at the back, where they are seen least.
  const first = rim.reduce((best, v, i) => (places[v]!.y < places[rim[best]!]!.y - 1e-6 ? i : best), 0);
  const order = [...rim.slice(first), ...rim.slice(0, first)];
  const lengthAt = (i: number): Mm => distance3(places[order[i % n]!]!, places[order[(i + 1) % n]!]!);
  // The shell lies on the left of the rim: a fitted band turns by what the faces there leave of a straight angle.
  const turnAt = (i: number): number => {
    if (part.shape === 'straight') return 0;
    const inside = fanAngle(ground, order[i % n]!, order[(i + 1) % n]!, order[(i + n - 1) % n]!, places);
    return inside === null ? 0 : Math.PI - inside;
  };
  const lengths: Mm[] = Array.from({ length: n }, (_, i) => lengthAt(i));
  const turns = lengths.slice(1).map((_, i) => turnAt(i + 1));
  // The overlap goes on along the rim as the band began.
  for (let left = part.overlap, i = n; left > 1e-9; i++) {
    const step = Math.min(left, lengthAt(i));
    turns.push(turnAt(i));
    lengths.push(step);
    left -= step;
  }
  const line = flatCourse(lengths, turns);
  const rings = ribbon(line, part.width, 0);
  const issues = [...skin.uneven(part)];
  const meets = new Map<number, string>();
  for (const { seam, number } of seamNumbers(seams))
    for (const s of ground.sides)
      if (s.kind === 'seam' && s.id === seam)
        for (const v of [s.from, s.to]) if (order.includes(v)) meets.set(v, String(number));
  const ways = waysLeft(sidesOf({ vertices: order, closed: true }), ground, places);
  const points = order.map((v) => places[v]!);
  const far = besideInSpace(points, ways, part.width);
  const fitted = { order, places, width: part.width };
  const off = part.shape === 'fitted' ? farMisfit(ground, fitted) : 0;
  if (off > flatMisfit || (part.shape === 'fitted' && rings.length !== 1)) {
    const parts = stripParts(ground, fitted);
    return inParts({ part, thickness, meets, order, points, far }, parts, [
      ...issues,
      ...partsFindings(part, parts),
    ]);
  }
  if (off > farWorthSaying)
    issues.push(
      finding(
        'band-far-edge',
        'note',
        part,
        `The wall beside the opening of “${part.name}” slopes along and across: its far edge is up to ${off.toFixed(1)} mm too long or too short in all, which foam gives.`,
        'Make it narrower where that shows.',
      ),
    );
  if (rings.length !== 1)
    issues.push(
      finding(
        'band-meets-itself',
        'warning',
        part,
        `“${part.name}” is too wide for the curve of its opening: it meets itself when laid flat.`,
        'Make it narrower, or choose a straight band.',
      ),
    );
  const beside = besideCourse(line, part.width);
  const across = (i: number, id: string, label: string): PanelGuide => ({
    id: `${extraPanelId(part.id)}:${id}`,
    points: [line[i]!, beside[i]!],
    closed: false,
    label,
  });
  const guides = [
    ...order.flatMap((v, i) => {
      const number = meets.get(v);
      return i > 0 && number ? [across(i, `seam-${i}`, number)] : [];
    }),
    ...(part.overlap > 0 ? [across(n, 'lap', 'end meets here')] : []),
  ];
  const id = extraPanelId(part.id);
  return {
    ...made([{ id, name: part.name, rings, quantity: 1, thickness, folds: [], guides }], issues),
    standing: [
      {
        ...{ part: part.id, panel: id, name: part.name, kind: part.kind, side: part.side },
        ...ribbonBetween(points, far, true),
      },
    ],
  };
}

/** What a far edge is off by in all is told from here on: less is not seen. */
const farWorthSaying: Mm = 0.2;

interface Ring {
  readonly part: BandPart;
  readonly thickness: Mm;
  /** Numbers of seams that meet the rim, by vertex. */
  readonly meets: ReadonlyMap<number, string>;
  readonly order: readonly number[];
  /** The rim and the far edge in space. */
  readonly points: readonly Point3[];
  readonly far: readonly Point3[];
}

/** A band in parts that butt, each marked with where seams meet it. */
function inParts(
  { part, thickness, meets, order, points, far }: Ring,
  parts: readonly StripPart[],
  issues: readonly Issue[],
): MadePart {
  const n = order.length;
  const nameOf = (k: number) => (parts.length > 1 ? `${part.name} ${k + 1}` : part.name);
  const flats = parts.map(({ from, line, beside, rings }, k): FlatPart => {
    const id = extraPanelId(part.id, k);
    const guides = line.slice(1, -1).flatMap((p, i): PanelGuide[] => {
      const number = meets.get(order[(from + i + 1) % n]!);
      if (!number) return [];
      return [{ id: `${id}:seam-${i + 1}`, points: [p, beside[i + 1]!], closed: false, label: number }];
    });
    return { id, name: nameOf(k), rings, quantity: 1, thickness, folds: [], guides };
  });
  return {
    ...made(flats, issues),
    standing: parts.map(({ from, count }, k) => {
      const own = <T>(list: readonly T[]) =>
        Array.from({ length: count + 1 }, (_, i) => list[(from + i) % n]!);
      return {
        ...{
          part: part.id,
          panel: extraPanelId(part.id, k),
          name: nameOf(k),
          kind: part.kind,
          side: part.side,
        },
        ...ribbonBetween(own(points), own(far), false),
      };
    }),
  };
}

function partsFindings(part: BandPart, parts: readonly StripPart[]): Issue[] {
  const off = Math.max(...parts.map((p) => p.misfit));
  const torn = parts.some((p) => p.rings.length !== 1);
  const gives = off > 0.05 ? ` Foam gives by up to ${off.toFixed(1)} mm along a side of a face.` : '';
  const lap = part.overlap > 0 ? ' They butt; its overlap is left out.' : ' They butt.';
  return [
    finding(
      'band-in-parts',
      'note',
      part,
      `The wall beside the opening of “${part.name}” slopes along and across, so the band does not lie flat as one: it is cut in ${parts.length} parts.${lap}${gives}`,
      'Make it narrower for fewer parts, or choose a straight band.',
    ),
    ...(off > flatMisfit || torn
      ? [
          finding(
            'band-does-not-lie-flat',
            'warning',
            part,
            torn
              ? `A part of “${part.name}” is too wide for the curve of its opening: it meets itself when laid flat.`
              : `Even in parts “${part.name}” does not lie flat: a side is off by ${off.toFixed(1)} mm.`,
            'Make it narrower, or choose a straight band.',
          ),
        ]
      : []),
  ];
}

const seamNumbers = (seams: Seams) =>
  seams.runs.flatMap((run) => run.seams.map((seam) => ({ seam, number: run.number })));
