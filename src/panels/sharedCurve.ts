/**
 * One course for both sides of a seam. Flat, mates turn by different angles at the same corner, so a curve of its own on
 * each would bulge by different amounts, and the seam would open or press by the difference. Both get the mean of the
 * two: about the curve of the neutral outline, which lies between them.
 */
import { distance, type Point } from '../math';
import type { Mm } from '../units';

/** A curve beside its chord: parts of the way along, and how far to the left. */
type Course = readonly { readonly along: number; readonly left: Mm }[];

/** A curve over the straight edge that it replaces; both run the same way. */
export interface Span {
  readonly edge: readonly Point[];
  readonly curve: readonly Point[];
}

/**
 * @param opposed whether the mates' edges run against each other, as they do when both are drawn from the same side
 * @param limit no curve leaves its edge farther than this, mm
 * @returns curves for both, between the ends of their edges
 */
export function sharedCurves(a: Span, b: Span, opposed: boolean, limit: Mm): [Point[], Point[]] {
  const one = courseOf(a);
  const two = asSeen(courseOf(b), opposed);
  const mean = one.map(({ along, left }, k) => ({
    along: (along + two[k]!.along) / 2,
    left: (left + two[k]!.left) / 2,
  }));
  const most = Math.max(...mean.map(({ left }) => Math.abs(left)));
  const shared =
    most > limit ? mean.map(({ along, left }) => ({ along, left: (left * limit) / most })) : mean;
  return [put(shared, a.edge), put(asSeen(shared, opposed), b.edge)];
}

/** How far the curves that two mates would have by themselves run apart, mm. */
export function apartBy(a: Span, b: Span, opposed: boolean): Mm {
  const two = asSeen(courseOf(b), opposed);
  return Math.max(...courseOf(a).map(({ left }, k) => Math.abs(left - two[k]!.left)));
}

/** The same course from the mate: what is left of one is right of the other, also where one of them is turned over. */
const asSeen = (course: Course, opposed: boolean): Course => {
  const turned = course.map(({ along, left }) => ({ along: opposed ? 1 - along : along, left: -left }));
  return opposed ? turned.reverse() : turned;
};

function courseOf({ edge, curve }: Span): Course {
  const [p, q] = [edge[0]!, edge.at(-1)!];
  const length = distance(p, q);
  const [ux, uy] = [(q.x - p.x) / length, (q.y - p.y) / length];
  return curve.map((r) => ({
    along: ((r.x - p.x) * ux + (r.y - p.y) * uy) / length,
    left: (r.y - p.y) * ux - (r.x - p.x) * uy,
  }));
}

function put(course: Course, edge: readonly Point[]): Point[] {
  const [p, q] = [edge[0]!, edge.at(-1)!];
  const length = distance(p, q);
  const [ux, uy] = [(q.x - p.x) / length, (q.y - p.y) / length];
  return course.map(({ along, left }, k) => {
    if (k === 0) return p;
    if (k === course.length - 1) return q;
    return { x: p.x + ux * along * length - uy * left, y: p.y + uy * along * length + ux * left };
  });
}
