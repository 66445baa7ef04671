/** A line drawn on a panel: from points of faces to a line on the panel as it lies flat. */
import { distance, type Point } from '../math';
import { type DrawnEdit, fromParts, type Pattern, rootOf } from '../model';
import { curveThrough } from '../plane';
import { inside, offSegment } from './crossing';
import { type FlatPanel, layFlat } from './flat';
import { carriedBy } from './meanValue';
import type { PanelPart } from './parts';
import { seen } from './place';
import type { Surface } from './surface';

export interface DrawnLine {
  readonly part: PanelPart;
  readonly flat: FlatPanel;
  /** On the flat panel. */
  readonly line: readonly Point[];
}

/**
 * @param rings of the faces of the pattern as it is drawn, by face id
 * @returns null when a face that it needs is not there, or no panel holds all of its points
 */
export function drawnLine(
  edit: DrawnEdit,
  rings: ReadonlyMap<string, readonly Point[]>,
  surface: Surface,
  parts: readonly PanelPart[],
  cut: readonly boolean[],
): DrawnLine | null {
  const drawn = edit.points.map((p) => {
    const ring = rings.get(p.face);
    return ring ? { face: p.face, at: fromParts(p, ring) } : null;
  });
  if (drawn.length < 2 || drawn.some((d) => d === null)) return null;
  const points = drawn.map((d) => d!);
  // Of panels that share a face the line is on the one that its points lie in.
  let best: { part: PanelPart; off: number } | null = null;
  const homes = new Map<string, number[]>();
  surface.faces.forEach(({ face }, f) => {
    homes.set(rootOf(face), [...(homes.get(rootOf(face)) ?? []), f]);
  });
  const nearest = (part: PanelPart, { face, at }: (typeof points)[number]) => {
    let found = { face: -1, off: Number.POSITIVE_INFINITY };
    const own = new Set(part.faces);
    for (const f of homes.get(face) ?? []) {
      if (!own.has(f)) continue;
      const { flat, over } = surface.faces[f]!;
      const p = seen(at, over);
      const off = inside(flat, p)
        ? 0
        : Math.min(...flat.map((a, i) => offSegment(p, a, flat[(i + 1) % flat.length]!)));
      if (off < found.off) found = { face: f, off };
    }
    return found;
  };
  for (const part of parts) {
    if (part.faces.length === 0) continue;
    const off = points.reduce((sum, p) => sum + nearest(part, p).off, 0);
    if (Number.isFinite(off) && off < (best?.off ?? Number.POSITIVE_INFINITY)) best = { part, off };
  }
  if (!best) return null;
  const { part } = best;
  const flat = layFlat(surface, part.faces, cut, part.lead);
  const placed = points.map((p): Point => {
    const { face } = nearest(part, p);
    const { flat: ring, over } = surface.faces[face]!;
    return carriedBy(ring, flat.corners.get(face)!, seen(p.at, over));
  });
  const spaced = placed.filter((p, i) => i === 0 || distance(p, placed[i - 1]!) > shortest);
  if (spaced.length < 2) return null;
  return { part, flat, line: edit.curved ? curveThrough(spaced) : spaced };
}

/** Two points of a line nearer than this are one click. */
const shortest = 0.01;

/** Rings of faces as drawn. */
export function ringsOf(pattern: Pattern): ReadonlyMap<string, readonly Point[]> {
  return new Map(pattern.pieces.flatMap((p) => p.faces.map((f) => [f.id, f.polygon] as const)));
}
