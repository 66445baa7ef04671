import { type Decisions, defaultDecisions } from '../../src/model';
import { decide, endMerge, type Results, shownIn, useSession } from '../document';

import type { ShownUnit } from '../ui/fields';

/** The decisions of the open document; on the start screen, where no sheet is shown, the defaults. */
export const useDecisions = (): Decisions => useSession((s) => s.document?.decisions ?? defaultDecisions);

export const useResults = (): Results => useSession((s) => s.results);

/** The results as the open step sees them: from Panels on, pieces are panels. */
export const useShown = (): Results => useSession(shownIn);

export const useUnit = (): ShownUnit => useSession((s) => s.document?.lengthUnit ?? 'mm');

/**
 * Changes one part of the decisions. Live changes with one key are one undo step until they settle.
 * @param key names the control, e.g. `fit.padding`.
 */
export function decidePart<K extends keyof Decisions>(
  part: K,
  label: string,
  change: Partial<Decisions[K]> | ((old: Decisions[K]) => Decisions[K]),
  live: { readonly key: string; readonly live: boolean } | null = null,
): void {
  decide(
    label,
    (all) => ({
      ...all,
      [part]: typeof change === 'function' ? change(all[part]) : { ...all[part], ...change },
    }),
    live?.live ? { merge: live.key } : {},
  );
}

export { endMerge };
