/**
 * The one place that changes the session: a store of immutable records, and the only functions that write to it.
 * Screens read through `useSession`; everything that belongs to the saved document goes through `decide` or
 * `changeDocument` and so can be undone. No file, worker or browser storage is touched here.
 */
import { createStore, type StoreApi } from 'zustand/vanilla';
import { type Issue, shareEqual } from '../../src/base';
import type { Point } from '../../src/math';
import type { Decisions, ProjectDocument } from '../../src/model';
import { close, emptyHistory, type History, type Moved, record, stepBack, stepForward } from './history';
import { noDrawing, noResults, type Session, type StepName, type ToolName } from './session';

export interface DecideOptions {
  /**
   * Changes with the same key join into one undo step until `endMerge()`, a second without a change, or a change
   * with another key: a slider drag or typing in a field is one step.
   */
  readonly merge?: string;
  /** With `merge`: a second without a change does not end the step, as for clicks that the person thinks about. */
  readonly lasting?: boolean;
  /** Selection after the change, when it differs. */
  readonly select?: readonly string[];
}

export interface Editor {
  readonly session: StoreApi<Session>;
  /** Changes what the person decided: one undo step. Throws nothing; does nothing when no document is open. */
  decide(label: string, change: (decisions: Decisions) => Decisions, options?: DecideOptions): void;
  /** Changes the document as a whole (title, sources): one undo step. */
  changeDocument(
    label: string,
    change: (document: ProjectDocument) => ProjectDocument,
    options?: DecideOptions,
  ): void;
  /**
   * What comes with opening a document: no undo step of its own while there is nothing to undo yet, else one by its
   * label.
   */
  decideOnOpening(label: string, change: (decisions: Decisions) => Decisions): void;
  endMerge(): void;
  undo(): void;
  redo(): void;
  /** Puts a document on the bench with an empty history. Null: the start screen. */
  show(document: ProjectDocument | null, id: string | null): void;
  setStep(step: StepName): void;
  setTool(tool: ToolName): void;
  select(ids: readonly string[], mode?: 'replace' | 'add' | 'toggle'): void;
  hover(id: string | null): void;
  /** Joins two edges on the bench for a look; null: no more. */
  showLikely(pair: Session['likely']): void;
  setPairFrom(id: string | null): void;
  /** The line that is being drawn on a panel. */
  setDrawing(part: Partial<Session['drawing']>): void;
  /** The offcut that is being drawn, with its tool in hand; null puts the tool away. */
  setOffcut(draft: Session['offcut']): void;
  /** The outline that is being drawn, with its tool in hand; null puts the tool away. */
  setOutline(draft: Session['outline']): void;
  /** Asks the bench to show these points and flash these ids. */
  focusOn(points: readonly Point[], ids?: readonly string[]): void;
  /** Asks the shell to turn to a place; null: it has. */
  showOnShell(place: Session['shellFocus']): void;
  showNotice(title: string, issues: readonly Issue[]): void;
  dismissNotice(): void;
  setTheme(theme: Session['theme']): void;
  setSingleKeys(on: boolean): void;
  /** How lengths are shown; not an undo step. */
  setLengthUnit(unit: ProjectDocument['lengthUnit']): void;
  /** For what is computed or saved elsewhere: results, progress, saving state. */
  report(
    part: Partial<
      Pick<
        Session,
        | 'results'
        | 'stale'
        | 'progress'
        | 'saved'
        | 'proposal'
        | 'dryFit'
        | 'nesting'
        | 'pickingFaces'
        | 'several'
        | 'toBench'
      >
    >,
  ): void;
}

const startSession: Session = {
  document: null,
  documentId: null,
  step: 'pattern',
  tool: 'select',
  selection: [],
  hovered: null,
  pickingFaces: false,
  several: false,
  toBench: 0,
  likely: null,
  pairFrom: null,
  drawing: noDrawing,
  offcut: null,
  outline: null,
  results: noResults,
  stale: false,
  progress: null,
  notice: null,
  proposal: null,
  dryFit: null,
  nesting: null,
  focus: null,
  shellFocus: null,
  canUndo: null,
  canRedo: null,
  stepped: null,
  saved: 'saved',
  theme: 'system',
  singleKeys: true,
};

/** `now`: milliseconds, only differences matter. */
export function createEditor(now: () => number, start: Partial<Session> = {}): Editor {
  const session = createStore<Session>(() => ({ ...startSession, ...start }));
  const set = session.setState;
  let history: History = emptyHistory;

  /** A line that is being drawn ends with what it was drawn on. */
  const undrawn = () => ({
    drawing: { ...session.getState().drawing, panel: null, points: [], done: false },
  });

  const labels = () => ({
    canUndo: history.past.at(-1)?.label ?? null,
    canRedo: history.future[0]?.label ?? null,
  });

  const move = (moved: Moved | null, done: 'Undone' | 'Redone', label: string | null) => {
    if (!moved) return;
    history = moved.history;
    const turn = (session.getState().stepped?.turn ?? 0) + 1;
    set({
      document: moved.document,
      selection: moved.selection,
      likely: null,
      pairFrom: null,
      stepped: { words: `${done}: ${label ?? 'last change'}.`, turn },
      ...undrawn(),
      ...labels(),
    });
  };

  const changeDocument: Editor['changeDocument'] = (label, change, options = {}) => {
    const { document, selection } = session.getState();
    if (!document) return;
    const recorded = record(history, document, change(document), {
      label,
      merge: options.merge,
      lasting: options.lasting,
      selection,
      now: now(),
    });
    history = recorded.history;
    const selected = options.select ?? selection;
    if (recorded.document === document && selected === selection) return;
    const dropped = recorded.document === document ? {} : undrawn();
    set({ document: recorded.document, selection: selected, likely: null, ...dropped, ...labels() });
  };

  return {
    session,
    changeDocument,
    decide(label, change, options) {
      changeDocument(label, (d) => ({ ...d, decisions: change(d.decisions) }), options);
    },
    decideOnOpening(label, change) {
      const { document } = session.getState();
      if (!document) return;
      if (history.past.length > 0) changeDocument(label, (d) => ({ ...d, decisions: change(d.decisions) }));
      else set({ document: shareEqual(document, { ...document, decisions: change(document.decisions) }) });
    },
    endMerge() {
      history = close(history);
    },
    undo() {
      const { document, canUndo } = session.getState();
      if (document) move(stepBack(history, document), 'Undone', canUndo);
    },
    redo() {
      const { document, canRedo } = session.getState();
      if (document) move(stepForward(history, document), 'Redone', canRedo);
    },
    show(document, id) {
      history = emptyHistory;
      set({
        document,
        documentId: document ? id : null,
        step: 'pattern',
        tool: 'select',
        selection: [],
        hovered: null,
        likely: null,
        pairFrom: null,
        drawing: noDrawing,
        offcut: null,
        outline: null,
        results: noResults,
        stale: document !== null,
        progress: null,
        notice: null,
        proposal: null,
        dryFit: null,
        nesting: null,
        focus: null,
        shellFocus: null,
        ...labels(),
      });
    },
    setStep(step) {
      const now = session.getState();
      if (step === now.step) return;
      // Lines are drawn on panels only where panels are cut, offcuts only where sheets are.
      const bound = ['draw', 'offcut', 'outline'].includes(now.tool);
      const put = bound ? { tool: 'select' as const, ...undrawn() } : undrawn();
      set({ step, likely: null, offcut: null, outline: null, ...put });
    },
    setTool(tool) {
      if (tool !== session.getState().tool)
        set({ tool, pairFrom: null, offcut: null, outline: null, ...undrawn() });
    },
    select(ids, mode = 'replace') {
      const { selection } = session.getState();
      const fresh = [...new Set(ids)];
      let next: readonly string[] = fresh;
      if (mode === 'add') next = [...selection, ...fresh.filter((id) => !selection.includes(id))];
      if (mode === 'toggle') {
        next = [
          ...selection.filter((id) => !fresh.includes(id)),
          ...fresh.filter((id) => !selection.includes(id)),
        ];
      }
      const shared = shareEqual(selection, next);
      if (shared !== selection) set({ selection: shared });
    },
    hover(id) {
      if (id !== session.getState().hovered) set({ hovered: id });
    },
    showLikely(pair) {
      const { likely } = session.getState();
      if (likely?.from !== pair?.from || likely?.to !== pair?.to) set({ likely: pair });
    },
    setPairFrom(id) {
      if (id !== session.getState().pairFrom) set({ pairFrom: id });
    },
    setDrawing(part) {
      set({ drawing: { ...session.getState().drawing, ...part } });
    },
    setOffcut(draft) {
      set(
        draft
          ? { offcut: draft, tool: 'offcut', selection: [], pairFrom: null, ...undrawn() }
          : { offcut: null, tool: 'select' },
      );
    },
    setOutline(draft) {
      set(
        draft
          ? { outline: draft, tool: 'outline', offcut: null, selection: [], pairFrom: null, ...undrawn() }
          : { outline: null, tool: 'select' },
      );
    },
    focusOn(points, ids = []) {
      set({ focus: { points, ids, serial: (session.getState().focus?.serial ?? 0) + 1 } });
    },
    showOnShell(place) {
      set({ shellFocus: place });
    },
    showNotice(title, issues) {
      set({ notice: { title, issues } });
    },
    dismissNotice() {
      set({ notice: null });
    },
    setTheme(theme) {
      if (theme !== session.getState().theme) set({ theme });
    },
    setSingleKeys(on) {
      if (on !== session.getState().singleKeys) set({ singleKeys: on });
    },
    setLengthUnit(unit) {
      const { document } = session.getState();
      if (document && document.lengthUnit !== unit) set({ document: { ...document, lengthUnit: unit } });
    },
    report(part) {
      set(part);
    },
  };
}
