/**
 * Chooses where the ticks of each run go, so that two edges that fit together by length but not by notch are noticed.
 *
 * A pattern is a list of tick places along the run, from the start that both sides share. Every pattern holds one group
 * of one to three ticks off the middle of the run, and single ticks further along on long runs. Rules:
 * - no pattern agrees with its own mirror image (a seam cannot be glued end for end);
 * - runs that follow each other on a panel never agree, neither way round;
 * - runs of like length on one panel, then anywhere, agree as seldom as the choice allows.
 * The choice is a greedy colouring in the order of the run numbers with a few rounds of second thoughts. Same input,
 * same choice.
 */
import type { Mm } from '../units';
import {
  notchEvery,
  notchesLookAlike,
  notchFromCorner,
  notchFromCornerLeast,
  shortestNotchedEdge,
} from './tolerance';

/** One tick: which edge pair of the run it is tied to, and how far from that pair's common start. */
interface Tick {
  readonly pair: number;
  readonly along: Mm;
}

export interface NotchPattern {
  readonly ticks: readonly Tick[];
  /** Places from the start of the run, ascending: what a maker compares. */
  readonly places: readonly Mm[];
  /** The same from the end of the run. */
  readonly mirrored: readonly Mm[];
  /** Ticks of the main group, 1 to 3. */
  readonly count: number;
  /** Length of the run. */
  readonly length: Mm;
}

/** A run as the choice sees it. */
export interface NotchRun {
  readonly run: string;
  /** Length that both sides of each edge pair offer; 0 where a side is missing. */
  readonly pairLengths: readonly Mm[];
  /** Whether a tick at this place lies on the outlines of both panels. */
  readonly usable: (pair: number, along: Mm) => boolean;
  /** Panels that its sides lie on. */
  readonly panels: readonly string[];
}

export interface NotchChoice {
  readonly patterns: ReadonlyMap<string, NotchPattern>;
  /** Runs without an edge long enough. */
  readonly tooShort: readonly string[];
  /** Pairs of neighbouring runs that still agree. */
  readonly alike: readonly (readonly [string, string])[];
}

/** Main groups are tried at these parts of the run; none is the mirror image of another. */
const mainPlaces = [0.34, 0.27, 0.4, 0.69, 0.76, 0.63, 0.2, 0.83];
const rounds = 3;

/** Chooses a pattern for every run. `neighbours`: pairs of runs that follow each other on a panel. */
export function chooseNotches(
  runs: readonly NotchRun[],
  neighbours: readonly (readonly [string, string])[],
): NotchChoice {
  const beside = new Map<string, Set<string>>(runs.map((r) => [r.run, new Set<string>()]));
  for (const [a, b] of neighbours) {
    if (a === b) continue;
    beside.get(a)?.add(b);
    beside.get(b)?.add(a);
  }
  const candidates = new Map(runs.map((r) => [r.run, patternsFor(r)]));
  const rivals = new Map(runs.map((r) => [r.run, rivalsOf(r, runs, beside.get(r.run) ?? new Set())]));
  const chosen = new Map<string, NotchPattern>();

  const costOf = (run: NotchRun, pattern: NotchPattern, preference: number): number => {
    let cost = preference;
    for (const rival of rivals.get(run.run) ?? []) {
      const taken = chosen.get(rival.run);
      if (!taken) continue;
      if (rival.beside && taken.count === pattern.count) cost += 60;
      if (looksAlike(pattern, taken)) cost += rival.alikeCosts;
    }
    return cost;
  };
  for (let round = 0; round < rounds; round++) {
    for (const run of runs) {
      const options = candidates.get(run.run) ?? [];
      chosen.delete(run.run);
      let best: NotchPattern | null = null;
      let least = Number.POSITIVE_INFINITY;
      for (const [i, pattern] of options.entries()) {
        const cost = costOf(run, pattern, i);
        if (cost < least) {
          least = cost;
          best = pattern;
        }
      }
      if (best) chosen.set(run.run, best);
    }
  }

  const patterns = new Map(
    runs.flatMap((r) => {
      const pattern = chosen.get(r.run);
      return pattern ? [[r.run, pattern] as const] : [];
    }),
  );
  const alike = [...beside].flatMap(([a, others]) =>
    [...others]
      .filter((b) => {
        const p = patterns.get(a);
        const q = patterns.get(b);
        return a < b && p !== undefined && q !== undefined && looksAlike(p, q);
      })
      .map((b) => [a, b] as const),
  );
  return { patterns, tooShort: runs.filter((r) => !patterns.has(r.run)).map((r) => r.run), alike };
}

interface Rival {
  readonly run: string;
  readonly beside: boolean;
  readonly alikeCosts: number;
}

/** Runs that could be taken for this one, with what it costs to look like them. */
function rivalsOf(run: NotchRun, runs: readonly NotchRun[], beside: ReadonlySet<string>): Rival[] {
  const lengthOf = (r: NotchRun) => r.pairLengths.reduce((sum, l) => sum + l, 0);
  const own = lengthOf(run);
  return runs.flatMap((other) => {
    if (other.run === run.run) return [];
    const near = beside.has(other.run);
    const like = likeLength(own, lengthOf(other));
    if (!near && !like) return [];
    const shared = other.panels.some((p) => run.panels.includes(p));
    const alikeCosts = (near ? 100_000 : 0) + (like ? (shared ? 200 : 8) : 0);
    return [{ run: other.run, beside: near, alikeCosts }];
  });
}

/** Whether two edges with these patterns, held together either way round, show their ticks in the same places. */
function looksAlike(p: NotchPattern, q: NotchPattern): boolean {
  return (
    samePlaces(p.places, q.places) || samePlaces(p.places, q.mirrored) || samePlaces(p.mirrored, q.places)
  );
}

/** Whether the pattern agrees with itself end for end. */
function isSymmetric(p: NotchPattern): boolean {
  return samePlaces(p.places, p.mirrored);
}

const samePlaces = (a: readonly Mm[], b: readonly Mm[]): boolean =>
  a.length === b.length && a.every((s, i) => Math.abs(s - b[i]!) < notchesLookAlike);
const likeLength = (a: Mm, b: Mm): boolean => Math.abs(a - b) < notchesLookAlike + 0.05 * Math.max(a, b);

/** Patterns that the run has room for, fewest ticks first. */
function patternsFor(run: NotchRun): NotchPattern[] {
  const starts: Mm[] = [];
  let length = 0;
  for (const l of run.pairLengths) {
    starts.push(length);
    length += l;
  }
  const spacing = Math.min(5, Math.max(2.5, 0.05 * length));
  const found: NotchPattern[] = [];
  for (const count of [1, 2, 3]) {
    for (const part of mainPlaces) {
      const main = groupNear(run, starts, part * length, count, spacing);
      if (!main) continue;
      const ticks = [...main, ...furtherTicks(run, starts, length, main)].sort(
        (s, t) => s.pair - t.pair || s.along - t.along,
      );
      const places = ticks.map((t) => starts[t.pair]! + t.along);
      const mirrored = places.map((s) => length - s).reverse();
      const pattern = { ticks, places, mirrored, count, length };
      const known = found.some((p) => p.count === count && samePlaces(p.places, places));
      if (!known && !isSymmetric(pattern)) found.push(pattern);
    }
  }
  return found;
}

/** A group of ticks centred as near to `target` as one edge pair there allows, or null when it has no room. */
function groupNear(
  run: NotchRun,
  starts: readonly Mm[],
  target: Mm,
  count: number,
  spacing: Mm,
): Tick[] | null {
  const span = (count - 1) * spacing;
  let best: { pair: number; centre: Mm; off: Mm } | null = null;
  for (const [pair, length] of run.pairLengths.entries()) {
    if (length < shortestNotchedEdge) continue;
    const free = length >= 2 * shortestNotchedEdge ? notchFromCorner : notchFromCornerLeast;
    const low = free + span / 2;
    const high = length - free - span / 2;
    if (low > high) continue;
    const centre = Math.min(high, Math.max(low, target - starts[pair]!));
    const off = Math.abs(starts[pair]! + centre - target);
    if (!best || off < best.off) best = { pair, centre, off };
  }
  if (!best) return null;
  const { pair, centre } = best;
  const ticks = Array.from({ length: count }, (_, i) => ({ pair, along: centre - span / 2 + i * spacing }));
  return ticks.every((t) => run.usable(t.pair, t.along)) ? ticks : null;
}

/** Single ticks before and after the main group of a long run, clear of it and of the ends. */
function furtherTicks(run: NotchRun, starts: readonly Mm[], length: Mm, main: readonly Tick[]): Tick[] {
  const middle = main.reduce((sum, t) => sum + starts[t.pair]! + t.along, 0) / main.length;
  const further: Tick[] = [];
  for (const way of [-1, 1]) {
    const room = way < 0 ? middle : length - middle;
    const steps = Math.floor((room - notchEvery / 3) / notchEvery);
    for (let i = 1; i <= steps; i++) {
      const single = groupNear(run, starts, middle + way * i * notchEvery, 1, 0)?.[0];
      if (!single) continue;
      const place = starts[single.pair]! + single.along;
      const clear = [...main, ...further].every(
        (t) => Math.abs(starts[t.pair]! + t.along - place) > notchEvery / 3,
      );
      if (clear) further.push(single);
    }
  }
  return further;
}
