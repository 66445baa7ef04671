/**
 * Pieces that could change places by their lengths, but are sheared a little differently: a shell of quads is stiff, and a
 * piece in the wrong place strains it. In the folded shell the corners of such a piece lie part of the way towards the
 * shape of the piece that belongs there. Those are exchanged, the shell is folded again, and what the strain falls by
 * decides.
 */
import { distance, type Point3 } from '../math';
import type { Pattern, Piece } from '../model';
import type { Mm } from '../units';
import {
  type Exchange,
  exchange,
  exchangesOf,
  piecesKey,
  type WeighedExchange,
  weighExchanges,
} from './exchanges';
import type { MatchState } from './matchState';
import {
  lengthsRuleOut,
  soundFold,
  strainFalls,
  strainOverNoise,
  strainPull,
  strainSeen,
} from './matchTolerance';
import { cornersOf } from './seamBends';
import type { FoldedEdges, NearFold } from './verifySeams';

/** Distances between corners of one face: as drawn, of the piece in its place, and as folded, mm. */
interface Span {
  readonly own: number;
  readonly other: number;
  readonly folded: number;
}

/** Exchanges whose pieces differ by more than the noise, so that a folded shell may tell. */
export function exchangesInQuestion(pattern: Pattern, state: MatchState): WeighedExchange[] {
  const pieces = piecesOf(pattern, state);
  return weighExchanges(exchangesOf(pattern, state), state).filter(
    ({ exchange: x, lead }) =>
      lead > -lengthsRuleOut &&
      spansOf(x, state, pieces, null).some(
        ({ own, other }) => Math.abs(own - other) > strainSeen * state.pairs.noise,
      ),
  );
}

/**
 * Settles these exchanges in `state` by the folded shell.
 * @param folded the shell as it is
 * @param fold folds the shell with the seams of the state, which is near the one given
 * @returns what lies near the shell as it is then, and the pieces of the exchanges that it settles, see `piecesKey`
 */
export async function exchangeByShell(
  pattern: Pattern,
  state: MatchState,
  questions: readonly WeighedExchange[],
  folded: FoldedEdges,
  fold: (near: NearFold) => Promise<FoldedEdges | null>,
): Promise<{ readonly near: NearFold; readonly settled: ReadonlySet<string> }> {
  const pieces = piecesOf(pattern, state);
  const settled = new Set<string>();
  const busy = new Set<number>();
  const pulled = questions
    .map((w) => ({ w, pull: pullOf(spansOf(w.exchange, state, pieces, folded), state.pairs.noise) }))
    .filter(({ pull }) => pull > strainPull)
    .sort((p, q) => q.pull - p.pull)
    .filter(({ w }) => {
      const free = w.exchange.pieces.every((p) => !busy.has(p));
      for (const p of w.exchange.pieces) busy.add(p);
      return free;
    });
  if (pulled.length === 0) return { near: { folded, movedTo: new Map() }, settled };
  const before = pulled.map(({ w }) => strainOf(spansOf(w.exchange, state, pieces, folded)));
  for (const { w } of pulled) exchange(state, w);
  const { ids } = state.glued.half;
  const again = await fold({ folded, movedTo: movedBy(pulled, ids) });
  const sound = again !== null && again.residual.rms <= soundFold;
  const back: WeighedExchange[] = [];
  pulled.forEach(({ w }, i) => {
    const after = sound ? strainOf(spansOf(w.exchange, state, pieces, again)) : Number.POSITIVE_INFINITY;
    if (after <= strainFalls * before[i]!) settled.add(piecesKey(w.exchange));
    else back.push(w);
  });
  for (const w of back) exchange(state, { ...w, now: w.other, other: w.now });
  if (back.length === 0 && again) return { near: { folded: again, movedTo: new Map() }, settled };
  const kept = pulled.filter(({ w }) => !back.includes(w));
  return { near: { folded, movedTo: movedBy(kept, ids) }, settled };
}

/** Edges by the one that lay where they come to lie. */
const movedBy = (
  made: readonly { readonly w: WeighedExchange }[],
  ids: readonly string[],
): ReadonlyMap<string, string> =>
  new Map(
    made.flatMap(({ w }) => [...w.exchange.to].map(([lay, comes]) => [ids[comes]!, ids[lay]!] as const)),
  );

const piecesOf = (pattern: Pattern, { glued: { half } }: MatchState): ReadonlyMap<number, Piece> =>
  new Map(pattern.pieces.map((p) => [half.piece[half.indexOf.get(p.outline[0]!.id)!]!, p]));

/** Distances between the corners of each face of the pieces, beside those of the pieces in their places. */
function spansOf(
  { pieces, to }: Exchange,
  { glued: { half } }: MatchState,
  pieceOf: ReadonlyMap<number, Piece>,
  folded: FoldedEdges | null,
): Span[] {
  const spans: Span[] = [];
  for (const number of new Set(pieces)) {
    const piece = pieceOf.get(number)!;
    const placed = folded && cornersOf(piece, folded);
    const starts = piece.outline.map((e) => {
      const image = to.get(half.indexOf.get(e.id)!)!;
      const other = pieceOf.get(half.piece[image]!)!;
      const there = other.outline.find((f) => f.id === half.ids[image])!.points[0]!;
      return { here: e.points[0]!, there };
    });
    for (const face of piece.faces) {
      const corners = starts.filter(({ here }) => face.polygon.some((p) => distance(p, here) < sameCorner));
      corners.forEach((p, i) => {
        for (const q of corners.slice(i + 1)) {
          const [a, b] = [placed?.(p.here) ?? null, placed?.(q.here) ?? null];
          if (placed && (!a || !b)) continue;
          const own = distance(p.here, q.here);
          spans.push({ own, other: distance(p.there, q.there), folded: a && b ? apart(a, b) : own });
        }
      });
    }
  }
  return spans;
}

/** Corners this close on the drawing are one, mm. */
const sameCorner = 1e-3;

const apart = (p: Point3, q: Point3): number => Math.hypot(p.x - q.x, p.y - q.y, p.z - q.z);

/**
 * How far the folded corners lie on the way from the shape of the piece there to that of the other, 0 to 1; 0 where the
 * noise could have moved them.
 */
function pullOf(spans: readonly Span[], noise: Mm): number {
  const way = spans.reduce((sum, s) => sum + (s.other - s.own) ** 2, 0);
  if (way === 0) return 0;
  const pull = spans.reduce((sum, s) => sum + (s.folded - s.own) * (s.other - s.own), 0) / way;
  return pull * Math.sqrt(way) > strainOverNoise * noise ? pull : 0;
}

const strainOf = (spans: readonly Span[]): number =>
  spans.reduce((sum, s) => sum + (s.folded - s.own) ** 2, 0);
