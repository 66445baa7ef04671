import { cross, distance, type Point, subtract } from '../math';
import type { Mm } from '../units';
import type { GluedFace } from './glue';

/** Bent faces laid side by side along the curved seams that cut one sheet apart. */
export type Sheet = GluedFace & { readonly bends: boolean };

/** Both sides of a seam lie on each other within this when laid flat, mm: noise of a drawing many times over. */
const fitsFlat: Mm = 0.3;
export interface Draft {
  readonly face: Sheet;
  readonly vertices: number[];
  readonly flat: Point[];
  readonly drawn: Point[];
  readonly sideIds: string[];
  readonly seamIds: (string | null)[];
}

/** A motion of the plane: turned by (c, s), then moved. */
interface Motion {
  readonly c: number;
  readonly s: number;
  readonly x: number;
  readonly y: number;
}
const atRest: Motion = { c: 1, s: 0, x: 0, y: 0 };
export const moved = ({ c, s, x, y }: Motion, p: Point): Point => ({
  x: c * p.x - s * p.y + x,
  y: s * p.x + c * p.y + y,
});

/** Faces laid side by side: the motion of each into the frame of the first. */
export interface LaidSheet {
  readonly motion: ReadonlyMap<number, Motion>;
}

export const placeIn = (sheet: LaidSheet, f: number) => (p: Point) => moved(sheet.motion.get(f)!, p);

export const sideKey = (v: number, w: number) => `${v} ${w}`;

export function facesAtSides(drafts: readonly Draft[]): Map<string, number> {
  return new Map(
    drafts.flatMap(({ vertices }, f) =>
      vertices.map((v, i) => [sideKey(v, vertices[(i + 1) % vertices.length]!), f] as const),
    ),
  );
}

/** Bent faces joined along curved seams whose sides lie on each other when flat. */
export function sheetsOf(drafts: readonly Draft[]): LaidSheet[] {
  const at = facesAtSides(drafts);
  const done = new Set<number>();
  return drafts.flatMap(({ face }, first): LaidSheet[] => {
    if (!face.bends || done.has(first)) return [];
    const motion = new Map([[first, atRest]]);
    done.add(first);
    for (const [f, own] of motion) {
      for (const { other, mine, theirs } of curvedSeams(drafts, at, f)) {
        if (done.has(other)) continue;
        const fit = laidOn(
          theirs,
          mine.map((p) => moved(own, p)),
        );
        if (!fit) continue;
        done.add(other);
        motion.set(other, fit);
      }
    }
    return [{ motion }];
  });
}

/** Seams of several stretches between a bent face and another one: the corners on both sides, in pairs. */
function curvedSeams(drafts: readonly Draft[], at: ReadonlyMap<string, number>, f: number) {
  const { vertices, flat, seamIds } = drafts[f]!;
  const bySeam = new Map<string, { other: number; sides: number[] }>();
  vertices.forEach((v, i) => {
    const other = at.get(sideKey(vertices[(i + 1) % vertices.length]!, v));
    const id = seamIds[i];
    if (id == null || other === undefined || other === f || !drafts[other]!.face.bends) return;
    const seam = bySeam.get(`${id} ${other}`) ?? { other, sides: [] };
    seam.sides.push(i);
    bySeam.set(`${id} ${other}`, seam);
  });
  return [...bySeam.values()]
    .filter((seam) => seam.sides.length > 1)
    .map(({ other, sides }) => {
      const corners = [...new Set(sides.flatMap((i) => [i, (i + 1) % vertices.length]))];
      const they = drafts[other]!;
      return {
        other,
        mine: corners.map((i) => flat[i]!),
        theirs: corners.map((i) => they.flat[they.vertices.indexOf(vertices[i]!)]!),
      };
    });
}

/** The motion that lays points on others best (least squares), null where one stays off. */
function laidOn(points: readonly Point[], onto: readonly Point[]): Motion | null {
  const n = points.length;
  const mean = (list: readonly Point[]): Point => ({
    x: list.reduce((sum, p) => sum + p.x, 0) / n,
    y: list.reduce((sum, p) => sum + p.y, 0) / n,
  });
  const [p0, q0] = [mean(points), mean(onto)];
  let dot = 0;
  let turn = 0;
  points.forEach((p, i) => {
    const [a, b] = [subtract(p, p0), subtract(onto[i]!, q0)];
    dot += a.x * b.x + a.y * b.y;
    turn += cross(a, b);
  });
  const size = Math.hypot(dot, turn);
  if (size === 0) return null;
  const [c, s] = [dot / size, turn / size];
  const motion = { c, s, x: q0.x - c * p0.x + s * p0.y, y: q0.y - s * p0.x - c * p0.y };
  return points.every((p, i) => distance(moved(motion, p), onto[i]!) < fitsFlat) ? motion : null;
}
