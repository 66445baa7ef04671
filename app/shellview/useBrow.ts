import { useMemo, useState } from 'react';
import type { BrowSection, Shell } from '../../src/model';
import { browSection, extentOf, proposeBrow } from '../../src/shell';
import { runCommand } from '../commands';
import { endMerge, useSession } from '../document';

export interface BrowInHand {
  /** The section as it is now, or as it is being dragged; null when the plane misses the shell. */
  readonly section: BrowSection | null;
  readonly at: number;
  readonly tilt: number;
  readonly proposed: boolean;
  /** Height and half length of the shell, for turning travel on the screen into height and tilt. */
  readonly height: number;
  readonly reach: number;
  /** While dragging: shown at once, decided on `drop`. */
  drag(to: { readonly at?: number; readonly tilt?: number }): void;
  /** Decides what was dragged: one undo step. */
  drop(): void;
  cancel(): void;
  /** A key: decided at once; quick presses are one undo step. */
  nudge(to: { readonly at?: number; readonly tilt?: number }): void;
}

export const browRange = { at: { least: 0.02, most: 0.98 }, tilt: { least: -0.6, most: 0.6 } } as const;

const clamp = (v: number, { least, most }: { least: number; most: number }) =>
  Math.min(most, Math.max(least, v));

/** The brow plane in force, and moving it. */
export function useBrow(shell: Shell): BrowInHand {
  const decided = useSession((s) => s.document?.decisions.fit.brow ?? null);
  const fitted = useSession((s) => s.results.fit?.shell?.brow ?? null);
  const [draft, setDraft] = useState<{ at?: number; tilt?: number } | null>(null);
  const at0 = decided?.at ?? null;
  const tilt0 = decided?.tilt ?? null;
  const own = useMemo(
    () => ((at0 === null || tilt0 === null) && fitted === null ? proposeBrow(shell) : null),
    [shell, at0, tilt0, fitted],
  );
  // What the size stage found is a moment older than the decision: a decided value is taken from the decision itself.
  const at = draft?.at ?? at0 ?? fitted?.at ?? own?.at ?? 0.5;
  const tilt = draft?.tilt ?? tilt0 ?? fitted?.tilt ?? own?.tilt ?? 0;
  const proposed = draft === null && at0 === null && tilt0 === null;
  const section = useMemo(() => browSection(shell, { at, tilt, proposed }), [shell, at, tilt, proposed]);
  const extent = useMemo(() => extentOf(shell), [shell]);
  const limited = (to: { readonly at?: number; readonly tilt?: number }) => ({
    ...(to.at === undefined ? {} : { at: clamp(to.at, browRange.at) }),
    ...(to.tilt === undefined ? {} : { tilt: clamp(to.tilt, browRange.tilt) }),
  });
  return {
    section,
    at,
    tilt,
    proposed,
    height: Math.max(1, extent.most.z - extent.least.z),
    reach: Math.max(1, (extent.most.y - extent.least.y) / 2),
    drag: (to) => setDraft({ ...draft, ...limited(to) }),
    drop() {
      if (draft) {
        endMerge();
        runCommand('setBrow', draft);
      }
      setDraft(null);
    },
    cancel: () => setDraft(null),
    nudge: (to) => {
      runCommand('setBrow', { ...limited(to), merge: to.at === undefined ? 'brow.tilt' : 'brow.at' });
    },
  };
}
