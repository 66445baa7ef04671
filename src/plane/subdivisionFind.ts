/** Which face of a subdivision a point lies in. */
import Flatbush from 'flatbush';
import type { Point } from '../math';
import type { Subdivision } from './subdivision';

/**
 * A finder of faces: the face whose loop encloses the point most tightly, 0 for the unbounded one. A point in a part
 * that lies inside a face belongs to that part's own faces, or to the outer face when it is in none of them.
 */
export function faceFinder(s: Subdivision): (p: Point) => number {
  if (s.faces.length < 2) return () => 0;
  const index = new Flatbush(s.faces.length - 1);
  for (let f = 1; f < s.faces.length; f++) {
    const { minX, minY, maxX, maxY } = s.loops[s.faces[f]!.loop]!.box;
    index.add(minX, minY, maxX, maxY);
  }
  index.finish();
  return (p) => {
    let best = 0;
    for (const k of index.search(p.x, p.y, p.x, p.y)) {
      const loop = s.loops[s.faces[k + 1]!.loop]!;
      if (best !== 0 && loop.area >= s.loops[s.faces[best]!.loop]!.area) continue;
      if (insideHalfEdges(s, loop.halfEdges, p)) best = k + 1;
    }
    return best;
  };
}

/** Even-odd test of a point against a walk of half-edges; stretches walked both ways cancel. */
export function insideHalfEdges(
  s: { readonly nodes: readonly Point[]; readonly origin: Int32Array },
  halfEdges: readonly number[],
  p: Point,
): boolean {
  let inside = false;
  for (const h of halfEdges) {
    const a = s.nodes[s.origin[h]!]!;
    const b = s.nodes[s.origin[h ^ 1]!]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) * (b.x - a.x)) / (b.y - a.y)) inside = !inside;
  }
  return inside;
}
