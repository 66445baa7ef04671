import { distance, lerp, type Point } from '../math';
import type { Mm } from '../units';

/** A polyline measured once, for many looks along it. */
export interface Walk {
  readonly length: Mm;
  /** Where `s` mm along it lie (clamped to the ends), and in which segment. */
  at(s: Mm): { readonly at: Point; readonly segment: number };
}

export function walkAlong(points: readonly Point[]): Walk {
  const reached = new Float64Array(points.length);
  for (let i = 1; i < points.length; i++) reached[i] = reached[i - 1]! + distance(points[i - 1]!, points[i]!);
  const last = points.length - 1;
  const length = reached[last] ?? 0;
  return {
    length,
    at: (s) => {
      let low = 0;
      let high = last - 1;
      while (low < high) {
        const middle = (low + high + 1) >> 1;
        if (reached[middle]! <= s) low = middle;
        else high = middle - 1;
      }
      const a = points[low]!;
      const b = points[low + 1] ?? a;
      const step = (reached[low + 1] ?? 0) - reached[low]!;
      const t = step <= 0 ? 0 : Math.min(1, Math.max(0, (s - reached[low]!) / step));
      return { at: lerp(a, b, t), segment: low };
    },
  };
}
