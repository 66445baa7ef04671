/** Ways to check shifted outlines that share no code with the shift: half planes, scan lines, swept areas. */
import { distance, dot, type Point, point, subtract } from '../../src/math';
import type { ShiftEdge, ShiftResult } from '../../src/plane';

/** Straight edges round a ring, each with its shift. */
export function loopOf(ring: readonly Point[], shift: number | readonly number[], prefix = 'e'): ShiftEdge[] {
  return ring.map((p, k) => ({
    id: `${prefix}${k}`,
    points: [p, ring[(k + 1) % ring.length]!],
    shift: typeof shift === 'number' ? shift : shift[k]!,
  }));
}

/** A ring that sees its middle: `radii.length` corners at even steps, turned by up to `wobble` of a step. */
export function starRing(radii: readonly number[], wobbles: readonly number[]): Point[] {
  return radii.map((radius, k) => {
    const angle = ((k + (wobbles[k] ?? 0)) / radii.length) * 2 * Math.PI;
    return point(radius * Math.cos(angle), radius * Math.sin(angle));
  });
}

/** A convex polygon cut by moving each side's half plane: what is left, by successive clipping. */
export function cutByHalfPlanes(loop: readonly ShiftEdge[]): Point[] {
  let ring = loop.map((edge) => edge.points[0]!);
  for (const edge of loop) {
    const a = edge.points[0]!;
    const b = edge.points[1]!;
    const d = subtract(b, a);
    const out = { x: d.y / distance(a, b), y: -d.x / distance(a, b) };
    const beyond = (p: Point) => dot(subtract(p, a), out) - edge.shift;
    const kept: Point[] = [];
    ring.forEach((p, k) => {
      const q = ring[(k + 1) % ring.length]!;
      const sp = beyond(p);
      const sq = beyond(q);
      if (sp <= 0) kept.push(p);
      if (sp <= 0 !== sq <= 0)
        kept.push(point(p.x + ((q.x - p.x) * sp) / (sp - sq), p.y + ((q.y - p.y) * sp) / (sp - sq)));
    });
    ring = kept;
  }
  return ring;
}

/** Area in which the rings wind positively, by scan lines at `rows` heights. */
export function positiveArea(rings: readonly (readonly Point[])[], rows: number): number {
  const ys = rings.flat().map((p) => p.y);
  const low = Math.min(...ys);
  const step = (Math.max(...ys) - low) / rows;
  let area = 0;
  for (let row = 0; row < rows; row++) {
    const y = low + (row + 0.5) * step;
    const hits: { x: number; by: number }[] = [];
    for (const ring of rings)
      ring.forEach((p, k) => {
        const q = ring[(k + 1) % ring.length]!;
        if (p.y <= y === q.y <= y) return;
        hits.push({ x: p.x + ((q.x - p.x) * (y - p.y)) / (q.y - p.y), by: p.y > y ? 1 : -1 });
      });
    hits.sort((s, t) => s.x - t.x);
    let winding = 0;
    hits.forEach((hit, k) => {
      if (winding > 0) area += (hit.x - hits[k - 1]!.x) * step;
      winding += hit.by;
    });
  }
  return area;
}

/** Area gained while every edge sweeps to its place: shift × mean of the lengths before and after. Exact as long as no
 *  corner was blended or cut blunt and no edge vanished. */
export function sweptArea(loops: readonly (readonly ShiftEdge[])[], result: ShiftResult): number {
  let area = 0;
  loops.forEach((loop, l) => {
    loop.forEach((edge, k) => {
      const line = result.loops[l]![k]!.line;
      const before = distance(edge.points[0]!, edge.points.at(-1)!);
      const after = distance(line[0]!, line.at(-1)!);
      area += (edge.shift * (before + after)) / 2;
    });
  });
  return area;
}
