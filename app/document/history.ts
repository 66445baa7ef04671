/**
 * Undo as a list of steps between immutable records. Pure: no clock, no store. A step keeps the document before and
 * after it (their unchanged parts are shared) and what was selected at both ends; the selection is restored with a
 * step but never makes one.
 */
import { shareEqual } from '../../src/base';
import type { ProjectDocument } from '../../src/model';

export interface HistoryStep {
  /** For the tooltip of undo: "Undo: set bend". */
  readonly label: string;
  readonly before: ProjectDocument;
  readonly after: ProjectDocument;
  readonly selectedBefore: readonly string[];
  readonly selectedAfter: readonly string[];
  /** Changes with the same key join this step while the gesture lasts. */
  readonly merge: string | null;
  /** When it last grew, in the caller's milliseconds. */
  readonly at: number;
}

export interface History {
  readonly past: readonly HistoryStep[];
  readonly future: readonly HistoryStep[];
  /** The last step still takes changes of its own merge key. */
  readonly open: boolean;
}

export const emptyHistory: History = { past: [], future: [], open: false };

/** Steps kept; older ones are dropped. Documents share their parts, so a step costs little. */
export const historyLimit = 500;

/** A gesture that rests this long is over: what follows is a step of its own. */
export const gesturePause = 1000;

export interface Change {
  readonly label: string;
  readonly merge?: string | undefined;
  /** Rests as long as it likes. */
  readonly lasting?: boolean | undefined;
  readonly selection: readonly string[];
  readonly now: number;
}

/** What undo leaves alone: the unit is how lengths are shown, not a decision about the work. */
function withUnitOf(document: ProjectDocument, current: ProjectDocument): ProjectDocument {
  return document.lengthUnit === current.lengthUnit
    ? document
    : { ...document, lengthUnit: current.lengthUnit };
}

/**
 * Records the change from `before` to `next`. An equal document makes no step; a change that joins a step and brings
 * the document back to where the step began takes the step away again.
 */
export function record(
  history: History,
  before: ProjectDocument,
  next: ProjectDocument,
  change: Change,
): { readonly history: History; readonly document: ProjectDocument } {
  const after = shareEqual(before, next);
  const last = history.past.at(-1);
  const joins =
    history.open &&
    last !== undefined &&
    change.merge !== undefined &&
    last.merge === change.merge &&
    (change.lasting === true || change.now - last.at < gesturePause);
  if (after === before) {
    // No step, but a sign that the gesture goes on.
    if (!joins) return { history, document: before };
    const past = [...history.past.slice(0, -1), { ...last, at: change.now }];
    return { history: { ...history, past }, document: before };
  }
  if (!joins) {
    const step: HistoryStep = {
      label: change.label,
      before,
      after,
      selectedBefore: change.selection,
      selectedAfter: change.selection,
      merge: change.merge ?? null,
      at: change.now,
    };
    const past = [...history.past, step].slice(-historyLimit);
    return { history: { past, future: [], open: change.merge !== undefined }, document: after };
  }
  const back = shareEqual(withUnitOf(last.before, after), after);
  const rest = history.past.slice(0, -1);
  if (back === last.before)
    return { history: { past: rest, future: [], open: false }, document: last.before };
  const step = { ...last, after: back, selectedAfter: change.selection, at: change.now };
  return { history: { past: [...rest, step], future: [], open: true }, document: back };
}

/** Ends the gesture: the next change is a step of its own. */
export function close(history: History): History {
  return history.open ? { ...history, open: false } : history;
}

export interface Moved {
  readonly history: History;
  readonly document: ProjectDocument;
  readonly selection: readonly string[];
}

/** One step back, or null when there is none. */
export function stepBack(history: History, current: ProjectDocument): Moved | null {
  const step = history.past.at(-1);
  if (!step) return null;
  return {
    history: { past: history.past.slice(0, -1), future: [step, ...history.future], open: false },
    document: withUnitOf(step.before, current),
    selection: step.selectedBefore,
  };
}

/** One step forward again, or null when there is none. */
export function stepForward(history: History, current: ProjectDocument): Moved | null {
  const [step, ...future] = history.future;
  if (!step) return null;
  return {
    history: { past: [...history.past, step], future, open: false },
    document: withUnitOf(step.after, current),
    selection: step.selectedAfter,
  };
}
