import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/base';
import { ringArea } from '../../src/math';
import { Board, type Item } from '../../src/nest/board';
import { Descent } from '../../src/nest/descent';
import { FormTable, makeForm } from '../../src/nest/forms';
import { polesOf } from '../../src/nest/poles';
import { freeDepth } from '../../src/nest/tolerance';
import { blob, box } from './support';

const outlines = [blob(4, 70, 20), blob(9, 90, 14), box(25, 90), box(60, 40)];
const side = 300;
const forms = outlines.map((outline) => makeForm({ outline, holes: [] }, 0, false));
const table = new FormTable(forms, 4);

/** Eight items in a square that is too small for comfort, at random places. */
function crowded(seed: number) {
  const items: Item[] = [...forms, ...forms].map((f, k) => {
    const form = k % forms.length;
    return { form, forms: [form], turns: [0, 1, 2, 3], fixed: false, area: f.area };
  });
  const board = new Board(table, items, [{ minX: 0, minY: 0, maxX: side, maxY: side }]);
  const random = seededRandom(seed);
  const place = (i: number) => {
    const turn = Math.floor(random() * 4);
    const form = board.form[i]!;
    return {
      x: board.clampX(random() * side, form, turn, 0),
      y: board.clampY(random() * side, form, turn, 0),
      turn,
      form,
    };
  };
  for (let i = 0; i < board.n; i++) {
    const p = place(i);
    board.put(i, p.x, p.y, p.turn, p.form, 0);
    for (let j = 0; j < i; j++) {
      const weight = board.size[i * board.n + j]! * (1 + 5 * random());
      board.weight[i * board.n + j] = weight;
      board.weight[j * board.n + i] = weight;
    }
  }
  board.refreshAll();
  return { board, random, place };
}

describe('the weighted overlap of an item', () => {
  it('is that of the depths, and is given up exactly where it passes the limit', () => {
    let [given, kept] = [0, 0];
    for (let seed = 1; seed <= 12; seed++) {
      const { board, random, place } = crowded(seed);
      for (let t = 0; t < 100; t++) {
        const i = t % board.n;
        const { x, y, turn, form } = place(i);
        const cost = board.cost(i, x, y, turn, form, Number.POSITIVE_INFINITY);
        const limit = cost * (0.5 + random());
        const limited = board.cost(i, x, y, turn, form, limit);
        if (cost >= limit * (1 + 1e-9)) {
          given++;
          expect(limited).toBeGreaterThanOrEqual(limit);
        } else if (cost < limit * (1 - 1e-9)) {
          kept++;
          expect(limited).toBeCloseTo(cost, 6);
        }
        board.put(i, x, y, turn, form, 0);
        board.refresh(i);
        expect(board.presentCost(i)).toBeCloseTo(cost, 6);
      }
    }
    expect(Math.min(given, kept)).toBeGreaterThan(200);
  });
});

describe('a descent', () => {
  it('ends within the bin, no higher than it began, where the item is as deep as it says', () => {
    let [begun, ended, free] = [0, 0, 0];
    for (let seed = 1; seed <= 12; seed++) {
      const { board, place } = crowded(seed);
      const descent = new Descent(board);
      for (let t = 0; t < 40; t++) {
        const i = t % board.n;
        const { x, y, turn, form } = place(i);
        const before = board.cost(i, x, y, turn, form, Number.POSITIVE_INFINITY);
        const cost = descent.run(i, x, y, turn, form, 0, 40, freeDepth);
        expect(cost).toBeLessThanOrEqual(before * (1 + 1e-9));
        expect(board.clampX(descent.x, form, turn, 0)).toBeCloseTo(descent.x, 9);
        expect(board.clampY(descent.y, form, turn, 0)).toBeCloseTo(descent.y, 9);
        expect(board.cost(i, descent.x, descent.y, turn, form, Number.POSITIVE_INFINITY)).toBeCloseTo(
          cost,
          6,
        );
        begun += before;
        ended += cost;
        if (before > 0 && cost === 0) free++;
      }
    }
    expect(ended).toBeLessThan(begun / 2);
    expect(free).toBeGreaterThan(20);
  });

  it('slides along one item until it is free of another', () => {
    // By hand: a square of 20 reaches 2 mm into a wall to its left and 3 mm into a floor, 2.5 mm before a wall to its
    // right. Both at once take it up and to the right until the right wall stops it; along that it comes free.
    const squares = [box(100, 100), box(20, 20)].map((outline) => makeForm({ outline, holes: [] }, 0, false));
    const item = (form: number): Item => ({ form, forms: [form], turns: [0], fixed: false, area: 1 });
    const bin = { minX: -500, minY: -500, maxX: 500, maxY: 500 };
    const board = new Board(new FormTable(squares, 1), [0, 0, 0, 1].map(item), [bin]);
    board.put(0, -50, 0, 0, 0, 0);
    board.put(1, 50, -100, 0, 0, 0);
    board.put(2, 70.5, 0, 0, 0, 0);
    const descent = new Descent(board);
    expect(descent.run(3, 8, -43, 0, 1, 0, 30, freeDepth)).toBe(0);
    expect(descent.x).toBeCloseTo(10.5, 2);
    expect(descent.y).toBeCloseTo(-40, 2);
  });
});

describe('circles inside a form', () => {
  it('lie inside, the largest first, and fill a good part of it', () => {
    for (const outline of outlines) {
      const poles = polesOf([outline], 3);
      expect(poles[0]!.radius).toBeGreaterThanOrEqual(poles[1]!.radius);
      for (const pole of poles)
        for (let k = 0; k < outline.length; k++) {
          const [a, b] = [outline[k]!, outline[(k + 1) % outline.length]!];
          const [dx, dy] = [b.x - a.x, b.y - a.y];
          const t = Math.max(
            0,
            Math.min(1, ((pole.x - a.x) * dx + (pole.y - a.y) * dy) / (dx * dx + dy * dy)),
          );
          const d = Math.hypot(pole.x - a.x - t * dx, pole.y - a.y - t * dy);
          expect(d).toBeGreaterThanOrEqual(pole.radius);
        }
      expect(Math.PI * poles[0]!.radius ** 2).toBeGreaterThan(ringArea(outline) / 6);
    }
    // A rectangle of 60 × 40: half its height, by hand.
    expect(polesOf([box(60, 40)], 1)[0]!.radius).toBeCloseTo(20, 1);
  });
});
