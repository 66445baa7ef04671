/** The rigid motion of the plane (turn and move, no mirroring) that brings points nearest to others, least squares. */
import { type Point, point } from '../math';

export interface Motion {
  readonly c: number;
  readonly s: number;
  readonly dx: number;
  readonly dy: number;
}

export const still: Motion = { c: 1, s: 0, dx: 0, dy: 0 };

export const moved = (p: Point, m: Motion): Point =>
  point(m.c * p.x - m.s * p.y + m.dx, m.s * p.x + m.c * p.y + m.dy);

/** Closed form in the plane: the turn is the argument of Σ conj(p − p̄)(q − q̄). */
export function bestMotion(from: readonly Point[], to: readonly Point[]): Motion {
  const n = from.length;
  let [ax, ay, bx, by] = [0, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    ax += from[i]!.x / n;
    ay += from[i]!.y / n;
    bx += to[i]!.x / n;
    by += to[i]!.y / n;
  }
  let c = 0;
  let s = 0;
  for (let i = 0; i < n; i++) {
    const x = from[i]!.x - ax;
    const y = from[i]!.y - ay;
    const u = to[i]!.x - bx;
    const v = to[i]!.y - by;
    c += x * u + y * v;
    s += x * v - y * u;
  }
  const size = Math.hypot(c, s);
  if (size === 0) return { ...still, dx: bx - ax, dy: by - ay };
  c /= size;
  s /= size;
  return { c, s, dx: bx - c * ax + s * ay, dy: by - s * ax - c * ay };
}

/** Farthest that a point ends from its goal. */
export function misfitOf(from: readonly Point[], to: readonly Point[], m: Motion): number {
  let worst = 0;
  for (let i = 0; i < from.length; i++) {
    const p = from[i]!;
    worst = Math.max(
      worst,
      Math.hypot(m.c * p.x - m.s * p.y + m.dx - to[i]!.x, m.s * p.x + m.c * p.y + m.dy - to[i]!.y),
    );
  }
  return worst;
}
