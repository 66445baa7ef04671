/** Laws of lettering: legible, inside, clear of everything else that is drawn on the panel, for every panel of a family. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { markPanels } from '../../src/marks';
import type { Point } from '../../src/math';
import { defaultDecisions, type Lettering, type MarkedPanel } from '../../src/model';
import { testFont } from '../support/lettering';
import { convexOverlap, inkRectangle, inRing, segmentMeetsConvex, segmentsOf } from '../support/orientedBox';
import { family, randomRing } from '../support/panels';

const font = testFont();
const panels = family().flatMap((fixture) =>
  markPanels(fixture.foam, fixture.seams, defaultDecisions.marks, font).panels.map((marked) => ({
    name: `${fixture.name} ${marked.panel.name}`,
    marked,
  })),
);
const words = (l: Lettering) => `${l.use} "${l.text}"`;
const inside = (marked: MarkedPanel, p: { x: number; y: number }) =>
  marked.panel.outlines.traced.filter((ring) => inRing(p, ring)).length % 2 === 1;

describe('lettering', () => {
  it('has panels of all sizes to check', () => {
    expect(panels.length).toBeGreaterThan(60);
    expect(panels.some(({ marked }) => marked.lines.some((l) => l.kind === 'leader'))).toBe(true);
  });

  it('never overlaps other lettering', () => {
    for (const { name, marked } of panels) {
      const boxes = marked.lettering.map((l) => ({ l, box: inkRectangle(l) }));
      boxes.forEach(({ l, box }, i) => {
        for (const other of boxes.slice(i + 1))
          expect(convexOverlap(box, other.box), `${name}: ${words(l)} on ${words(other.l)}`).toBe(false);
      });
    }
  });

  it('never touches outline, folds, open-edge ticks or notches', () => {
    for (const { name, marked } of panels) {
      for (const l of marked.lettering) {
        const box = inkRectangle(l);
        for (const line of marked.lines) {
          if (line.kind === 'leader') continue;
          for (const [a, b] of segmentsOf(line.points, line.closed))
            expect(segmentMeetsConvex(a, b, box), `${name}: ${words(l)} on ${line.kind}`).toBe(false);
        }
        for (const n of marked.notches)
          expect(segmentMeetsConvex(n.at, n.to, box), `${name}: ${words(l)} on a notch`).toBe(false);
      }
    }
  });

  it('is never struck by a leader', () => {
    for (const { name, marked } of panels) {
      for (const line of marked.lines.filter((l) => l.kind === 'leader')) {
        for (const l of marked.lettering)
          expect(
            segmentMeetsConvex(line.points[0]!, line.points[1]!, inkRectangle(l)),
            `${name}: ${words(l)}`,
          ).toBe(false);
      }
    }
  });

  it('stands on the panel unless a leader leads to it', () => {
    for (const { name, marked } of panels) {
      const leaders = marked.lines.filter((l) => l.kind === 'leader');
      const outside = marked.lettering.filter((l) => !inside(marked, l.at));
      if (outside.length > 0) expect(leaders.length, name).toBeGreaterThan(0);
      for (const l of outside) {
        const near = leaders.some((leader) => {
          const start = leader.points[0]!;
          return Math.min(...inkRectangle(l).map((c) => Math.hypot(c.x - start.x, c.y - start.y))) < 25;
        });
        expect(near, `${name}: ${words(l)} stands outside without a leader`).toBe(true);
      }
    }
  });

  it('is at least 2 mm high and no higher than asked', () => {
    for (const { name, marked } of panels) {
      for (const l of marked.lettering) {
        if (l.use === 'up') continue;
        expect(l.height, `${name}: ${words(l)}`).toBeGreaterThanOrEqual(2);
        if (l.use === 'seamNumber') expect(l.height).toBeLessThanOrEqual(defaultDecisions.marks.letterHeight);
      }
    }
  });

  it('puts the number of every run on both panels, and each panel has name, quantity and an arrow', () => {
    for (const fixture of family()) {
      const marks = markPanels(fixture.foam, fixture.seams, defaultDecisions.marks, font);
      for (const marked of marks.panels) {
        const numbers = new Set(marked.lettering.filter((l) => l.use === 'seamNumber').map((l) => l.text));
        const runs = fixture.seams.runs.filter((r) =>
          r.seams.some((id) => marked.panel.loops.flat().some((e) => e.seam === id)),
        );
        for (const run of runs)
          expect(numbers.has(String(run.number)), `${marked.panel.name} ${run.number}`).toBe(true);
        const texts = marked.lettering.filter((l) => l.use !== 'seamNumber').map((l) => l.text);
        const joined = texts.join(' ');
        for (const word of marked.panel.name.split(' ')) expect(joined).toContain(word);
        expect(joined).toContain('cut ');
        expect(texts).toContain('up');
      }
      expect(marks.issues.filter((i) => i.code === 'no-room-for-lettering')).toEqual([]);
    }
  });

  it('stands nearer to the edges of its own seam than to any other, unless a leader leads to it', () => {
    let checked = 0;
    for (const fixture of family()) {
      const marks = markPanels(fixture.foam, fixture.seams, defaultDecisions.marks, font);
      const numberOf = new Map(fixture.seams.seams.map((s) => [s.id, String(s.number)]));
      for (const marked of marks.panels) {
        if (marked.lines.some((l) => l.kind === 'leader')) continue;
        const edges = marked.panel.loops.flat();
        for (const l of marked.lettering.filter((k) => k.use === 'seamNumber')) {
          const nearest = (own: boolean) =>
            Math.min(
              ...edges
                .filter((e) => (numberOf.get(e.seam ?? '') === l.text) === own)
                .flatMap((e) => segmentsOf(e.points, false).map(([a, b]) => segmentDistance(l.at, a, b))),
            );
          expect(nearest(true), `${fixture.name} ${marked.panel.name} ${l.text}`).toBeLessThan(
            nearest(false),
          );
          checked++;
        }
      }
    }
    expect(checked).toBeGreaterThan(60);
  });

  it('holds on panels of random shape and size, at any letter height, with any choice of marks', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1_000_000 }),
        fc.double({ min: 2, max: 9, noNaN: true }),
        fc.record({
          notches: fc.boolean(),
          numbers: fc.boolean(),
          names: fc.boolean(),
          bevels: fc.boolean(),
        }),
        fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }),
        (seed, letterHeight, shown, up) => {
          const fixture = randomRing(seed);
          const decisions = { ...defaultDecisions.marks, ...shown, letterHeight, up };
          for (const marked of markPanels(fixture.foam, fixture.seams, decisions, font).panels)
            expect(clashes(marked)).toEqual([]);
        },
      ),
      { numRuns: 25 },
    );
  });
});

/** Everything on a panel that lettering overlaps. */
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
      .map((other) => `${words(l)} on ${words(other.l)}`),
    ...(lines.some(([a, b]) => segmentMeetsConvex(a, b, box)) ? [`${words(l)} on a line`] : []),
  ]);
}

function segmentDistance(p: Point, a: Point, b: Point): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const t = Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy)));
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}
