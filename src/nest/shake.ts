/**
 * Shake-ups: changes of a layout that no chain of small moves would make, after which the overlaps are taken away
 * again. Exchanging two large items that differ, turning a whole stretch of the strip about by 180°, exchanging two
 * neighbouring stretches, and lifting some items to random places. The stretches keep what is well fitted inside them.
 */
import type { Board } from './board';

type Random = () => number;

/** Changes the items of the bin; the board is measured again. */
export function shake(board: Board, bin: number, random: Random): void {
  const items: number[] = [];
  for (let i = 0; i < board.n; i++) if (!board.fixed[i] && board.bin[i] === bin) items.push(i);
  if (items.length < 2) return;
  const kind = random();
  if (kind < 0.5) exchangeLarge(board, items, random);
  else if (kind < 0.68) exchangeStretches(board, items, random);
  else if (kind < 0.84) turnStretch(board, items, random);
  else scatter(board, items, random);
  board.refreshAll();
}

/** Two large items of different form change places; small ones that lay under the larger move along. */
function exchangeLarge(board: Board, items: readonly number[], random: Random): void {
  const sorted = [...items].sort((a, b) => board.items[b]!.area - board.items[a]!.area || a - b);
  const large = sorted.slice(0, Math.max(2, Math.ceil(sorted.length * 0.5)));
  for (let t = 0; t < 20; t++) {
    const i = pickFrom(large, random);
    const j = pickFrom(large, random);
    if (i === j || (board.form[i] === board.form[j] && t < 19)) continue;
    const [mx, my] = [middleX(board, i), middleY(board, i)];
    const [nx, ny] = [middleX(board, j), middleY(board, j)];
    moveMiddle(board, i, nx, ny);
    moveMiddle(board, j, mx, my);
    return;
  }
}

/** All items between two lines change sides with those between the second and a third. */
function exchangeStretches(board: Board, items: readonly number[], random: Random): void {
  const byPlace = [...items].sort((a, b) => middleX(board, a) - middleX(board, b) || a - b);
  const n = byPlace.length;
  const a = Math.floor(random() * (n - 1));
  const b = a + 1 + Math.floor(random() * Math.min(n - 1 - a, Math.ceil(n / 2)));
  const c = Math.min(n, b + 1 + Math.floor(random() * Math.ceil(n / 2)));
  const one = byPlace.slice(a, b);
  const two = byPlace.slice(b, c);
  if (one.length === 0 || two.length === 0) return;
  const low = middleX(board, one[0]!);
  const cut = middleX(board, two[0]!);
  const high = middleX(board, two[two.length - 1]!);
  for (const i of one) moveMiddle(board, i, middleX(board, i) + (high - cut), middleY(board, i));
  for (const i of two) moveMiddle(board, i, middleX(board, i) - (cut - low), middleY(board, i));
}

/** A stretch is turned about as one, where all of its items may; otherwise it is moved up or down and wraps round. */
function turnStretch(board: Board, items: readonly number[], random: Random): void {
  const byPlace = [...items].sort((a, b) => middleX(board, a) - middleX(board, b) || a - b);
  const from = Math.floor(random() * (byPlace.length - 1));
  const some = byPlace.slice(from, from + 2 + Math.floor(random() * (byPlace.length - from - 1)));
  const minX = Math.min(...some.map((i) => board.boxMinX[i]!));
  const maxX = Math.max(...some.map((i) => board.boxMaxX[i]!));
  const half = board.table.turns / 2;
  const turnable = some.every((i) => {
    const turn = (board.turn[i]! + half) % board.table.turns;
    return Number.isInteger(turn) && board.items[i]!.turns.includes(turn);
  });
  const bin = board.bin[some[0]!]!;
  const sumY = board.binMinY[bin]! + board.binMaxY[bin]!;
  for (const i of some) {
    const [x, y] = [middleX(board, i), middleY(board, i)];
    if (turnable)
      board.put(
        i,
        board.x[i]!,
        board.y[i]!,
        (board.turn[i]! + half) % board.table.turns,
        board.form[i]!,
        bin,
      );
    moveMiddle(board, i, turnable ? minX + maxX - x : x, sumY - y);
  }
}

/** A few items go to random places at random turns. */
function scatter(board: Board, items: readonly number[], random: Random): void {
  const share = 0.05 + 0.2 * random();
  for (const i of items) {
    if (random() > share) continue;
    const item = board.items[i]!;
    const bin = board.bin[i]!;
    const turn = pickFrom(item.turns, random);
    const form = pickFrom(item.forms, random);
    if (!board.fitsBin(form, turn, bin)) continue;
    board.put(i, board.x[i]!, board.y[i]!, turn, form, bin);
    moveMiddle(
      board,
      i,
      board.binMinX[bin]! + random() * (board.binMaxX[bin]! - board.binMinX[bin]!),
      board.binMinY[bin]! + random() * (board.binMaxY[bin]! - board.binMinY[bin]!),
    );
  }
}

const middleX = (board: Board, i: number) => (board.boxMinX[i]! + board.boxMaxX[i]!) / 2;
const middleY = (board: Board, i: number) => (board.boxMinY[i]! + board.boxMaxY[i]!) / 2;

function pickFrom(list: readonly number[], random: Random): number {
  return list[Math.floor(random() * list.length)]!;
}

/** Moves the middle of the item's box to a place, pushed into the bin. */
function moveMiddle(board: Board, i: number, x: number, y: number): void {
  const [f, t, b] = [board.form[i]!, board.turn[i]!, board.bin[i]!];
  const nx = board.x[i]! + x - middleX(board, i);
  const ny = board.y[i]! + y - middleY(board, i);
  board.put(i, board.clampX(nx, f, t, b), board.clampY(ny, f, t, b), t, f, b);
}
