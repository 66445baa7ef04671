/**
 * Strips along seams. On both sides of the seam's line the surface has an angle; where they differ the line bends, and a
 * flat strip turns by half their difference. A seam over a dome or a saddle leaves the strip with as much stretch on one
 * side as squeeze on the other.
 */
import { distance3, type Point3 } from '../math';
import { extraPanelId, type FoamDecisions, type SeamStripPart, type StandingOnShell } from '../model';
import type { Rad } from '../units';
import { flatCourse, ribbon } from './course';
import { fanAngle, type Ground } from './ground';
import { besideInSpace, ribbonBetween } from './inSpace';
import { finding, type MadePart, made, stuck } from './part';
import { waysLeft } from './rims';
import { layerDepth, skinUnder } from './skins';

const wayOut = 'Select its seam again and add the strip anew, or take the part out.';

export function makeSeamStrip(part: SeamStripPart, ground: Ground, foam: FoamDecisions): MadePart {
  const wanted = new Set(part.seams);
  const own = ground.sides.filter((s) => s.kind === 'seam' && wanted.has(s.id));
  const gone = part.seams.filter((id) => !own.some((s) => s.id === id)).length;
  if (own.length === 0) return stuck(part, 'its seam is not there any more', wayOut);
  const thickness = part.thickness ?? foam.thickness;
  const skin = skinUnder(
    ground,
    own.map((s) => s.face),
    part.side,
  );
  if (!skin) return stuck(part, 'no panel at its seam is on the folded shell', wayOut);
  const places = ground.at(layerDepth(skin.height, part.side, thickness, foam.neutralRatio));
  const lines = chains(own);
  const issues = [...skin.uneven(part)];
  if (gone > 0)
    issues.push(
      finding(
        'extra-in-part',
        'warning',
        part,
        `“${part.name}” follows only what is left of its seam.`,
        wayOut,
      ),
    );
  const flats = lines.map((line, k) => {
    const lengths = line.slice(1).map((v, i) => distance3(places[line[i]!]!, places[v]!));
    const turns = line
      .slice(1, -1)
      .map((v, i) =>
        turnAt(v, line[i]!, line[i + 2]!, (at, from, to) => fanAngle(ground, at, from, to, places)),
      );
    const course = flatCourse(lengths, turns);
    const rings = ribbon(course, part.width / 2, part.width / 2);
    if (rings.length !== 1)
      issues.push(
        finding(
          'strip-meets-itself',
          'warning',
          part,
          `“${part.name}” is too wide for the bends of its seam: it meets itself when laid flat.`,
          'Make it narrower, or take a shorter stretch of seam.',
        ),
      );
    const id = extraPanelId(part.id, k);
    const name = lines.length > 1 ? `${part.name} ${k + 1}` : part.name;
    const guides = [{ id: `${id}:seam`, points: course, closed: false, label: '' }];
    return { id, name, rings, quantity: 1, thickness, folds: [], guides };
  });
  const drawn = lines.map((line, k): StandingOnShell => {
    const sides = line.slice(1).map((v, i) => [line[i]!, v] as const);
    const points = line.map((v) => places[v]!);
    const left = waysLeft(sides, ground, places);
    const right = waysLeft(
      sides.map(([a, b]) => [b, a] as const),
      ground,
      places,
    );
    const beside = (ways: readonly (Point3 | null)[]) => besideInSpace(points, ways, part.width / 2);
    const [one, other] = [
      ribbonBetween(points, beside(left), false),
      ribbonBetween(beside(right), points, false),
    ];
    return {
      ...{ part: part.id, panel: flats[k]!.id, name: flats[k]!.name, kind: part.kind, side: part.side },
      patches: [...one.patches, ...other.patches],
      outline: ribbonBetween(beside(right), beside(left), false).outline,
      folds: [],
    };
  });
  return { ...made(flats, issues), standing: drawn };
}

/** The turn to the left at `v` on the way from `before` to `after`; a border takes one side's word for it. */
function turnAt(
  v: number,
  before: number,
  after: number,
  fan: (at: number, from: number, to: number) => Rad | null,
): Rad {
  const left = fan(v, after, before);
  const right = fan(v, before, after);
  if (left !== null && right !== null) return (right - left) / 2;
  if (left !== null) return Math.PI - left;
  return right !== null ? right - Math.PI : 0;
}

/** The sides as lines of vertices; at a branch a new line begins, a closed round begins and ends at one vertex. */
function chains(sides: readonly { readonly from: number; readonly to: number }[]): number[][] {
  const next = new Map<number, Set<number>>();
  const link = (a: number, b: number) => void next.set(a, (next.get(a) ?? new Set()).add(b));
  for (const { from, to } of sides) {
    link(from, to);
    link(to, from);
  }
  const take = (a: number, b: number) => {
    next.get(a)!.delete(b);
    next.get(b)!.delete(a);
  };
  const degree = new Map([...next].map(([v, set]) => [v, set.size]));
  const walk = (start: number): number[] => {
    const line = [start];
    for (let at = start; ; ) {
      const [to] = next.get(at)!;
      if (to === undefined) return line;
      take(at, to);
      line.push(to);
      at = to;
      if (degree.get(at) !== 2) return line;
    }
  };
  const lines: number[][] = [];
  const starts = [...next.keys()];
  for (const v of starts) if (degree.get(v) !== 2) while (next.get(v)!.size > 0) lines.push(walk(v));
  for (const v of starts) if (next.get(v)!.size > 0) lines.push(walk(v));
  return lines;
}
