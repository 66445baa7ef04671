/**
 * Sheets of foam on pages at true scale, tiled like any layout, with one overview of all sheets before them. A page
 * without ink of a panel is left out; the sheet's rim is drawn where it falls on a page.
 */
import { fail, type Outcome, succeed, type Work } from '../base';
import { boxOf, type Point } from '../math';
import {
  type Lettering,
  type LetterShapes,
  type MarkedPanels,
  type Page,
  type PageDecisions,
  type PagePlan,
  type PageStroke,
  type Sheet,
  sheetPlacing,
} from '../model';
import { formatLength, type Mm } from '../units';
import { writeAt } from './flow';
import { drawFooter } from './footer';
import { type Grid, stepX, stepY } from './grid';
import { draftsOfGrid, sizesOf } from './layPages';
import { type PageFormat, pageFormats } from './pageFormat';
import { drawPage, type PageDraft } from './pageInk';
import { type PrintedPanel, printPanel } from './printed';
import { pagesOfGrid } from './tiles';

export interface SheetWords {
  readonly title: string;
  readonly lengthUnit: 'mm' | 'in';
}

interface PrintedSheet {
  readonly sheet: Sheet;
  readonly rim: readonly Point[];
  readonly panels: readonly PrintedPanel[];
}

/**
 * @param marked every panel that lies on a sheet is among them
 * @returns the pages of all sheets; fails when the settings leave no usable page. @throws Cancelled through `work`.
 */
export async function laySheets(
  sheets: readonly Sheet[],
  marked: MarkedPanels,
  pages: PageDecisions,
  font: LetterShapes,
  words: SheetWords,
  work: Work,
): Promise<Outcome<PagePlan>> {
  const formats = pageFormats(pages, words.lengthUnit);
  if (!formats.ok) return fail(...formats.issues);
  const printed = sheets.map((sheet) => printSheet(sheet, marked));
  // The way round that takes fewer pages in all.
  const [best] = formats.value
    .map((format) => ({ format, drafts: printed.map((sheet, k) => draftsOf(sheet, k, format)) }))
    .sort((a, b) => a.drafts.flat().length - b.drafts.flat().length);
  const { format, drafts } = best!;
  const count = 1 + drafts.flat().length;
  const done: Page[] = [overview(printed, drafts, format, font, words, count)];
  for (const [k, { rim, panels }] of printed.entries()) {
    for (const draft of drafts[k]!) {
      await work.step(done.length, count, 'Drawing pages of sheets');
      const footer = { title: `${words.title}, ${sheets[k]!.name}`, number: done.length + 1, count };
      const page = drawPage(draft, [rimOf(rim), ...panels], format, font, footer);
      done.push({
        ...page,
        registration: page.registration.map((r) => ({ ...r, id: `${k + 1}:${r.id}` })),
        panels: page.panels.filter((id) => id !== ''),
      });
    }
  }
  return succeed({
    ...sizesOf(format),
    pages: done,
    placements: [],
    extent: {
      width: Math.max(...sheets.map((s) => s.width)),
      height: Math.max(...sheets.map((s) => s.height)),
    },
    issues: [],
  });
}

function printSheet(sheet: Sheet, { panels }: MarkedPanels): PrintedSheet {
  const byId = new Map(panels.map((p) => [p.panel.id, p]));
  const { width, height } = sheet;
  const rim = sheet.outline ?? [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: height },
    { x: 0, y: height },
  ];
  return {
    sheet,
    rim,
    panels: sheet.placements.flatMap((p) => {
      const found = byId.get(p.panel);
      return found ? [printPanel(found, sheetPlacing(p))] : [];
    }),
  };
}

/** The rim of the sheet as something to print; it belongs to no panel. */
const rimOf = (rim: readonly Point[]): PrintedPanel => ({
  panel: '',
  name: '',
  lines: [{ kind: 'frame', points: rim, closed: true }],
  lettering: [],
  rings: [],
  box: boxOf(rim),
});

/** "2-B1": column B, row 1 of the second sheet. */
function draftsOf({ sheet, panels }: PrintedSheet, k: number, format: PageFormat): PageDraft[] {
  const grid: Grid = {
    corner: { x: 0, y: sheet.height },
    columns: 1,
    rows: 1,
    tile: format.tile,
    overlap: format.overlap,
  };
  const along = (length: Mm, step: Mm) => Math.max(1, Math.ceil((length - format.overlap) / step));
  const tiled = {
    ...grid,
    columns: along(sheet.width, stepX(grid)),
    rows: along(sheet.height, stepY(grid)),
  };
  const named = (name: string) => (name === '' ? '' : `${k + 1}-${name}`);
  return draftsOfGrid(tiled, pagesOfGrid(tiled, panels)).map((draft) => ({
    ...draft,
    name: named(draft.name),
    neighbours: {
      left: named(draft.neighbours.left),
      right: named(draft.neighbours.right),
      above: named(draft.neighbours.above),
      below: named(draft.neighbours.below),
    },
  }));
}

const titleHeight: Mm = 5;
const wordHeight: Mm = 2.2;
const howTo =
  'Dashed: the pages that follow, by name. Join those of a sheet by their marks and lay them on the foam.';
/** Between pictures of sheets. */
const pictureGap: Mm = 8;

/** All sheets small on one page, with their sizes, the pages that show them, and the names of the panels where there is room. */
function overview(
  sheets: readonly PrintedSheet[],
  drafts: readonly (readonly PageDraft[])[],
  format: PageFormat,
  font: LetterShapes,
  { title, lengthUnit }: SheetWords,
  count: number,
): Page {
  const { printed } = format;
  const strokes: PageStroke[] = [];
  const lettering: Lettering[] = [
    writeAt(font, `${title}: sheets of foam`, printed.minX, printed.maxY - titleHeight, titleHeight),
  ];
  lettering.push(writeAt(font, howTo, printed.minX, printed.maxY - titleHeight - 2 - wordHeight, wordHeight));
  const head = titleHeight + wordHeight + 6;
  const room = { width: printed.maxX - printed.minX, height: printed.maxY - printed.minY - head };
  const { columns, scale, cell } = pictureGrid(sheets, room);
  for (const [k, { sheet, rim, panels }] of sheets.entries()) {
    const left = printed.minX + (k % columns) * cell.width;
    const top = printed.maxY - head - Math.floor(k / columns) * cell.height;
    const size = (mm: Mm, bare: boolean) =>
      formatLength(mm, lengthUnit, { bare, decimals: lengthUnit === 'mm' ? 0 : 1 });
    const said = `${sheet.name}: ${size(sheet.width, true)} × ${size(sheet.height, false)}, ${formatLength(sheet.thickness, lengthUnit)} foam`;
    lettering.push(writeAt(font, said, left, top - wordHeight, wordHeight));
    const bottom = top - wordHeight - 2 - sheet.height * scale;
    const small = (points: readonly Point[]) =>
      points.map((p) => ({ x: left + p.x * scale, y: bottom + p.y * scale }));
    strokes.push({ kind: 'border', points: small(rim), closed: true });
    for (const draft of drafts[k]!) {
      const { minX, maxX, minY, maxY } = draft.box;
      const corners = small([
        { x: minX, y: minY },
        { x: maxX, y: minY },
        { x: maxX, y: maxY },
        { x: minX, y: maxY },
      ]);
      strokes.push({ kind: 'placement', points: corners, closed: true });
      const at = corners[3]!;
      lettering.push(writeAt(font, draft.name, at.x + 1, at.y - wordHeight - 1, wordHeight));
    }
    for (const panel of panels) {
      for (const ring of panel.rings) strokes.push({ kind: 'leader', points: small(ring), closed: true });
      const box = boxOf(small(panel.rings[0] ?? []));
      const wide = font.widthOf(panel.name, wordHeight);
      if (wide < box.maxX - box.minX && wordHeight < box.maxY - box.minY)
        lettering.push(
          writeAt(
            font,
            panel.name,
            (box.minX + box.maxX - wide) / 2,
            (box.minY + box.maxY - wordHeight) / 2,
            wordHeight,
          ),
        );
    }
  }
  const footer = drawFooter(format, '', { title, number: 1, count }, font, false);
  return {
    name: 'map',
    row: 0,
    column: 0,
    origin: { x: 0, y: 0 },
    neighbours: { left: '', right: '', above: '', below: '' },
    strokes: [...strokes, ...footer.strokes],
    lettering: [...lettering, ...footer.lettering],
    registration: [],
    panels: [],
  };
}

/** As many columns as make the pictures largest. */
function pictureGrid(
  sheets: readonly PrintedSheet[],
  room: { readonly width: Mm; readonly height: Mm },
): {
  readonly columns: number;
  readonly scale: number;
  readonly cell: { readonly width: Mm; readonly height: Mm };
} {
  const width = Math.max(...sheets.map((s) => s.sheet.width));
  const height = Math.max(...sheets.map((s) => s.sheet.height));
  const words = wordHeight + 2;
  const choices = sheets.map((_, i) => {
    const columns = i + 1;
    const rows = Math.ceil(sheets.length / columns);
    const cell = { width: room.width / columns, height: room.height / rows };
    const scale = Math.min((cell.width - pictureGap) / width, (cell.height - pictureGap - words) / height, 1);
    return { columns, scale, cell };
  });
  return choices.reduce((best, c) => (c.scale > best.scale ? c : best));
}
