/**
 * Step Pages: the panels as laid out, under the pages that will be printed: the printable area of each page, the strips
 * that neighbouring pages share, the marks they share, and each page's name.
 */
import { type Box, boxOf, joinBoxes, type Point } from '../../../src/math';
import {
  isMapPage,
  type LineKind,
  type MarkedPanel,
  type MarkedPanels,
  type Page,
  type PagePlan,
  type Placement,
  type Placing,
  placeLettering,
  placePoints,
} from '../../../src/model';
import { laidScene, letteringFrom } from './laidScene';
import type { BenchLookName } from './looks';
import { emptyScene, type Label, type Pickable, type Scene } from './scene';
import { heartOf, openLine, ring, roomOf } from './shapes';
import { StrokeBook } from './strokeBook';

const lookOf: Readonly<Record<LineKind, BenchLookName>> = {
  cut: 'outline',
  // What marks an open edge are short ticks across it; the edge itself is part of the cut outline.
  border: 'borderTick',
  mountain: 'mountain',
  valley: 'valley',
  softBend: 'softBend',
  scored: 'scored',
  placement: 'placement',
  notch: 'notch',
  lettering: 'leader',
  leader: 'leader',
  registration: 'registration',
  frame: 'frame',
};

export function pageScene(plan: PagePlan | null, marked: MarkedPanels | null): Scene {
  if (!plan) return { ...emptyScene('layout') };
  const book = new StrokeBook();
  const labels: Label[] = [];
  const pickables: Pickable[] = [];
  const fills: (readonly Point[])[] = [];
  const letters: (readonly Point[])[] = [];
  const byId = new Map((marked?.panels ?? []).map((p) => [p.panel.id, p]));
  let bounds: Box | null = null;
  const include = (box: Box) => {
    bounds = bounds ? joinBoxes(bounds, box) : box;
  };

  for (const placement of plan.placements) {
    const panel = byId.get(placement.panel);
    if (!panel) continue;
    addPanel(panel, placement, book, fills, letters, pickables);
    const outline = panel.panel.outlines.traced[0];
    if (!outline) continue;
    const placed = placePoints(outline, placement);
    include(boxOf(placed));
    labels.push({
      text: panel.panel.name,
      at: heartOf(placed),
      off: null,
      tone: 'ink',
      size: 'normal',
      height: 0,
      room: roomOf(placed),
      until: letteringFrom,
      rank: 5,
      boxed: false,
    });
  }

  // The map page has no place in the layout.
  const pages = plan.pages.filter((page) => !isMapPage(page));
  const sheets: (readonly Point[])[] = [];
  const shared: (readonly Point[])[] = [];
  for (const page of pages) {
    const box = printedBox(page, plan);
    include(box);
    sheets.push(corners(box));
    book.add('frame', ring(corners(box)));
    for (const strip of sharedStrips(page, pages, plan)) shared.push(corners(strip));
    for (const stroke of page.strokes) {
      if (stroke.kind !== 'registration') continue;
      const points = stroke.points.map((p) => onLayout(p, page, plan));
      book.add('registration', { points, closed: stroke.closed });
    }
    labels.push({
      text: page.name,
      at: { x: box.minX, y: box.maxY },
      // Into the page, away from the corner.
      off: { x: Math.SQRT1_2, y: -Math.SQRT1_2 },
      tone: 'accent',
      size: 'normal',
      height: 0,
      room: box.maxX - box.minX,
      rank: 10,
      boxed: true,
    });
  }
  const ground = [
    { tone: 'page' as const, rings: sheets },
    { tone: 'overlap' as const, rings: shared },
  ];
  return laidScene({ space: 'layout', ground, fills, letters, book, labels, pickables, bounds });
}

function addPanel(
  marked: MarkedPanel,
  placement: Placement,
  book: StrokeBook,
  fills: (readonly Point[])[],
  letters: (readonly Point[])[],
  pickables: Pickable[],
): void {
  const { panel } = marked;
  const piece = panel.id;
  const place = placer(placement);
  addMarked(marked, placement, book, fills, letters);
  for (const edge of panel.loops.flat()) {
    if (edge.points.length > 1) {
      pickables.push({ kind: 'edge', id: edge.id, piece, points: place(edge.points), closed: false });
    }
  }
  for (const fold of panel.folds) {
    pickables.push({ kind: 'fold', id: fold.id, piece, points: place(fold.points), closed: false });
  }
  const outline = panel.outlines.traced[0];
  if (outline) pickables.push({ kind: 'piece', id: piece, piece, points: place(outline), closed: true });
}

const placer = (placing: Placing) => (points: readonly Point[]) => {
  const placed = placePoints(points, placing);
  // A mirrored ring runs the other way; turned round, holes still run against their outline.
  return placing.mirrored ? placed.reverse() : placed;
};

/** A panel with all that is printed on it, where a placing puts it. */
export function addMarked(
  marked: MarkedPanel,
  placing: Placing,
  book: StrokeBook,
  fills: (readonly Point[])[],
  letters: (readonly Point[])[],
): void {
  const place = placer(placing);
  fills.push(...marked.panel.outlines.traced.map(place));
  for (const line of marked.lines) {
    book.add(lookOf[line.kind], { points: place(line.points), closed: line.closed });
  }
  for (const notch of marked.notches) book.add('notch', openLine(place([notch.at, notch.to])));
  for (const lettering of marked.lettering) letters.push(...placeLettering(lettering, placing).rings);
}

/** The frame of a page, page space: inside it the page shows its part of the layout. */
const frameOf = (plan: PagePlan): Box =>
  plan.printed ?? {
    minX: plan.margin,
    minY: plan.margin,
    maxX: plan.width - plan.margin,
    maxY: plan.height - plan.margin,
  };

/** Page space to layout space: the frame's lower left corner is the page's origin; a printer's correction is undone. */
function onLayout(p: Point, page: Page, plan: PagePlan): Point {
  const frame = frameOf(plan);
  return {
    x: page.origin.x + (p.x - frame.minX) / plan.correction.x,
    y: page.origin.y + (p.y - frame.minY) / plan.correction.y,
  };
}

/** The part of the layout that a page prints. */
function printedBox(page: Page, plan: PagePlan): Box {
  const frame = frameOf(plan);
  const upper = onLayout({ x: frame.maxX, y: frame.maxY }, page, plan);
  return { minX: page.origin.x, minY: page.origin.y, maxX: upper.x, maxY: upper.y };
}

/** Strips that a page shares with its right and upper neighbours. */
function sharedStrips(page: Page, pages: readonly Page[], plan: PagePlan): Box[] {
  const own = printedBox(page, plan);
  return [page.neighbours.right, page.neighbours.above].flatMap((name) => {
    const other = pages.find((p) => p.name === name);
    if (!other) return [];
    const box = printedBox(other, plan);
    const strip: Box = {
      minX: Math.max(own.minX, box.minX),
      minY: Math.max(own.minY, box.minY),
      maxX: Math.min(own.maxX, box.maxX),
      maxY: Math.min(own.maxY, box.maxY),
    };
    return strip.maxX > strip.minX && strip.maxY > strip.minY ? [strip] : [];
  });
}

const corners = (b: Box): Point[] => [
  { x: b.minX, y: b.minY },
  { x: b.maxX, y: b.minY },
  { x: b.maxX, y: b.maxY },
  { x: b.minX, y: b.maxY },
];
