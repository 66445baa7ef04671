/**
 * Elliptical arcs as cubics. Each arc is cut into equal parts of its angle, each with the handle length
 * 4/3·tan(θ/4), which touches the arc at both ends and in the middle.
 * Sources: SVG 2, appendix B.2 (end points to centre, radii that are too small); the handle length and its radial
 * error, at most 2/27 · sin⁶(θ/4) / cos²(θ/4) of the radius: Goldapp, "Approximation of circular arcs by cubic
 * polynomials", CAGD 8 (1991), formula from memory and checked by the tests against points of the arc itself.
 */
import type { OutlinePen } from './outline';

/** Largest distance of the cubic from an arc of angle θ, as a part of the radius. */
export function arcDeviation(theta: number): number {
  const s = Math.sin(theta / 4);
  const c = Math.cos(theta / 4);
  return ((2 / 27) * s ** 6) / (c * c);
}

/** Fewest equal parts of an arc that keep it within `tolerance` (same unit as the radius); at most 90° each. */
export function arcParts(sweep: number, radius: number, tolerance: number): number {
  const angle = Math.abs(sweep);
  // A hair of slack keeps a quarter turn one part when rounding makes it a little more.
  let parts = Math.max(1, Math.ceil(angle / (Math.PI / 2) - 1e-9));
  while (parts < 1024 && arcDeviation(angle / parts) * radius > tolerance) parts++;
  return parts;
}

/** Draws from the pen's point along an ellipse given by its centre; `tolerance` in user units. */
export function centredArc(
  pen: OutlinePen,
  cx: number,
  cy: number,
  rx: number,
  ry: number,
  tilt: number,
  from: number,
  sweep: number,
  end: { readonly x: number; readonly y: number },
  tolerance: number,
): void {
  const parts = arcParts(sweep, Math.max(rx, ry), tolerance);
  const step = sweep / parts;
  const handle = (4 / 3) * Math.tan(step / 4);
  const cosTilt = Math.cos(tilt);
  const sinTilt = Math.sin(tilt);
  const x = (u: number, v: number): number => cx + cosTilt * rx * u - sinTilt * ry * v;
  const y = (u: number, v: number): number => cy + sinTilt * rx * u + cosTilt * ry * v;
  let c0 = Math.cos(from);
  let s0 = Math.sin(from);
  for (let i = 1; i <= parts; i++) {
    const c1 = Math.cos(from + step * i);
    const s1 = Math.sin(from + step * i);
    const [u1, v1, u2, v2] = [c0 - handle * s0, s0 + handle * c0, c1 + handle * s1, s1 - handle * c1];
    const last = i === parts;
    pen.cubicTo(
      x(u1, v1),
      y(u1, v1),
      x(u2, v2),
      y(u2, v2),
      last ? end.x : x(c1, s1),
      last ? end.y : y(c1, s1),
    );
    c0 = c1;
    s0 = s1;
  }
}

/** Draws an `A` command from the pen's point; angle in degrees, `tolerance` in user units. */
export function endpointArc(
  pen: OutlinePen,
  radiusX: number,
  radiusY: number,
  tiltDegrees: number,
  large: boolean,
  clockwise: boolean,
  x: number,
  y: number,
  tolerance: number,
): void {
  const x0 = pen.x;
  const y0 = pen.y;
  if (x0 === x && y0 === y) return;
  let rx = Math.abs(radiusX);
  let ry = Math.abs(radiusY);
  if (rx === 0 || ry === 0) {
    pen.lineTo(x, y);
    return;
  }
  const tilt = (tiltDegrees % 360) * (Math.PI / 180);
  const cosTilt = Math.cos(tilt);
  const sinTilt = Math.sin(tilt);
  const hx = (x0 - x) / 2;
  const hy = (y0 - y) / 2;
  // The half chord in the ellipse's own axes, in radii.
  let u = (cosTilt * hx + sinTilt * hy) / rx;
  let v = (cosTilt * hy - sinTilt * hx) / ry;
  const reach = u * u + v * v;
  if (!(reach > 0 && reach < Number.MAX_VALUE)) {
    // Radii that dwarf the chord, or the other way round, beyond all precision: the arc is its chord.
    pen.lineTo(x, y);
    return;
  }
  if (reach > 1) {
    const grow = Math.sqrt(reach);
    rx *= grow;
    ry *= grow;
    u /= grow;
    v /= grow;
  }
  const away = Math.sqrt(Math.max(0, 1 / Math.min(reach, 1) - 1)) * (large === clockwise ? -1 : 1);
  // Centre on the unit circle's plane, then back.
  const cu = away * v;
  const cv = -away * u;
  const cx = cosTilt * rx * cu - sinTilt * ry * cv + (x0 + x) / 2;
  const cy = sinTilt * rx * cu + cosTilt * ry * cv + (y0 + y) / 2;
  const from = Math.atan2(v - cv, u - cu);
  let sweep = Math.atan2(-v - cv, -u - cu) - from;
  if (clockwise && sweep < 0) sweep += 2 * Math.PI;
  else if (!clockwise && sweep > 0) sweep -= 2 * Math.PI;
  centredArc(pen, cx, cy, rx, ry, tilt, from, sweep, { x, y }, tolerance);
}
