/**
 * Bridges that fit the other way round. A strip over a chin or between two eyes is joined by an edge or two at either
 * end, with an opening on both sides. On a mirror-symmetric shell its two ends are as long as each other, so it fits
 * turned round as well, or its ends fit each other's places: each seam looks right, and only both together tell.
 */
import type { GluedOutlines } from './gluedOutlines';
import { mostBridgeSeams, zipReach } from './matchTolerance';
import type { CandidatePairs } from './mateCandidates';
import { closedFactor, rimFactor } from './openEnds';

type Pair = readonly [number, number];

/** A line of seams with an opening at both ends; side a runs on from edge to edge, side b back. */
type Line = readonly Pair[];

/** Seams as they are, and another way to glue the same edges. */
export interface OtherWay {
  readonly now: readonly Pair[];
  readonly other: readonly Pair[];
  /** Logarithm of how much likelier the rims and corners make the other way. */
  readonly lead: number;
}

/**
 * Other ways for the lines of seams that have an opening at both ends, one with another or with open edges, likeliest
 * first. Nothing is glued.
 * @param mayOpen false for seams of stronger evidence
 * @param mayGlue false for pairs that the person rules out
 */
export function otherWays(
  glued: GluedOutlines,
  pairs: CandidatePairs,
  mayOpen: (a: number, b: number) => boolean,
  mayGlue: (a: number, b: number) => boolean,
): OtherWay[] {
  const { half } = glued;
  const lines = bridgeLines(glued, mayOpen);
  const fits = (a: number, b: number) =>
    a !== b && Math.abs(half.length[a]! - half.length[b]!) <= zipReach * pairs.reach && mayGlue(a, b);
  const open = Array.from({ length: half.count }, (_, e) => e).filter((e) => glued.isOpen(e));
  const ways: OtherWay[] = [];
  const weigh = (now: readonly Pair[], other: readonly Pair[] | null) => {
    if (!other?.every(([a, b]) => fits(a, b))) return;
    const before = rimScore(glued, now);
    const after = scoreInstead(glued, now, other);
    if (after !== null) ways.push({ now, other, lead: after - before });
  };
  lines.forEach((line, i) => {
    for (const second of lines.slice(i + 1)) {
      if (second.length !== line.length) continue;
      weigh([...line, ...second], across(line, second));
      weigh([...line, ...second], across(line, reversed(second)));
    }
    if (line.length > 1) return;
    const [a, b] = line[0]!;
    const alike = open.filter((e) => fits(a, e) && fits(b, e));
    for (const c of alike)
      for (const d of alike)
        if (c !== d)
          weigh(line, [
            [a, c],
            [b, d],
          ]);
  });
  return ways.sort((p, q) => q.lead - p.lead || p.now[0]![0] - q.now[0]![0]);
}

/** Side a of the first line against side b of the second, and the other way about. */
const across = (first: Line, second: Line): Pair[] => [
  ...first.map(([a], k): Pair => [a, second[k]![1]]),
  ...second.map(([c], k): Pair => [c, first[k]![1]]),
];

/** The same line seen from its other side. */
const reversed = (line: Line): Line => line.map(([a, b]): Pair => [b, a]).reverse();

/** Lines of at most a few seams between two openings. */
function bridgeLines(glued: GluedOutlines, mayOpen: (a: number, b: number) => boolean): Line[] {
  const { half, mate } = glued;
  const lines: Line[] = [];
  const endsOpen = (into: number) => !glued.cornerAt(into).closed;
  for (let a = 0; a < half.count; a++) {
    // The start of side a is the end of its mate.
    if (mate[a]! < 0 || !endsOpen(mate[a]!)) continue;
    const line: Pair[] = [];
    for (let at = a; line.length < mostBridgeSeams; ) {
      const b = mate[at]!;
      if (b < 0 || !mayOpen(at, b)) break;
      line.push([at, b]);
      if (endsOpen(at)) {
        if (a < b) lines.push(line);
        break;
      }
      // Past a closed corner the line goes on where just two pieces meet.
      at = half.next[at]!;
      if (mate[at] !== half.before[b]) break;
    }
  }
  return lines;
}

/** Logarithm of how likely the corners at the ends of the seams are, each corner once. */
function rimScore(glued: GluedOutlines, seams: readonly Pair[]): number {
  const seen = new Set<number>();
  let score = 0;
  for (const into of seams.flat()) {
    const corner = glued.cornerAt(into);
    if (seen.has(corner.first)) continue;
    seen.add(corner.first);
    score += Math.log(corner.closed ? closedFactor(corner.angle) : rimFactor(corner.angle));
  }
  return score;
}

/**
 * The same for other seams in place of those of now; null where they would make a handle or set a part loose: most
 * patterns are one shell. Puts all back.
 */
function scoreInstead(glued: GluedOutlines, now: readonly Pair[], other: readonly Pair[]): number | null {
  const parts = partCount(glued);
  for (const [a] of now) glued.open(a);
  const made: Pair[] = [];
  for (const [a, b] of other) {
    if (!glued.isOpen(a) || !glued.isOpen(b) || !glued.staysPlain(a, b)) break;
    glued.glue(a, b);
    made.push([a, b]);
  }
  const fits = made.length === other.length && partCount(glued) <= parts;
  const score = fits ? rimScore(glued, other) : null;
  for (const [a] of made) glued.open(a);
  for (const [a, b] of now) glued.glue(a, b);
  return score;
}

const partCount = (glued: GluedOutlines): number => new Set(glued.parts()).size;
