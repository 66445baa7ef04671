/** Laws of notches, checked on what is printed: places are measured again along the panels' edges. */
import { describe, expect, it } from 'vitest';
import { markPanels } from '../../src/marks';
import { distance, type Point, polylineLength } from '../../src/math';
import {
  defaultDecisions,
  type MarkedPanels,
  type NotchMark,
  type PanelEdge,
  type Seams,
} from '../../src/model';
import { testFont } from '../support/lettering';
import { inRing } from '../support/orientedBox';
import { type Fixture, family } from '../support/panels';

const font = testFont();
const marked = family().map((fixture) => ({
  fixture,
  marks: markPanels(fixture.foam, fixture.seams, defaultDecisions.marks, font),
}));

/** How far along a polyline a point on it lies. */
function measureAlong(points: readonly Point[], p: Point): number {
  let walked = 0;
  let best = { off: Number.POSITIVE_INFINITY, at: 0 };
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1]!, points[i]!];
    const length = distance(a, b);
    const t = Math.min(1, Math.max(0, ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length ** 2));
    const off = Math.hypot(p.x - a.x - t * (b.x - a.x), p.y - a.y - t * (b.y - a.y));
    if (off < best.off) best = { off, at: walked + t * length };
    walked += length;
  }
  expect(best.off).toBeLessThan(1e-9);
  return best.at;
}

function edgesOf(fixture: Fixture): Map<string, PanelEdge> {
  return new Map(fixture.foam.panels.flatMap((p) => p.loops.flat()).map((e) => [e.id, e]));
}

/** Places of a seam's notches on one side, from the common start, measured. */
function placesOn(
  seams: Seams,
  edges: Map<string, PanelEdge>,
  notches: readonly NotchMark[],
  edge: string,
): number[] {
  const points = edges.get(edge)!.points;
  return notches
    .filter((n) => n.edge === edge)
    .map((n) => {
      const seam = seams.seams.find((s) => s.id === n.seam)!;
      const along = measureAlong(points, n.at);
      const fromEnd = seam.b.edge === edge && seam.direction === 'opposed';
      return fromEnd ? polylineLength(points) - along : along;
    })
    .sort((a, b) => a - b);
}

const allNotches = (marks: MarkedPanels) => marks.panels.flatMap((p) => p.notches);

/** Places along the whole run, as a maker sees them on side a, with the run's length there. */
function runPattern(
  fixture: Fixture,
  marks: MarkedPanels,
  run: string,
): { places: number[]; length: number } {
  const edges = edgesOf(fixture);
  const notches = allNotches(marks);
  let start = 0;
  const places: number[] = [];
  for (const id of fixture.seams.runs.find((r) => r.id === run)!.seams) {
    const seam = fixture.seams.seams.find((s) => s.id === id)!;
    for (const s of placesOn(fixture.seams, edges, notches, seam.a.edge)) places.push(start + s);
    start += polylineLength(edges.get(seam.a.edge)!.points);
  }
  return { places, length: start };
}

const agree = (a: readonly number[], b: readonly number[], within: number) =>
  a.length === b.length && a.every((s, i) => Math.abs(s - b[i]!) < within);
const mirrored = (p: { places: number[]; length: number }) => p.places.map((s) => p.length - s).reverse();

describe('notches', () => {
  it('has fixtures with notches', () => {
    for (const { fixture, marks } of marked)
      expect(allNotches(marks).length, fixture.name).toBeGreaterThan(2);
  });

  it('lie at equal arc length on both edges of every seam', () => {
    let compared = 0;
    for (const { fixture, marks } of marked) {
      const edges = edgesOf(fixture);
      for (const seam of fixture.seams.seams) {
        const a = placesOn(fixture.seams, edges, allNotches(marks), seam.a.edge);
        const b = placesOn(fixture.seams, edges, allNotches(marks), seam.b.edge);
        expect(a.length).toBe(b.length);
        a.forEach((s, i) => {
          expect(Math.abs(s - b[i]!)).toBeLessThan(0.01);
          compared++;
        });
      }
      for (const n of allNotches(marks)) expect(Number.isFinite(n.along)).toBe(true);
    }
    expect(compared).toBeGreaterThan(100);
  });

  it('say the distance that they lie at', () => {
    for (const { fixture, marks } of marked) {
      const edges = edgesOf(fixture);
      for (const n of allNotches(marks)) {
        const measured = placesOn(fixture.seams, edges, [n], n.edge)[0]!;
        expect(Math.abs(measured - n.along)).toBeLessThan(0.01);
      }
    }
  });

  it('are never symmetric about the middle of their run', () => {
    let runs = 0;
    for (const { fixture, marks } of marked) {
      for (const run of fixture.seams.runs) {
        const pattern = runPattern(fixture, marks, run.id);
        if (pattern.places.length === 0) continue;
        runs++;
        expect(agree(pattern.places, mirrored(pattern), 1.9), `${fixture.name} ${run.id}`).toBe(false);
      }
    }
    expect(runs).toBeGreaterThan(40);
  });

  it('tell runs that follow each other on a panel apart, either way round', () => {
    let compared = 0;
    for (const { fixture, marks } of marked) {
      const runOf = new Map(fixture.seams.runs.flatMap((r) => r.seams.map((s) => [s, r.id] as const)));
      for (const panel of fixture.foam.panels) {
        for (const loop of panel.loops) {
          const runs = loop.flatMap((e) => (e.seam === null ? [] : [runOf.get(e.seam)!]));
          const sides = runs.filter((r, i) => r !== runs[(i + runs.length - 1) % runs.length]);
          for (const [i, run] of sides.entries()) {
            const next = sides[(i + 1) % sides.length]!;
            if (next === run) continue;
            const [p, q] = [runPattern(fixture, marks, run), runPattern(fixture, marks, next)];
            if (p.places.length === 0 || q.places.length === 0) continue;
            compared++;
            expect(agree(p.places, q.places, 1.9), `${fixture.name} ${run} ${next}`).toBe(false);
            expect(agree(p.places, mirrored(q), 1.9), `${fixture.name} ${run} ${next} turned`).toBe(false);
          }
        }
      }
      expect(marks.issues.filter((i) => i.code === 'notches-look-alike')).toEqual([]);
    }
    expect(compared).toBeGreaterThan(40);
  });

  it('point into the material, square on the edge, and stay on the panel', () => {
    for (const { fixture, marks } of marked) {
      for (const { panel, notches } of marks.panels) {
        const edges = new Map(panel.loops.flat().map((e) => [e.id, e]));
        const ring = panel.outlines.traced[0]!;
        for (const n of notches) {
          const length = distance(n.at, n.to);
          expect(length).toBeGreaterThan(0.3);
          expect(length).toBeLessThanOrEqual(5);
          expect(inRing(n.to, ring), `${fixture.name} ${n.edge}`).toBe(true);
          const points = edges.get(n.edge)!.points;
          const i = points.findIndex((p, k) => {
            const q = points[k + 1];
            return q !== undefined && distance(p, n.at) + distance(n.at, q) < distance(p, q) + 1e-9;
          });
          const along = { x: points[i + 1]!.x - points[i]!.x, y: points[i + 1]!.y - points[i]!.y };
          const tick = { x: n.to.x - n.at.x, y: n.to.y - n.at.y };
          const sine = (along.x * tick.x + along.y * tick.y) / (Math.hypot(along.x, along.y) * length);
          expect(Math.abs(sine)).toBeLessThan(1e-6);
        }
      }
    }
  });

  it('keep clear of the corners of their edge', () => {
    for (const { fixture, marks } of marked) {
      const edges = edgesOf(fixture);
      for (const n of allNotches(marks)) {
        const length = polylineLength(edges.get(n.edge)!.points);
        expect(Math.min(n.along, length - n.along)).toBeGreaterThan(1.4);
      }
    }
  });
});
