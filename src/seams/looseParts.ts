/**
 * Parts that hang loose: what matching leaves apart though most patterns are one shell. A bridge one row wide, as over a
 * chin, is joined by one edge at either end, where no corner closes, so each of these seams alone is too little to go
 * by. Together they are weighed: equal lengths, rims that run on smoothly over the joins, and all parts hanging together.
 */
import type { GluedOutlines } from './gluedOutlines';
import { leftOpenShare, looseEvidence, looseLead, looseLength, mostLooseChoices } from './matchTolerance';
import { type CandidatePairs, lengthWeights } from './mateCandidates';
import { closedFactor, rimFactor } from './openEnds';
import type { Turn } from './pieceTurns';

export interface Joining {
  readonly pairs: readonly Pair[];
  /** How many parts were joined to others. */
  readonly parts: number;
  /** True where a piece of it looks the same turned round, so that there is another way to the same shell. */
  readonly eitherWay: boolean;
}

/** Pairs between two parts that stand or fall together: one, or one and its mirror image. */
interface Choice {
  readonly pairs: readonly Pair[];
  /** Logarithm of how much likelier the lengths are between mates than by chance. */
  readonly length: number;
}

interface Way {
  readonly pairs: readonly Pair[];
  /** Parts that it leaves apart. */
  readonly apart: number;
  /** Logarithm of a likelihood. */
  readonly score: number;
}

type Pair = readonly [number, number];

/**
 * The pairs on which all likely ways to join loose parts agree, or null where there are none. Nothing is glued.
 * @param turns pieces that look the same turned round
 */
export function joiningOf(
  glued: GluedOutlines,
  pairs: CandidatePairs,
  mayPair: (a: number, b: number) => boolean,
  turns: ReadonlyMap<number, readonly Turn[]>,
): Joining | null {
  const before = partCount(glued);
  if (before < 2) return null;
  const choices = choicesOf(glued, pairs, mayPair);
  if (choices.length === 0 || choices.length > mostLooseChoices) return null;
  const ways = waysToJoin(glued, choices);
  const [best] = ways;
  if (!best || best.apart >= before || best.score < Math.log(looseEvidence) * (before - best.apart))
    return null;
  const likely = ways.filter((w) => w.apart === best.apart && w.score > best.score - Math.log(looseLead));
  const { piece } = glued.half;
  let agreed = new Map(best.pairs.map((pair) => [keyOf(pair), pair]));
  let eitherWay = false;
  for (const way of likely) {
    if (way === best) continue;
    const [nearest] = turned(way.pairs, piece, turns)
      .map((version) => new Set(version.map(keyOf)))
      .sort((p, q) => inCommon(q, agreed) - inCommon(p, agreed));
    if (way.pairs.some((pair) => !nearest!.has(keyOf(pair)))) eitherWay = true;
    agreed = new Map([...agreed].filter(([key]) => nearest!.has(key)));
  }
  const found = [...agreed.values()];
  for (const [a, b] of found) glued.glue(a, b);
  const parts = before - partCount(glued);
  for (const [a] of found) glued.open(a);
  return parts > 0 ? { pairs: found, parts, eitherWay } : null;
}

const keyOf = ([a, b]: Pair): string => `${Math.min(a, b)} ${Math.max(a, b)}`;

const inCommon = (keys: ReadonlySet<string>, agreed: ReadonlyMap<string, Pair>): number =>
  [...keys].filter((key) => agreed.has(key)).length;

const partCount = (glued: GluedOutlines): number => new Set(glued.parts()).size;

function choicesOf(
  glued: GluedOutlines,
  pairs: CandidatePairs,
  mayPair: (a: number, b: number) => boolean,
): Choice[] {
  const { half } = glued;
  const parts = glued.parts();
  const weight = lengthWeights(half, pairs, (e) => glued.isOpen(e), leftOpenShare);
  const joins = (p: number) => {
    const [a, b] = [pairs.low[p]!, pairs.high[p]!];
    if (pairs.mirrorLike[p] || !glued.isOpen(a) || !glued.isOpen(b) || !mayPair(a, b)) return false;
    return parts[half.piece[a]!] !== parts[half.piece[b]!] && weight[p]! >= looseLength;
  };
  const choices: Choice[] = [];
  for (let p = 0; p < pairs.low.length; p++) {
    if (!joins(p)) continue;
    const t = pairs.twin[p]!;
    const pair: Pair = [pairs.low[p]!, pairs.high[p]!];
    const image: Pair | null = t >= 0 && t !== p && joins(t) ? [pairs.low[t]!, pairs.high[t]!] : null;
    const both = image !== null && !image.some((e) => pair.includes(e));
    if (both && t < p) continue;
    choices.push({ pairs: both ? [pair, image] : [pair], length: Math.log(weight[p]!) });
  }
  return choices.sort((p, q) => q.length - p.length);
}

/** All ways to make some of the choices, those that leave the fewest parts apart first, then by score. */
function waysToJoin(glued: GluedOutlines, choices: readonly Choice[]): Way[] {
  const ways: Way[] = [];
  const taken: Choice[] = [];
  const decide = (i: number): void => {
    const choice = choices[i];
    if (!choice) {
      ways.push({
        pairs: taken.flatMap((c) => c.pairs),
        apart: partCount(glued),
        score: scoreOf(glued, taken),
      });
      return;
    }
    const done = choice.pairs.filter(([a, b]) => {
      const fits =
        glued.isOpen(a) && glued.isOpen(b) && glued.staysPlain(a, b) && !glued.closesOnOneEdge(a, b);
      if (fits) glued.glue(a, b);
      return fits;
    });
    if (done.length === choice.pairs.length) {
      taken.push(choice);
      decide(i + 1);
      taken.pop();
    }
    for (const [a] of done) glued.open(a);
    decide(i + 1);
  };
  decide(0);
  return ways.sort((p, q) => p.apart - q.apart || q.score - p.score || q.pairs.length - p.pairs.length);
}

/** Lengths, and the corners at the ends of the joins as they are now: rims that run on, or corners that close. */
function scoreOf(glued: GluedOutlines, taken: readonly Choice[]): number {
  const seen = new Set<number>();
  let score = 0;
  for (const { pairs, length } of taken) {
    score += length;
    for (const [a, b] of pairs)
      for (const into of [a, b]) {
        const corner = glued.cornerAt(into);
        if (seen.has(corner.first)) continue;
        seen.add(corner.first);
        const factor = corner.closed ? closedFactor(corner.angle) : rimFactor(corner.angle);
        score += Math.log(factor) / pairs.length;
      }
  }
  return score;
}

/** The same pairs with pieces turned that look the same turned, in all combinations. */
function turned(
  pairs: readonly Pair[],
  piece: Int32Array,
  turns: ReadonlyMap<number, readonly Turn[]>,
): (readonly Pair[])[] {
  let versions: (readonly Pair[])[] = [pairs];
  for (const p of new Set(pairs.flat().map((e) => piece[e]!)))
    for (const turn of versions.length <= mostTurned ? (turns.get(p) ?? []) : [])
      versions = versions.concat(
        versions.map((v) => v.map(([a, b]): Pair => [turn.get(a) ?? a, turn.get(b) ?? b])),
      );
  return versions;
}

/** Combinations of turns that are looked at. */
const mostTurned = 32;
