import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makePanels } from '../../src/foam';
import { distance, type Point, point, ringArea, rotate } from '../../src/math';
import type { FoamDecisions, Pattern } from '../../src/model';
import { marks } from '../foam/strips';
import { foamOfTruth, seamsOfTruth } from '../foam/truthSeams';
import { openShell, patternFromTruth, shellPattern } from '../support/harbourWatch';

const truth = shellPattern(openShell({ seed: 1, faces: 40, symmetric: true, net: 'quads', jitter: 0 }), {
  seed: 1,
});
const pattern = patternFromTruth(truth);
const seams = seamsOfTruth(truth);
const make = (changes: Partial<FoamDecisions>, of: Pattern = pattern, scale = 1) =>
  makePanels(of, seams, scale, foamOfTruth(truth, changes), marks);

const settings = fc.record({
  thickness: fc.double({ min: 0.5, max: 8, noNaN: true }),
  standsFor: fc.constantFrom('outside', 'middle', 'inside'),
  preparation: fc.constantFrom('bevel', 'square'),
  kerf: fc.double({ min: 0, max: 1, noNaN: true }),
  traced: fc.constantFrom('outside', 'inside'),
});

/** The same pattern with every place moved. */
function movePattern(of: Pattern, move: (p: Point) => Point): Pattern {
  const line = <T extends { readonly points: readonly Point[] }>(item: T): T => ({
    ...item,
    points: item.points.map(move),
  });
  return {
    ...of,
    pieces: of.pieces.map((piece) => ({
      ...piece,
      outline: piece.outline.map(line),
      folds: piece.folds.map(line),
      faces: piece.faces.map((face) => ({ ...face, polygon: face.polygon.map(move) })),
    })),
  };
}

describe('foam', () => {
  it('of no thickness and cut without kerf is the paper', () => {
    fc.assert(
      fc.property(settings, (changes) => {
        const result = make({ ...changes, thickness: 0, kerf: 0 });
        result.panels.forEach((panel, k) => {
          const paper = pattern.pieces[k]!.outline.map((edge) => edge.points[0]!);
          for (const skin of ['inside', 'traced', 'outside'] as const) {
            expect(panel.outlines[skin]).toHaveLength(1);
            expect(panel.outlines[skin][0]).toHaveLength(paper.length);
            panel.outlines[skin][0]!.forEach((p, n) => {
              expect(distance(p, paper[n]!)).toBeLessThan(1e-9);
            });
          }
        });
        for (const row of result.rows) expect(row.mismatch).toBeLessThan(1e-6);
      }),
      { numRuns: 10 },
    );
  });

  it('moves and turns with the pattern', () => {
    fc.assert(
      fc.property(settings, fc.double({ min: -3, max: 3, noNaN: true }), (changes, angle) => {
        const move = (p: Point) => {
          const q = rotate(p, angle);
          return point(q.x + 120, q.y - 40);
        };
        const plain = make(changes);
        const moved = make(changes, movePattern(pattern, move));
        plain.panels.forEach((panel, k) => {
          const edges = panel.loops.flat();
          moved.panels[k]!.loops.flat().forEach((edge, n) => {
            expect(edge.points).toHaveLength(edges[n]!.points.length);
            edge.points.forEach((p, m) => {
              // Where loops were cleaned, corners were rounded to the grid of 1e-4 mm.
              expect(distance(p, move(edges[n]!.points[m]!))).toBeLessThan(1e-3);
            });
          });
        });
      }),
      { numRuns: 15 },
    );
  });

  it('scales when the paper, the foam and the kerf scale together', () => {
    fc.assert(
      fc.property(settings, fc.double({ min: 0.5, max: 2, noNaN: true }), (changes, scale) => {
        const plain = make(changes);
        const larger = make(
          { ...changes, thickness: changes.thickness * scale, kerf: changes.kerf * scale },
          pattern,
          scale,
        );
        plain.rows.forEach((row, k) => {
          expect(larger.rows[k]!.lengthA).toBeCloseTo(row.lengthA * scale, 2);
          expect(larger.rows[k]!.openWedge).toBeCloseTo(row.openWedge * scale, 9);
        });
      }),
      { numRuns: 15 },
    );
  });

  it('more kerf gives larger templates', () => {
    fc.assert(
      fc.property(settings, fc.double({ min: 0.05, max: 1, noNaN: true }), (changes, more) => {
        const some = make({ ...changes, kerf: 0 });
        const wide = make({ ...changes, kerf: more });
        const area = (rings: readonly (readonly Point[])[]) =>
          rings.reduce((n, ring) => n + ringArea(ring), 0);
        some.panels.forEach((panel, k) => {
          if (panel.outlines.traced.length === 0) return;
          expect(area(wide.panels[k]!.outlines.traced)).toBeGreaterThan(area(panel.outlines.traced));
        });
      }),
      { numRuns: 10 },
    );
  });
});
