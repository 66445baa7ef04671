/** Whether panels overlap where they stand, and rows in which they do not. */
import { type Box, boxOf, type Point } from '../math';
import type { MarkedPanel } from '../model';
import type { Mm } from '../units';

type Rings = readonly (readonly Point[])[];

/** Free space between panels that had to be moved apart. */
const rowGap: Mm = 10;

/** Whether any two panels share material as they stand in the drawing. */
export function anyOverlap(panels: readonly MarkedPanel[]): boolean {
  const shapes = panels.map(({ panel }) => ({
    rings: panel.outlines.traced,
    box: boxOf(panel.outlines.traced.flat()),
  }));
  return shapes.some((p, i) =>
    shapes
      .slice(i + 1)
      .some(
        (q) =>
          meet(p.box, q.box) &&
          (cross(p.rings, q.rings) || holds(p.rings, q.rings) || holds(q.rings, p.rings)),
      ),
  );
}

/** Moves for the given ink boxes so that they stand in rows, in their order, about as wide as high in all. */
export function inRows(boxes: readonly Box[]): Point[] {
  const area = boxes.reduce((sum, b) => sum + (b.maxX - b.minX + rowGap) * (b.maxY - b.minY + rowGap), 0);
  const widest = Math.max(Math.sqrt(area) * 1.2, ...boxes.map((b) => b.maxX - b.minX));
  let x = 0;
  let top = 0;
  let tallest = 0;
  return boxes.map((box) => {
    const width = box.maxX - box.minX;
    if (x > 0 && x + width > widest) {
      top -= tallest + rowGap;
      x = 0;
      tallest = 0;
    }
    const move = { x: x - box.minX, y: top - box.maxY };
    x += width + rowGap;
    tallest = Math.max(tallest, box.maxY - box.minY);
    return move;
  });
}

const meet = (a: Box, b: Box): boolean =>
  a.minX < b.maxX && b.minX < a.maxX && a.minY < b.maxY && b.minY < a.maxY;

const segmentsOf = (rings: Rings) =>
  rings.flatMap((ring) => ring.map((a, i) => [a, ring[(i + 1) % ring.length]!] as const));

function cross(p: Rings, q: Rings): boolean {
  const others = segmentsOf(q);
  return segmentsOf(p).some(([a, b]) =>
    others.some(([c, d]) => {
      const side = (u: Point, v: Point, w: Point) => (v.x - u.x) * (w.y - u.y) - (v.y - u.y) * (w.x - u.x);
      return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
    }),
  );
}

/** Whether the second shape's first point lies on the first shape. */
function holds(outer: Rings, inner: Rings): boolean {
  const p = inner[0]?.[0];
  if (!p) return false;
  let odd = false;
  for (const [a, b] of segmentsOf(outer)) {
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) odd = !odd;
  }
  return odd;
}
