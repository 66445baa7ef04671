/** Panels as the program proposes them; figures of all members are printed by `tests/bench/dryFitFigures.ts` and `dryFitOthers.ts`. */
import { describe, expect, it } from 'vitest';
import { hingeSlack } from '../../src/dryfit/tolerance';
import { distance3 } from '../../src/math';
import { corpus } from '../support/harbourWatch';
import { dryFitOf, heldOf, placedOf, proposedOf } from './foldedFit';

const member = (start: string) => heldOf(corpus.find(({ name }) => name.startsWith(start))!.make());

describe.each(['Bollard pauldron', 'shell 2', 'icosahedron'])('%s, sharp folds cut, 5 mm', (start) => {
  const panels = proposedOf(member(start), 'splits');

  it('meets with bevels', async () => {
    const { designed, clashes } = await dryFitOf(await panels, { preparation: 'bevel' }, true);
    const gap = designed.bevelled!;
    expect(gap.mean).toBeLessThanOrEqual(0.1);
    expect(gap.p95).toBeLessThanOrEqual(0.4);
    expect(gap.max).toBeLessThanOrEqual(1.5);
    expect(designed.overlapShare).toBeLessThanOrEqual(0.0015);
    expect(clashes).toEqual([]);
  });

  it('touches with square cuts', async () => {
    const { designed } = await dryFitOf(await panels, { preparation: 'square' }, true);
    expect(designed.square!.mean).toBeLessThanOrEqual(0.1);
    expect(designed.square!.p95).toBeLessThanOrEqual(0.5);
    expect(designed.overlapShare).toBeLessThanOrEqual(0.0003);
  });
});

describe('panels cut anew, with closed rings of faces', () => {
  it('give at their folds: bent exactly as the shell is, corners would be up to 1.1 mm off and 0.9 mm apart', async () => {
    const panels = placedOf(await proposedOf(member('shell 3'), 'anew'));
    const off = panels.flatMap(({ placed, goal }) =>
      placed.faces.flatMap(({ corners }, f) => corners.map((p, i) => distance3(p, goal[f]![i]!))),
    );
    const apart = panels.flatMap(({ placed }) =>
      placed.faces.flatMap(({ ring, corners }) =>
        ring.map((node, i) => distance3(corners[i]!, placed.nodes[node]!.at)),
      ),
    );
    expect(Math.max(...off)).toBeLessThan(0.2);
    expect(Math.max(...apart)).toBeLessThan(hingeSlack);
    // Some are ringed, or there would be nothing to give.
    expect(Math.max(...apart)).toBeGreaterThan(0.01);
  });
});
