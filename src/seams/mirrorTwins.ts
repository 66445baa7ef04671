/**
 * Mirror twins: which outline is the mirror image of which (or of itself), edge by edge. A symmetric shell is drawn as
 * such twins, and then its seams are symmetric too: what is known of one side is known of the other, and the lengths of
 * both drawings together are more exact than each.
 */
import type { Mm } from '../units';
import { endAngle, type HalfEdges } from './halfEdges';
import {
  fewestTwins,
  medianToWidth,
  symmetricShare,
  twinAngle,
  twinAngleOffset,
  twinDifference,
  twinLead,
} from './matchTolerance';

/** The edge that each edge is the mirror image of; −1 where its outline has no twin, or more than one could be. */
export type Twins = Int32Array;

interface Fit {
  readonly loop: number;
  readonly shift: number;
  /** Mean square of the differences in length, mm². */
  readonly square: number;
}

/**
 * @param likely whether two pieces of which each is nearly its own mirror image too count as each other's: the likelier
 *   reading, since a piece of the middle has no double
 */
export function mirrorTwins(h: HalfEdges, likely = true): Twins {
  const loops = loopsOf(h);
  const twin = new Int32Array(h.count).fill(-1);
  const byCount = new Map<number, number[]>();
  loops.forEach((loop, i) => {
    byCount.set(loop.length, [...(byCount.get(loop.length) ?? []), i]);
  });
  const perimeter = loops.map((loop) => loop.reduce((sum, e) => sum + h.length[e]!, 0));
  const fitsOf = loops.map((loop, i): Fit[] => {
    const fits: Fit[] = [];
    for (const j of byCount.get(loop.length)!) {
      if (Math.abs(perimeter[i]! - perimeter[j]!) > twinDifference * loop.length) continue;
      for (let shift = 0; shift < loop.length; shift++) {
        const square = misfit(h, loop, loops[j]!, shift);
        if (square !== null) fits.push({ loop: j, shift, square });
      }
    }
    return fits.sort((p, q) => p.square - q.square || p.loop - q.loop || p.shift - q.shift);
  });
  const leads = (first: Fit, second: Fit | undefined, usual = 0) =>
    !second || second.square >= twinLead * twinLead * Math.max(first.square, usual) + leastSquare;
  const fitted = fitsOf.flatMap(([first, second]) => (first && leads(first, second) ? [first] : []));
  if (fitted.reduce((sum, f) => sum + loops[f.loop]!.length, 0) < symmetricShare * h.count) return twin;
  const usual = fitted.map((f) => f.square).sort((p, q) => p - q)[fitted.length >> 1]!;
  const fits = (f: Fit) => f.square <= twinLead * twinLead * usual + leastSquare;
  const best = fitsOf.map(([first, second]): Fit | null =>
    first && fits(first) && leads(first, second, usual) ? first : null,
  );
  if (likely)
    fitsOf.forEach((all, i) => {
      if (best[i]) return;
      const others = all.filter((f) => f.loop !== i && fits(f));
      const [first, second] = others;
      const back = first && fitsOf[first.loop]!.filter((f) => f.loop !== first.loop && fits(f));
      if (!first || !back || others.some((f) => f.loop !== first.loop) || back.some((f) => f.loop !== i))
        return;
      if (leads(first, second, usual)) best[i] = first;
    });
  best.forEach((fit, i) => {
    if (!fit || best[fit.loop]?.loop !== i || best[fit.loop]!.shift !== fit.shift) return;
    const [mine, other] = [loops[i]!, loops[fit.loop]!];
    mine.forEach((e, k) => {
      twin[e] = other[(fit.shift - k + 2 * mine.length) % mine.length]!;
    });
  });
  return twin;
}

/** Two fits that are both this good are told apart by rounding alone, mm². */
const leastSquare = 1e-6;

function loopsOf(h: HalfEdges): number[][] {
  const done = new Uint8Array(h.count);
  const loops: number[][] = [];
  for (let e = 0; e < h.count; e++) {
    if (done[e]) continue;
    const loop: number[] = [];
    for (let at = e; !done[at]; at = h.next[at]!) {
      done[at] = 1;
      loop.push(at);
    }
    loops.push(loop);
  }
  return loops;
}

/** Mean square difference when edge k of the one is the mirror image of edge `shift − k` of the other, else null. */
function misfit(
  h: HalfEdges,
  mine: readonly number[],
  other: readonly number[],
  shift: number,
): number | null {
  const n = mine.length;
  let sum = 0;
  for (let k = 0; k < n; k++) {
    const e = mine[k]!;
    const f = other[(shift - k + n) % n]!;
    const d = h.length[e]! - h.length[f]!;
    if (Math.abs(d) > twinDifference) return null;
    const short = Math.min(h.length[e]!, h.length[h.before[e]!]!);
    const slack = Math.max(twinAngle, twinAngleOffset / Math.max(short, 1e-3));
    if (Math.abs(h.angle[e]! - endAngle(h, f)) > slack) return null;
    sum += d * d;
  }
  return sum / n;
}

/** The same outlines with lengths and angles of twins replaced by their means. */
export function evenedOut(h: HalfEdges, twin: Twins): HalfEdges {
  const length = h.length.slice();
  const angle = h.angle.slice();
  for (let e = 0; e < h.count; e++) {
    const t = twin[e]!;
    if (t < 0) continue;
    length[e] = (h.length[e]! + h.length[t]!) / 2;
    angle[e] = (h.angle[e]! + endAngle(h, t)) / 2;
  }
  return { ...h, length, angle };
}

/** Width of the errors in length, from the differences of twins; null where there are too few. */
export function twinNoise(h: HalfEdges, twin: Twins): Mm | null {
  const differences: number[] = [];
  twin.forEach((t, e) => {
    if (t > e) differences.push(Math.abs(h.length[e]! - h.length[t]!));
  });
  if (differences.length < fewestTwins) return null;
  differences.sort((p, q) => p - q);
  return medianToWidth * differences[differences.length >> 1]!;
}
