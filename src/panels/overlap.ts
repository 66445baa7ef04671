/** Whether flat faces lie on each other: triangles against triangles by separating axes, with a depth that is let pass. */
import type { Point } from '../math';
import type { Mm } from '../units';
import type { FlatPanel } from './flat';
import type { Surface } from './surface';
import { closedMisfit, overlapSlack } from './tolerance';

/** Corner numbers of triangles that fill a simple counter-clockwise ring (ear clipping). */
export function trianglesOf(ring: readonly Point[]): (readonly [number, number, number])[] {
  const left = ring.map((_, i) => i);
  const out: [number, number, number][] = [];
  const turn = (a: Point, b: Point, c: Point) => (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
  while (left.length > 3) {
    const n = left.length;
    const ear = left.findIndex((j, k) => {
      const [a, b, c] = [ring[left[(k + n - 1) % n]!]!, ring[j]!, ring[left[(k + 1) % n]!]!];
      if (turn(a, b, c) <= 0) return false;
      return left.every((m) => {
        const p = ring[m]!;
        if (p === a || p === b || p === c) return true;
        return !(turn(a, b, p) >= 0 && turn(b, c, p) >= 0 && turn(c, a, p) >= 0);
      });
    });
    // A ring that crosses itself has no ear: its first corner goes.
    const k = Math.max(ear, 0);
    out.push([left[(k + n - 1) % n]!, left[k]!, left[(k + 1) % n]!]);
    left.splice(k, 1);
  }
  if (left.length === 3) out.push([left[0]!, left[1]!, left[2]!]);
  return out;
}

/** Corners of one triangle, x and y in turn: six numbers. */
export type FlatTriangle = readonly number[];

/** Whether two triangles lie on each other by more than `slack`, in the direction in which they do least. */
export function trianglesOverlap(p: FlatTriangle, q: FlatTriangle, slack: Mm): boolean {
  for (const t of [p, q])
    for (let i = 0; i < 6; i += 2) {
      const j = (i + 2) % 6;
      const dx = t[j]! - t[i]!;
      const dy = t[j + 1]! - t[i + 1]!;
      const size = Math.hypot(dx, dy);
      if (size === 0) continue;
      const [nx, ny] = [-dy / size, dx / size];
      let [pLow, pHigh, qLow, qHigh] = [Infinity, -Infinity, Infinity, -Infinity];
      for (let k = 0; k < 6; k += 2) {
        const s = nx * p[k]! + ny * p[k + 1]!;
        const u = nx * q[k]! + ny * q[k + 1]!;
        pLow = Math.min(pLow, s);
        pHigh = Math.max(pHigh, s);
        qLow = Math.min(qLow, u);
        qHigh = Math.max(qHigh, u);
      }
      if (Math.min(pHigh, qHigh) - Math.max(pLow, qLow) <= slack) return false;
    }
  return true;
}

/** Whether any two faces of a flat panel lie on each other by more than the slack and the misfit that was shared out. */
export function liesOnItself(surface: Surface, { corners, misfit }: FlatPanel): boolean {
  const slack = overlapSlack + Math.min(misfit, closedMisfit);
  const faces = [...corners].map(([f, ring]) => ({
    minX: Math.min(...ring.map((p) => p.x)),
    maxX: Math.max(...ring.map((p) => p.x)),
    minY: Math.min(...ring.map((p) => p.y)),
    maxY: Math.max(...ring.map((p) => p.y)),
    triangles: trianglesOf(surface.faces[f]!.flat).map(
      (t): FlatTriangle => t.flatMap((i) => [ring[i]!.x, ring[i]!.y]),
    ),
  }));
  return faces.some((p, i) =>
    faces.slice(i + 1).some((q) => {
      if (p.maxX - q.minX <= slack || q.maxX - p.minX <= slack) return false;
      if (p.maxY - q.minY <= slack || q.maxY - p.minY <= slack) return false;
      return p.triangles.some((s) => q.triangles.some((t) => trianglesOverlap(s, t, slack)));
    }),
  );
}
