/**
 * Pieces that could change places. Where two pieces agree edge by edge within the drawing's noise, as a piece does with
 * its mirror twin when it is nearly its own mirror image, or a piece agrees with itself turned round, each seam of the
 * one fits the other as well. Corner by corner and edge by edge nothing tells them apart, but all edges together may: the
 * lengths of both ways are weighed against each other as a whole.
 */
import type { Pattern } from '../model';
import type { Mm } from '../units';
import { endAngle, type HalfEdges } from './halfEdges';
import { type MatchState, pairKey } from './matchState';
import {
  alikeAngle,
  exchangeClear,
  mostAlike,
  mostExchanges,
  twinAngleOffset,
  zipReach,
} from './matchTolerance';
import { widthOfPair } from './mateCandidates';
import { seamIdOf } from './seamId';
import { type AlikePieces, alikePiecesIssue } from './wording';

export type Pair = readonly [number, number];

/** Where each edge of two pieces, or of one, comes to lie when they change places. */
export interface Exchange {
  readonly pieces: readonly [number, number];
  readonly to: ReadonlyMap<number, number>;
}

/** An exchange with the seams before and after it. */
export interface WeighedExchange {
  readonly exchange: Exchange;
  readonly now: readonly Pair[];
  readonly other: readonly Pair[];
  /** Logarithm of how much likelier the lengths make the other way. */
  readonly lead: number;
}

/**
 * Makes the exchanges that the lengths speak for. Seams of stronger evidence stay.
 * @returns whether anything was exchanged
 */
export function exchangeByLengths(pattern: Pattern, state: MatchState): boolean {
  const all = exchangesOf(pattern, state);
  let changed = false;
  for (let made = 0; made < mostExchanges; made++) {
    const [best] = weighExchanges(all, state).sort((p, q) => q.lead - p.lead);
    if (!best || best.lead <= leastLead) break;
    exchange(state, best);
    changed = true;
  }
  return changed;
}

/**
 * Reports the exchanges that neither the lengths nor the folded shell settle.
 * @param settled the pieces of exchanges that the folded shell settles, see `piecesKey`
 */
export function reportExchanges(pattern: Pattern, state: MatchState, settled: ReadonlySet<string>): void {
  const unsettled = weighExchanges(exchangesOf(pattern, state), state).filter(
    (w) =>
      -w.lead < Math.log(exchangeClear) &&
      !settled.has(piecesKey(w.exchange)) &&
      // Which of two pieces that are simply equal goes where is no question.
      mostOff(state.glued.half, w.exchange) > state.pairs.noise,
  );
  if (unsettled.length > 0) report(pattern, state, unsettled);
}

export const piecesKey = ({ pieces }: Exchange): string => [...pieces].sort((a, b) => a - b).join();

/** Less is rounding: the two ways are equally likely. */
const leastLead = 1e-6;

/** Pairs of pieces of one outline that agree edge by edge; none of pieces that agree with many others. */
export function exchangesOf(pattern: Pattern, { glued, pairs }: MatchState): Exchange[] {
  const { half } = glued;
  const loops = pattern.pieces
    .filter((p) => p.holes.length === 0)
    .map((p) => p.outline.map((e) => half.indexOf.get(e.id)!));
  const byCount = new Map<number, number[][]>();
  for (const loop of loops) byCount.set(loop.length, [...(byCount.get(loop.length) ?? []), loop]);
  const found: Exchange[] = [];
  for (const alike of byCount.values())
    alike.forEach((mine, i) => {
      const sum = perimeter(half, mine);
      for (const other of alike.slice(i)) {
        if (Math.abs(perimeter(half, other) - sum) > zipReach * pairs.reach * mine.length) continue;
        for (let shift = mine === other ? 1 : 0; shift < mine.length; shift++) {
          if (!agree(half, mine, other, shift, zipReach * pairs.reach)) continue;
          const to = new Map<number, number>();
          mine.forEach((e, k) => {
            const f = other[(k + shift) % mine.length]!;
            to.set(e, f);
            if (mine !== other) to.set(f, e);
          });
          found.push({ pieces: [half.piece[mine[0]!]!, half.piece[other[0]!]!], to });
        }
      }
    });
  const times = new Map<number, number>();
  for (const p of found.flatMap((x) => [...new Set(x.pieces)])) times.set(p, (times.get(p) ?? 0) + 1);
  return found.filter((x) => x.pieces.every((p) => times.get(p)! <= mostAlike));
}

const perimeter = (h: HalfEdges, loop: readonly number[]): Mm =>
  loop.reduce((sum, e) => sum + h.length[e]!, 0);

function agree(
  h: HalfEdges,
  mine: readonly number[],
  other: readonly number[],
  shift: number,
  reach: Mm,
): boolean {
  return mine.every((e, k) => {
    const f = other[(k + shift) % mine.length]!;
    if (Math.abs(h.length[e]! - h.length[f]!) > reach) return false;
    const short = Math.min(h.length[e]!, h.length[h.next[e]!]!);
    const slack = Math.max(alikeAngle, twinAngleOffset / Math.max(short, 1e-3));
    return Math.abs(endAngle(h, e) - endAngle(h, f)) <= slack;
  });
}

/** The exchanges that change seams, and that neither the person's word nor numbers rule out. */
export function weighExchanges(all: readonly Exchange[], state: MatchState): WeighedExchange[] {
  const { glued, found, decisions, twin, pairs } = state;
  const { half, mate } = glued;
  const byGeometry = new Set(found.map((f) => pairKey(f.a, f.b)));
  const rejected = new Set(decisions.rejected);
  return all.flatMap((exchange): WeighedExchange[] => {
    const { to, pieces } = exchange;
    const seams = new Map<string, Pair>();
    for (const a of to.keys()) {
      const b = mate[a]!;
      if (b >= 0) seams.set(pairKey(a, b), [a, b]);
      else if (!glued.isOpen(a)) return [];
    }
    const at = (e: number) => to.get(e) ?? e;
    const now = [...seams.values()];
    const other = now.map(([a, b]): Pair => [at(a), at(b)]);
    if (other.every(([a, b]) => seams.has(pairKey(a, b)))) return [];
    if (now.some(([a, b]) => !byGeometry.has(pairKey(a, b)))) return [];
    if (other.some(([a, b]) => rejected.has(seamIdOf(half.ids[a]!, half.ids[b]!)))) return [];
    const misfit = ([a, b]: Pair) => {
      const d = (half.length[a]! - half.length[b]!) / (pairs.noise * widthOfPair(twin, a, b));
      return (d * d) / 2;
    };
    // Lengths of twins are evened out, so that their seams tell the same thing twice.
    const areTwins =
      [...to.keys()].some((e) => twin[e]! >= 0 && half.piece[twin[e]!] === pieces[1]) &&
      pieces[0] !== pieces[1];
    const weight = areTwins ? 0.5 : 1;
    const lead = now.reduce((sum, pair, i) => sum + weight * (misfit(pair) - misfit(other[i]!)), 0);
    return [{ exchange, now, other, lead }];
  });
}

export function exchange(state: MatchState, { now, other }: WeighedExchange): void {
  const { glued, found } = state;
  const old = new Map(found.map((f) => [pairKey(f.a, f.b), f]));
  const keys = new Set(now.map(([a, b]) => pairKey(a, b)));
  const kept = found.filter((f) => !keys.has(pairKey(f.a, f.b)));
  for (const [a] of now) glued.open(a);
  other.forEach(([a, b], i) => {
    glued.glue(a, b);
    const was = old.get(pairKey(...now[i]!))!;
    kept.push({ a, b, belief: was.belief, reason: was.reason });
  });
  found.splice(0, found.length, ...kept);
}

function report(pattern: Pattern, state: MatchState, unsettled: readonly WeighedExchange[]): void {
  const { glued, edges, found } = state;
  const { half } = glued;
  const nameOf = new Map(
    pattern.pieces.map((p) => [half.piece[half.indexOf.get(p.outline[0]!.id)!]!, p.name]),
  );
  const best = new Map<string, WeighedExchange>();
  for (const w of unsettled) {
    const key = piecesKey(w.exchange);
    if (!best.has(key) || best.get(key)!.lead < w.lead) best.set(key, w);
  }
  const said = new Map<string, string>();
  const pairsAlike = [...best.values()].map(({ exchange, now, lead }): AlikePieces => {
    const share = 1 / (1 + Math.exp(lead));
    const most = mostOff(half, exchange);
    const names = [...new Set(exchange.pieces)].map((p) => nameOf.get(p)!);
    const alike: AlikePieces = { names, share, most };
    for (const [a, b] of now) said.set(pairKey(a, b), fitsExchanged(alike));
    return alike;
  });
  const told = found.map((f) => {
    const more = said.get(pairKey(f.a, f.b));
    return more ? { ...f, reason: `${f.reason} ${more}` } : f;
  });
  found.splice(0, found.length, ...told);
  const places = [...best.values()].flatMap((w) => w.now.flat()).map((e) => edges.get(half.ids[e]!)!);
  state.findings.push(alikePiecesIssue(places, pairsAlike));
}

const mostOff = (h: HalfEdges, { to }: Exchange): Mm => Math.max(...[...to].map(([e, f]) => offOf(h, e, f)));

/** How far an edge and its neighbour in place of another are off, by length and by angle, mm. */
const offOf = (h: HalfEdges, e: number, f: number): Mm =>
  Math.max(
    Math.abs(h.length[e]! - h.length[f]!),
    Math.abs(endAngle(h, e) - endAngle(h, f)) * Math.min(h.length[e]!, h.length[h.next[e]!]!),
  );

/** A sentence for the seams of such pieces. */
const fitsExchanged = ({ names, share }: AlikePieces): string =>
  names.length === 1
    ? `Piece ${names[0]} fits turned round as well (this way ${percent(share)}).`
    : `Pieces ${names.join(' and ')} fit exchanged as well (this way ${percent(share)}).`;

const percent = (share: number): string => `${Math.round(100 * share)} %`;
