/** The sheet that a visor is cut from: bent evenly where the rim allows it, else folded along lines. */
import { directionAngle, norm, type Point, type Point3, point, ringArea, rotate } from '../math';
import { uniteRings } from '../plane';
import { degrees, type Mm, type Rad } from '../units';
import { bentSheet } from './bentSheet';
import { type CoveringSheet, follows, longerBy, mostOff } from './coveringSheet';
import { foldedSheet } from './foldedSheet';
import { overlapShare, visorFold, visorOff } from './tolerance';
import { mean, mm } from './visorFit';

/**
 * A sheet that bends evenly where the rim is near enough to one; else one folded along lines, as long as it is laid flat
 * without lying on itself and no fold is sharper than foam follows when it is scored.
 */
export function sheetOver(
  points: readonly Point3[],
  into: readonly Point3[],
  middle: Point3,
  closed: boolean,
): { sheet: CoveringSheet; bentOff: Mm | null } | { refused: string } {
  const bent = bentSheet(points, into, middle, closed);
  const bentOff = bent ? mostOff(bent) : null;
  if (bent && follows(bent, points, closed)) return { sheet: upright(bent, points), bentOff };
  const longer = bent ? Math.abs(longerBy(bent, points, closed)) : 0;
  const far =
    bentOff === null
      ? 'no sheet that bends evenly covers its opening'
      : bentOff > visorOff
        ? `its rim is up to ${mm(bentOff)} off any sheet that bends evenly (${mm(visorOff)} can be pulled in)`
        : `on a sheet that bends evenly its rim would stretch by ${mm(longer)}`;
  const sheet = foldedSheet(points);
  if (!sheet) return { refused: `${far}, and its rim has too many corners to be folded` };
  const sharpest = Math.max(0, ...sheet.folds.map((f) => Math.abs(f.bend)));
  if (sharpest > visorFold)
    return { refused: `${far}, and folded it would need a bend of ${Math.round(degrees(sharpest))}°` };
  if (liesOnItself(sheet.flat)) return { refused: `${far}, and folded it lies on itself when laid flat` };
  return { sheet: upright(sheet, points), bentOff };
}

/** The flat sheet turned so that what is higher on the wearer is higher on it; of a level opening, what is in front. */
function upright(sheet: CoveringSheet, points: readonly Point3[]): CoveringSheet {
  const rise = slopeOf(
    sheet.flat,
    points.map((p) => p.z),
  );
  const up =
    norm(rise) > leastRise
      ? rise
      : slopeOf(
          sheet.flat,
          points.map((p) => p.y),
        );
  const turn: Rad = norm(up) === 0 ? 0 : Math.PI / 2 - directionAngle(up);
  const at = (p: Point) => rotate(p, turn);
  return {
    ...sheet,
    flat: sheet.flat.map(at),
    folds: sheet.folds.map((f) => ({ ...f, points: [at(f.points[0]), at(f.points[1])] })),
    inSpace: (p) => sheet.inSpace(rotate(p, -turn)),
    lineOf: (plane) => sheet.lineOf(plane).map(([a, b]) => [at(a), at(b)] as const),
  };
}

/** A sheet that rises by less, mm a mm, has no upper end. */
const leastRise = 0.3;

/** The direction in which values at points of the plane grow, by least squares. */
function slopeOf(points: readonly Point[], values: readonly number[]): Point {
  const n = points.length;
  const [mx, my, mv] = [mean(points.map((p) => p.x)), mean(points.map((p) => p.y)), mean(values)];
  let [xx, xy, yy, xv, yv] = [0, 0, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    const [x, y, v] = [points[i]!.x - mx, points[i]!.y - my, values[i]! - mv];
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xv += x * v;
    yv += y * v;
  }
  const det = xx * yy - xy * xy;
  return det === 0 ? point(0, 0) : point((xv * yy - yv * xy) / det, (yv * xx - xv * xy) / det);
}

/** A ring that crosses itself covers less, or other, ground than its area says. */
function liesOnItself(ring: readonly Point[]): boolean {
  const area = Math.abs(ringArea(ring));
  const covered = uniteRings([ring], 'nonZero').reduce((sum, r) => sum + ringArea(r), 0);
  return Math.abs(covered - area) > overlapShare * area;
}
