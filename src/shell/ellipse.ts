import type { Mm } from '../units';

/** Girth of an ellipse from its two diameters (Ramanujan's second formula, 1914; off by 1e-9 at a head's shape). */
export function ellipseGirth(length: Mm, breadth: Mm): Mm {
  const a = length / 2;
  const b = breadth / 2;
  if (a + b === 0) return 0;
  const h = ((a - b) / (a + b)) ** 2;
  return Math.PI * (a + b) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
}
