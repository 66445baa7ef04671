import { describe, expect, it } from 'vitest';
import { nothingKnown, type Pattern } from '../../src/model';
import { foldPattern } from '../../src/shell';
import { seamsOfTruth } from '../foam/truthSeams';
import { bollardPauldron, patternFromTruth, shellPattern } from '../support/harbourWatch';

const truth = shellPattern(bollardPauldron());
const bendOf = new Map(truth.pieces.flatMap((p) => p.folds.map((f) => [f.id, f.bend] as const)));
const drawn = patternFromTruth(truth);
const seams = seamsOfTruth(truth);

/** The pattern with bends that its file gives. */
const giving = (bend: (id: string) => number): Pattern => ({
  ...drawn,
  pieces: drawn.pieces.map((p) => ({
    ...p,
    folds: p.folds.map((f) => ({ ...f, givenBend: bend(f.id) })),
  })),
});

/** Largest departure of a fold from the truth, rad. */
async function worst(pattern: Pattern, bends: Record<string, number> = {}): Promise<number> {
  const shell = await foldPattern(pattern, seams, { ...nothingKnown, bends });
  expect(shell.residual.max).toBeLessThan(0.02);
  return Math.max(...[...bendOf].map(([id, bend]) => Math.abs(shell.bends[id]! - bend)));
}

describe('bends that a file gives', () => {
  it('settle what the lengths leave open', async () => {
    const without = await worst(drawn);
    expect(without).toBeGreaterThan(0.3);
    expect(await worst(giving((id) => bendOf.get(id)!))).toBeLessThan(0.03);
  });

  it('give way to the lengths and to the bend that is typed', async () => {
    const [wrong] = [...bendOf.keys()];
    const misled = giving((id) => bendOf.get(id)! + (id === wrong ? 1 : 0));
    expect(await worst(misled)).toBeLessThan(0.4);
    expect(await worst(misled, { [wrong!]: bendOf.get(wrong!)! })).toBeLessThan(0.1);
  });
});
