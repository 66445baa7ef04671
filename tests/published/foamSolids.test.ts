/**
 * Regular solids in foam of thickness t, paper outside. A convex solid with an inscribed sphere of radius r moved in by
 * t is the same solid (r − t)/r times as large. Inradius of the cube a/2; of the dodecahedron
 * a/2 · √((25 + 11√5)/10), dihedral angle 2 arctan φ (textbook values, from memory: H. S. M. Coxeter, Regular Polytopes, table I).
 */
import { describe, expect, it } from 'vitest';
import { ringArea } from '../../src/math';
import { panelsOfTruth } from '../foam/shellFigures';
import { prism, shellPattern, solid } from '../support/harbourWatch';

const t = 5;
const edge = 60;
const golden = (1 + Math.sqrt(5)) / 2;
const solids = [
  { name: 'cube', inradius: edge / 2, dihedral: Math.PI / 2 },
  {
    name: 'dodecahedron',
    inradius: (edge / 2) * Math.sqrt((25 + 11 * Math.sqrt(5)) / 10),
    dihedral: 2 * Math.atan(golden),
  },
] as const;

describe.each(solids)('a $name', ({ name, inradius, dihedral }) => {
  const truth = shellPattern(solid(name, edge), { maxFaces: 1 });
  const bend = Math.PI - dihedral;

  it('bevelled: the inside is the same solid, smaller', () => {
    const { panels, rows } = panelsOfTruth(truth);
    for (const panel of panels) {
      const outside = ringArea(panel.outlines.outside[0]!);
      const inside = ringArea(panel.outlines.inside[0]!);
      expect(inside / outside).toBeCloseTo(((inradius - t) / inradius) ** 2, 6);
    }
    for (const row of rows) expect(row.bevel).toBeCloseTo(bend / 2, 9);
  });

  it('square: cut back to the inside, with a wedge of 2 t sin(φ/2)', () => {
    const { panels, rows } = panelsOfTruth(truth, { preparation: 'square' });
    const bevelled = panelsOfTruth(truth).panels;
    panels.forEach((panel, k) => {
      const inside = ringArea(bevelled[k]!.outlines.inside[0]!);
      for (const skin of ['inside', 'outside'] as const)
        expect(ringArea(panel.outlines[skin][0]!)).toBeCloseTo(inside, 3);
    });
    for (const row of rows) {
      expect(row.openWedge).toBeCloseTo(2 * t * Math.sin(bend / 2), 9);
      expect(row.touches).toBe('inside');
    }
  });
});

it.each([8, 24, 48])('an open prism of %i sides tends to P − 2πt inside', (n) => {
  const truth = shellPattern(prism(n, 60, 80, true), { maxFaces: 1, maxSize: 400 });
  const height = 80;
  const girth = (skin: 'inside' | 'outside') =>
    panelsOfTruth(truth).panels.reduce((sum, p) => sum + ringArea(p.outlines[skin][0]!), 0) / height;
  const outside = 2 * n * 60 * Math.sin(Math.PI / n);
  expect(girth('outside')).toBeCloseTo(outside, 4);
  // Steiner's formula for a polygon: each corner takes 2 t tan(π/n).
  expect(girth('inside')).toBeCloseTo(outside - 2 * n * t * Math.tan(Math.PI / n), 4);
});
