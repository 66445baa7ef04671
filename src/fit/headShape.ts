/**
 * The shape of a headform in its own frame: x right, y front, z up, the brow plane at z = 0. The brow is a superellipse
 * |x/a|ⁿ + |y/b|ⁿ = 1 whose exponent gives the girth; above it an ellipsoid-like dome to the crown, below it the lower
 * head, narrowing towards the neck (for going on and for the picture only).
 */
import { distance, type Point, type Point3, point3 } from '../math';
import type { Mm } from '../units';
import type { HeadMeasures } from './headMeasures';

/** Corners of the brow ring; a multiple of four, so that the head is its own mirror image. */
const ringCorners = 48;
const domeRows = 9;
const lowerRows = 6;
/** The lower head as a part of the girth: from the brow to the chin. Common practice, no source. */
const lowerShare = 0.24;
/** By how much the lowest section is narrower than the brow. Common practice, no source. */
const lowerTaper = 0.3;
/** Exponents of the brow: 2 is an ellipse; flatter or fuller ones than these are no head. */
const exponents = { least: 1.6, most: 5 } as const;

export interface HeadShape {
  readonly measures: HeadMeasures;
  readonly exponent: number;
  /** Girth of the brow ring as built; differs from the one given only when no exponent reaches it. */
  readonly girth: Mm;
  /** Half the length and breadth. */
  readonly front: Mm;
  readonly side: Mm;
  readonly vertices: readonly Point3[];
  readonly triangles: readonly (readonly [number, number, number])[];
  /** Vertices from here on lie below the brow. */
  readonly below: number;
}

/** Quarter by quarter, each the exact mirror image of the first. */
function browRing(front: Mm, side: Mm, exponent: number): Point[] {
  const quarter = ringCorners / 4;
  const first = Array.from({ length: quarter + 1 }, (_, i) => {
    if (i === 0) return { x: side, y: 0 };
    if (i === quarter) return { x: 0, y: front };
    const t = (Math.PI / 2) * (i / quarter);
    return { x: side * Math.cos(t) ** (2 / exponent), y: front * Math.sin(t) ** (2 / exponent) };
  });
  return Array.from({ length: ringCorners }, (_, k) => {
    const turn = Math.floor(k / quarter);
    const i = k % quarter;
    const p = turn % 2 === 0 ? first[i]! : first[quarter - i]!;
    return { x: turn === 1 || turn === 2 ? -p.x : p.x, y: turn >= 2 ? -p.y : p.y };
  });
}

const ringGirth = (ring: readonly Point[]): Mm =>
  ring.reduce((sum, p, i) => sum + distance(p, ring[(i + 1) % ring.length]!), 0);

/** Builds the head; its brow ring has the girth given as long as an exponent reaches it. */
export function headShape(measures: HeadMeasures): HeadShape {
  const front = measures.length / 2;
  const side = measures.breadth / 2;
  let low: number = exponents.least;
  let high: number = exponents.most;
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (ringGirth(browRing(front, side, middle)) < measures.girth) low = middle;
    else high = middle;
  }
  const exponent = (low + high) / 2;
  const ring = browRing(front, side, exponent);
  const rows: { z: number; scale: number }[] = [];
  for (let k = 0; k < domeRows; k++) {
    const t = ((Math.PI / 2) * k) / domeRows;
    rows.push({ z: measures.height * Math.sin(t), scale: Math.cos(t) });
  }
  const deep = lowerShare * measures.girth;
  for (let k = 1; k <= lowerRows; k++) {
    const part = k / lowerRows;
    rows.push({ z: -deep * part, scale: 1 - lowerTaper * part * part });
  }
  const vertices = rows.flatMap(({ z, scale }) => ring.map((p) => point3(p.x * scale, p.y * scale, z)));
  const crown = vertices.length;
  const foot = crown + 1;
  vertices.push(point3(0, 0, measures.height), point3(0, 0, -deep));
  return {
    measures,
    exponent,
    girth: ringGirth(ring),
    front,
    side,
    vertices,
    triangles: trianglesOf(crown, foot),
    below: domeRows * ringCorners,
  };
}

function trianglesOf(crown: number, foot: number): (readonly [number, number, number])[] {
  const out: (readonly [number, number, number])[] = [];
  const at = (row: number, k: number) => row * ringCorners + (k % ringCorners);
  /** The band from a lower row to a higher one. */
  const band = (lower: number, upper: number) => {
    for (let k = 0; k < ringCorners; k++)
      out.push(
        [at(lower, k), at(lower, k + 1), at(upper, k + 1)],
        [at(lower, k), at(upper, k + 1), at(upper, k)],
      );
  };
  for (let k = 0; k + 1 < domeRows; k++) band(k, k + 1);
  for (let k = 0; k < ringCorners; k++) out.push([at(domeRows - 1, k), at(domeRows - 1, k + 1), crown]);
  for (let k = 0; k < lowerRows; k++) band(domeRows + k, k === 0 ? 0 : domeRows + k - 1);
  const last = domeRows + lowerRows - 1;
  for (let k = 0; k < ringCorners; k++) out.push([at(last, k + 1), at(last, k), foot]);
  return out;
}

/** Distance from the upright axis as a part of that of the brow's rim in the same direction: 1 on the rim. */
export const gaugeOf = (shape: Pick<HeadShape, 'front' | 'side' | 'exponent'>, x: Mm, y: Mm): number =>
  (Math.abs(x / shape.side) ** shape.exponent + Math.abs(y / shape.front) ** shape.exponent) **
  (1 / shape.exponent);

/** Whether a place of the head's own frame lies within the head. */
export function withinHead(shape: HeadShape, p: Point3): boolean {
  const gauge = gaugeOf(shape, p.x, p.y);
  if (p.z >= 0) return gauge ** 2 + (p.z / shape.measures.height) ** 2 < 1;
  const part = -p.z / (lowerShare * shape.measures.girth);
  return part < 1 && gauge < 1 - lowerTaper * part * part;
}
