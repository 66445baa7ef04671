/** Affine maps of the plane as SVG writes them: x' = a·x + c·y + e, y' = b·x + d·y + f (SVG 2, chapter 8.4). */
export interface Matrix {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

export const identity: Matrix = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };

/** The map that applies `inner` first, then `outer`. */
export function compose(outer: Matrix, inner: Matrix): Matrix {
  return {
    a: outer.a * inner.a + outer.c * inner.b,
    b: outer.b * inner.a + outer.d * inner.b,
    c: outer.a * inner.c + outer.c * inner.d,
    d: outer.b * inner.c + outer.d * inner.d,
    e: outer.a * inner.e + outer.c * inner.f + outer.e,
    f: outer.b * inner.e + outer.d * inner.f + outer.f,
  };
}

export const translation = (e: number, f: number): Matrix => ({ a: 1, b: 0, c: 0, d: 1, e, f });
export const scaling = (a: number, d: number): Matrix => ({ a, b: 0, c: 0, d, e: 0, f: 0 });

/** Rotation by an angle in radians, clockwise on a y-down screen. */
export function rotation(angle: number): Matrix {
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  return { a: cos, b: sin, c: -sin, d: cos, e: 0, f: 0 };
}

export const mapX = (m: Matrix, x: number, y: number): number => m.a * x + m.c * y + m.e;
export const mapY = (m: Matrix, x: number, y: number): number => m.b * x + m.d * y + m.f;

/** The scale that widths of lines and sizes of letters get: the square root of the area scale. */
export const meanScale = (m: Matrix): number => Math.sqrt(Math.abs(m.a * m.d - m.b * m.c));

/** The largest stretch in any direction (the larger singular value). */
export function largestScale(m: Matrix): number {
  const p = (m.a * m.a + m.b * m.b + m.c * m.c + m.d * m.d) / 2;
  const det = m.a * m.d - m.b * m.c;
  return Math.sqrt(p + Math.sqrt(Math.max(0, p * p - det * det)));
}
