/**
 * The sheets as they were laid out, checked against the panels as they are now. Nothing is moved here: a panel that
 * has changed, collides or has no place is said, and the sheets are not cut from until it is put right.
 */
import type { Issue } from '../base';
import { boxOf } from '../math';
import type { LaidSheets, Panel, Sheet, SheetDecisions, SheetFault, SheetPlan } from '../model';
import { nestOverlap, sheetOutline } from './check';
import { faultSentences } from './faultWords';
import { plainIdOf } from './fromPanels';
import { usedSheets } from './job';
import { placedOf, type SheetJob, type SheetSurroundings, sheetJobOf } from './sheetJob';
import { type NestSheet, type PlacedPanel, sameFoam } from './types';

/** @returns null when nothing was laid out. */
export function planSheets(
  panels: readonly Panel[],
  decisions: SheetDecisions,
  around: SheetSurroundings,
): SheetPlan | null {
  const { laid } = decisions;
  if (!laid) return null;
  return planOf(sheetJobOf(panels, decisions, around), laid, decisions);
}

/** The same for a job that is there already. */
export function planOf(job: SheetJob, laid: LaidSheets, decisions: SheetDecisions): SheetPlan {
  const placed = placedOf(laid, job);
  const left = job.panels.flatMap((p) => {
    const there = new Set(placed.filter((q) => q.panel === p.id && q.copy < p.quantity).map((q) => q.copy));
    return Array.from({ length: p.quantity - there.size }, () => p.id);
  });
  const idOf = (nested: string) => job.facts.get(nested)?.panel.id ?? nested;
  const faults = nestOverlap(job.panels, job.sheets, placed, left, job.gap, job.margin).map(
    ({ kind, panels, by }): SheetFault => ({ kind, at: panels, by }),
  );
  const changed = [
    ...[...job.facts].filter(([id, { print }]) => laid.panels[id] !== print).map(([id]) => idOf(id)),
    ...Object.keys(laid.panels).filter((id) => !job.facts.has(id)),
  ];
  const plan = {
    sheets: sheetsUsed(job, placed, decisions),
    left: left.map(idOf),
    changed: [...new Set(changed)],
    faults,
    density: densityOf(job, placed),
  };
  return { ...plan, issues: issuesOf(plan, job) };
}

function sheetsUsed(job: SheetJob, placed: readonly PlacedPanel[], { stock }: SheetDecisions): Sheet[] {
  const copies = copiesInOrder(job.sheets, placed);
  const used = usedSheets(job.panels, copies, known(job, placed), job.margin);
  return used.map((u, k) => {
    const sheet = job.sheets.find((s) => s.id === u.sheet)!;
    const outline = sheetOutline(sheet);
    const box = boxOf(outline);
    const price = sheet.shape.kind === 'offcut' ? 0 : stock.find((s) => s.id === sheet.id)?.price;
    return {
      name: `Sheet ${k + 1}`,
      thickness: sheet.thickness,
      ...(sheet.material ? { material: sheet.material } : {}),
      width: box.maxX - box.minX,
      height: box.maxY - box.minY,
      ...(sheet.shape.kind === 'offcut' ? { outline } : {}),
      stock: u.sheet,
      copy: u.copy,
      ...(typeof price === 'number' ? { price } : {}),
      density: u.panelArea / u.area,
      usedWidth: u.usedWidth,
      placements: placed
        .filter((p) => p.sheet === u.sheet && p.sheetCopy === u.copy)
        .map((p) => {
          const facts = job.facts.get(p.panel)!;
          return {
            panel: facts.panel.id,
            // Mirrored twins count on from the panel's own copies.
            copy: p.copy + (facts.twin ? facts.panel.quantity : 0),
            ...{ x: p.x, y: p.y, turn: p.turn },
            mirrored: facts.mirrored !== p.mirrored,
            laid: { panel: p.panel, copy: p.copy },
            locked: p.locked,
          };
        }),
    };
  });
}

/** Placements on sheets that are there. */
const known = (job: SheetJob, placed: readonly PlacedPanel[]) =>
  placed.filter((p) => job.sheets.some((s) => s.id === p.sheet));

/** Thin foam first, then as the sheets were given. */
function copiesInOrder(sheets: readonly NestSheet[], placed: readonly PlacedPanel[]) {
  return [...sheets]
    .map((sheet, k) => ({ sheet, k }))
    .sort((a, b) => a.sheet.thickness - b.sheet.thickness || a.k - b.k)
    .flatMap(({ sheet }) => {
      const used = placed.filter((p) => p.sheet === sheet.id).map((p) => p.sheetCopy);
      return [...new Set(used)].sort((a, b) => a - b).map((copy) => ({ sheet, copy }));
    });
}

function densityOf(job: SheetJob, placed: readonly PlacedPanel[]): number {
  const copies = copiesInOrder(job.sheets, placed);
  const used = usedSheets(job.panels, copies, known(job, placed), job.margin);
  let taken = 0;
  let filled = 0;
  used.forEach((u, k) => {
    const of = (at: number) => copies.find((c) => c.sheet.id === used[at]?.sheet)?.sheet;
    const [own, next] = [of(k)!, of(k + 1)];
    const box = boxOf(sheetOutline(own));
    const last = !next || !sameFoam(own, next);
    taken += last ? u.area * (u.usedWidth / (box.maxX - box.minX)) : u.area;
    filled += u.panelArea;
  });
  return taken > 0 ? filled / taken : 0;
}

const again = 'Nest again in the Sheets step; locked panels stay where they are.';

function issuesOf({ left, changed, faults }: Omit<SheetPlan, 'issues'>, job: SheetJob): Issue[] {
  const say = (code: string, message: string, remedy: string, ids: readonly string[]): Issue => ({
    ...{ code, severity: 'warning', stage: 'sheets', message, remedy },
    place: { ids },
  });
  const issues: Issue[] = [];
  if (changed.length > 0)
    issues.push(
      say(
        'sheets-old',
        `${many(changed.length, 'panel')} changed since the sheets were laid out.`,
        again,
        changed,
      ),
    );
  if (left.length > 0)
    issues.push(
      say('sheets-left', `${many(left.length, 'panel')} without a place on a sheet.`, again, [
        ...new Set(left),
      ]),
    );
  const wrong = faults.filter((f) => f.kind !== 'missing');
  if (wrong.length > 0)
    issues.push(
      say(
        'sheets-collide',
        faultSentences(
          wrong.map(({ kind, at }) => ({ kind, copies: at })),
          job.panels,
        ),
        'Move the panels that are marked, or nest again.',
        [...new Set(wrong.flatMap((f) => f.at.map((key) => plainIdOf(key.replace(/#\d+$/, '')))))],
      ),
    );
  return issues;
}

const many = (n: number, one: string) => `${n} ${n === 1 ? one : `${one}s`}`;
