/**
 * Between the flat corners of a shell's faces and their places in space: points that are laid on faces, and parts of
 * foam that lie on them, as lines. Pure.
 */
import { cross, dot3, type Point, type Point3, point3, subtract } from '../../src/math';
import type { LaidOnShell, ShellPictureStroke, StandingOnShell } from '../../src/model';
import { linesSeen, type ViewDirection } from '../../src/shell';
import type { Mm } from '../../src/units';
import type { ShellModel } from './model';
import { chainOf, normalOfRing, ringOf } from './painting';
import type { PartsOnShell } from './shown';

/** Weights of three corners of a face for a point of its plane, from the triangle of the fan that is largest. */
function weighted(
  flat: readonly Point[],
): (p: Point) => { corners: [number, number, number]; weights: number[] } {
  let [best, most] = [1, 0];
  for (let i = 1; i + 1 < flat.length; i++) {
    const size = Math.abs(cross(subtract(flat[i]!, flat[0]!), subtract(flat[i + 1]!, flat[0]!)));
    if (size > most) [best, most] = [i, size];
  }
  const [a, b, c] = [flat[0]!, flat[best]!, flat[best + 1]!];
  const whole = cross(subtract(b, a), subtract(c, a)) || 1;
  return (p) => {
    const v = cross(subtract(p, a), subtract(c, a)) / whole;
    const w = cross(subtract(b, a), subtract(p, a)) / whole;
    return { corners: [0, best, best + 1], weights: [1 - v - w, v, w] };
  };
}

/** The place in space of a point of a face, `height` above it. */
export function liftOf(
  model: ShellModel,
  places: Float64Array,
  face: number,
): (p: Point, height?: Mm) => Point3 {
  const ring = ringOf(model, places, face);
  const n = normalOfRing(ring);
  const on = weighted(model.shell.faces[face]!.flat);
  return (p, height = 0) => {
    const { corners, weights } = on(p);
    let [x, y, z] = [height * n.x, height * n.y, height * n.z];
    corners.forEach((corner, k) => {
      const q = ring[corner]!;
      x += weights[k]! * q.x;
      y += weights[k]! * q.y;
      z += weights[k]! * q.z;
    });
    return point3(x, y, z);
  };
}

/** The point of a face under a place on the screen, in the coordinates of its flat corners. */
export function flatUnder(
  model: ShellModel,
  screen: Float64Array,
  face: number,
  at: { readonly x: number; readonly y: number },
): Point {
  const { starts } = model.folding;
  const { flat } = model.shell.faces[face]!;
  const corners = flat.map((_, i): Point => {
    const c = 3 * (starts[face]! + i);
    return { x: screen[c]!, y: screen[c + 1]! };
  });
  const { corners: three, weights } = weighted(corners)(at);
  return three.reduce(
    (sum, corner, k) => ({
      x: sum.x + weights[k]! * flat[corner]!.x,
      y: sum.y + weights[k]! * flat[corner]!.y,
    }),
    { x: 0, y: 0 },
  );
}

/** Ways of hatching, in turn: by how much the lines lean from level, whether they cross, how far apart they are. */
export const hatches = [
  { words: 'level lines', leans: [0] },
  { words: 'slanting lines', leans: [Math.PI / 4] },
  { words: 'upright lines', leans: [Math.PI / 2] },
  { words: 'crossed lines', leans: [Math.PI / 4, -Math.PI / 4] },
  { words: 'lines slanting the other way', leans: [-Math.PI / 4] },
  { words: 'a square grid', leans: [0, Math.PI / 2] },
] as const;

/** Which hatch a part has: parts in their order take one after the other. */
export const hatchOf = (parts: readonly string[], part: string) =>
  hatches[parts.indexOf(part) % hatches.length]!;

const apart: Mm = 4;

/** Ids of parts on the shell, each once: their hatches follow this order. */
export const partsOn = ({ onShell = [], standing = [] }: PartsOnShell): string[] => [
  ...new Set([...onShell, ...standing].map((l) => l.part)),
];

/**
 * Edges of the upper face of each part, the walls at their corners, and the hatching of the upper face. What stands at
 * an opening or along a seam is drawn by its outline, folds and hatching.
 */
export function partLines(
  model: ShellModel,
  places: Float64Array,
  on: PartsOnShell,
): { readonly edges: number[]; readonly hatch: number[] } {
  const edges: number[] = [];
  const hatch: number[] = [];
  const parts = partsOn(on);
  addLaid({ edges, hatch }, model, places, on.onShell ?? [], parts);
  for (const { part, patches, outline, folds } of on.standing ?? []) {
    for (const ring of outline) edges.push(...chainOf(ring, true));
    for (const fold of folds) hatch.push(...chainOf(fold, false));
    for (const patch of patches)
      for (const lean of hatchOf(parts, part).leans) addLeaning(hatch, [patch], normalOfRing(patch), lean);
  }
  return { edges, hatch };
}

/** Triangles of what stands on the shell, x, y, z one after another. */
export const standingTriangles = (standing: readonly StandingOnShell[]): Float32Array =>
  new Float32Array(
    standing.flatMap(({ patches }) =>
      patches.flatMap((ring) =>
        ring.slice(2).flatMap((q, i) => [ring[0]!, ring[i + 1]!, q].flatMap((p) => [p.x, p.y, p.z])),
      ),
    ),
  );

function addLaid(
  { edges, hatch }: { readonly edges: number[]; readonly hatch: number[] },
  model: ShellModel,
  places: Float64Array,
  laid: readonly LaidOnShell[],
  parts: readonly string[],
): void {
  const line = (p: Point3, q: Point3): void => {
    edges.push(p.x, p.y, p.z, q.x, q.y, q.z);
  };
  for (const { part, side, from, to, regions } of laid) {
    // A stencil has no height: it is drawn just off the skin, so that the skin does not swallow it.
    const top = to + (side === 'outside' ? 0.4 : -0.4);
    for (const { patch, rings } of regions) {
      if (patch >= model.shell.faces.length) continue;
      const lift = liftOf(model, places, patch);
      const { flat } = model.shell.faces[patch]!;
      const upper = rings.map((ring) => ring.map((p) => lift(p, top)));
      rings.forEach((ring, r) => {
        ring.forEach((p, i) => {
          const next = (i + 1) % ring.length;
          // Where the part goes on over a side of the face there is no edge.
          if (onOneSide(p, ring[next]!, flat)) return;
          line(upper[r]![i]!, upper[r]![next]!);
          if (Math.abs(to - from) > 0.5) line(lift(p, from), upper[r]![i]!);
        });
      });
      const n = normalOfRing(ringOf(model, places, patch));
      for (const lean of hatchOf(parts, part).leans) addLeaning(hatch, upper, n, lean);
    }
  }
}

/** Lines by the coordinates of their ends, as far as they are seen, in the picture that `pictureOf` makes of the shell. */
export function drawnLines(
  model: ShellModel,
  lines: readonly number[],
  view: ViewDirection,
): Pick<ShellPictureStroke, 'from' | 'to'>[] {
  const end = (k: number) => point3(lines[k]!, lines[k + 1]!, lines[k + 2]!);
  const pairs = Array.from({ length: lines.length / 6 }, (_, i) => [end(6 * i), end(6 * i + 3)] as const);
  return linesSeen(model.shell, view, pairs);
}

/** Both points lie on one side of a face. */
function onOneSide(p: Point, q: Point, flat: readonly Point[]): boolean {
  return flat.some((a, i) => {
    const b = flat[(i + 1) % flat.length]!;
    const long = Math.hypot(b.x - a.x, b.y - a.y) || 1;
    const off = (s: Point) => Math.abs(cross(subtract(b, a), subtract(s, a))) / long;
    return off(p) < 0.02 && off(q) < 0.02;
  });
}

/** Parallel lines over flat rings in space (even-odd), leaning from level, in step with those of other faces. */
function addLeaning(out: number[], rings: readonly (readonly Point3[])[], n: Point3, lean: number): void {
  const first = rings[0]?.[0];
  if (!first) return;
  const level = Math.hypot(n.x, n.y) > 0.05 ? { x: -n.y, y: n.x, z: 0 } : { x: 1, y: 0, z: 0 };
  const size = Math.hypot(level.x, level.y);
  const e = { x: level.x / size, y: level.y / size, z: 0 };
  const f = { x: n.y * e.z - n.z * e.y, y: n.z * e.x - n.x * e.z, z: n.x * e.y - n.y * e.x };
  const [c, s] = [Math.cos(lean), Math.sin(lean)];
  const u = { x: c * e.x + s * f.x, y: c * e.y + s * f.y, z: c * e.z + s * f.z };
  const v = { x: c * f.x - s * e.x, y: c * f.y - s * e.y, z: c * f.z - s * e.z };
  const height = dot3(first, n);
  const flat = rings.map((ring) => ring.map((p) => ({ x: dot3(p, u), y: dot3(p, v) })));
  const ys = flat.flat().map((p) => p.y);
  for (let y = Math.ceil(Math.min(...ys) / apart) * apart; y < Math.max(...ys); y += apart) {
    const xs: number[] = [];
    for (const ring of flat)
      ring.forEach((p, i) => {
        const q = ring[(i + 1) % ring.length]!;
        if (p.y > y !== q.y > y) xs.push(p.x + ((y - p.y) / (q.y - p.y)) * (q.x - p.x));
      });
    xs.sort((a, b) => a - b);
    for (let i = 0; i + 1 < xs.length; i += 2)
      for (const x of [xs[i]!, xs[i + 1]!])
        out.push(
          x * u.x + y * v.x + height * n.x,
          x * u.y + y * v.y + height * n.y,
          x * u.z + y * v.z + height * n.z,
        );
  }
}

/** A line over faces: each point on its face, straight from one to the next; closed when asked. */
export function lineOnFaces(
  model: ShellModel,
  places: Float64Array,
  spots: readonly { readonly face: number; readonly at: Point }[],
  closed: boolean,
): number[] {
  const points = spots.map(({ face, at }) => liftOf(model, places, face)(at, 0.5));
  const ends = closed && points.length > 2 ? [...points, points[0]!] : points;
  const out = ends.slice(1).flatMap((q, i) => {
    const p = ends[i]!;
    return [p.x, p.y, p.z, q.x, q.y, q.z];
  });
  // A corner by itself is seen as a small cross.
  for (const p of points)
    out.push(
      p.x - 2,
      p.y,
      p.z,
      p.x + 2,
      p.y,
      p.z,
      p.x,
      p.y - 2,
      p.z,
      p.x,
      p.y + 2,
      p.z,
      p.x,
      p.y,
      p.z - 2,
      p.x,
      p.y,
      p.z + 2,
    );
  return out;
}
