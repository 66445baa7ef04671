/**
 * Rings for openings. The length is that of the rim on the surface where the band's neutral layer lies: outside, the
 * outer skin and K · t beyond; inside, the inner skin and (1 − K) · t within. Corners of the rim are mitred, as folds of
 * panels are.
 */
import { distance3 } from '../math';
import {
  type BandPart,
  extraPanelId,
  type FoamDecisions,
  type PanelGuide,
  type Seams,
  type Shell,
} from '../model';
import type { Mm } from '../units';
import { besideCourse, flatCourse, ribbon } from './course';
import { fanAngle, type Ground } from './ground';
import { besideInSpace, ribbonBetween } from './inSpace';
import { openingWith } from './openings';
import { finding, type MadePart, made, stuck } from './part';
import { sidesOf, waysLeft } from './rims';
import { layerDepth, skinUnder } from './skins';

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
  const meets = new Map<number, string>();
  for (const { seam, number } of seamNumbers(seams))
    for (const s of ground.sides)
      if (s.kind === 'seam' && s.id === seam)
        for (const v of [s.from, s.to]) if (order.includes(v)) meets.set(v, String(number));
  const guides = [
    ...order.flatMap((v, i) => {
      const number = meets.get(v);
      return i > 0 && number ? [across(i, `seam-${i}`, number)] : [];
    }),
    ...(part.overlap > 0 ? [across(n, 'lap', 'end meets here')] : []),
  ];
  const id = extraPanelId(part.id);
  const ways = waysLeft(sidesOf({ vertices: order, closed: true }), ground, places);
  const points = order.map((v) => places[v]!);
  return {
    ...made([{ id, name: part.name, rings, quantity: 1, thickness, folds: [], guides }], issues),
    standing: [
      {
        ...{ part: part.id, panel: id, name: part.name, kind: part.kind, side: part.side },
        ...ribbonBetween(points, besideInSpace(points, ways, part.width), true),
      },
    ],
  };
}

const seamNumbers = (seams: Seams) =>
  seams.runs.flatMap((run) => run.seams.map((seam) => ({ seam, number: run.number })));
