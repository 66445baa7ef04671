/**
 * Circles inside a form: the largest that fits, then the largest whose middle lies outside those before. Two forms
 * overlap at least as deeply as any two of their circles do, which tells most places that are no good at a glance.
 */
import { boxOf, type Point } from '../math';
import type { Mm } from '../units';

export interface Pole extends Point {
  /** 0 when there is no further circle. */
  readonly radius: Mm;
}

/** Points along the longer side that are looked at first. */
const look = 20;

/** @returns `count` circles inside the region, largest first; @param rings outlines and holes of one region */
export function polesOf(rings: readonly (readonly Point[])[], count: number): Pole[] {
  const box = boxOf(rings.flat());
  const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
  const step = Math.max(width, height) / look;
  const seen: Pole[] = [];
  for (let x = box.minX + step / 2; x < box.maxX; x += step)
    for (let y = box.minY + step / 2; y < box.maxY; y += step) {
      const radius = clearance(rings, x, y);
      if (radius > 0) seen.push({ x, y, radius });
    }
  const poles: Pole[] = [];
  const open = (p: Point) => poles.every((q) => Math.hypot(p.x - q.x, p.y - q.y) >= q.radius);
  while (poles.length < count) {
    let best: Pole = { x: 0, y: 0, radius: 0 };
    for (const p of seen) if (p.radius > best.radius && open(p)) best = p;
    if (best.radius === 0) {
      poles.push(best);
      continue;
    }
    for (let s = step / 2; s > step * 0.02; ) {
      const next = [-s, 0, s]
        .flatMap((dx) => [-s, 0, s].map((dy) => ({ x: best.x + dx, y: best.y + dy })))
        .filter(open)
        .map((p) => ({ ...p, radius: clearance(rings, p.x, p.y) }))
        .find((p) => p.radius > best.radius);
      if (next) best = next;
      else s /= 2;
    }
    poles.push(best);
  }
  // The rounding of turned middles must not make a circle reach out of its form.
  return poles.map((p) => ({ ...p, radius: p.radius * (1 - 1e-9) }));
}

/** Distance from the rim, 0 outside. */
function clearance(rings: readonly (readonly Point[])[], x: number, y: number): number {
  let inside = false;
  let least = Number.POSITIVE_INFINITY;
  for (const ring of rings)
    for (let k = 0; k < ring.length; k++) {
      const a = ring[k]!;
      const b = ring[k + 1 < ring.length ? k + 1 : 0]!;
      const [dx, dy, px, py] = [b.x - a.x, b.y - a.y, x - a.x, y - a.y];
      if (a.y > y !== b.y > y && px < (py * dx) / dy) inside = !inside;
      const t = Math.max(0, Math.min(1, (px * dx + py * dy) / (dx * dx + dy * dy)));
      least = Math.min(least, (px - t * dx) ** 2 + (py - t * dy) ** 2);
    }
  return inside ? Math.sqrt(least) : 0;
}
