/**
 * Joins two parts of a shell that are mirror images. Flat, every open edge agrees with its mirror image, openings too, so
 * lengths and angles say nothing here. But a line of the middle and a rim take turns along the edge of a half, and a
 * line of the middle ends where the rims run on smoothly. Of the sets of lines that this leaves, the one that is by far
 * the longest is taken, or the one that has glue tabs. Where neither tells, all stay open.
 */
import type { Mm } from '../units';
import type { GluedOutlines } from './gluedOutlines';
import {
  fewestMiddleEdges,
  middleLead,
  middleTurn,
  oddBend,
  runCloses,
  smoothEnd,
  zipReach,
} from './matchTolerance';
import type { CandidatePairs } from './mateCandidates';

/** Successive open edges of one part with their mirror images on the other. */
export interface MirrorRun {
  readonly pairs: readonly (readonly [number, number])[];
  readonly length: Mm;
}

/** The runs along which two parts could be joined, longest first. */
export interface MirrorParts {
  readonly parts: readonly [number, number];
  readonly runs: readonly MirrorRun[];
}

export function mirrorRuns(
  glued: GluedOutlines,
  pairs: CandidatePairs,
  mayPair: (a: number, b: number) => boolean,
): MirrorParts[] {
  const { half } = glued;
  const part = glued.parts();
  const partOf = (e: number) => part[half.piece[e]!]!;
  const groups = new Map<string, [number, number][]>();
  for (let p = 0; p < pairs.low.length; p++) {
    if (!pairs.mirrorLike[p]) continue;
    let [a, b] = [pairs.low[p]!, pairs.high[p]!];
    if (!mayPair(a, b) || !glued.isOpen(a) || partOf(a) === partOf(b)) continue;
    if (partOf(a) > partOf(b)) [a, b] = [b, a];
    const key = `${partOf(a)} ${partOf(b)}`;
    groups.set(key, [...(groups.get(key) ?? []), [a, b]]);
  }
  return [...groups]
    .sort((p, q) => q[1].length - p[1].length)
    .map(([key, group]) => {
      const [p, q] = key.split(' ') as [string, string];
      return { parts: [Number(p), Number(q)], runs: runsOf(glued, group, zipReach * pairs.reach, mayPair) };
    });
}

function runsOf(
  glued: GluedOutlines,
  group: readonly (readonly [number, number])[],
  reach: Mm,
  mayPair: (a: number, b: number) => boolean,
): MirrorRun[] {
  const { half } = glued;
  const after = new Map<number, { out: number; angle: number }>();
  const before = new Map<number, { into: number; angle: number }>();
  for (const loop of glued.openings())
    for (const c of loop) {
      after.set(c.into, c);
      before.set(c.out, c);
    }
  const fits = (a: number, b: number) =>
    mayPair(a, b) &&
    glued.isOpen(a) &&
    glued.isOpen(b) &&
    Math.abs(half.length[a]! - half.length[b]!) <= reach;
  const closes = (p: number, q: number) => Math.abs(p + q - 2 * Math.PI) <= runCloses;
  const runs = group.map(([a, b]): MirrorRun => {
    const run: [number, number][] = [[a, b]];
    const used = new Set([a, b]);
    for (;;) {
      const [e, f] = run[run.length - 1]!;
      const next = after.get(e);
      const back = before.get(f);
      if (!next || !back || !closes(next.angle, back.angle)) break;
      if (used.has(next.out) || used.has(back.into) || !fits(next.out, back.into)) break;
      run.push([next.out, back.into]);
      used.add(next.out).add(back.into);
    }
    for (;;) {
      const [e, f] = run[0]!;
      const back = before.get(e);
      const next = after.get(f);
      if (!next || !back || !closes(next.angle, back.angle)) break;
      if (used.has(next.out) || used.has(back.into) || !fits(back.into, next.out)) break;
      run.unshift([back.into, next.out]);
      used.add(next.out).add(back.into);
    }
    return { pairs: run, length: run.reduce((sum, [e]) => sum + half.length[e]!, 0) };
  });
  // The longest runs first; a shorter one must not use their edges.
  const taken = new Set<number>();
  return runs
    .sort((r, s) => s.pairs.length - r.pairs.length || r.pairs[0]![0] - s.pairs[0]![0])
    .filter((run) => {
      if (run.pairs.flat().some((e) => taken.has(e))) return false;
      for (const e of run.pairs.flat()) taken.add(e);
      return true;
    });
}

/** Whether an edge has a glue tab; null where tabs tell nothing. */
export type TabsTell = ((edge: number) => boolean) | null;

export interface Middle {
  readonly runs: readonly MirrorRun[];
  readonly length: Mm;
  readonly why: 'longest' | 'tabs';
}

/** The lines along which two parts are joined, or null where that is not clear. */
export function middleOf(glued: GluedOutlines, { runs }: MirrorParts, hasTab: TabsTell): Middle | null {
  const ends = runs.map((run) => endsOf(glued, run));
  const fits = runs.map((_, i) => i).filter((i) => ends[i]!.every((end) => end.smooth));
  const touch = (i: number, j: number) => ends[i]!.some((p) => ends[j]!.some((q) => sameEnd(p, q)));
  // Lines that share an end are rims of each other: each set leaves out the neighbours of its members.
  const setFrom = (first: number): number[] => {
    const set = [first];
    const rest = fits.filter((i) => i !== first).sort((i, j) => runs[j]!.length - runs[i]!.length || i - j);
    for (const i of rest) if (!set.some((j) => touch(i, j))) set.push(i);
    return set;
  };
  const sumOf = (set: readonly number[]) => set.reduce((sum, i) => sum + runs[i]!.length, 0);
  const pick = (set: readonly number[], why: Middle['why']): Middle => ({
    runs: set.map((i) => runs[i]!),
    length: sumOf(set),
    why,
  });
  if (hasTab) {
    const shareOf = (i: number) => {
      const { pairs } = runs[i]!;
      return pairs.filter(([a, b]) => hasTab(a) !== hasTab(b)).length / pairs.length;
    };
    const tabbed = runs.map((_, i) => i).filter((i) => shareOf(i) >= 0.5);
    return tabbed.length > 0 ? pick(tabbed, 'tabs') : null;
  }
  const weight = runs.map((run) => run.length * (bendsLikeMiddle(glued, run) ? 1 : oddBend));
  const weightOf = (set: readonly number[]) => set.reduce((sum, i) => sum + weight[i]!, 0);
  const sets = runs
    .map((run, i) => ({ run, set: setFrom(i) }))
    .filter(({ run }, i) => fits.includes(i) && run.pairs.length >= fewestMiddleEdges)
    .map(({ set }) => ({ set, weight: weightOf(set) }))
    .sort((p, q) => q.weight - p.weight || p.set[0]! - q.set[0]!);
  const [best] = sets;
  if (!best) return null;
  const rivals = runs.map((_, i) => i).filter((i) => !best.set.includes(i));
  const rival = Math.max(0, ...rivals.map((i) => weight[i]!));
  return best.weight < middleLead * rival ? null : pick(best.set, 'longest');
}

/**
 * A shell bulges, so along its middle each half makes a little less than half a turn at the corners. A rim turns the
 * other way where the shell draws in, and much where it is flat.
 */
function bendsLikeMiddle(glued: GluedOutlines, run: MirrorRun): boolean {
  const turn = run.pairs.slice(0, -1).reduce((sum, [a]) => {
    const corner = glued.cornerAfter(a);
    return sum + (corner ? Math.PI - corner.angle : 0);
  }, 0);
  return turn >= middleTurn[0] && turn <= middleTurn[1];
}

/** An end of a line: the open edges beside it on either part, and whether the rims run on smoothly there. */
interface LineEnd {
  readonly beside: readonly [number, number];
  readonly corner: readonly [number, number];
  readonly smooth: boolean;
}

function endsOf(glued: GluedOutlines, run: MirrorRun): LineEnd[] {
  const before = new Map<number, { into: number; angle: number }>();
  for (const loop of glued.openings()) for (const c of loop) before.set(c.out, c);
  const end = ([a, b]: readonly [number, number]): LineEnd => {
    const next = glued.cornerAfter(a);
    const back = before.get(b);
    if (!next || !back) return { beside: [-1, -1], corner: [a, b], smooth: true };
    const smooth = Math.abs(next.angle + back.angle - Math.PI) <= smoothEnd;
    return { beside: [next.out, back.into], corner: [a, b], smooth };
  };
  const first = run.pairs[0]!;
  const last = run.pairs[run.pairs.length - 1]!;
  return [end(last), end([first[1], first[0]])];
}

/** Two lines share an end when each begins with the edges beside the other. */
const sameEnd = (p: LineEnd, q: LineEnd): boolean =>
  p.beside.some((e) => e !== -1 && q.corner.includes(e)) && q.beside.some((e) => p.corner.includes(e));
