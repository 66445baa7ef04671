/**
 * Self-check of the tiling: what is on the pages, put back together, against the panels as placed. Works on the finished
 * plan alone, by sampling, and knows nothing of how the pages were cut.
 */
import Flatbush from 'flatbush';
import { GirthwiseError } from '../base';
import { boxOf, distance, distanceToSegment, lerp, type Point } from '../math';
import type { LineKind, MarkedPanels, PagePlan } from '../model';
import type { Mm } from '../units';
import { type PrintedLine, printPanel } from './printed';
import { coincide } from './tolerance';

export interface TileCoverage {
  /** Length of all lines of the panels as placed. */
  readonly length: Mm;
  /** Length of them that no page shows. */
  readonly missing: Mm;
  /** Length of panel lines on pages that lie on no line of a panel as placed. */
  readonly stray: Mm;
}

/** Kinds that only panels have; frames and registration marks belong to the pages. */
const panelKinds: readonly LineKind[] = [
  'cut',
  'border',
  'mountain',
  'valley',
  'softBend',
  'scored',
  'placement',
  'notch',
  'leader',
];
const sampleStep: Mm = 0.5;

/**
 * Compares a plan with the panels that it was made from.
 * @throws GirthwiseError `plan-mismatch` when the plan names a panel that is not given.
 */
export function tileCoverage(plan: PagePlan, marked: MarkedPanels): TileCoverage {
  const byId = new Map(marked.panels.map((p) => [p.panel.id, p]));
  const placed = plan.placements.flatMap((placement) => {
    const panel = byId.get(placement.panel);
    if (!panel)
      throw new GirthwiseError('plan-mismatch', `The plan places an unknown panel: ${placement.panel}`);
    return printPanel(panel, placement).lines;
  });
  const shown = plan.pages
    .filter((page) => page.panels.length > 0)
    .flatMap((page) =>
      page.strokes.map((stroke): PrintedLine => {
        const frame = plan.printed ?? { minX: plan.margin, minY: plan.margin };
        const back = (p: Point): Point => ({
          x: page.origin.x + (p.x - frame.minX) / plan.correction.x,
          y: page.origin.y + (p.y - frame.minY) / plan.correction.y,
        });
        return { kind: stroke.kind, points: stroke.points.map(back), closed: stroke.closed };
      }),
    );
  let length = 0;
  let missing = 0;
  let stray = 0;
  for (const kind of panelKinds) {
    const wanted = segmentsOf(placed.filter((l) => l.kind === kind));
    const found = segmentsOf(shown.filter((l) => l.kind === kind));
    length += wanted.reduce((sum, s) => sum + distance(s.a, s.b), 0);
    missing += lengthOff(wanted, found);
    stray += lengthOff(found, wanted);
  }
  return { length, missing, stray };
}

interface Segment {
  readonly a: Point;
  readonly b: Point;
}

function segmentsOf(lines: readonly PrintedLine[]): Segment[] {
  return lines.flatMap((line) => {
    const points = line.closed && line.points[0] ? [...line.points, line.points[0]] : line.points;
    return points.slice(1).map((b, i) => ({ a: points[i]!, b }));
  });
}

/** Length of `from` further than the tolerance from every segment of `to`. */
function lengthOff(from: readonly Segment[], to: readonly Segment[]): Mm {
  if (from.length === 0) return 0;
  if (to.length === 0) return from.reduce((sum, s) => sum + distance(s.a, s.b), 0);
  const index = new Flatbush(to.length);
  for (const { a, b } of to) {
    const box = boxOf([a, b]);
    index.add(box.minX, box.minY, box.maxX, box.maxY);
  }
  index.finish();
  let off = 0;
  for (const { a, b } of from) {
    const length = distance(a, b);
    const samples = Math.max(1, Math.ceil(length / sampleStep));
    for (let i = 0; i < samples; i++) {
      const p = lerp(a, b, (i + 0.5) / samples);
      const near = index.search(p.x - coincide, p.y - coincide, p.x + coincide, p.y + coincide);
      if (!near.some((n) => distanceToSegment(p, to[n]!.a, to[n]!.b) <= coincide)) off += length / samples;
    }
  }
  return off;
}
