/** The folds that divide a panel best: both parts much less curved, along a short line where the shell bends most. */
import { type Ground, normalSum, spreadOf } from './block';

/**
 * Every fold of the panel is the start of a cut: with what else has to be cut so that its two faces part. Among these
 * the one with the smallest larger part (by spread of normals and by area) wins; sharper folds go before flat ones.
 * @returns hinges to cut, or null when nothing divides the panel
 */
export function divide(
  ground: Ground,
  faces: readonly number[],
  cut: readonly boolean[],
  isFrozen: (h: number) => boolean,
): readonly number[] | null {
  const { surface } = ground;
  const inside = new Set(faces);
  const inner = surface.hinges.flatMap((hinge, h) => {
    const a = surface.chains[hinge.a]!.face;
    const b = surface.chains[hinge.b]!.face;
    return !cut[h] && inside.has(a) && inside.has(b) && a !== b ? [{ h, a, b }] : [];
  });
  const links = new Map<number, { h: number; to: number }[]>();
  for (const { h, a, b } of inner) {
    links.set(a, [...(links.get(a) ?? []), { h, to: b }]);
    links.set(b, [...(links.get(b) ?? []), { h, to: a }]);
  }
  const total = faces.reduce((sum, f) => sum + ground.areas[f]!, 0);
  let best: { line: number[]; score: number } | null = null;
  for (const { h, a, b } of inner) {
    const side = nearer(links, a, b, h);
    const line = inner.filter((l) => side.get(l.a) !== side.get(l.b)).map((l) => l.h);
    if (line.some(isFrozen)) continue;
    const one = faces.filter((f) => side.get(f) === 0);
    const two = faces.filter((f) => side.get(f) !== 0);
    if (one.length === 0 || two.length === 0) continue;
    const spread = Math.max(...[one, two].map((part) => spreadOf(ground, part, normalSum(ground, part))));
    const areaOf = (part: readonly number[]) => part.reduce((sum, f) => sum + ground.areas[f]!, 0);
    const share = Math.max(areaOf(one), areaOf(two)) / total;
    const bend = line.reduce((sum, l) => sum + ground.bends[l]! * ground.lengths[l]!, 0);
    const length = line.reduce((sum, l) => sum + ground.lengths[l]!, 0);
    const sharp = length === 0 ? 0 : bend / length;
    // Radians and shares are of one size here; a sharp fold is worth a somewhat less even division.
    const score = spread + share - 0.5 * sharp + 0.1 * (line.length - 1);
    if (!best || score < best.score - 1e-12) best = { line, score };
  }
  return best?.line ?? null;
}

/** Which of two neighbouring faces each face is nearer to, in steps over folds, without the fold between them. */
function nearer(
  links: ReadonlyMap<number, readonly { h: number; to: number }[]>,
  a: number,
  b: number,
  without: number,
): ReadonlyMap<number, 0 | 1> {
  const side = new Map<number, 0 | 1>([
    [a, 0],
    [b, 1],
  ]);
  const queue = [a, b];
  for (let q = 0; q < queue.length; q++)
    for (const { h, to } of links.get(queue[q]!) ?? []) {
      if (h === without || side.has(to)) continue;
      side.set(to, side.get(queue[q]!)!);
      queue.push(to);
    }
  return side;
}
