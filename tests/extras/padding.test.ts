import { expect, it } from 'vitest';
import { paddingRegions } from '../../src/extras';
import { surfaceOfTruth } from '../foam/shellFigures';
import { cut, tube } from './tubes';

it('pads a drum at its four sides within their angle, and not at an open crown', () => {
  const drum = cut(tube(24, 100, 100, 60), 6);
  const { shell, places } = surfaceOfTruth(drum);
  const regions = paddingRegions(shell, places, { normal: { x: 0, y: 0, z: 1 }, offset: 20 });
  expect(regions.map((r) => r.name)).toEqual(['Front', 'Back', 'Left', 'Right']);
  // Middles of walls lie at odd multiples of 7.5°: 28° to either side of each direction hold four.
  for (const { faces } of regions) expect(faces).toHaveLength(4);
  expect(new Set(regions.flatMap((r) => r.faces)).size).toBe(16);
  const front = new Set(regions[0]!.faces);
  for (const f of shell.faces)
    if (front.has(f.face)) for (const v of f.vertices) expect(places[v]!.y).toBeGreaterThan(80);
});

it('finds nothing where the brow misses the shell', () => {
  const { shell, places } = surfaceOfTruth(cut(tube(24, 100, 100, 60), 6));
  expect(paddingRegions(shell, places, { normal: { x: 0, y: 0, z: 1 }, offset: 500 })).toEqual([]);
});
