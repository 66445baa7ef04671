/** What lies under the pointer on the shell, from the same screen positions as the picture. */
import type { ShellSide } from '../../src/shell';
import type { Sight } from './orbit';

export interface Hit {
  readonly face: number;
  /** The side of the face close to the pointer, or null when it is over the face itself. */
  readonly side: ShellSide | null;
  /** mm towards the viewer. */
  readonly near: number;
}

/** All corners on the screen: x, y and nearness one after another. */
export function screenOf(places: Float64Array, { axes, target, scale, width, height }: Sight): Float64Array {
  const { right: r, up: u, towards: t } = axes;
  const out = new Float64Array(places.length);
  for (let i = 0; i < places.length; i += 3) {
    const x = places[i]! - target.x;
    const y = places[i + 1]! - target.y;
    const z = places[i + 2]! - target.z;
    out[i] = width / 2 + scale * (x * r.x + y * r.y + z * r.z);
    out[i + 1] = height / 2 - scale * (x * u.x + y * u.y + z * u.z);
    out[i + 2] = x * t.x + y * t.y + z * t.z;
  }
  return out;
}

/** The nearest face at a place of the screen and its nearness there; null beside the shell. */
export function faceAt(
  screen: Float64Array,
  starts: readonly number[],
  x: number,
  y: number,
): { readonly face: number; readonly near: number } | null {
  let best: { face: number; near: number } | null = null;
  for (let face = 0; face + 1 < starts.length; face++) {
    const a = 3 * starts[face]!;
    for (let c = starts[face]! + 1; c + 1 < starts[face + 1]!; c++) {
      const near = nearnessIn(screen, a, 3 * c, 3 * (c + 1), x, y);
      if (near !== null && (best === null || near > best.near)) best = { face, near };
    }
  }
  return best;
}

/** Nearness of a triangle at (x, y), null outside it. */
function nearnessIn(s: Float64Array, a: number, b: number, c: number, x: number, y: number): number | null {
  const area = (s[b]! - s[a]!) * (s[c + 1]! - s[a + 1]!) - (s[b + 1]! - s[a + 1]!) * (s[c]! - s[a]!);
  if (area === 0) return null;
  const part = (p: number, q: number) =>
    ((s[p]! - x) * (s[q + 1]! - y) - (s[p + 1]! - y) * (s[q]! - x)) / area;
  const [u, v, w] = [part(b, c), part(c, a), part(a, b)];
  return u < 0 || v < 0 || w < 0 ? null : u * s[a + 2]! + v * s[b + 2]! + w * s[c + 2]!;
}

/** A pointer just off the rim still takes an open edge: it looks this many directions round itself. */
const feelers = 8;

/** The face under the pointer with its side within `reach` pixels; off the shell, the nearest rim within reach. */
export function pickAt(
  screen: Float64Array,
  starts: readonly number[],
  sidesOf: (face: number) => readonly ShellSide[],
  at: { readonly x: number; readonly y: number },
  reach: number,
): Hit | null {
  const straight = faceAt(screen, starts, at.x, at.y);
  if (straight) return { ...straight, side: sideNear(screen, starts, sidesOf(straight.face), at, reach) };
  let best: Hit | null = null;
  for (let i = 0; i < feelers; i++) {
    const angle = (2 * Math.PI * i) / feelers;
    const found = faceAt(screen, starts, at.x + reach * Math.cos(angle), at.y + reach * Math.sin(angle));
    if (!found || (best && best.near >= found.near)) continue;
    const side = sideNear(screen, starts, sidesOf(found.face), at, reach);
    if (side) best = { ...found, side };
  }
  return best;
}

function sideNear(
  screen: Float64Array,
  starts: readonly number[],
  sides: readonly ShellSide[],
  at: { readonly x: number; readonly y: number },
  reach: number,
): ShellSide | null {
  let best: ShellSide | null = null;
  let least = reach;
  for (const side of sides) {
    if (side.kind === 'ruling') continue;
    const n = starts[side.face + 1]! - starts[side.face]!;
    const a = 3 * (starts[side.face]! + side.corner);
    const b = 3 * (starts[side.face]! + ((side.corner + 1) % n));
    const ux = screen[b]! - screen[a]!;
    const uy = screen[b + 1]! - screen[a + 1]!;
    const square = ux * ux + uy * uy;
    const t =
      square === 0
        ? 0
        : Math.min(1, Math.max(0, ((at.x - screen[a]!) * ux + (at.y - screen[a + 1]!) * uy) / square));
    const away = Math.hypot(at.x - screen[a]! - t * ux, at.y - screen[a + 1]! - t * uy);
    if (away <= least) {
      least = away;
      best = side;
    }
  }
  return best;
}
