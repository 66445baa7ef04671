/** Panels on sheets of foam: the search, moving and locking by hand, and the files. */
import type { Point } from '../../src/math';
import { isCuttable, type LaidPanel, placementKey, type SheetPlan } from '../../src/model';
import {
  exportSheet as downloadSheet,
  exportSheetPages as downloadSheetPages,
  exportSheets as downloadSheets,
  type Session,
  startNesting,
  stopNesting as stopSearch,
} from '../document';
import { change, command, effect, refuse } from './command';

/** What the bench shows: the best layout of a running search, else what is laid out. */
export const shownSheets = (s: Pick<Session, 'nesting' | 'results'>): SheetPlan | null =>
  s.nesting?.plan ?? s.results.sheets;

const isSearching = (s: Session) => s.nesting !== null && s.nesting.ended === null;

export const nestPanels = command({
  id: 'nestPanels',
  label: (s) => (s.document?.decisions.sheets.laid ? 'Nest again' : 'Nest the panels'),
  enabled: (s) => {
    if (!s.document) return 'Open a pattern first.';
    if (isSearching(s)) return 'A search is running.';
    if (s.results.drawing?.size.from.kind === 'none')
      return 'Say first how large the drawing is: its file has no physical size.';
    if (s.stale) return 'The panels are still being computed.';
    return (s.results.foam?.panels.length ?? 0) > 0 ? true : 'There are no panels yet.';
  },
  run(s) {
    const able = this.enabled(s);
    return able === true ? effect(startNesting) : refuse(able);
  },
});

export const stopNesting = command({
  id: 'stopNesting',
  label: () => 'Stop and take this',
  enabled: (s) => (isSearching(s) ? true : 'No search is running.'),
  run: () => effect(stopSearch),
});

export const clearSheets = command({
  id: 'clearSheets',
  label: () => 'Take all panels off the sheets',
  enabled: (s) => (s.document?.decisions.sheets.laid ? true : 'Nothing is laid out.'),
  run: () =>
    change('Take all panels off the sheets', (d) => ({ ...d, sheets: { ...d.sheets, laid: null } }), {
      select: [],
    }),
});

/** Placements among the selected things, by their keys on the sheets. */
export function selectedPlacements(s: Pick<Session, 'document' | 'selection'>): readonly LaidPanel[] {
  const placed = s.document?.decisions.sheets.laid?.placed ?? [];
  return placed.filter((p) => s.selection.includes(placementKey(p)));
}

const handsOff = 'Stop the search first: it would move panels at the same time.';

/** Changes placements by key; refuses while a search runs. */
function withPlacements(
  s: Session,
  label: string,
  keys: readonly string[],
  apply: (p: LaidPanel) => LaidPanel,
  merge?: string,
) {
  if (isSearching(s)) return refuse(handsOff);
  const there = s.document?.decisions.sheets.laid?.placed.some((p) => keys.includes(placementKey(p)));
  if (!there) return refuse('Select a panel on a sheet first.');
  return change(
    label,
    (d) => {
      const { laid } = d.sheets;
      if (!laid) return d;
      const placed = laid.placed.map((p) => (keys.includes(placementKey(p)) ? apply(p) : p));
      return { ...d, sheets: { ...d.sheets, laid: { ...laid, placed } } };
    },
    merge === undefined ? {} : { merge },
  );
}

interface MoveArgs {
  /** Keys of placements. */
  readonly keys: readonly string[];
  readonly by?: Point;
  readonly turnBy?: number;
  /** Middle of the panel on its sheet. */
  readonly to?: Partial<Point>;
  readonly turn?: number;
  readonly sheet?: { readonly sheet: string; readonly sheetCopy: number };
  readonly merge?: string;
}

/** Moves, turns, or puts on another sheet. What was put by hand is locked, so that the next search leaves it there. */
export const moveOnSheet = command<MoveArgs>({
  id: 'moveOnSheet',
  label: () => 'Move a panel on its sheet',
  enabled: (s) => (selectedPlacements(s).length > 0 ? true : 'Select a panel on a sheet first.'),
  run: (s, { keys, by, turnBy, to, turn, sheet, merge }) =>
    withPlacements(
      s,
      turnBy !== undefined || turn !== undefined ? 'Turn a panel' : 'Move a panel',
      keys,
      (p) => ({
        ...p,
        ...(sheet ?? {}),
        x: (to?.x ?? p.x) + (by?.x ?? 0),
        y: (to?.y ?? p.y) + (by?.y ?? 0),
        turn: wrapped((turn ?? p.turn) + (turnBy ?? 0)),
        locked: true,
      }),
      merge,
    ),
});

/** 0 to below a full turn. */
const wrapped = (angle: number) => {
  const full = 2 * Math.PI;
  const rest = ((angle % full) + full) % full;
  return full - rest < 1e-12 ? 0 : rest;
};

const quarter = Math.PI / 2;

const turnCommand = (id: string, label: string, key: string, by: number) =>
  command({
    id,
    label: () => label,
    keys: [key],
    enabled: (s) =>
      s.step === 'sheets' && selectedPlacements(s).length > 0 ? true : 'Select a panel on a sheet first.',
    run: (s) => moveOnSheet.run(s, { keys: selectedPlacements(s).map(placementKey), turnBy: by }),
  });

export const turnLeft = turnCommand('turnLeft', 'Turn left by 22.5°', 'q', quarter / 4);
export const turnRight = turnCommand('turnRight', 'Turn right by 22.5°', 'e', -quarter / 4);

/** Locks the selected panels where they lie, or frees them when all of them are locked. */
export const lockPanels = command({
  id: 'lockPanels',
  label: (s) => {
    const chosen = selectedPlacements(s);
    return chosen.length > 0 && chosen.every((p) => p.locked) ? 'Unlock' : 'Lock here';
  },
  keys: ['l'],
  enabled: (s) =>
    s.step === 'sheets' && selectedPlacements(s).length > 0 ? true : 'Select a panel on a sheet first.',
  run: (s) => {
    const chosen = selectedPlacements(s);
    const locked = !chosen.every((p) => p.locked);
    return withPlacements(s, locked ? 'Lock a panel' : 'Unlock a panel', chosen.map(placementKey), (p) => ({
      ...p,
      locked,
    }));
  },
});

/** Whether sheets can be cut from, or why not. */
const sheetsReady = (s: Session): true | string => {
  if (!s.document) return 'Open a pattern first.';
  const plan = s.results.sheets;
  if (!plan || plan.sheets.length === 0) return 'Nest the panels in the Sheets step first.';
  if (isSearching(s)) return 'Stop the search first.';
  return isCuttable(plan) || s.stale ? true : 'The sheets have to be put right first.';
};

export const exportSheets = command({
  id: 'exportSheets',
  label: () => 'Cut files of all sheets',
  enabled: sheetsReady,
  run(s) {
    const able = sheetsReady(s);
    return able === true ? effect(() => void downloadSheets()) : refuse(able);
  },
});

export const exportSheetPages = command({
  id: 'exportSheetPages',
  label: () => 'Sheets as pages to print',
  enabled: sheetsReady,
  run(s) {
    const able = sheetsReady(s);
    return able === true ? effect(() => void downloadSheetPages()) : refuse(able);
  },
});

export const exportSheet = command<{ readonly as: 'svg' | 'dxf'; readonly sheet: number }>({
  id: 'exportSheet',
  label: () => 'Cut file of a sheet',
  enabled: sheetsReady,
  run(s, { as, sheet }) {
    const able = sheetsReady(s);
    return able === true ? effect(() => void downloadSheet(as, sheet)) : refuse(able);
  },
});
