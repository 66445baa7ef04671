/** Convex solids from their corners: faces found as planes with all corners on one side. */
import { cross3, dot3, minus, polygonNormal, type ShellMesh, vec } from './harbourWatch';

/** @param edge shortest distance of two corners after scaling, mm. The solid must hold its corners' mean inside. */
export function hullMeshOf(name: string, given: readonly (readonly number[])[], edge: number): ShellMesh {
  const seen = new Map(given.map((p) => [p.map((s) => Math.round(s * 1e6) + 0).join(), p]));
  const raw = [...seen.values()];
  const mean = [0, 1, 2].map((k) => raw.reduce((s, p) => s + p[k]! / raw.length, 0));
  let shortest = Number.POSITIVE_INFINITY;
  raw.forEach((p, i) => {
    for (const q of raw.slice(i + 1))
      shortest = Math.min(shortest, Math.hypot(p[0]! - q[0]!, p[1]! - q[1]!, p[2]! - q[2]!));
  });
  const scale = edge / shortest;
  const vertices = raw.map((p) =>
    vec((p[0]! - mean[0]!) * scale, (p[1]! - mean[1]!) * scale, (p[2]! - mean[2]!) * scale),
  );
  const faces = new Map<string, number[]>();
  for (let i = 0; i < vertices.length; i++)
    for (let j = i + 1; j < vertices.length; j++)
      for (let k = j + 1; k < vertices.length; k++) {
        let n = polygonNormal([vertices[i]!, vertices[j]!, vertices[k]!]);
        if (!Number.isFinite(n.x)) continue;
        if (dot3(n, vertices[i]!) < 0) n = vec(-n.x, -n.y, -n.z);
        const level = dot3(n, vertices[i]!);
        const slack = 1e-6 * edge;
        if (vertices.some((p) => dot3(n, p) > level + slack)) continue;
        const on = vertices.flatMap((p, m) => (dot3(n, p) > level - slack ? [m] : []));
        const middle = vec(0, 0, 0);
        const sum = on.reduce((s, m) => {
          const p = vertices[m]!;
          return vec(s.x + p.x / on.length, s.y + p.y / on.length, s.z + p.z / on.length);
        }, middle);
        const u = minus(vertices[on[0]!]!, sum);
        const w = cross3(n, u);
        const angle = (m: number) => {
          const d = minus(vertices[m]!, sum);
          return Math.atan2(dot3(d, w), dot3(d, u));
        };
        faces.set(
          on.join(),
          [...on].sort((p, q) => angle(p) - angle(q)),
        );
      }
  return { name, vertices, faces: [...faces.values()] };
}
