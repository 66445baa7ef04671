/**
 * The shortest strip: construct, then in turn shorten the bin and take away the overlaps that this makes.
 */
import type { Board, Saved } from './board';
import type { Budget } from './clock';
import { construct } from './construct';
import { Separator } from './separate';
import { Settler } from './settle';

export interface StripOptions {
  /** Called with each shorter layout. The board holds it during the call. */
  readonly onBetter: (length: number) => void;
}

/** Orders in which the first answer is tried; the shortest is kept. */
function orders(board: Board): number[][] {
  const movable = board.items.map((_, i) => i).filter((i) => !board.fixed[i]);
  const at = (i: number) => board.form[i]! * board.table.turns + board.items[i]!.turns[0]!;
  const width = (i: number) => board.table.maxX[at(i)]! - board.table.minX[at(i)]!;
  const height = (i: number) => board.table.maxY[at(i)]! - board.table.minY[at(i)]!;
  const by = (key: (i: number) => number) => [...movable].sort((a, b) => key(b) - key(a) || a - b);
  return [
    by((i) => board.items[i]!.area),
    by((i) => width(i) * height(i)),
    by((i) => Math.max(width(i), height(i))),
    by(width),
  ];
}

export async function searchStrip(
  board: Board,
  budget: Budget,
  random: () => number,
  options: StripOptions,
): Promise<void> {
  let first: Saved | null = null;
  let best = Number.POSITIVE_INFINITY;
  for (const order of orders(board)) {
    if (construct(board, order).length > 0) continue;
    const reach = board.reachX();
    if (reach < best) {
      best = reach;
      first = board.save();
      options.onBetter(best);
    }
    await budget.breathe();
  }
  if (!first) return;
  board.restore(first);
  const settler = new Settler(board);
  const separator = new Separator(board, random, settler);
  let bestState = first;
  const start = board.binMinX[0]!;
  const keep = () => {
    best = board.reachX();
    bestState = board.save();
    options.onBetter(best);
  };
  const compact = async (finest: number) => {
    let s = 0.002;
    while (s > finest && budget.spent() < 1) {
      board.binMaxX[0] = start + (best - start) * (1 - s);
      settler.run(150, 1e-9);
      if (board.totalDepth() === 0) {
        keep();
        s *= 1.5;
      } else {
        board.binMaxX[0] = best;
        board.restore(bestState);
        s *= 0.4;
      }
      await budget.breathe();
    }
  };
  const shorten = (target: number) => {
    const length = best;
    const cut = start + random() * (length - start);
    board.binMaxX[0] = length;
    board.restore(bestState);
    const shift = length - target;
    for (let i = 0; i < board.n; i++)
      if (board.x[i]! > cut) board.put(i, board.x[i]! - shift, board.y[i]!, board.turn[i]!, board.form[i]!, 0);
    board.binMaxX[0] = target;
    board.restore(board.save());
  };
  const exploreUntil = 0.75;
  let step = 0.02;
  const least = 0.002;
  await compact(2e-4);
  while (budget.spent() < exploreUntil) {
    const target = start + (best - start) * (1 - step);
    shorten(target);
    let result = await separator.run(budget, { patience: 150, strikes: 3, until: exploreUntil });
    const pool: { overlap: number; state: Saved }[] = [];
    while (!result.free && step <= least && budget.spent() < exploreUntil) {
      pool.push({ overlap: result.overlap, state: result.best! });
      pool.sort((a, b) => a.overlap - b.overlap);
      if (pool.length > 12) pool.pop();
      const pick = pool[Math.floor(random() ** 2 * pool.length)]!;
      board.restore(pick.state);
      swapLarge(board, random);
      result = await separator.run(budget, { patience: 150, strikes: 3, until: exploreUntil });
    }
    if (result.free) {
      keep();
      await compact(2e-4);
    } else step = Math.max(least, step / 2);
  }
  await compact(1e-5);
  let tries = 0;
  while (budget.spent() < 1) {
    const part = (budget.spent() - exploreUntil) / (1 - exploreUntil);
    const s = 0.001 * (0.03 ** part);
    shorten(start + (best - start) * (1 - s));
    const result = await separator.run(budget, { patience: 100, strikes: 1, until: 1 });
    if (result.free) {
      keep();
      await compact(1e-5);
    }
    tries++;
  }
  board.binMaxX[0] = best;
  board.restore(bestState);
}

function swapLarge(board: Board, random: () => number): void {
  const movable = board.items.map((_, i) => i).filter((i) => !board.fixed[i]);
  const sorted = movable.sort((a, b) => board.items[b]!.area - board.items[a]!.area);
  const big = sorted.slice(0, Math.max(2, Math.ceil(sorted.length * 0.4)));
  for (let t = 0; t < 20; t++) {
    const i = big[Math.floor(random() * big.length)]!;
    const j = big[Math.floor(random() * big.length)]!;
    if (board.form[i] === board.form[j]) continue;
    const [xi, yi, xj, yj] = [board.x[i]!, board.y[i]!, board.x[j]!, board.y[j]!];
    for (const [k, x, y] of [
      [i, xj, yj],
      [j, xi, yi],
    ] as const) {
      const [f, tn] = [board.form[k]!, board.turn[k]!];
      board.put(k, board.clampX(x, f, tn, 0), board.clampY(y, f, tn, 0), tn, f, 0);
    }
    board.refreshAll();
    return;
  }
}
