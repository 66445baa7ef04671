/**
 * Panels and sheets of a job as nesting wants them, from what a person decided, and back from a layout to what is
 * saved. Decisions name the middle of a panel's box; nesting moves the panel's own points. Panels whose inside face is
 * drawn are mirrored first, since that face is what is seen on the sheet.
 */
import { hashText } from '../base';
import { boxOf, type Point } from '../math';
import type { LaidPanel, LaidSheets, Panel, SheetDecisions } from '../model';
import type { Mm } from '../units';
import { mirrorRegion, type Region } from './forms';
import { nestPanelsOf, twinId } from './fromPanels';
import type { LockedPose, NestLayout, NestPanel, NestSheet, PlacedPanel, Pose } from './types';

/** What else the sheets depend on. */
export interface SheetSurroundings {
  /** The face that is drawn and lies up. */
  readonly traced: 'outside' | 'inside';
  /** Width that the cutter removes: outlines carry half of it already. */
  readonly kerf: Mm;
  /** Sheets as Build buys them, for foam that is not among the sheets given. */
  readonly usual: { readonly width: Mm; readonly height: Mm };
}

export interface SheetJob {
  readonly panels: readonly NestPanel[];
  readonly sheets: readonly NestSheet[];
  /** Between cut lines: the free space wanted, and the kerf. */
  readonly gap: Mm;
  readonly margin: Mm;
  /** Per panel of the job: its middle, its fingerprint, and what it is. */
  readonly facts: ReadonlyMap<string, PanelFacts>;
}

interface PanelFacts {
  readonly panel: Panel;
  readonly twin: boolean;
  /** Whether the region is the panel seen from inside. */
  readonly mirrored: boolean;
  readonly middle: Point;
  readonly print: string;
}

/** More sheets of one kind than this are not reckoned with. */
const plenty = 99;

/** Id of the sheets that Build buys, of one foam. */
export const usualSheetId = (thickness: Mm, material: string): string => `usual ${thickness} ${material}`;

/** @param laid locks in force; those of the decisions when left out */
export function sheetJobOf(
  panels: readonly Panel[],
  decisions: SheetDecisions,
  { traced, kerf, usual }: SheetSurroundings,
): SheetJob {
  const { turns, turnsOf, facesAlike, turnOverOf, laid } = decisions;
  const rules = { turns, turnsOf, facesAlike, turnOverOf, locked: {} };
  const byId = new Map(panels.map((p) => [p.id, p]));
  const facts = new Map<string, PanelFacts>();
  const nested = nestPanelsOf(panels, rules).map((found): NestPanel => {
    const plain = byId.get(found.id);
    const panel = plain ?? panels.find((p) => twinId(p.id) === found.id)!;
    const seen: Region = traced === 'inside' ? mirrorRegion(found) : found;
    const mirrored = (traced === 'inside') !== !plain;
    const middle = middleOf(seen);
    facts.set(found.id, { panel, twin: !plain, mirrored, middle, print: printOf(found, seen, middle) });
    const locks = (laid?.placed ?? []).filter((p) => p.panel === found.id && p.locked);
    const locked = locks.slice(0, found.quantity).map((p): LockedPose => {
      const { sheet, sheetCopy } = p;
      return { ...poseOf(p, middle), sheet, sheetCopy };
    });
    return { ...found, outline: seen.outline, holes: seen.holes, locked };
  });
  return {
    panels: nested,
    sheets: sheetsOf(panels, decisions, usual),
    gap: decisions.gap + kerf,
    margin: decisions.margin + kerf / 2,
    facts,
  };
}

/** The sheets given, and the usual ones for foam of which no whole sheet is given: offcuts alone seldom do. */
function sheetsOf(
  panels: readonly Panel[],
  { stock }: SheetDecisions,
  usual: SheetSurroundings['usual'],
): NestSheet[] {
  const given = stock.map(
    ({ id, thickness, material, count, shape }): NestSheet => ({
      ...{ id, thickness, count, shape },
      ...(material ? { material } : {}),
    }),
  );
  const added = new Map<string, NestSheet>();
  for (const { thickness, material = '' } of panels) {
    const whole = stock.some(
      (s) => s.thickness === thickness && s.material === material && s.shape.kind === 'rectangle',
    );
    if (whole) continue;
    const id = usualSheetId(thickness, material);
    const shape = { kind: 'rectangle' as const, ...usual };
    added.set(id, { id, thickness, ...(material ? { material } : {}), count: plenty, shape });
  }
  return [...given, ...added.values()];
}

/** Where a panel's own points go, from where its middle lies. */
export function poseOf(laid: LaidPanel, middle: Point): Pose {
  const moved = turned({ x: laid.mirrored ? -middle.x : middle.x, y: middle.y }, laid.turn);
  return { x: laid.x - moved.x, y: laid.y - moved.y, turn: laid.turn, mirrored: laid.mirrored };
}

/** What is saved of a layout. */
export function laidOf(layout: Pick<NestLayout, 'placed'>, job: SheetJob): LaidSheets {
  return {
    placed: layout.placed.map((p): LaidPanel => {
      const { panel, copy, sheet, sheetCopy, turn, mirrored, locked } = p;
      const { middle } = job.facts.get(panel)!;
      const moved = turned({ x: mirrored ? -middle.x : middle.x, y: middle.y }, turn);
      return { panel, copy, sheet, sheetCopy, x: p.x + moved.x, y: p.y + moved.y, turn, mirrored, locked };
    }),
    panels: Object.fromEntries([...job.facts].map(([id, { print }]) => [id, print])),
  };
}

/** Saved placements as the check and the search know them; those of panels that are gone are left out. */
export function placedOf({ placed }: LaidSheets, job: SheetJob): PlacedPanel[] {
  return placed.flatMap((p) => {
    const facts = job.facts.get(p.panel);
    const { panel, copy, sheet, sheetCopy, locked } = p;
    return facts ? [{ ...poseOf(p, facts.middle), panel, copy, sheet, sheetCopy, locked }] : [];
  });
}

const turned = ({ x, y }: Point, angle: number): Point => {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return { x: c * x - s * y, y: s * x + c * y };
};

function middleOf({ outline }: Region): Point {
  const box = boxOf(outline);
  return { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
}

/** Micrometres decide whether panels touch, so changes below half of one do not count as changes. */
const printPitch: Mm = 0.001;

function printOf({ thickness, material, quantity }: NestPanel, region: Region, middle: Point): string {
  const ring = (points: readonly Point[]) =>
    points
      .map((p) => `${Math.round((p.x - middle.x) / printPitch)},${Math.round((p.y - middle.y) / printPitch)}`)
      .join(' ');
  const rings = [region.outline, ...region.holes].map(ring).join(';');
  return hashText(`${thickness}|${material ?? ''}|${quantity}|${rings}`);
}
