/** What one more edit would do, before it is made: how many panels there would be, or why it can't be. */
import type { Issue } from '../base';
import type { PanelEdit, Pattern, Seams } from '../model';
import { partsOf } from './parts';
import { replay } from './state';

export interface TriedEdit {
  /** Panels before it and after it. */
  readonly before: number;
  readonly after: number;
  /** Why it can't be made, or not in full, with a way out; null when it can. */
  readonly issue: Issue | null;
}

/**
 * Counts the panels with and without one more edit. Nothing is laid flat but the panel that a line is drawn on, so it is
 * quick enough to be asked at every point of a line.
 */
export function tryEdit(
  pattern: Pattern,
  seams: Seams,
  edits: readonly PanelEdit[],
  edit: PanelEdit,
): TriedEdit {
  const count = (all: readonly PanelEdit[]) => {
    const state = replay(pattern, seams, all);
    return { state, panels: partsOf(state.pattern, state.surface, state.cut).length };
  };
  const after = count([...edits, edit]);
  return {
    before: count(edits).panels,
    after: after.panels,
    issue: after.state.issues.find((i) => i.place.ids?.[0] === edit.id) ?? null,
  };
}
