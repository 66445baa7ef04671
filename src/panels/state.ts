/** Which folds and seams are cut after all edits, and which edits could not be replayed. */
import type { Issue } from '../base';
import { type PanelEdit, sourceLineId } from '../model';
import type { Surface } from './surface';

export interface CutState {
  /** By hinge: cut (a seam) or whole (a fold). */
  readonly cut: boolean[];
  /** Edits that named something that is not there (any more). */
  readonly stuck: readonly string[];
  readonly issues: readonly Issue[];
}

/** @param frozen pieces that cannot be edited */
export function replay(surface: Surface, edits: readonly PanelEdit[], frozen: ReadonlySet<string>): CutState {
  const cut = surface.hinges.map((h) => h.kind === 'seam');
  const isFrozen = (h: number) =>
    [surface.hinges[h]!.a, surface.hinges[h]!.b].some((c) =>
      frozen.has(surface.faces[surface.chains[c]!.face]!.piece),
    );
  const stuck: string[] = [];
  const issues: Issue[] = [];
  for (const edit of edits) {
    const missing: string[] = [];
    for (const line of edit.lines) {
      const id = sourceLineId(line);
      const own = surface.hingeAt.get(id);
      const hinges = own === undefined || isFrozen(own) ? [] : [own];
      if (hinges.length === 0) missing.push(line);
      for (const h of hinges) cut[h] = edit.kind === 'cut';
    }
    if (missing.length === 0) continue;
    stuck.push(edit.id);
    issues.push(lost(edit, missing));
  }
  return { cut, stuck, issues };
}

function lost(edit: PanelEdit & { readonly lines: readonly string[] }, missing: readonly string[]): Issue {
  const what = edit.kind === 'cut' ? 'fold' : 'seam';
  const doing = edit.kind === 'cut' ? 'split' : 'join';
  const all = missing.length === edit.lines.length;
  const which =
    missing.length === 1 ? `the ${what} that it names` : `${missing.length} ${what}s that it names`;
  return {
    code: 'panel-edit-lost',
    severity: 'warning',
    stage: 'panels',
    message: `A ${doing} could not be made ${all ? '' : 'in full '}because ${which} ${missing.length === 1 ? 'is' : 'are'} no longer there. Everything else is as you left it.`,
    remedy: 'Take this edit out in the Panels step, or bring back the line or seam that it needs.',
    place: { ids: [edit.id, ...missing] },
  };
}
