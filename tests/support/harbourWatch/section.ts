/** Level sections of a shell: where the plane z = height cuts it, and the tape length round it. */
import { distance, type Point } from '../../../src/math';
import type { ShellMesh } from './shellMesh';

export interface LevelSection {
  /** Cut stretches, in no order. */
  readonly stretches: readonly (readonly [Point, Point])[];
  /** Sum of the stretches, mm. */
  readonly length: number;
  /** Length of a tape pulled tight round all of them (convex hull), mm. */
  readonly tape: number;
}

/** Faces that lie in the plane, or only touch it, are left out. */
export function levelSection(mesh: ShellMesh, height: number): LevelSection {
  const seen = new Set<string>();
  const stretches: (readonly [Point, Point])[] = [];
  for (const loop of mesh.faces) {
    const hits: Point[] = [];
    loop.forEach((v, i) => {
      const a = mesh.vertices[v]!;
      const b = mesh.vertices[loop[(i + 1) % loop.length]!]!;
      if (a.z === height) hits.push({ x: a.x, y: a.y });
      if ((a.z - height) * (b.z - height) < 0) {
        const t = (height - a.z) / (b.z - a.z);
        hits.push({ x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t });
      }
    });
    if (hits.length !== 2) continue;
    const [p, q] = hits as [Point, Point];
    const key = [`${p.x},${p.y}`, `${q.x},${q.y}`].sort().join(' ');
    if (seen.has(key)) continue;
    seen.add(key);
    stretches.push([p, q]);
  }
  const length = stretches.reduce((sum, [p, q]) => sum + distance(p, q), 0);
  const hull = convexHull(stretches.flat());
  const tape = hull.reduce((sum, p, i) => sum + distance(p, hull[(i + 1) % hull.length]!), 0);
  return { stretches, length, tape };
}

/** Corners of the convex hull, counter-clockwise (sorted chains). */
function convexHull(points: readonly Point[]): Point[] {
  const sorted = [...points].sort((a, b) => a.x - b.x || a.y - b.y);
  const chain = (list: readonly Point[]) => {
    const out: Point[] = [];
    for (const p of list) {
      while (out.length >= 2) {
        const a = out[out.length - 2]!;
        const b = out[out.length - 1]!;
        if ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) > 0) break;
        out.pop();
      }
      out.push(p);
    }
    return out.slice(0, -1);
  };
  return [...chain(sorted), ...chain([...sorted].reverse())];
}
