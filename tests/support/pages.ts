import { unwatched } from '../../src/base';
import { layPages, type MapContext } from '../../src/layout';
import { markPanels } from '../../src/marks';
import type { Box, Point } from '../../src/math';
import {
  defaultDecisions,
  type MarkedPanels,
  type Page,
  type PageDecisions,
  type PagePlan,
} from '../../src/model';
import { testFont } from './lettering';
import type { Fixture } from './panels';

export const plainContext: MapContext = {
  title: 'Gannet helm',
  figures: [
    { label: 'Scale', value: '96.4 %' },
    { label: 'Foam', value: '5 mm, the paper stands for the outside' },
  ],
  cautions: ['The finished shell is costume.'],
  tracedFace: 'outside',
  lengthUnit: 'mm',
};

export const markFixture = (fixture: Fixture): MarkedPanels =>
  markPanels(fixture.foam, fixture.seams, defaultDecisions.marks, testFont());

/** Lays out marked panels with the default settings but for those given. */
export function lay(
  marked: MarkedPanels,
  pages: Partial<PageDecisions> = {},
  context: Partial<MapContext> = {},
): Promise<PagePlan> {
  return layPages(
    marked,
    { ...defaultDecisions.pages, ...pages },
    testFont(),
    { ...plainContext, ...context },
    unwatched,
  );
}

/** Pages that show panels. */
export const panelPages = (plan: PagePlan): Page[] => plan.pages.filter((p) => !p.name.startsWith('map'));

/** What a page shows, layout space. */
export function tileOf(plan: PagePlan, page: Page): Box {
  const frame = plan.printed!;
  return {
    minX: page.origin.x,
    minY: page.origin.y,
    maxX: page.origin.x + (frame.maxX - frame.minX) / plan.correction.x,
    maxY: page.origin.y + (frame.maxY - frame.minY) / plan.correction.y,
  };
}

/** A point of page space in layout space. */
export function toLayout(plan: PagePlan, page: Page, p: Point): Point {
  const frame = plan.printed!;
  return {
    x: page.origin.x + (p.x - frame.minX) / plan.correction.x,
    y: page.origin.y + (p.y - frame.minY) / plan.correction.y,
  };
}

/** Kinds of stroke that come from panels. */
export const panelKinds: ReadonlySet<string> = new Set([
  'cut',
  'border',
  'mountain',
  'valley',
  'softBend',
  'scored',
  'notch',
  'leader',
]);

/** Part of a segment inside a box that is closed at its lower and left side, open at the others. */
export function lengthInside(a: Point, b: Point, box: Box): number {
  let t0 = 0;
  let t1 = 1;
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  for (const [d, low, high, from] of [
    [dx, box.minX, box.maxX, a.x],
    [dy, box.minY, box.maxY, a.y],
  ] as const) {
    if (d === 0) {
      if (from < low || from >= high) return 0;
      continue;
    }
    t0 = Math.max(t0, Math.min((low - from) / d, (high - from) / d));
    t1 = Math.min(t1, Math.max((low - from) / d, (high - from) / d));
  }
  return Math.max(0, t1 - t0) * Math.hypot(dx, dy);
}
