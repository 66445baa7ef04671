/**
 * Joins two parts of a shell that are mirror images. Flat, every open edge agrees with its mirror image, openings too, so
 * lengths and angles say nothing here; what tells the middle of a shell from its openings is that it runs on without a
 * corner over the whole shell: the parts are joined along one line only when it is by far the longest. Where no line
 * is, all stay open.
 */
import type { Mm } from '../units';
import type { GluedOutlines } from './gluedOutlines';
import { fewestMiddleEdges, middleLead, runCloses, zipReach } from './matchTolerance';
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

/** The line along which two parts are joined: by far the longest of them all, else null. */
export function middleOf(parts: MirrorParts): MirrorRun | null {
  const [first, second] = [...parts.runs].sort((r, s) => s.length - r.length);
  if (!first || first.pairs.length < fewestMiddleEdges) return null;
  return second && first.length < middleLead * second.length ? null : first;
}
