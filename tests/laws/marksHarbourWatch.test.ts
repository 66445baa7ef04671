/** The laws of marks on whole costume pieces as they come from the stages before: read, paired, turned to foam. */
import { describe, expect, it } from 'vitest';
import { makePanels } from '../../src/foam';
import { markPanels } from '../../src/marks';
import { pointAlong, polylineLength } from '../../src/math';
import {
  defaultDecisions,
  type MarkedPanel,
  placeLettering,
  placePoints,
  seenFromBehind,
} from '../../src/model';
import { findSeams } from '../../src/seams';
import {
  bollardPattern,
  gannetPattern,
  keelPattern,
  numberEdges,
  patternFromTruth,
} from '../support/harbourWatch';
import { testFont } from '../support/lettering';
import { convexOverlap, inkRectangle, segmentMeetsConvex, segmentsOf } from '../support/orientedBox';

const { seams: pairing, foam: usual, marks: usualMarks } = defaultDecisions;
const bends = { mountain: 0.25, valley: -0.25, unknown: 0.1, seam: 0.35 };

const made = [
  { name: 'Gannet helm', truth: gannetPattern() },
  { name: 'Bollard pauldron', truth: bollardPattern() },
  { name: 'Keel bracer', truth: keelPattern() },
].flatMap(({ name, truth }) => {
  const pattern = patternFromTruth(numberEdges(truth));
  const seams = findSeams(pattern, pairing);
  return (['outside', 'inside'] as const).map((traced) => {
    const foam = makePanels(pattern, seams, 1, { ...usual, traced, roleBends: bends }, usualMarks);
    return {
      name: `${name}, ${traced} drawn`,
      seams,
      foam,
      marked: markPanels(foam, seams, usualMarks, testFont()),
    };
  });
});

function clashes(marked: MarkedPanel): string[] {
  const boxes = marked.lettering.map((l) => ({ l, box: inkRectangle(l) }));
  const lines = [
    ...marked.lines.flatMap((line) => segmentsOf(line.points, line.closed)),
    ...marked.notches.map((n) => [n.at, n.to] as const),
  ];
  return boxes.flatMap(({ l, box }, i) => [
    ...boxes
      .slice(i + 1)
      .filter((other) => convexOverlap(box, other.box))
      .map((other) => `"${l.text}" on "${other.l.text}"`),
    ...(lines.some(([a, b]) => segmentMeetsConvex(a, b, box)) ? [`"${l.text}" on a line`] : []),
  ]);
}

describe.each(made)('$name', ({ seams, foam, marked }) => {
  it('has panels, seams and notches', () => {
    expect(foam.panels.length).toBeGreaterThan(2);
    expect(seams.runs.length).toBeGreaterThan(2);
    expect(marked.panels.flatMap((p) => p.notches).length).toBeGreaterThan(2 * seams.runs.length * 0.7);
  });

  it('letters every panel without an overlap, as drawn and seen from behind', () => {
    for (const panel of marked.panels) {
      expect(clashes(panel), panel.panel.name).toEqual([]);
      const behind: MarkedPanel = {
        ...panel,
        lines: panel.lines.map((l) => ({ ...l, points: placePoints(l.points, seenFromBehind) })),
        notches: panel.notches.map((n) => {
          const [at, to] = placePoints([n.at, n.to], seenFromBehind);
          return { ...n, at: at!, to: to! };
        }),
        lettering: panel.lettering.map((l) => placeLettering(l, seenFromBehind)),
      };
      expect(clashes(behind), `${panel.panel.name} from behind`).toEqual([]);
    }
  });

  it('prints the number of every seam on both panels', () => {
    const numberOf = new Map(seams.runs.flatMap((r) => r.seams.map((s) => [s, String(r.number)] as const)));
    for (const { panel, lettering } of marked.panels) {
      const written = new Set(lettering.filter((l) => l.use === 'seamNumber').map((l) => l.text));
      const needed = new Set(
        panel.loops
          .flat()
          .filter((e) => e.points.length > 1)
          .flatMap((e) => (e.seam === null ? [] : [numberOf.get(e.seam)!])),
      );
      for (const number of needed) expect(written.has(number), `${panel.name}: seam ${number}`).toBe(true);
    }
  });

  it('puts notches at equal arc length on both edges of a seam', () => {
    const edges = new Map(foam.panels.flatMap((p) => p.loops.flat()).map((e) => [e.id, e.points]));
    const notches = marked.panels.flatMap((p) => p.notches);
    for (const seam of seams.seams) {
      const on = (edge: string) => notches.filter((n) => n.edge === edge).sort((p, q) => p.along - q.along);
      const [a, b] = [on(seam.a.edge), on(seam.b.edge)];
      expect(a.map((n) => n.along)).toEqual(b.map((n) => n.along));
      for (const [edge, list, fromEnd] of [
        [seam.a.edge, a, false],
        [seam.b.edge, b, seam.direction === 'opposed'],
      ] as const) {
        const points = edges.get(edge) ?? [];
        for (const n of list) {
          const s = fromEnd ? polylineLength(points) - n.along : n.along;
          const { at } = pointAlong(points, s);
          expect(Math.hypot(at.x - n.at.x, at.y - n.at.y)).toBeLessThan(0.01);
        }
      }
    }
  });

  it('leaves no two neighbouring seams with the same notches', () => {
    expect(marked.issues.filter((i) => i.code === 'notches-look-alike')).toEqual([]);
  });
});
