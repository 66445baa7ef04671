import { cross, distance, type Point, subtract } from '../math';
import type { Mm, Rad } from '../units';
import { type Draft, facesAtSides, type LaidSheet, placeIn, sideKey } from './laidSheets';

/** The rulings of a bent sheet, from the straight lines that it is creased along. */

/** Lines that part by less over their length run through one apex, mm. */
const onPencil: Mm = 0.5;
/** Lines that turn by less against each other are parallel, rad: noise turns a line of 50 mm by a tenth of this. */
const parallel: Rad = 5e-3;
/** An apex nearer to the sheet is in it, mm. */
const nearestApex: Mm = 10;
/** A pencil with its apex in the sheet, or spread over half a turn, is no ruling of it. */
const widestPencil: Rad = Math.PI * 0.95;

/** All rulings of a sheet, each by its place across them: an angle at the apex, or mm. */
export interface Pencil {
  readonly across: (p: Point) => number;
  /** How far a point is from a ruling, mm, with a sign. */
  readonly off: (p: Point, ruling: number) => Mm;
  readonly onward: (p: Point) => number;
  readonly perUnit: Mm;
}

/** Straight sides of a sheet that another face is joined to, in the frame of the sheet; folds of no bend crease nothing. */
function straightSides(
  drafts: readonly Draft[],
  sheet: LaidSheet,
  plain: ReadonlySet<string>,
): (readonly [Point, Point])[] {
  const at = facesAtSides(drafts);
  return [...sheet.motion.keys()].flatMap((f) => {
    const { vertices, flat, sideIds, seamIds } = drafts[f]!;
    const place = placeIn(sheet, f);
    const joinOf = (i: number) => seamIds[i] ?? sideIds[i]!;
    return vertices.flatMap((v, i): (readonly [Point, Point])[] => {
      const j = (i + 1) % vertices.length;
      const joined = at.has(sideKey(vertices[j]!, v));
      // A curve, or a line that is sewn to one, comes in several stretches.
      const single = vertices.filter((_, k) => joinOf(k) === joinOf(i)).length === 1;
      return joined && single && !plain.has(sideIds[i]!) ? [[place(flat[i]!), place(flat[j]!)]] : [];
    });
  });
}

/**
 * Whether a side of several stretches joins the sheet to something that does not lie beside it when flat: rulings would
 * have to end at its corners, and stand where they stand.
 */
function isSewnToCurve(drafts: readonly Draft[], sheet: LaidSheet): boolean {
  const at = facesAtSides(drafts);
  return [...sheet.motion.keys()].some((f) => {
    const { vertices, sideIds, seamIds } = drafts[f]!;
    const joinOf = (i: number) => seamIds[i] ?? sideIds[i]!;
    return vertices.some((v, i) => {
      const other = at.get(sideKey(vertices[(i + 1) % vertices.length]!, v));
      if (other === undefined || (other !== f && sheet.motion.has(other))) return false;
      return vertices.some((_, k) => k !== i && joinOf(k) === joinOf(i));
    });
  });
}

/**
 * The pencil of lines that all straight creases of a sheet belong to, null where there is none.
 * @param plain folds that only part one flat face in two
 */
export function pencilOf(
  drafts: readonly Draft[],
  sheet: LaidSheet,
  plain: ReadonlySet<string>,
): Pencil | null {
  const lines = straightSides(drafts, sheet, plain);
  if (lines.length < 2 || isSewnToCurve(drafts, sheet)) return null;
  const corners = [...sheet.motion.keys()].flatMap((f) => drafts[f]!.flat.map(placeIn(sheet, f)));
  const ways = lines.map(([p, q]) => {
    const length = distance(p, q);
    return { x: (q.x - p.x) / length, y: (q.y - p.y) / length };
  });
  const first = ways[0]!;
  const widest = Math.max(...ways.map((w) => Math.abs(cross(first, w))));
  if (widest < parallel) {
    const across = (p: Point) => cross(first, p);
    const offs = lines.map(([p, q]) => Math.abs(across(p) - across(q)));
    const spread = new Set(lines.map(([p]) => Math.round(across(p) / onPencil))).size > 1;
    return spread && offs.every((off) => off < onPencil)
      ? {
          across,
          off: (p, ruling) => across(p) - ruling,
          onward: (p) => first.x * p.x + first.y * p.y,
          perUnit: 1,
        }
      : null;
  }
  const apex = meetingPoint(lines.map(([p], i) => [p, ways[i]!]));
  if (!apex) return null;
  const off = lines.map(([p, q]) => {
    const far = distance(p, apex) > distance(q, apex) ? p : q;
    const near = far === p ? q : p;
    return Math.abs(cross(subtract(far, apex), subtract(near, apex))) / distance(far, apex);
  });
  if (off.some((o) => o > onPencil)) return null;
  const middle = corners.reduce((sum, p) => ({ x: sum.x + p.x - apex.x, y: sum.y + p.y - apex.y }), {
    x: 0,
    y: 0,
  });
  const across = (p: Point) => {
    const d = subtract(p, apex);
    return Math.atan2(cross(middle, d), middle.x * d.x + middle.y * d.y);
  };
  const seen = corners.map(across);
  const reach = corners.map((p) => distance(p, apex));
  if (Math.max(...seen) - Math.min(...seen) > widestPencil || Math.min(...reach) < nearestApex) return null;
  return {
    across,
    off: (p, ruling) => distance(p, apex) * Math.sin(across(p) - ruling),
    onward: (p) => distance(p, apex),
    perUnit: reach.reduce((sum, r) => sum + r, 0) / reach.length,
  };
}

/** The point nearest to all lines, least squares. */
function meetingPoint(lines: readonly (readonly [Point, Point])[]): Point | null {
  let [xx, xy, yy, x, y] = [0, 0, 0, 0, 0];
  for (const [p, way] of lines) {
    const n = { x: -way.y, y: way.x };
    const off = n.x * p.x + n.y * p.y;
    xx += n.x * n.x;
    xy += n.x * n.y;
    yy += n.y * n.y;
    x += n.x * off;
    y += n.y * off;
  }
  const det = xx * yy - xy * xy;
  return Math.abs(det) < 1e-12 ? null : { x: (yy * x - xy * y) / det, y: (xx * y - xy * x) / det };
}
