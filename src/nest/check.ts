/**
 * The self-check of nesting: what is wrong with a layout, told from panels, sheets and placements alone. Nothing of the
 * search (simplified outlines, no-fit polygons) is used.
 */
import { type Box, boxOf, type Point } from '../math';
import { offsetRings } from '../plane';
import type { Mm } from '../units';
import { type Rings, regionsMeet, regionWithin, rimDistance } from './apart';
import { nestTouch } from './tolerance';
import { type NestPanel, type NestSheet, type PlacedPanel, type Pose, sameFoam } from './types';

/** One thing wrong. `by` is how much is missing, mm; infinite for an overlap or a panel outside its sheet. */
export interface NestFault {
  readonly kind: 'overlap' | 'gap' | 'outside' | 'margin' | 'missing' | 'twice' | 'turn' | 'mirror' | 'sheet';
  readonly panels: readonly string[];
  readonly by: Mm;
}

/** A panel on its sheet. */
interface Item {
  readonly name: string;
  readonly truth: Point[][];
  readonly shrunk: Point[][];
  readonly box: Box;
}

/** Where the rings of a panel lie at a pose. Mirrored rings keep their place in the list and run the other way. */
export function posed(rings: Rings, pose: Pose): Point[][] {
  const [c, s] = exactTurn(pose.turn);
  return rings.map((ring) =>
    ring.map((p) => {
      const x = pose.mirrored ? -p.x : p.x;
      return { x: c * x - s * p.y + pose.x, y: s * x + c * p.y + pose.y };
    }),
  );
}

/** Cosine and sine; exact for quarter turns. */
function exactTurn(turn: number): [number, number] {
  return [Math.round(Math.cos(turn) * 1e12) / 1e12, Math.round(Math.sin(turn) * 1e12) / 1e12];
}

export function sheetOutline(sheet: NestSheet): Point[] {
  if (sheet.shape.kind === 'offcut') return [...sheet.shape.outline];
  const { width, height } = sheet.shape;
  return [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: height },
    { x: 0, y: height },
  ];
}

/**
 * Everything that is wrong with a layout: overlaps, gaps and margins not kept (by more than a micrometre), panels
 * outside, missing, placed twice, turned or mirrored as they must not be. Empty when it can be cut.
 */
export function nestOverlap(
  panels: readonly NestPanel[],
  sheets: readonly NestSheet[],
  placed: readonly PlacedPanel[],
  left: readonly string[],
  gap: Mm,
  margin: Mm,
): NestFault[] {
  return nestCheck(panels, sheets, gap, margin)(placed, left);
}

/** The same check for many layouts of the same panels and sheets. */
export function nestCheck(
  panels: readonly NestPanel[],
  sheets: readonly NestSheet[],
  gap: Mm,
  margin: Mm,
): (placed: readonly PlacedPanel[], left: readonly string[]) => NestFault[] {
  const byId = new Map(panels.map((p) => [p.id, p]));
  const sheetById = new Map(sheets.map((s) => [s.id, s]));
  const shrunk = new Map<string, Point[][]>();
  return (placed, left) => [
    ...countFaults(panels, placed, left),
    ...placeFaults(byId, sheetById, shrunk, placed, gap, margin),
  ];
}

function placeFaults(
  byId: ReadonlyMap<string, NestPanel>,
  sheetById: ReadonlyMap<string, NestSheet>,
  shrunk: Map<string, Point[][]>,
  placed: readonly PlacedPanel[],
  gap: Mm,
  margin: Mm,
): NestFault[] {
  const faults: NestFault[] = [];
  const onSheet = new Map<string, Item[]>();
  for (const place of placed) {
    const panel = byId.get(place.panel);
    const sheet = sheetById.get(place.sheet);
    const name = `${place.panel}#${place.copy}`;
    if (!panel || !sheet || place.sheetCopy >= sheet.count || !sameFoam(sheet, panel)) {
      faults.push({ kind: 'sheet', panels: [name], by: Number.POSITIVE_INFINITY });
      continue;
    }
    if (!place.locked) {
      if (place.mirrored && !panel.mayMirror) faults.push({ kind: 'mirror', panels: [name], by: 0 });
      if (!turnAllowed(panel, place.turn)) faults.push({ kind: 'turn', panels: [name], by: 0 });
    }
    const rings = [panel.outline, ...panel.holes];
    // Shrunk by half the tolerance: what only touches does not meet.
    let small = shrunk.get(panel.id);
    if (!small) {
      small = offsetRings(rings, -nestTouch / 2, { kind: 'mitre', limit: 4 });
      shrunk.set(panel.id, small);
    }
    const truth = posed(rings, place);
    const item = { name, truth, shrunk: posed(small, place), box: boxOf(truth[0]!) };
    const rim = [sheetOutline(sheet)];
    if (!regionWithin(item.shrunk, rim))
      faults.push({ kind: 'outside', panels: [name], by: Number.POSITIVE_INFINITY });
    else if (margin > nestTouch) {
      const short = margin - rimDistance(item.truth, rim, margin);
      if (short > nestTouch) faults.push({ kind: 'margin', panels: [name], by: short });
    }
    const key = `${place.sheet}#${place.sheetCopy}`;
    const others = onSheet.get(key) ?? [];
    for (const other of others) {
      if (!boxesNear(item.box, other.box, gap)) continue;
      if (regionsMeet(item.shrunk, other.shrunk))
        faults.push({ kind: 'overlap', panels: [other.name, name], by: Number.POSITIVE_INFINITY });
      else if (gap > nestTouch) {
        const short = gap - rimDistance(item.truth, other.truth, gap);
        if (short > nestTouch) faults.push({ kind: 'gap', panels: [other.name, name], by: short });
      }
    }
    others.push(item);
    onSheet.set(key, others);
  }
  return faults;
}

function countFaults(
  panels: readonly NestPanel[],
  placed: readonly PlacedPanel[],
  left: readonly string[],
): NestFault[] {
  const seen = new Map<string, number>();
  for (const p of placed) seen.set(`${p.panel}#${p.copy}`, (seen.get(`${p.panel}#${p.copy}`) ?? 0) + 1);
  const faults: NestFault[] = [];
  for (const panel of panels) {
    let there = 0;
    for (let copy = 0; copy < panel.quantity; copy++) {
      const times = seen.get(`${panel.id}#${copy}`) ?? 0;
      if (times > 0) there++;
      if (times > 1) faults.push({ kind: 'twice', panels: [`${panel.id}#${copy}`], by: 0 });
    }
    const waiting = left.filter((id) => id === panel.id).length;
    if (there + waiting !== panel.quantity) faults.push({ kind: 'missing', panels: [panel.id], by: 0 });
  }
  return faults;
}

const stepsOf = { free: 16, quarter: 4, half: 2, fixed: 1 } as const;

function turnAllowed(panel: NestPanel, turn: number): boolean {
  const step = (2 * Math.PI) / stepsOf[panel.turns];
  return Math.abs(turn / step - Math.round(turn / step)) < 1e-9;
}

function boxesNear(p: Box, q: Box, gap: Mm): boolean {
  return p.minX - gap < q.maxX && q.minX - gap < p.maxX && p.minY - gap < q.maxY && q.minY - gap < p.maxY;
}
