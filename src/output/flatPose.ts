import { cross3, distance, type Point, type Point3, scaleBy3, subtract3, unitOf3 } from '../math';

/**
 * How a flat face lies in space: takes a place on the drawing to the place on the shell. Made from three corners far
 * apart; exact for a face that the shell keeps flat, to its own residual. Null when the corners lie on one line.
 */
export function flatPose(
  flat: readonly Point[],
  vertices: readonly number[],
  places: readonly Point3[],
): ((p: Point) => Point3) | null {
  const a = flat[0];
  if (!a || flat.length < 3) return null;
  const far = flat.reduce((best, p, i) => (distance(a, p) > distance(a, flat[best]!) ? i : best), 0);
  const b = flat[far]!;
  const off = (p: Point) => (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
  const side = flat.reduce((best, p, i) => (Math.abs(off(p)) > Math.abs(off(flat[best]!)) ? i : best), 0);
  const length = distance(a, b);
  if (!(Math.abs(off(flat[side]!)) > 0) || !(length > 0)) return null;
  const at = (i: number) => places[vertices[i]!]!;
  const origin = at(0);
  const u = unitOf3(subtract3(at(far), origin));
  const normal = unitOf3(cross3(u, subtract3(at(side), origin)));
  // Seen from the drawn side `side` may lie to the right of the line; then the other normal is the drawn side's.
  const v = scaleBy3(cross3(normal, u), Math.sign(off(flat[side]!)));
  return (p) => {
    const along = ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length;
    const across = off(p) / length;
    return {
      x: origin.x + u.x * along + v.x * across,
      y: origin.y + u.y * along + v.y * across,
      z: origin.z + u.z * along + v.z * across,
    };
  };
}
