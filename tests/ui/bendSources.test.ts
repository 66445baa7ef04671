import { describe, expect, it } from 'vitest';
import { bendInForce, countBends } from '../../app/steps/foam/foamRows';
import type { BendSource, FoamResult, FoamSeamRow, Panel, PanelFold } from '../../src/model';

const row = (seam: string, bend: number | null, bendFrom?: BendSource): FoamSeamRow => ({
  seam,
  run: 1,
  preparation: 'bevel',
  bend,
  ...(bendFrom ? { bendFrom } : {}),
  bevel: 0,
  way: 'flat',
  neutralA: 10,
  neutralB: 10,
  stretchA: 0,
  stretchB: 0,
  lengthA: 10,
  lengthB: 10,
  mismatch: 0,
  openWedge: 0,
  touches: 'both',
});
const fold = (id: string, bend: number | null, bendFrom?: BendSource): PanelFold => ({
  id,
  points: [],
  role: 'mountain',
  bend,
  ...(bendFrom ? { bendFrom } : {}),
});
const panel = (folds: readonly PanelFold[]): Panel => ({
  id: 'p',
  name: 'A',
  pieces: ['a'],
  quantity: 1,
  mirrored: false,
  thickness: 5,
  loops: [],
  folds,
  outlines: { inside: [], traced: [], outside: [] },
});
const foam: FoamResult = {
  panels: [panel([fold('f1', 0.3, 'shell'), fold('f2', 0.5, 'typed'), fold('f3', null)])],
  rows: [row('s1', 0.2, 'shell'), row('s2', 0.4, 'kind'), row('s3', 0.1, 'file')],
  unsetBends: ['f3'],
  issues: [],
};

describe('where bends are from', () => {
  it('is counted over folds and seams', () => {
    expect(countBends(foam)).toEqual({ shell: 2, typed: 1, kind: 1, file: 1, unset: 1 });
  });

  it('is told for each, and for none that nobody set', () => {
    expect(bendInForce(foam, 'f2')).toEqual({ bend: 0.5, from: 'typed' });
    expect(bendInForce(foam, 's1')).toEqual({ bend: 0.2, from: 'shell' });
    expect(bendInForce(foam, 'f3')).toBeNull();
    expect(bendInForce(foam, 'gone')).toBeNull();
  });
});
