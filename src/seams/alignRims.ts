/**
 * Long lines of seams on shells of rows: every column is about as wide as the next, so each edge alone fits many others
 * and no corner tells which, but along the whole line only one way to lay two rims against each other fits. Lines of
 * open edges are laid against each other edge by edge; the line that agrees far better than any other is glued.
 */
import type { GluedOutlines, OpenCorner } from './gluedOutlines';
import {
  alignedChance,
  alignedLead,
  alignedReach,
  fewestAligned,
  runCloses,
  slitAngle,
} from './matchTolerance';
import type { CandidatePairs } from './mateCandidates';

/** A line: successive open edges against successive open edges in reverse. */
interface Line {
  readonly pairs: readonly (readonly [number, number])[];
  /** Logarithm of how much likelier the differences in length are along a seam than by chance. */
  readonly score: number;
  readonly endsWell: boolean;
}

/**
 * Lines that agree far better than any that share an edge with them, surest first. Nothing is glued.
 * @param mayPair whether the person lets two edges meet
 */
export function alignedLines(
  glued: GluedOutlines,
  pairs: CandidatePairs,
  mayPair: (a: number, b: number) => boolean,
): (readonly (readonly [number, number])[])[] {
  const { half } = glued;
  const after = new Map<number, OpenCorner>();
  const before = new Map<number, OpenCorner>();
  for (const loop of glued.openings())
    for (const corner of loop) {
      after.set(corner.into, corner);
      before.set(corner.out, corner);
    }
  const evidence = (a: number, b: number): number => {
    const d = (half.length[a]! - half.length[b]!) / pairs.noise;
    return Math.log((2 * alignedReach) / Math.sqrt(2 * Math.PI)) - (d * d) / 2 + Math.log(alignedChance);
  };
  const fits = (a: number, b: number) =>
    a !== b &&
    glued.isOpen(a) &&
    glued.isOpen(b) &&
    Math.abs(half.length[a]! - half.length[b]!) <= alignedReach * pairs.noise &&
    mayPair(a, b);
  const closes = (p: OpenCorner, q: OpenCorner) => Math.abs(p.angle + q.angle - 2 * Math.PI) <= runCloses;
  /** The pair that follows along the line, over a corner that closes. */
  const step = (a: number, b: number): readonly [number, number] | null => {
    const [next, back] = [after.get(a), before.get(b)];
    if (!next || !back || next.out === b || !closes(next, back)) return null;
    return fits(next.out, back.into) && next.out !== back.into ? [next.out, back.into] : null;
  };
  /** A line ends where it closes on itself or where rims run on; two rims laid together by chance end in a slit. */
  const endsWell = (a: number, b: number) => {
    const [next, back] = [after.get(a), before.get(b)];
    return !next || !back || next.out === b || next.angle + back.angle <= slitAngle;
  };
  const done = new Set<string>();
  const lines: Line[] = [];
  const starts: (readonly [number, number])[] = [];
  for (let p = 0; p < pairs.low.length; p++) {
    const [a, b] = [pairs.low[p]!, pairs.high[p]!];
    if (pairs.mirrorLike[p] || !fits(a, b)) continue;
    starts.push([a, b]);
  }
  for (const start of starts) {
    if (done.has(start.join())) continue;
    // Back to where the line begins, then along it.
    let first = start;
    const seen = new Set<number>(first);
    for (let at = step(first[1], first[0]); at; at = step(at[0], at[1])) {
      if (seen.has(at[0]) || seen.has(at[1])) break;
      seen.add(at[0]).add(at[1]);
      first = [at[1], at[0]];
    }
    const line: (readonly [number, number])[] = [];
    const used = new Set<number>();
    for (let at: readonly [number, number] | null = first; at; at = step(at[0], at[1])) {
      if (used.has(at[0]) || used.has(at[1])) break;
      used.add(at[0]).add(at[1]);
      line.push(at);
    }
    for (const [a, b] of line) {
      done.add(`${a},${b}`);
      done.add(`${b},${a}`);
    }
    const found = best(line, evidence);
    const [head, tail] = [found.pairs[0], found.pairs[found.pairs.length - 1]];
    if (head && tail) lines.push({ ...found, endsWell: endsWell(...tail) && endsWell(head[1], head[0]) });
  }
  return clearest(
    lines.filter((l) => l.pairs.length > 0),
    starts.length,
  );
}

/** The stretch of a line with the greatest sum of evidence. */
function best(
  line: readonly (readonly [number, number])[],
  evidence: (a: number, b: number) => number,
): Omit<Line, 'endsWell'> {
  let [from, to, score] = [0, 0, 0];
  let [start, sum] = [0, 0];
  line.forEach(([a, b], i) => {
    if (sum <= 0) [start, sum] = [i, 0];
    sum += evidence(a, b);
    if (sum > score) [from, to, score] = [start, i + 1, sum];
  });
  return { pairs: line.slice(from, to), score };
}

function clearest(lines: readonly Line[], tried: number): Line['pairs'][] {
  const ofEdge = new Map<number, Line[]>();
  for (const line of lines)
    for (const e of line.pairs.flat()) ofEdge.set(e, [...(ofEdge.get(e) ?? []), line]);
  const least = Math.log(1 + tried) + Math.log(alignedLead);
  return lines
    .filter((line) => {
      if (line.pairs.length < fewestAligned || line.score < least || !line.endsWell) return false;
      const rivals = line.pairs.flat().flatMap((e) => ofEdge.get(e)!.filter((l) => l !== line));
      return rivals.every((r) => line.score - r.score >= Math.log(alignedLead));
    })
    .sort((p, q) => q.score - p.score)
    .map((l) => l.pairs);
}
