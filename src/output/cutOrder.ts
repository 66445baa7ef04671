/**
 * The order of cutting: inner before outer, so that nothing is cut that has already come loose. A panel that lies in
 * another one's hole is cut before that one, and a panel's holes before its outline.
 */
import { type Box, boxOf, type Point, ringArea } from '../math';
import { placePoints } from '../model';
import type { PlacedPanel } from './placed';

type Ring = readonly Point[];

/** Rings of one panel, holes and loose inner parts first: whatever lies inside is smaller. */
export function ringsInCutOrder(rings: readonly Ring[]): Ring[] {
  return [...rings].sort((a, b) => Math.abs(ringArea(a)) - Math.abs(ringArea(b)));
}

/** Panels that lie inside others first, the given order otherwise. */
export function inCutOrder(panels: readonly PlacedPanel[]): PlacedPanel[] {
  const outlines = panels.map(({ marked, placing }) => {
    const rings = ringsInCutOrder(marked.panel.outlines.traced);
    const outer = placePoints(rings.at(-1) ?? [], placing);
    return { outer, box: boxOf(outer) };
  });
  const depth = outlines.map(
    (inner, i) =>
      outlines.filter(
        (o, k) => k !== i && holds(o.box, inner.box) && inner.outer[0] && isInside(inner.outer[0], o.outer),
      ).length,
  );
  return panels
    .map((panel, i) => ({ panel, depth: depth[i]!, i }))
    .sort((a, b) => b.depth - a.depth || a.i - b.i)
    .map(({ panel }) => panel);
}

const holds = (a: Box, b: Box): boolean =>
  a.minX < b.minX && a.maxX > b.maxX && a.minY < b.minY && a.maxY > b.maxY;

/** Even-odd rule. */
export function isInside(p: Point, ring: Ring): boolean {
  let odd = false;
  for (const [i, a] of ring.entries()) {
    const b = ring[(i + 1) % ring.length]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) odd = !odd;
  }
  return odd;
}
