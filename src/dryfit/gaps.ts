/**
 * The distance of the two cut faces along each side of a seam, + open, − overlapping, at three depths of the foam that
 * both panels have. It is measured square to the plane that halves the bend; how far the mates slip along the seam is
 * no gap.
 */
import { add3, cross3, distance3, dot3, norm3, type Point3, subtract3, unitOf3 } from '../math';
import type { BendModel } from '../model';
import { faceNormals } from '../shell';
import type { Mm } from '../units';
import { cornerAt, type DryFitSurface, type PlacedPanel } from './placing';
import { placesPerSide } from './tolerance';

/** One side of a face and the same side of its mate. */
export interface SeamSide {
  readonly seam: string;
  readonly vertices: readonly [number, number];
  readonly a: { readonly panel: number; readonly face: number; readonly side: number };
  readonly b: { readonly panel: number; readonly face: number; readonly side: number };
}

export interface SideGaps {
  readonly inside: readonly Mm[];
  readonly middle: readonly Mm[];
  readonly outside: readonly Mm[];
}

/** Pairs of sides that are glued together, in the order of panels. */
export function seamSides(panels: readonly PlacedPanel[], { patches }: DryFitSurface): SeamSide[] {
  const open = new Map<string, SeamSide['a'] & { readonly seam: string }>();
  const found: SeamSide[] = [];
  panels.forEach(({ body }, panel) => {
    for (const { face, side, seam } of body.outline) {
      if (seam === null) continue;
      const { vertices } = patches[body.faces[face]!.patch]!;
      const from = vertices[side]!;
      const to = vertices[(side + 1) % vertices.length]!;
      const mate = open.get(`${seam} ${to} ${from}`);
      if (mate) {
        const { seam: _, ...b } = mate;
        found.push({ seam, vertices: [from, to], a: { panel, face, side }, b });
      } else open.set(`${seam} ${from} ${to}`, { panel, face, side, seam });
    }
  });
  return found;
}

/** @returns null where the seam is folded back on itself, or the sides have no length in common. */
export function gapsOf(
  panels: readonly PlacedPanel[],
  side: SeamSide,
  surface: DryFitSurface,
  model: BendModel,
): SideGaps | null {
  const a = panels[side.a.panel]!;
  const b = panels[side.b.panel]!;
  const [from, to] = side.vertices.map((v) => surface.places[v]!) as [Point3, Point3];
  const along = unitOf3(subtract3(to, from));
  const [na, nb] = faceNormals({
    vertices: surface.places,
    faces: [
      surface.patches[a.body.faces[side.a.face]!.patch]!,
      surface.patches[b.body.faces[side.b.face]!.patch]!,
    ],
  }) as [Point3, Point3];
  const middle = add3(na, nb);
  if (norm3(middle) < 1e-6 || distance3(from, to) === 0) return null;
  const across = cross3(along, unitOf3(middle));
  const low = Math.max(a.body.depth + a.body.heights.inside, b.body.depth + b.body.heights.inside);
  const high = Math.min(a.body.depth + a.body.heights.outside, b.body.depth + b.body.heights.outside);
  const at = (depth: Mm): Mm[] | null => {
    const line = (panel: PlacedPanel, { face, side: s }: SeamSide['a']) => {
      const p = cornerAt(panel, face, s, depth - panel.body.depth, model);
      const q = cornerAt(panel, face, s + 1, depth - panel.body.depth, model);
      return [p, q].map((r) => {
        const d = subtract3(r, from);
        return { s: dot3(d, along), g: dot3(d, across) };
      }) as [{ s: number; g: number }, { s: number; g: number }];
    };
    const own = line(a, side.a);
    const other = line(b, side.b);
    const start = Math.max(own[0].s, other[1].s);
    const end = Math.min(own[1].s, other[0].s);
    if (!(end > start)) return null;
    const level = ([p, q]: typeof own, s: number) => p.g + ((q.g - p.g) * (s - p.s)) / (q.s - p.s);
    return Array.from({ length: placesPerSide }, (_, k) => {
      const s = start + ((end - start) * k) / (placesPerSide - 1);
      return level(other, s) - level(own, s);
    });
  };
  const inside = at(low);
  const centre = at((low + high) / 2);
  const outside = at(high);
  return inside && centre && outside ? { inside, middle: centre, outside } : null;
}
