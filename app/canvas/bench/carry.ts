/** Moving panels on sheets by hand: from a distance on the bench to a place on a sheet. */
import type { Point } from '../../../src/math';
import { type LaidPanel, placementKey, type SheetPlan } from '../../../src/model';
import { runCommand, selectedPlacements } from '../../commands';
import { endMerge, session } from '../../document';
import { sheetPlaces } from '../scene/sheetScene';

/**
 * Carries a panel, and what is selected with it. A panel whose middle comes to lie over another sheet is put on that
 * one; between sheets it stays its own sheet's.
 * @returns why not, or null
 */
export function carryOnSheets(id: string, by: Point): string | null {
  const state = session.getState();
  const plan = state.results.sheets;
  const all = state.document?.decisions.sheets.laid?.placed ?? [];
  const held = all.find((p) => placementKey(p) === id);
  if (!plan || !held) return 'The search moves panels itself: stop it first.';
  const keys = state.selection.includes(id) ? selectedPlacements(state).map(placementKey) : [id];
  const landed = landingOf(plan, held, by);
  const outcome = runCommand('moveOnSheet', landed ? { keys, ...landed } : { keys, by });
  return outcome.done ? null : outcome.reason;
}

/** By arrow keys: presses that follow each other are one step of the history. */
export function nudgeOnSheets(by: Point): string | null {
  const keys = selectedPlacements(session.getState()).map(placementKey);
  const outcome = runCommand('moveOnSheet', { keys, by, merge: `nudge ${keys.join()}` });
  if (!outcome.done) endMerge();
  return outcome.done ? null : outcome.reason;
}

/** Another sheet under the middle of the panel, and how far it is to go in that sheet's own measure. */
export function landingOf(
  plan: SheetPlan,
  held: LaidPanel,
  by: Point,
): { readonly by: Point; readonly sheet: { readonly sheet: string; readonly sheetCopy: number } } | null {
  const places = sheetPlaces(plan.sheets);
  const from = plan.sheets.findIndex((s) => s.stock === held.sheet && s.copy === held.sheetCopy);
  const origin = places[from];
  if (!origin) return null;
  const at = { x: origin.x + held.x + by.x, y: origin.y + held.y + by.y };
  const to = plan.sheets.findIndex((s, k) => {
    const corner = places[k]!;
    return at.x >= corner.x && at.x <= corner.x + s.width && at.y >= corner.y && at.y <= corner.y + s.height;
  });
  const sheet = plan.sheets[to];
  if (!sheet || to === from) return null;
  const corner = places[to]!;
  return {
    by: { x: by.x + origin.x - corner.x, y: by.y + origin.y - corner.y },
    sheet: { sheet: sheet.stock ?? '', sheetCopy: sheet.copy ?? 0 },
  };
}
