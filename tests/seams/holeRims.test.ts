import { expect, test } from 'vitest';
import { defaultDecisions, type Piece } from '../../src/model';
import { matchSeams } from '../../src/seams';
import { patternOf, polygonPiece } from './patterns';

type Corner = readonly [number, number];
const rim: readonly Corner[] = [
  [20, 20],
  [60, 15],
  [75, 50],
  [45, 80],
  [15, 55],
];
const next = <T>(list: readonly T[], i: number): T => list[(i + 1) % list.length]!;

/** A plate with a hole; its edges are h1 … h5, clockwise. */
function plate(): Piece {
  const solid = polygonPiece('plate', [
    [0, 0],
    [100, 0],
    [103, 95],
    [-4, 90],
  ]);
  const points = [...rim].reverse().map(([x, y]) => ({ x, y }));
  const hole = points.map((p, i) => ({ id: `h${i + 1}`, points: [p, next(points, i)], curved: false }));
  return { ...solid, holes: [hole], faces: solid.faces.map((f) => ({ ...f, holes: [points] })) };
}

/** The five walls of a pyramid over the hole; edge 1 of each lies on the rim. */
function walls(): Piece[] {
  const toTip = rim.map(([x, y]) => Math.hypot(x - 44, y - 45, 37));
  return rim.map((p, i) => {
    const q = next(rim, i);
    const base = Math.hypot(q[0] - p[0], q[1] - p[1]);
    const [left, right] = [toTip[i]!, next(toTip, i)];
    const x = (base * base + left * left - right * right) / (2 * base);
    const at = 200 + 150 * i;
    return polygonPiece(`w${i}`, [
      [at, 0],
      [at + base, 0],
      [at + x, Math.sqrt(left * left - x * x)],
    ]);
  });
}

test('the rim of a hole is matched like an outline: a pyramid stands on it', () => {
  const result = matchSeams(patternOf([plate(), ...walls()], {}), defaultDecisions.seams);
  const mates = new Map(
    result.seams.flatMap((s) => [[s.a.edge, s.b.edge] as const, [s.b.edge, s.a.edge] as const]),
  );
  // Clockwise, the rim's edge from corner i + 1 to corner i is number 4 − i, and number 5 between the ends of the list.
  const rimOf = (i: number) => `h${i === 4 ? 5 : 4 - i}`;
  expect(rim.map((_, i) => mates.get(`w${i}1`))).toEqual(rim.map((_, i) => rimOf(i)));
  expect(rim.map((_, i) => mates.get(`w${i}2`))).toEqual(rim.map((_, i) => `w${(i + 1) % 5}3`));
  expect(result.open.map((o) => o.piece)).toEqual(['plate', 'plate', 'plate', 'plate']);
});
