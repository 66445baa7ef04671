import { describe, expect, it } from 'vitest';
import { makePanels, rememberShapes } from '../../src/foam';
import { ringArea } from '../../src/math';
import { corpus, patternFromTruth } from '../support/harbourWatch';
import { marks } from './strips';
import { foamOfTruth, seamsOfTruth } from './truthSeams';

const settings = [
  { name: 'bevelled, traced outside', foam: {} },
  {
    name: 'bevelled, paper in the middle, traced inside, kerf',
    foam: { standsFor: 'middle', traced: 'inside', kerf: 0.4 },
  },
  { name: 'bevelled, paper inside, 10 mm', foam: { standsFor: 'inside', thickness: 10 } },
  { name: 'square', foam: { preparation: 'square' } },
] as const;

it('has members to try', () => {
  expect(corpus.length).toBeGreaterThan(10);
});

describe.each(corpus)('$name', ({ make }) => {
  const truth = make();
  const pattern = patternFromTruth(truth);
  const seams = seamsOfTruth(truth);

  it.each(settings)('$name', ({ foam }) => {
    const decisions = foamOfTruth(truth, foam);
    const result = makePanels(pattern, seams, 1, decisions, marks);
    expect(result.panels.map((panel) => panel.id)).toEqual(pattern.pieces.map((piece) => piece.id));
    expect(result.unsetBends).toEqual([]);
    expect(result.rows).toHaveLength(seams.seams.length);
    // Whatever went wrong with a panel has been said, by id.
    const said = new Set(result.issues.flatMap((issue) => issue.place.ids ?? []));
    for (const panel of result.panels) {
      const outline = panel.outlines.traced;
      const whole = outline.filter((ring) => ringArea(ring) > 0).length === 1;
      if (!whole) expect(said).toContain(panel.id);
      const gone = panel.loops.flat().filter((edge) => edge.points.length === 0);
      if (outline.length > 0) for (const edge of gone) expect(said).toContain(edge.id);
      for (const p of panel.loops.flat().flatMap((edge) => edge.points)) {
        expect(Number.isFinite(p.x) && Number.isFinite(p.y)).toBe(true);
      }
    }
    for (const row of result.rows) {
      expect(row.mismatch).toBeCloseTo(Math.abs(row.lengthA - row.lengthB), 12);
      if (row.preparation === 'bevel') expect(row.openWedge).toBe(0);
      else expect(row.openWedge).toBeCloseTo(2 * decisions.thickness * Math.sin(Math.abs(row.bend!) / 2), 9);
    }
  });

  it('is the same again, remembered or not', () => {
    const decisions = foamOfTruth(truth);
    const remember = rememberShapes();
    const fresh = makePanels(pattern, seams, 1, decisions, marks);
    makePanels(pattern, seams, 1, { ...decisions, thickness: 4 }, marks, remember);
    expect(makePanels(pattern, seams, 1, decisions, marks, remember)).toEqual(fresh);
    expect(makePanels(pattern, seams, 1, decisions, marks, remember)).toEqual(fresh);
  });
});
