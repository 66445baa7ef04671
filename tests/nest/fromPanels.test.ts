import { describe, expect, it } from 'vitest';
import { boxOf, ringArea } from '../../src/math';
import type { Panel } from '../../src/model';
import { nestPanelsOf, twinId } from '../../src/nest';
import { box } from './support';

const grown = (by: number) => [box(100 + 2 * by, 60 + 2 * by).map((p) => ({ x: p.x - by, y: p.y - by }))];
const made = (bevel: number, more: Partial<Panel> = {}): Panel => ({
  id: 'cheek',
  name: 'Cheek',
  pieces: ['a'],
  quantity: 2,
  mirrored: true,
  thickness: 5,
  loops: [[{ id: 'e', seam: null, shift: 0, bevel, bend: null, points: [], curved: false }]],
  folds: [],
  outlines: { inside: grown(-1), traced: grown(0), outside: grown(2) },
  ...more,
});
const rules = { turns: 'half' as const, turnsOf: {}, facesAlike: true, locked: {} };

describe('panels of a job for nesting', () => {
  it('take the room of all their faces, and give a mirrored twin', () => {
    const nested = nestPanelsOf([made(0)], rules);
    expect(nested.map((p) => p.id)).toEqual(['cheek', twinId('cheek')]);
    expect(nested[0]!.quantity).toBe(2);
    const { minX, maxX } = boxOf(nested[0]!.outline);
    expect([minX, maxX]).toEqual([-2, 102]);
    expect(nested[1]!.outline.every((p) => p.x <= 2 && p.x >= -102)).toBe(true);
    for (const p of nested) expect(ringArea(p.outline)).toBeCloseTo(104 * 64, 6);
  });
  it('may be turned over only without bevels and on foam with equal faces', () => {
    const may = (panel: Panel, facesAlike: boolean) =>
      nestPanelsOf([panel], { ...rules, facesAlike }).map((p) => p.mayMirror);
    expect(may(made(0), true)).toEqual([true, true]);
    expect(may(made(0.2), true)).toEqual([false, false]);
    expect(may(made(0), false)).toEqual([false, false]);
  });
  it('keep their holes', () => {
    const hole = box(20, 20)
      .map((p) => ({ x: p.x + 30, y: p.y + 20 }))
      .reverse();
    const outlines = { inside: [], traced: [...grown(0), hole], outside: [] };
    const [first] = nestPanelsOf([made(0, { outlines, mirrored: false })], rules);
    expect(first!.holes).toHaveLength(1);
    expect(ringArea(first!.holes[0]!)).toBeCloseTo(-400, 6);
  });
});
