/**
 * Where parts stand in space: a sheet over an opening as small flat patches, and ribbons beside a line of the shell.
 * They are drawn by their middle layer.
 */
import { add3, dot3, lerp, type Point, type Point3, scaleBy3, subtract3 } from '../math';
import type { StandingOnShell } from '../model';
import type { Mm } from '../units';
import type { CoveringSheet } from './coveringSheet';
import { mitreLimit, patchSize } from './tolerance';

type Standing = Pick<StandingOnShell, 'patches' | 'outline' | 'folds'>;
type Rings = readonly (readonly Point[])[];

/** A flat part of the sheet, put back in space. */
export function acrossSheet(sheet: CoveringSheet, rings: Rings, folds: Rings): Standing {
  const lifted = (line: readonly Point[]) => line.map(sheet.inSpace);
  return {
    patches: trapezoids(rings).map(lifted),
    outline: rings.map((ring) => lifted(inSteps([...ring, ring[0]!]).slice(0, -1))),
    folds: folds.map(lifted),
  };
}

/** A line with points at most a patch apart. */
function inSteps(line: readonly Point[]): Point[] {
  return line.flatMap((p, i) => {
    const next = line[i + 1];
    if (!next) return [p];
    const count = Math.max(1, Math.ceil(Math.hypot(next.x - p.x, next.y - p.y) / patchSize));
    return Array.from({ length: count }, (_, k) => lerp(p, next, k / count));
  });
}

/**
 * What rings enclose (even-odd) as quadrilaterals: level bands that hold no corner within, each divided across. They
 * share their sides, so that nothing gapes when they are bent.
 */
function trapezoids(rings: Rings): Point[][] {
  const levels = [...new Set(rings.flat().map((p) => p.y))].sort((a, b) => a - b);
  const found: Point[][] = [];
  levels.slice(1).forEach((top, k) => {
    const low = levels[k]!;
    const count = Math.ceil((top - low) / patchSize);
    const sides = rings
      .flatMap((ring) =>
        ring.map((p, i) =>
          p.y < ring[(i + 1) % ring.length]!.y
            ? ([p, ring[(i + 1) % ring.length]!] as const)
            : ([ring[(i + 1) % ring.length]!, p] as const),
        ),
      )
      .filter(([p, q]) => p.y <= low && q.y >= top && p.y < q.y);
    const at = ([p, q]: readonly [Point, Point], y: Mm) => lerp(p, q, (y - p.y) / (q.y - p.y)).x;
    const middle = (low + top) / 2;
    sides.sort((a, b) => at(a, middle) - at(b, middle));
    for (let j = 0; j < count; j++) {
      const [y0, y1] = [low + ((top - low) * j) / count, low + ((top - low) * (j + 1)) / count];
      for (let i = 0; i + 1 < sides.length; i += 2) {
        const [a, b] = [at(sides[i]!, y0), at(sides[i + 1]!, y0)];
        const [c, d] = [at(sides[i]!, y1), at(sides[i + 1]!, y1)];
        const parts = Math.max(1, Math.ceil(Math.max(b - a, d - c) / patchSize));
        for (let t = 0; t < parts; t++) {
          const [u, v] = [t / parts, (t + 1) / parts];
          found.push([
            { x: a + (b - a) * u, y: y0 },
            { x: a + (b - a) * v, y: y0 },
            { x: c + (d - c) * v, y: y1 },
            { x: c + (d - c) * u, y: y1 },
          ]);
        }
      }
    }
  });
  return found;
}

/**
 * A line in space moved beside itself, on the mitre at corners.
 * @param ways which way each of its stretches goes, a unit vector; null: as its neighbours do. As many as points: closed
 */
export function besideInSpace(line: readonly Point3[], ways: readonly (Point3 | null)[], away: Mm): Point3[] {
  const closed = ways.length === line.length;
  return line.map((p, i) => {
    const before = i > 0 ? ways[i - 1] : closed ? ways.at(-1) : null;
    const after = ways[i];
    const [one, other] = [before ?? after, after ?? before];
    if (!one || !other) return p;
    const sum = add3(one, other);
    // |sum|² = 2 + 2 cos: the mitre is sum · 2 / |sum|².
    return add3(p, scaleBy3(sum, (2 * away) / Math.max(dot3(sum, sum), (2 / mitreLimit) ** 2)));
  });
}

/** A ribbon between two lines of as many points. */
export function ribbonBetween(one: readonly Point3[], other: readonly Point3[], closed: boolean): Standing {
  const count = closed ? one.length : one.length - 1;
  return {
    patches: Array.from({ length: count }, (_, i) => {
      const next = (i + 1) % one.length;
      return [one[i]!, one[next]!, other[next]!, other[i]!];
    }),
    outline: closed ? [one, other] : [[...one, ...[...other].reverse()]],
    folds: [],
  };
}

/**
 * Parts of the sized shell carried back to the shell as it was folded, axis by axis.
 * @param sized the vertices of `folded` at the final size
 */
export function toFolded(
  sized: readonly Point3[],
  folded: readonly Point3[],
): (standing: StandingOnShell) => StandingOnShell {
  const low = (points: readonly Point3[]) => points.reduce(lower, points[0]!);
  const high = (points: readonly Point3[]) => scaleBy3(low(points.map((p) => scaleBy3(p, -1))), -1);
  const [from, to] = [low(sized), low(folded)];
  const [wide, own] = [subtract3(high(sized), from), subtract3(high(folded), to)];
  const ratio = (a: Mm, b: Mm) => (a > 0 ? b / a : 1);
  const [x, y, z] = [ratio(wide.x, own.x), ratio(wide.y, own.y), ratio(wide.z, own.z)];
  const lines = (list: readonly (readonly Point3[])[]) =>
    list.map((line) =>
      line.map((p) => ({
        x: to.x + (p.x - from.x) * x,
        y: to.y + (p.y - from.y) * y,
        z: to.z + (p.z - from.z) * z,
      })),
    );
  return (s) => ({ ...s, patches: lines(s.patches), outline: lines(s.outline), folds: lines(s.folds) });
}

const lower = (p: Point3, q: Point3): Point3 => ({
  x: Math.min(p.x, q.x),
  y: Math.min(p.y, q.y),
  z: Math.min(p.z, q.z),
});
