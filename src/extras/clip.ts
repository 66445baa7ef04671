/** Lines cut at the borders of flat regions, and carried from one flat copy of a face to another. */
import { cross, dot, lerp, type Point, point, subtract } from '../math';
import { sameEnd } from './tolerance';

type Rings = readonly (readonly Point[])[];

/** The parts of the straight line from a to b that lie inside the rings (even-odd). */
export function insideParts(a: Point, b: Point, rings: Rings): [Point, Point][] {
  const cuts = [0, 1];
  const d = subtract(b, a);
  for (const ring of rings)
    ring.forEach((p, i) => {
      const e = subtract(ring[(i + 1) % ring.length]!, p);
      const det = cross(d, e);
      if (det === 0) return;
      const w = subtract(p, a);
      const t = cross(w, e) / det;
      const u = cross(w, d) / det;
      if (t > 0 && t < 1 && u >= 0 && u <= 1) cuts.push(t);
    });
  cuts.sort((x, y) => x - y);
  const parts: [Point, Point][] = [];
  for (let i = 0; i + 1 < cuts.length; i++) {
    const [from, to] = [cuts[i]!, cuts[i + 1]!];
    if (to - from < 1e-9 || !isInside(lerp(a, b, (from + to) / 2), rings)) continue;
    parts.push([lerp(a, b, from), lerp(a, b, to)]);
  }
  return parts;
}

/** Even-odd: inside an outline and not in one of its holes. */
export function isInside(p: Point, rings: Rings): boolean {
  let odd = false;
  for (const ring of rings)
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) odd = !odd;
    });
  return odd;
}

/** The affine map of least squares from corners of a face to the same corners elsewhere. */
export function carry(from: readonly Point[], to: readonly Point[]): (p: Point) => Point {
  const m = mean(from);
  const n = mean(to);
  let [xx, xy, yy, ux, uy, vx, vy] = [0, 0, 0, 0, 0, 0, 0];
  from.forEach((q, i) => {
    const s = subtract(q, m);
    const t = subtract(to[i]!, n);
    xx += s.x * s.x;
    xy += s.x * s.y;
    yy += s.y * s.y;
    ux += t.x * s.x;
    uy += t.x * s.y;
    vx += t.y * s.x;
    vy += t.y * s.y;
  });
  const det = xx * yy - xy * xy;
  if (det === 0) return () => n;
  return (p) => {
    const s = subtract(p, m);
    const a = (s.x * yy - s.y * xy) / det;
    const b = (s.y * xx - s.x * xy) / det;
    return point(n.x + ux * a + uy * b, n.y + vx * a + vy * b);
  };
}

const mean = (points: readonly Point[]): Point => {
  let [x, y] = [0, 0];
  for (const p of points) {
    x += p.x / points.length;
    y += p.y / points.length;
  }
  return point(x, y);
};

/** Stretches that follow each other put together to lines, in their order; a line that comes back to its start is closed. */
export function joined(
  stretches: readonly (readonly [Point, Point])[],
): { points: Point[]; closed: boolean }[] {
  const near = (p: Point, q: Point) => Math.hypot(p.x - q.x, p.y - q.y) <= sameEnd;
  const lines: Point[][] = [];
  for (const [a, b] of stretches) {
    const last = lines.at(-1);
    if (last && near(last.at(-1)!, a)) last.push(b);
    else lines.push([a, b]);
  }
  // The round may have begun in the middle of a line.
  const [first, last] = [lines[0], lines.at(-1)];
  if (first && last && first !== last && near(last.at(-1)!, first[0]!)) {
    lines[0] = [...last, ...first.slice(1)];
    lines.pop();
  }
  return lines.map((line) => {
    const closed = line.length > 3 && near(line[0]!, line.at(-1)!);
    return { points: withoutStraights(closed ? line.slice(0, -1) : line), closed };
  });
}

/** Points in the middle of a straight run say nothing. */
function withoutStraights(line: readonly Point[]): Point[] {
  return line.filter((p, i) => {
    if (i === 0 || i + 1 === line.length) return true;
    const a = subtract(p, line[i - 1]!);
    const b = subtract(line[i + 1]!, p);
    return Math.abs(cross(a, b)) > 1e-6 * Math.max(1e-9, Math.abs(dot(a, b)));
  });
}
