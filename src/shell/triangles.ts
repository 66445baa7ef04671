/** A polygon as triangles on its own corners: ears cut off one by one, those first whose cut ends at a notch. */
import { cross, type Point, subtract } from '../math';

/**
 * @param ring counter-clockwise, without crossings; corners may lie on a straight line
 * @returns corners of each triangle by their place in the ring
 */
export function trianglesOf(ring: readonly Point[]): (readonly [number, number, number])[] {
  const left = ring.map((_, i) => i);
  const found: (readonly [number, number, number])[] = [];
  const turn = (a: number, b: number, c: number) =>
    cross(subtract(ring[b]!, ring[a]!), subtract(ring[c]!, ring[a]!));
  const size = Math.max(...ring.map((p) => Math.abs(p.x - ring[0]!.x) + Math.abs(p.y - ring[0]!.y)));
  const none = 1e-9 * size * size;
  while (left.length > 3) {
    const n = left.length;
    const at = (k: number) => left[(k + n) % n]!;
    const notch = (k: number) => turn(at(k - 1), at(k), at(k + 1)) <= none;
    let best = -1;
    let worth = Number.NEGATIVE_INFINITY;
    for (let k = 0; k < n; k++) {
      const [a, b, c] = [at(k - 1), at(k), at(k + 1)];
      const area = turn(a, b, c);
      const empty = left.every(
        (v) =>
          v === a ||
          v === b ||
          v === c ||
          turn(a, b, v) < -none ||
          turn(b, c, v) < -none ||
          turn(c, a, v) < -none,
      );
      if (area <= none || !empty) continue;
      // Round a notch that is the tip of a cut there have to be triangles to bend.
      const value = (notch(k - 1) || notch(k + 1) ? size * size : 0) + area;
      if (value > worth) [best, worth] = [k, value];
    }
    // Corners on one line only: what is left has no area.
    if (best < 0) break;
    found.push([at(best - 1), at(best), at(best + 1)]);
    left.splice(best, 1);
  }
  const [a, b, c] = left;
  if (left.length === 3 && turn(a!, b!, c!) > none) found.push([a!, b!, c!]);
  return found;
}
