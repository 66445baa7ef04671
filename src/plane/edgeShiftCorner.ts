/**
 * Where two neighbouring stretches of an outline meet after each is moved by its own distance.
 *
 * Everything is a velocity: the displacement of the corner per unit of shift fraction λ, where λ runs from 0 (source)
 * to 1 (full shift). Corners move on straight lines because both lines move at constant speed. Material lies to the
 * left, so a positive shift goes to the right of the direction of travel.
 */
import { add, cross, dot, norm, type Point, rotate, scaleBy } from '../math';
import type { Mm, Rad } from '../units';
import { arcSagitta, blendBelow, reversalAbove, roundAbove } from './edgeShiftTolerance';

/** One straight stretch: unit direction, unit normal to the right of it, own shift. */
export interface Lead {
  readonly e: Point;
  readonly n: Point;
  readonly shift: Mm;
}

/** How the end of the stretch before and the start of the one after move; equal for a plain corner. */
export interface Meeting {
  readonly before: Point;
  readonly after: Point;
  /** Further points between the two, in order. */
  readonly between: readonly Point[];
  /** True when the corner leaves its two shifted lines (a blend, or a capped corner). */
  readonly off: boolean;
}

export interface MeetingRule {
  readonly mitreLimit: number;
  /** Nearly collinear neighbours take the smaller shift of the two instead of their mean. */
  readonly deeper: boolean;
}

const single = (d: Point, off: boolean): Meeting => ({ before: d, after: d, between: [], off });

/**
 * The meeting of two different edges that turn by `turn` (left positive, −π…π).
 * - turn below 20°: along the bisector by the mean of both shifts (or by the smaller one);
 * - else the intersection of the two shifted lines;
 * - a corner at which both stretches grow is cut blunt where it would stand more than mitreLimit × the larger shift
 *   away: the cut is square to the line from the source corner to the point of the mitre;
 * - a corner at which one grows and the other shrinks is pulled back along the same line to that distance;
 * - a corner at which both shrink is never limited: limiting it would leave material beyond an edge.
 */
export function meetEdges(before: Lead, after: Lead, turn: Rad, rule: MeetingRule): Meeting {
  const sa = before.shift;
  const sb = after.shift;
  if (Math.abs(turn) < blendBelow) {
    const sum = add(before.n, after.n);
    const twice = rule.deeper ? 2 * Math.min(sa, sb) : sa + sb;
    return single(scaleBy(sum, twice / dot(sum, sum)), sa !== sb);
  }
  const reach = rule.mitreLimit * Math.max(Math.abs(sa), Math.abs(sb));
  if (Math.abs(turn) > reversalAbove) return blunt(before, after, before.e, reach);
  // Not from the angle: right angles then come out exact.
  const sin = cross(before.e, after.e);
  const cos = dot(before.e, after.e);
  const growBefore = (sb - sa * cos) / sin;
  const growAfter = (sa - sb * cos) / sin;
  const d = add(scaleBy(before.n, sa), scaleBy(before.e, growBefore));
  const far = norm(d);
  if (far <= reach) return single(d, false);
  if (growBefore > 0 && growAfter > 0) return blunt(before, after, scaleBy(d, 1 / far), reach);
  if (growBefore > 0 || growAfter > 0) return single(scaleBy(d, reach / far), true);
  return single(d, false);
}

/** Both stretches end on the line square to `towards` at the distance `reach` from the source corner. */
function blunt(before: Lead, after: Lead, towards: Point, reach: Mm): Meeting {
  const grow = (lead: Lead, sign: 1 | -1) => {
    const gain = sign * dot(lead.e, towards);
    const missing = reach - lead.shift * dot(lead.n, towards);
    return add(scaleBy(lead.n, lead.shift), scaleBy(lead.e, (sign * missing) / gain));
  };
  return { before: grow(before, 1), after: grow(after, -1), between: [], off: false };
}

/** The meeting inside one edge: a mitre at the local shift, or a fine arc on the outer side of a kink. */
export function meetInside(before: Lead, after: Lead, turn: Rad, shift: Mm): Meeting {
  const outer = shift * turn > 0;
  if (outer && Math.abs(turn) > roundAbove) {
    const step = 2 * Math.acos(Math.max(0, 1 - arcSagitta / Math.abs(shift)));
    const parts = Math.max(1, Math.ceil(Math.abs(turn) / step));
    const between: Point[] = [];
    for (let k = 1; k < parts; k++) between.push(scaleBy(rotate(before.n, (turn * k) / parts), shift));
    return { before: scaleBy(before.n, shift), after: scaleBy(after.n, shift), between, off: false };
  }
  if (Math.abs(turn) > reversalAbove) {
    const back = scaleBy(before.e, -Math.abs(shift) / Math.tan(reversalAbove / 2));
    return single(back, true);
  }
  const sum = add(before.n, after.n);
  return single(scaleBy(sum, (2 * shift) / dot(sum, sum)), false);
}
