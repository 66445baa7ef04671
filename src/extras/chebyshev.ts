/** Chebyshev polynomials of −1 to 1: fitted by weighted least squares, and evaluated with their slope. */

interface Sample {
  readonly at: number;
  readonly value: number;
  readonly weight: number;
}

/**
 * Tames terms that few samples tell apart, as a part of the weight of all samples, growing with the fourth power of the
 * order: large enough for sums of some dozen samples not to break down, too small to bend a section by 0.01 mm.
 */
const taming = 1e-7;

/** The terms up to a degree; normal equations by elimination, which the taming keeps regular. */
export function fitChebyshev(samples: readonly Sample[], degree: number): number[] {
  const n = degree + 1;
  const rows = Array.from({ length: n }, () => new Array<number>(n + 1).fill(0));
  for (const { at, value, weight } of samples) {
    const basis = basisAt(at, n);
    const w = weight * weight;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) rows[i]![j]! += w * basis[i]! * basis[j]!;
      rows[i]![n]! += w * basis[i]! * value;
    }
  }
  const whole = samples.reduce((sum, s) => sum + s.weight * s.weight, 0);
  for (let i = 1; i < n; i++) rows[i]![i]! += taming * whole * i ** 4;
  return eliminated(rows);
}

/** Solves a small positive definite system, right side in the last column; the rows are used up. */
export function eliminated(rows: number[][]): number[] {
  const n = rows.length;
  for (let k = 0; k < n; k++) {
    const pivot = rows[k]!;
    for (let i = k + 1; i < n; i++) {
      const part = rows[i]![k]! / pivot[k]!;
      for (let j = k; j <= n; j++) rows[i]![j]! -= part * pivot[j]!;
    }
  }
  const terms = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i--) {
    let sum = rows[i]![n]!;
    for (let j = i + 1; j < n; j++) sum -= rows[i]![j]! * terms[j]!;
    terms[i] = sum / rows[i]![i]!;
  }
  return terms;
}

function basisAt(x: number, n: number): number[] {
  const basis = [1, x];
  for (let k = 2; k < n; k++) basis.push(2 * x * basis[k - 1]! - basis[k - 2]!);
  return basis;
}

/** Value and slope of the sum of terms. */
export function chebyshev(terms: readonly number[], x: number): { value: number; slope: number } {
  let [value, slope] = [terms[0] ?? 0, 0];
  let [t0, t1, d0, d1] = [1, x, 0, 1];
  for (let k = 1; k < terms.length; k++) {
    value += terms[k]! * t1;
    slope += terms[k]! * d1;
    [t0, t1, d0, d1] = [t1, 2 * x * t1 - t0, d1, 2 * t1 + 2 * x * d1 - d0];
  }
  return { value, slope };
}
