/** Notches of panels from a shell: put up on it with their thickness, the two of a pair lie together. */
import { describe, expect, it } from 'vitest';
import { cornerAt, type PlacedPanel, placePanel } from '../../src/dryfit/placing';
import { markPanels } from '../../src/marks';
import { add3, distance, distance3, type Point3, scaleBy3, subtract3 } from '../../src/math';
import { type BendModel, defaultDecisions, type NotchMark, type Panel } from '../../src/model';
import { offsetVectors } from '../../src/shell';
import { panelsOfTruth, spreadOf, surfaceOfTruth } from '../foam/shellFigures';
import { seamsOfTruth } from '../foam/truthSeams';
import { corpus } from '../support/harbourWatch';
import { heldShells } from '../support/heldShells';
import { testFont } from '../support/lettering';
import { notchPairs } from './notchesApart';

const truth = corpus.find(({ name }) => name.startsWith('shell 3'))!.make();
const { shell, places } = surfaceOfTruth(truth);
const foam = panelsOfTruth(truth);
const placedOn = {
  patches: shell.faces,
  places,
  vectors: offsetVectors({ vertices: places, faces: shell.faces }),
};

/** Where a notch of a straight edge lies in space; null on edges of several stretches. */
function inSpace(placed: PlacedPanel, panel: Panel, notch: NotchMark, model: BendModel): Point3 | null {
  const edge = panel.loops.flat().find((e) => e.id === notch.edge)!;
  const sides = placed.body.outline.filter((o) => o.seam === notch.seam);
  if (sides.length !== 1 || edge.points.length !== 2) return null;
  const [start, end] = [edge.points[0]!, edge.points[1]!];
  const part = distance(start, notch.at) / distance(start, end);
  const { face, side } = sides[0]!;
  const height = placed.body.heights.outside;
  const from = cornerAt(placed, face, side, height, model);
  const to = cornerAt(placed, face, side + 1, height, model);
  return add3(from, scaleBy3(subtract3(to, from), part));
}

describe('notches of panels from a shell of 160 faces, 5 mm, traced on the outside', () => {
  // Of the bent panels' own gap, and of the slip along the seam; skins that stretch to the mitre slip most.
  it.each([
    ['rigid', 0.4, 0.8],
    ['mitre', 0.8, 1.3],
  ] as const)('meet when the foam is bent, %s', (model, mostOf95, most) => {
    const marked = markPanels(foam, seamsOfTruth(truth), defaultDecisions.marks, testFont());
    const bySeam = new Map<string, { along: number; edge: string; at: Point3 }[]>();
    for (const { panel, notches } of marked.panels) {
      const placed = placePanel(panel.id, panel.body!, placedOn);
      for (const notch of notches) {
        const at = inSpace(placed, panel, notch, model);
        if (at)
          bySeam.set(notch.seam, [
            ...(bySeam.get(notch.seam) ?? []),
            { along: notch.along, edge: notch.edge, at },
          ]);
      }
    }
    const apart: number[] = [];
    for (const all of bySeam.values()) {
      const [edge] = all.map((n) => n.edge);
      const one = all.filter((n) => n.edge === edge).sort((p, q) => p.along - q.along);
      const two = all.filter((n) => n.edge !== edge).sort((p, q) => p.along - q.along);
      if (one.length !== two.length) continue;
      one.forEach((n, i) => void apart.push(distance3(n.at, two[i]!.at)));
    }
    expect(apart.length).toBeGreaterThan(60);
    const { p95, max } = spreadOf(apart);
    expect(p95).toBeLessThan(mostOf95);
    expect(max).toBeLessThan(most);
  });
});

describe('notches of mates along their seam', () => {
  // Placed for rigid faces alone they are 0.63 / 0.99 mm apart with skins at the mitre, square 0.60 / 1.05.
  it.each([
    ['bevelled', foam, 0.33, 0.5],
    ['square', panelsOfTruth(truth, { preparation: 'square' }), 0.33, 0.6],
  ] as const)('are as near to each other in both models as one place allows, %s', (_, made, most95, most) => {
    const pairs = notchPairs(made, seamsOfTruth(truth), surfaceOfTruth(truth), 'outside');
    expect(pairs.length).toBeGreaterThan(150);
    for (const model of ['rigid', 'mitre'] as const) {
      const { p95, max } = spreadOf(pairs.map(({ apart }) => apart[model]));
      expect(p95).toBeLessThan(most95);
      expect(max).toBeLessThan(most);
    }
  });

  const other = (start: string) =>
    [...corpus, ...heldShells].find(({ name }) => name.startsWith(start))!.make();

  it('stay in order and on their edges in foam so thick that what meets lies past a corner', () => {
    const small = other('shell 2');
    const thick = panelsOfTruth(small, { preparation: 'square', thickness: 12 });
    const pairs = notchPairs(thick, seamsOfTruth(small), surfaceOfTruth(small), 'outside');
    expect(pairs.length).toBeGreaterThan(50);
    for (const { fromCorner, inOrder } of pairs) {
      expect(fromCorner).toBeGreaterThanOrEqual(0.5);
      expect(inOrder).toBe(true);
    }
  });

  it('lie half-way between both models where another edge has cut theirs short of its corner', () => {
    const strip = other('held 9112');
    const thick = panelsOfTruth(strip, { thickness: 12, traced: 'inside' });
    const pairs = notchPairs(thick, seamsOfTruth(strip), surfaceOfTruth(strip), 'inside');
    expect(pairs.length).toBeGreaterThan(50);
    for (const { apart } of pairs) expect(Math.abs(apart.rigid + apart.mitre)).toBeLessThan(0.15);
  });
});
