/**
 * Lays marked panels on pages: placed close together, cut into overlapping pages at true scale, with everything on each
 * page that a maker needs to join them. See README for the order of steps.
 */
import type { Issue, Work } from '../base';
import { type Box, joinBoxes, type Point } from '../math';
import {
  type LetterShapes,
  type MarkedPanels,
  type Page,
  type PageDecisions,
  type PagePlan,
  type Placement,
  type Placing,
  seenFromBehind,
} from '../model';
import { formatLength, paperSizes } from '../units';
import { type Arrangement, arrange } from './arrange';
import { type Cell, type Grid, pageName, tileBox } from './grid';
import type { MapContext } from './mapContext';
import { drawMap } from './mapPage';
import { type PageFormat, pageFormats } from './pageFormat';
import { drawPage, type PageDraft } from './pageInk';
import { type PrintedPanel, printPanel } from './printed';
import { type Profiled, profilePanel, profileStepFor } from './profile';
import { sharedMarks } from './registration';
import { pagesOfGrid } from './tiles';

/**
 * Lays out pages.
 * @param pages paper, margins, overlap, arrangement; `measured` corrects the print positions.
 * @param context title, figures and cautions for the map page; `tracedFace` inside mirrors every panel.
 * @returns the plan; without pages and with an error among its issues when the settings leave no usable page.
 * @throws Cancelled through `work`.
 */
export async function layPages(
  marked: MarkedPanels,
  pages: PageDecisions,
  font: LetterShapes,
  context: MapContext,
  work: Work,
): Promise<PagePlan> {
  const formats = pageFormats(pages, context.lengthUnit);
  if (!formats.ok) return emptyPlan(pages, formats.issues);
  const drawable = marked.panels.filter((p) => p.panel.outlines.traced.length > 0);
  if (drawable.length === 0) return emptyPlan(pages, []);

  const mirrored = context.tracedFace === 'inside';
  const flat: Placing = mirrored ? seenFromBehind : { ...seenFromBehind, mirrored: false };
  const unplaced = drawable.map((panel) => printPanel(panel, flat));
  const step = profileStepFor(unplaced);
  const profiles: Profiled[] = [];
  for (const [i, panel] of unplaced.entries()) {
    await work.step(i, drawable.length, 'Measuring panels');
    profiles.push(profilePanel(panel, step));
  }
  const arrangement = await arrange(profiles, formats.value, pages.arrangement, work);
  if (!arrangement) return emptyPlan(pages, [noArrangement]);

  const { format } = arrangement;
  const placements = [...arrangement.places]
    .sort((a, b) => a.panel - b.panel)
    .map((place): Placement & { index: number } => ({
      index: place.panel,
      panel: drawable[place.panel]!.panel.id,
      copy: 0,
      mirrored,
      angle: (place.turn * Math.PI) / 2,
      move: place.move,
    }));
  const printed = placements.map((p) => printPanel(drawable[p.index]!, p));
  const drafts = draftsOf(arrangement, printed);
  const layout = drafts.map((d) => d.box).reduce(joinBoxes);
  const move = { x: -layout.minX, y: -layout.minY };

  const done: Page[] = [];
  const mapSheets = pages.mapPage
    ? drawMap(
        {
          format,
          panels: printed,
          pages: drafts,
          layout,
          context,
          joined: drafts.some((d) => d.marks.length > 0),
        },
        font,
      )
    : [];
  const count = mapSheets.length + drafts.length;
  for (const [i, sheet] of mapSheets.entries()) done.push(sheet(i + 1, count));
  for (const draft of drafts) {
    await work.step(done.length, count, 'Drawing pages');
    const words = { title: context.title, number: done.length + 1, count };
    done.push(movedTo(move, drawPage(draft, printed, format, font, words)));
  }
  return {
    ...sizesOf(format),
    pages: done,
    placements: placements.map(({ index: _, ...p }) => ({
      ...p,
      move: { x: p.move.x + move.x, y: p.move.y + move.y },
    })),
    extent: { width: layout.maxX - layout.minX, height: layout.maxY - layout.minY },
    issues: issuesOf(arrangement, drawable.length, pages, context),
  };
}

/** Pages in the order of printing: rows from the top, each from the left; single pages after joined ones. */
function draftsOf({ grid, single }: Arrangement, printed: readonly PrintedPanel[]): PageDraft[] {
  const joined = grid ? draftsOfGrid(grid, pagesOfGrid(grid, panelsOn(grid, printed))) : [];
  return [
    ...joined,
    ...single.map(
      ({ grid: own, column, row }): PageDraft => ({
        name: pageName({ column, row }),
        row,
        column,
        box: tileBox(own, { column: 0, row: 0 }),
        neighbours: { left: '', right: '', above: '', below: '' },
        marks: [],
      }),
    ),
  ];
}

/** Panels that lie in the grid; in whole mode others stand on pages of their own, away from it. */
function panelsOn(grid: Grid, printed: readonly PrintedPanel[]): PrintedPanel[] {
  const whole = joinBoxes(
    tileBox(grid, { column: 0, row: 0 }),
    tileBox(grid, { column: grid.columns - 1, row: grid.rows - 1 }),
  );
  return printed.filter((p) => p.box.minX < whole.maxX && p.box.minY < whole.maxY && p.box.maxY > whole.minY);
}

export function draftsOfGrid(grid: Grid, cells: readonly Cell[]): PageDraft[] {
  const there = new Set(cells.map(pageName));
  const marks = sharedMarks(grid, cells);
  const beside = (column: number, row: number) => {
    const name = column < 0 || row < 0 ? '' : pageName({ column, row });
    return there.has(name) ? name : '';
  };
  return cells.map((cell) => ({
    name: pageName(cell),
    row: cell.row,
    column: cell.column,
    box: tileBox(grid, cell),
    neighbours: {
      left: beside(cell.column - 1, cell.row),
      right: beside(cell.column + 1, cell.row),
      above: beside(cell.column, cell.row - 1),
      below: beside(cell.column, cell.row + 1),
    },
    marks: marks.get(`${cell.column} ${cell.row}`) ?? [],
  }));
}

/** The page with its layout positions moved; page space stays. */
function movedTo(move: Point, page: Page): Page {
  const shift = (p: Point): Point => ({ x: p.x + move.x, y: p.y + move.y });
  return {
    ...page,
    origin: shift(page.origin),
    registration: page.registration.map((r) => ({ ...r, layoutAt: shift(r.layoutAt) })),
  };
}

export function sizesOf(
  format: PageFormat,
): Pick<PagePlan, 'width' | 'height' | 'margin' | 'overlap' | 'correction'> & { printed: Box } {
  const { width, height, margin, overlap, correction, printed } = format;
  return { width, height, margin, overlap, correction, printed };
}

function emptyPlan(pages: PageDecisions, issues: readonly Issue[]): PagePlan {
  const { width, height } = pages.paper === 'own' ? pages.ownSize : paperSizes[pages.paper];
  return {
    width,
    height,
    margin: pages.margin,
    overlap: pages.overlap,
    correction: { x: 1, y: 1 },
    pages: [],
    placements: [],
    extent: { width: 0, height: 0 },
    issues,
  };
}

const noArrangement: Issue = {
  code: 'panels-not-placed',
  severity: 'error',
  stage: 'layout',
  message: 'The panels could not be placed on pages.',
  remedy: 'Choose larger paper or a smaller overlap.',
  place: {},
};

function issuesOf(
  { grid, format }: Arrangement,
  panels: number,
  pages: PageDecisions,
  context: MapContext,
): Issue[] {
  if (pages.arrangement !== 'whole' || !grid || panels === 0) return [];
  const { width, height } = format.tile;
  const room = `${formatLength(width, context.lengthUnit)} × ${formatLength(height, context.lengthUnit)}`;
  return [
    {
      code: 'panels-larger-than-page',
      severity: 'note',
      stage: 'layout',
      message: `Some panels are larger than a page (${room} of it can be used) and are printed in parts.`,
      remedy: 'Join the pages by their registration marks, or choose larger paper.',
      place: {},
    },
  ];
}
