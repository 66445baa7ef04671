/**
 * Laws of tiling, on finished plans: pages cover the drawing, overlap by what is asked, show each line once when
 * overlaps are counted once, and share their registration marks.
 */
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { tileCoverage } from '../../src/layout';
import { type Box, boxOf, distance } from '../../src/math';
import { type MarkedPanels, type PageDecisions, type PagePlan, placePoints } from '../../src/model';
import { segmentsOf } from '../support/orientedBox';
import { lay, lengthInside, markFixture, panelKinds, panelPages, tileOf, toLayout } from '../support/pages';
import { gores, largePlate, randomRing, triangleStrip } from '../support/panels';

/** Each case lays out a whole set of pages; a busy machine needs its time. */
vi.setConfig({ testTimeout: 120_000 });

const subjects: { name: string; marked: MarkedPanels }[] = [
  gores(6, 8, 300, 640, 0.1),
  largePlate(),
  triangleStrip(9, 70, 0.78),
  randomRing(5),
].map((fixture) => ({ name: fixture.name, marked: markFixture(fixture) }));

const settings = fc.record({
  subject: fc.constantFrom(...subjects),
  paper: fc.constantFrom<PageDecisions['paper']>('A4', 'A3', 'Letter', 'Legal', 'Tabloid'),
  orientation: fc.constantFrom<PageDecisions['orientation']>('portrait', 'landscape', 'best'),
  margin: fc.double({ min: 0, max: 20, noNaN: true }),
  overlap: fc.double({ min: 4, max: 30, noNaN: true }),
  arrangement: fc.constantFrom<PageDecisions['arrangement']>('tiled', 'whole'),
  measured: fc.oneof(
    fc.constant(null),
    fc.record({
      x: fc.double({ min: 95, max: 105, noNaN: true }),
      y: fc.double({ min: 95, max: 105, noNaN: true }),
    }),
  ),
  tracedFace: fc.constantFrom<'outside' | 'inside'>('outside', 'inside'),
});

type Case = { subject: (typeof subjects)[number]; plan: PagePlan };

async function forAll(check: (c: Case) => void, runs = 10): Promise<void> {
  await fc.assert(
    fc.asyncProperty(settings, async ({ subject, tracedFace, ...pages }) => {
      const plan = await lay(subject.marked, { ...pages, mapPage: false }, { tracedFace });
      expect(plan.issues.filter((i) => i.severity === 'error')).toEqual([]);
      expect(panelPages(plan).length).toBeGreaterThan(0);
      check({ subject, plan });
    }),
    { numRuns: runs },
  );
}

/** Panel segments as placed, layout space. */
const placedSegments = ({ subject, plan }: Case) =>
  plan.placements.flatMap((placement) => {
    const panel = subject.marked.panels.find((p) => p.panel.id === placement.panel)!;
    return [
      ...panel.lines.flatMap((l) => segmentsOf(placePoints(l.points, placement), l.closed)),
      ...panel.notches.flatMap((n) => segmentsOf(placePoints([n.at, n.to], placement), false)),
    ];
  });

const pageSegments = (plan: PagePlan) =>
  panelPages(plan).map((page) => ({
    page,
    segments: page.strokes
      .filter((s) => panelKinds.has(s.kind))
      .flatMap((s) =>
        segmentsOf(
          s.points.map((p) => toLayout(plan, page, p)),
          s.closed,
        ),
      ),
  }));

describe('tiling', () => {
  it('shows every line of every panel, and nothing else', () =>
    forAll(({ subject, plan }) => {
      const coverage = tileCoverage(plan, subject.marked);
      expect(coverage.length).toBeGreaterThan(500);
      expect(coverage.missing).toBeLessThan(1e-6);
      expect(coverage.stray).toBeLessThan(1e-6);
    }));

  it('keeps the length of every line when overlaps are counted once', () =>
    forAll((c) => {
      const total = placedSegments(c).reduce((sum, [a, b]) => sum + distance(a, b), 0);
      // Each page counts only where no earlier page shows the same: its tile less the tiles before it.
      const pages = pageSegments(c.plan);
      let counted = 0;
      pages.forEach(({ page, segments }, i) => {
        const earlier = pages.slice(0, i).map((p) => tileOf(c.plan, p.page));
        const own = tileOf(c.plan, page);
        for (const rest of without(own, earlier))
          counted += segments.reduce((sum, [a, b]) => sum + lengthInside(a, b, rest), 0);
      });
      // Cut points are rounded in the 53 bits of positions of up to 4 m: a billionth of a millimetre each.
      expect(Math.abs(counted - total)).toBeLessThan(1e-5);
    }, 10));

  it('draws nothing outside the frame but the footer, and nothing outside the paper', () =>
    forAll(({ plan }) => {
      const frame = plan.printed!;
      for (const page of panelPages(plan)) {
        const drawn = boxOf(page.strokes.flatMap((s) => s.points));
        expect(within(drawn, frame), JSON.stringify(drawn)).toBe(true);
        const letters = boxOf(page.lettering.flatMap((l) => l.rings.flat()));
        const printable = {
          minX: plan.margin,
          minY: plan.margin,
          maxX: plan.width - plan.margin,
          maxY: plan.height - plan.margin,
        };
        expect(within(letters, printable), JSON.stringify(letters)).toBe(true);
      }
    }, 8));

  it('overlaps neighbours by exactly the setting', () => {
    let pairs = 0;
    return forAll(({ plan }) => {
      const byName = new Map(panelPages(plan).map((p) => [p.name, p]));
      for (const page of byName.values()) {
        const right = byName.get(page.neighbours.right);
        const below = byName.get(page.neighbours.below);
        const own = tileOf(plan, page);
        if (right) {
          expect(own.maxX - tileOf(plan, right).minX).toBeCloseTo(plan.overlap, 8);
          expect(right.neighbours.left).toBe(page.name);
          expect(right.origin.y).toBeCloseTo(page.origin.y, 8);
          pairs++;
        }
        if (below) {
          expect(tileOf(plan, below).maxY - own.minY).toBeCloseTo(plan.overlap, 8);
          expect(below.neighbours.above).toBe(page.name);
          pairs++;
        }
      }
    }).then(() => expect(pairs).toBeGreaterThan(0));
  });

  it('gives any two neighbours at least two marks in common, at the same place of the drawing', () =>
    forAll(({ plan }) => {
      const byName = new Map(panelPages(plan).map((p) => [p.name, p]));
      for (const page of byName.values()) {
        for (const mark of page.registration) {
          const there = toLayout(plan, page, mark.at);
          expect(distance(there, mark.layoutAt)).toBeLessThan(1e-9);
        }
        for (const name of Object.values(page.neighbours).filter((n) => n !== '')) {
          const other = byName.get(name)!;
          const shared = page.registration.filter((m) => other.registration.some((o) => o.id === m.id));
          expect(shared.length, `${page.name} and ${name}`).toBeGreaterThanOrEqual(2);
          for (const m of shared) {
            const o = other.registration.find((k) => k.id === m.id)!;
            expect(distance(m.layoutAt, o.layoutAt)).toBeLessThan(1e-9);
          }
          const far = Math.max(...shared.flatMap((m) => shared.map((o) => distance(m.layoutAt, o.layoutAt))));
          expect(far).toBeGreaterThan(100);
        }
      }
    }));

  it('keeps panels apart', () =>
    forAll((c) => {
      const boxes = c.plan.placements.map((placement) => {
        const panel = c.subject.marked.panels.find((p) => p.panel.id === placement.panel)!;
        return panel.panel.outlines.traced.flatMap((ring) => segmentsOf(placePoints(ring, placement), true));
      });
      expect(boxes.length).toBe(c.subject.marked.panels.length);
      boxes.forEach((own, i) => {
        for (const other of boxes.slice(i + 1)) {
          for (const [a] of own) {
            for (const [p, q] of other) expect(segmentDistance(a, p, q)).toBeGreaterThan(3.9);
          }
        }
      });
    }, 6));
});

const within = (inner: Box, outer: Box): boolean =>
  inner.minX >= outer.minX - 1e-9 &&
  inner.minY >= outer.minY - 1e-9 &&
  inner.maxX <= outer.maxX + 1e-9 &&
  inner.maxY <= outer.maxY + 1e-9;

/** The parts of a box that none of the others covers, as boxes. */
function without(box: ReturnType<typeof tileOf>, others: readonly ReturnType<typeof tileOf>[]) {
  let parts = [box];
  for (const o of others) {
    parts = parts.flatMap((b) => {
      if (o.minX >= b.maxX || o.maxX <= b.minX || o.minY >= b.maxY || o.maxY <= b.minY) return [b];
      const minX = Math.max(b.minX, o.minX);
      const maxX = Math.min(b.maxX, o.maxX);
      return [
        { ...b, maxX: minX },
        { ...b, minX: maxX },
        { minX, maxX, minY: b.minY, maxY: Math.max(b.minY, o.minY) },
        { minX, maxX, minY: Math.min(b.maxY, o.maxY), maxY: b.maxY },
      ].filter((r) => r.maxX > r.minX && r.maxY > r.minY);
    });
  }
  return parts;
}

function segmentDistance(
  p: { x: number; y: number },
  a: { x: number; y: number },
  b: { x: number; y: number },
) {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const t = Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy)));
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}
