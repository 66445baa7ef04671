/**
 * Step Sheets: the sheets of foam side by side, with the panels as they lie on them. What collides is hatched and says
 * so; what is locked says so as well.
 */
import { type Box, boxOf, joinBoxes, type Point } from '../../../src/math';
import {
  type MarkedPanels,
  placementKey,
  placePoints,
  type Sheet,
  type SheetFault,
  type SheetPlacement,
  type SheetPlan,
  sheetPlacing,
} from '../../../src/model';
import { laidScene, letteringFrom } from './laidScene';
import { addMarked } from './pageScene';
import type { Label, Pickable, Scene } from './scene';
import { hatchOf, heartOf, ring, roomOf } from './shapes';
import { StrokeBook } from './strokeBook';

/** Between sheets on the bench, mm. */
const apart = 60;
const hatch = { apart: 5, angle: Math.PI / 4 } as const;

/** What is wrong with a panel, in words. */
export const faultWords: Readonly<Record<SheetFault['kind'], string>> = {
  overlap: 'overlaps',
  gap: 'too near',
  outside: 'off the sheet',
  margin: 'too near the rim',
  missing: 'missing',
  twice: 'there twice',
  turn: 'turn not allowed',
  mirror: 'turned over',
  sheet: 'no such sheet',
};

/** Where each sheet's lower-left corner is on the bench: rows that fill a square, the first sheet top left. */
export function sheetPlaces(sheets: readonly Pick<Sheet, 'width' | 'height'>[]): Point[] {
  const perRow = Math.ceil(Math.sqrt(sheets.length));
  const places: Point[] = [];
  let y = 0;
  for (let from = 0; from < sheets.length; from += perRow) {
    const row = sheets.slice(from, from + perRow);
    y -= Math.max(...row.map((s) => s.height));
    let x = 0;
    for (const sheet of row) {
      places.push({ x, y });
      x += sheet.width + apart;
    }
    y -= apart;
  }
  return places;
}

export const sheetOutlineOf = ({ outline, width, height }: Sheet): readonly Point[] =>
  outline ?? [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: height },
    { x: 0, y: height },
  ];

/** @param length writes lengths in the person's unit */
export function sheetScene(
  plan: SheetPlan,
  marked: MarkedPanels | null,
  length: (mm: number) => string,
): Scene {
  const book = new StrokeBook();
  const labels: Label[] = [];
  const pickables: Pickable[] = [];
  const foam: (readonly Point[])[] = [];
  const fills: (readonly Point[])[] = [];
  const letters: (readonly Point[])[] = [];
  const names = new Map<string, string>();
  const byId = new Map((marked?.panels ?? []).map((p) => [p.panel.id, p]));
  const faults = faultsByKey(plan.faults);
  let bounds: Box | null = null;
  const places = sheetPlaces(plan.sheets);
  plan.sheets.forEach((sheet, k) => {
    const corner = places[k]!;
    const at = (points: readonly Point[]) => points.map((p) => ({ x: p.x + corner.x, y: p.y + corner.y }));
    const outline = at(sheetOutlineOf(sheet));
    foam.push(outline);
    book.add('frame', ring(outline));
    bounds = bounds ? joinBoxes(bounds, boxOf(outline)) : boxOf(outline);
    labels.push({
      text: `${sheet.name}, ${length(sheet.thickness)}`,
      at: { x: corner.x, y: corner.y + sheet.height },
      off: { x: Math.SQRT1_2, y: Math.SQRT1_2 },
      tone: 'accent',
      size: 'normal',
      height: 0,
      room: sheet.width,
      rank: 10,
      boxed: true,
    });
    for (const placement of sheet.placements) {
      const panel = byId.get(placement.panel);
      if (!panel) continue;
      const placing = sheetPlacing({ ...placement, x: placement.x + corner.x, y: placement.y + corner.y });
      addMarked(panel, placing, book, fills, letters);
      const outer = panel.panel.outlines.traced[0];
      if (!outer) continue;
      const placed = placePoints(outer, placing);
      const id = placementKey(placement.laid ?? placement);
      pickables.push({ kind: 'piece', id, piece: id, points: placed, closed: true });
      const wrong = faults.get(id);
      if (wrong) {
        book.add('unread', ...hatchOf(placed, hatch.apart, hatch.angle), ring(placed));
      }
      const copy = copyWords(placement, plan);
      const said = [panel.panel.name + copy, ...(placement.locked ? ['locked'] : []), ...(wrong ?? [])];
      names.set(id, `Panel ${said.join(', ')}, ${sheet.name}`);
      labels.push({
        text: said.join(' · '),
        at: heartOf(placed),
        off: null,
        tone: wrong ? 'look' : 'ink',
        size: 'normal',
        height: 0,
        room: wrong ? 0 : roomOf(placed),
        ...(wrong || placement.locked ? {} : { until: letteringFrom }),
        rank: wrong ? 9 : 5,
        boxed: wrong !== undefined,
      });
    }
  });
  return {
    ...laidScene({
      space: 'sheets',
      ground: [{ tone: 'page', rings: foam }],
      ...{ fills, letters, book, labels, pickables, bounds },
    }),
    selectable: ['piece'],
    names,
    movable: true,
  };
}

function faultsByKey(faults: readonly SheetFault[]): ReadonlyMap<string, readonly string[]> {
  const words = new Map<string, Set<string>>();
  for (const { kind, at } of faults) {
    for (const key of at) {
      const set = words.get(key) ?? new Set<string>();
      set.add(faultWords[kind]);
      words.set(key, set);
    }
  }
  return new Map([...words].map(([key, set]) => [key, [...set]]));
}

/** " (2)" for the second copy of a panel, nothing where there is one only. */
function copyWords(placement: SheetPlacement, plan: SheetPlan): string {
  const copies = plan.sheets.reduce(
    (n, s) => n + s.placements.filter((p) => p.panel === placement.panel).length,
    0,
  );
  return copies > 1 ? ` (${placement.copy + 1})` : '';
}
