/** From panels and sheets of one thickness to a board of items and bins, and from a board back to placements. */
import { boxOf, type Point, ringArea } from '../math';
import { offsetRings, subtractRings } from '../plane';
import type { Mm } from '../units';
import { type Bin, Board, type Item } from './board';
import { posed, sheetOutline } from './check';
import { type Form, FormTable, makeForm } from './forms';
import { rimInset } from './tolerance';
import type { AllowedTurns, NestPanel, NestSheet, PlacedPanel, UsedSheet } from './types';

/** Turns of the table per kind; the table has as many as the freest panel needs. */
const stepsOf: Readonly<Record<AllowedTurns, number>> = { free: 16, quarter: 4, half: 2, fixed: 1 };

/** Bins stand this far from each other: further than anything reaches. */
const binSpacing: Mm = 1000;

export interface SheetCopy {
  readonly sheet: NestSheet;
  readonly copy: number;
}

interface Copy {
  readonly panel: NestPanel;
  readonly copy: number;
  readonly locked: boolean;
}

export interface Job {
  readonly board: Board;
  readonly sheets: readonly SheetCopy[];
  /** What each item is; undefined for the forbidden parts of offcuts. */
  readonly copies: readonly (Copy | undefined)[];
  readonly mirroredForms: ReadonlySet<number>;
  /** Lower-left corner of each sheet in the board's plane. */
  readonly corners: readonly Point[];
}

/** @param sheets in the order in which they are to be filled */
export function makeJob(
  panels: readonly NestPanel[],
  sheets: readonly SheetCopy[],
  gap: Mm,
  margin: Mm,
): Job {
  const forms: Form[] = [];
  const mirroredForms = new Set<number>();
  const items: Item[] = [];
  const copies: (Copy | undefined)[] = [];
  const fixed: { item: number; x: Mm; y: Mm; bin: number }[] = [];
  const turns = Math.max(1, ...panels.map((p) => stepsOf[p.turns]));

  const corners: Point[] = [];
  const bins: Bin[] = [];
  let at = 0;
  for (const { sheet } of sheets) {
    const box = boxOf(sheetOutline(sheet));
    const corner = { x: at - box.minX, y: -box.minY };
    corners.push(corner);
    // Half a gap belongs to every form already, less what forms are drawn in by.
    const rim = margin - gap / 2 + rimInset;
    bins.push({
      minX: box.minX + corner.x + rim,
      minY: box.minY + corner.y + rim,
      maxX: box.maxX + corner.x - rim,
      maxY: box.maxY + corner.y - rim,
    });
    at += box.maxX - box.minX + binSpacing;
  }

  const addFixed = (rings: readonly (readonly Point[])[], bin: number, copy: Copy | undefined) => {
    const form = makeForm({ outline: rings[0]!, holes: rings.slice(1) }, gap, false);
    const corner = corners[bin]!;
    fixed.push({ item: items.length, x: form.origin.x + corner.x, y: form.origin.y + corner.y, bin });
    items.push({ form: forms.length, forms: [forms.length], turns: [0], fixed: true, area: form.area });
    forms.push(form);
    copies.push(copy);
  };

  for (const panel of panels) {
    const plain = forms.length;
    forms.push(makeForm(panel, gap, false));
    const choice = [plain];
    if (panel.mayMirror) {
      mirroredForms.add(forms.length);
      choice.push(forms.length);
      forms.push(makeForm(panel, gap, true));
    }
    const step = turns / stepsOf[panel.turns];
    const allowed = Array.from({ length: stepsOf[panel.turns] }, (_, k) => k * step);
    for (let copy = 0; copy < panel.quantity; copy++) {
      const lock = panel.locked[copy];
      const bin = lock ? sheets.findIndex((s) => s.sheet.id === lock.sheet && s.copy === lock.sheetCopy) : -1;
      if (lock && bin >= 0) {
        const rings = posed([panel.outline, ...panel.holes], lock);
        addFixed(lock.mirrored ? rings.map((r) => [...r].reverse()) : rings, bin, {
          panel,
          copy,
          locked: true,
        });
      } else {
        const area = forms[plain]!.area;
        items.push({ form: plain, forms: choice, turns: allowed, fixed: false, area });
        copies.push({ panel, copy, locked: false });
      }
    }
  }

  sheets.forEach(({ sheet }, bin) => {
    if (sheet.shape.kind === 'rectangle') return;
    for (const rings of forbidden(sheet.shape.outline, margin - gap)) addFixed(rings, bin, undefined);
  });

  const board = new Board(new FormTable(forms, turns), items, bins);
  for (const { item, x, y, bin } of fixed) board.put(item, x, y, 0, items[item]!.form, bin);
  return { board, sheets, copies, mirroredForms, corners };
}

/** What of an offcut's bounding box, and a little around it, is not foam: regions, each an outline with its holes. */
function forbidden(outline: readonly Point[], rim: Mm): Point[][][] {
  const usable = offsetRings([outline], -rim, { kind: 'mitre', limit: 4 });
  const box = boxOf(outline);
  const around = Math.abs(rim) + 10;
  const frame = [
    { x: box.minX - around, y: box.minY - around },
    { x: box.maxX + around, y: box.minY - around },
    { x: box.maxX + around, y: box.maxY + around },
    { x: box.minX - around, y: box.maxY + around },
  ];
  const rings = subtractRings([frame], usable);
  const outer = rings.filter((r) => ringArea(r) > 0);
  const holes = rings.filter((r) => ringArea(r) < 0);
  return outer.map((ring) => {
    const b = boxOf(ring);
    const mine = holes.filter((h) => {
      const p = h[0]!;
      return p.x > b.minX && p.x < b.maxX && p.y > b.minY && p.y < b.maxY;
    });
    return [ring, ...mine];
  });
}

/** Where everything lies. Items in `left` are not placed. */
export function placements(job: Job, left: ReadonlySet<number>): PlacedPanel[] {
  const { board } = job;
  const placed: PlacedPanel[] = [];
  job.copies.forEach((copy, i) => {
    if (!copy || left.has(i)) return;
    const on = job.sheets[board.bin[i]!]!;
    const where = { panel: copy.panel.id, copy: copy.copy, sheet: on.sheet.id, sheetCopy: on.copy };
    if (copy.locked) {
      const lock = copy.panel.locked[copy.copy]!;
      const { x, y, turn, mirrored } = lock;
      placed.push({ ...where, x, y, turn, mirrored, locked: true });
      return;
    }
    const form = board.form[i]!;
    const t = board.turn[i]!;
    const origin = board.table.forms[form]!.origin;
    const [c, s] = [board.table.cos[t]!, board.table.sin[t]!];
    const corner = job.corners[board.bin[i]!]!;
    placed.push({
      ...where,
      x: board.x[i]! - corner.x - (c * origin.x - s * origin.y),
      y: board.y[i]! - corner.y - (s * origin.x + c * origin.y),
      turn: (2 * Math.PI * t) / board.table.turns,
      mirrored: job.mirroredForms.has(form),
      locked: false,
    });
  });
  return placed;
}

/** The sheets that carry something, with how far they are used; told from the placements alone. */
export function usedSheets(
  panels: readonly NestPanel[],
  sheets: readonly SheetCopy[],
  placed: readonly PlacedPanel[],
  margin: Mm,
): UsedSheet[] {
  const byId = new Map(panels.map((p) => [p.id, p]));
  return sheets.flatMap(({ sheet, copy }) => {
    const here = placed.filter((p) => p.sheet === sheet.id && p.sheetCopy === copy);
    if (here.length === 0) return [];
    const outline = sheetOutline(sheet);
    const box = boxOf(outline);
    let panelArea = 0;
    let reach = box.minX;
    for (const place of here) {
      const panel = byId.get(place.panel)!;
      const rings = [panel.outline, ...panel.holes];
      panelArea += rings.reduce((sum, ring) => sum + ringArea(ring), 0);
      reach = Math.max(reach, boxOf(posed([panel.outline], place)[0]!).maxX);
    }
    const usedWidth = Math.min(box.maxX, reach + margin) - box.minX;
    return [{ sheet: sheet.id, copy, area: ringArea(outline), panelArea, usedWidth }];
  });
}
