/** Undo, redo, moving through the steps, tools, selection, and how things are shown. */
import {
  computeAgain as computeOnceMore,
  redo as redoStep,
  type Session,
  type StepName,
  select,
  selectSeveral,
  setLengthUnit,
  setOutline,
  setPairFrom,
  setStep,
  setTheme,
  setTool,
  shownIn,
  stepNames,
  type ToolName,
  undo as undoStep,
} from '../document';
import { always, type Command, command, effect, refuse, withDocument } from './command';
import { hasCorners, takeCornerBack } from './offcut';
import { indexOf } from './selection';

export const undo = command({
  id: 'undo',
  label: (s) =>
    (s.outline?.points.length ?? 0) > 0
      ? 'Undo: corner'
      : hasCorners(s)
        ? 'Undo: corner'
        : s.canUndo
          ? `Undo: ${s.canUndo}`
          : 'Undo',
  keys: ['Mod+z'],
  enabled: (s) =>
    s.canUndo !== null || hasCorners(s) || (s.outline?.points.length ?? 0) > 0
      ? true
      : 'There is nothing to undo.',
  // The corners of an offcut that is being drawn are not in the document yet.
  run: (s) => {
    const { outline } = s;
    if (outline && outline.points.length > 0)
      return effect(() => setOutline({ ...outline, points: outline.points.slice(0, -1) }));
    return effect(() => (hasCorners(s) ? takeCornerBack(s) : undoStep()));
  },
});

export const redo = command({
  id: 'redo',
  label: (s) => (s.canRedo ? `Redo: ${s.canRedo}` : 'Redo'),
  keys: ['Mod+Shift+z', 'Mod+y'],
  enabled: (s) => (s.canRedo !== null ? true : 'There is nothing to redo.'),
  run: () => effect(redoStep),
});

/** Names of the steps on screen. */
export const stepLabels: Readonly<Record<StepName, string>> = {
  pattern: 'Pattern',
  seams: 'Seams',
  size: 'Size',
  panels: 'Panels',
  foam: 'Foam',
  sheets: 'Sheets',
  pages: 'Pages',
  build: 'Build',
};

const neighbour = (s: Session, by: 1 | -1): StepName | undefined => stepNames[stepNames.indexOf(s.step) + by];

const stepBy = (id: string, label: string, keys: readonly string[], by: 1 | -1): Command =>
  command({
    id,
    label: (s) => {
      const to = neighbour(s, by);
      return to ? `${label}: ${stepLabels[to]}` : label;
    },
    keys,
    enabled: (s) => {
      if (!s.document) return 'Open a pattern first.';
      return neighbour(s, by) ? true : by > 0 ? 'This is the last step.' : 'This is the first step.';
    },
    run: (s) => {
      const to = neighbour(s, by);
      return to ? effect(() => setStep(to)) : refuse('There is no further step.');
    },
  });

export const nextStep = stepBy('nextStep', 'Next step', ['Alt+ArrowDown'], 1);
export const previousStep = stepBy('previousStep', 'Step before', ['Alt+ArrowUp'], -1);

export const goToStep = command<{ readonly step: StepName }>({
  id: 'goToStep',
  label: () => 'Go to a step',
  enabled: withDocument,
  run: (_s, { step }) => effect(() => setStep(step)),
});

const tool = (name: ToolName, label: string, key: string): Command =>
  command({
    id: `${name}Tool`,
    label: () => label,
    keys: [key],
    enabled: withDocument,
    run: () => effect(() => setTool(name)),
  });

export const handTool = tool('hand', 'Move the bench', 'h');
export const selectTool = tool('select', 'Select', 'v');
export const several = command({
  id: 'several',
  label: () => 'Select several',
  enabled: withDocument,
  run: (s) =>
    effect(() => {
      selectSeveral(!s.several);
      if (!s.several) setTool('select');
    }),
});
export const pairTool = tool('pair', 'Pair two edges', 'p');
export const chainTool = tool('chain', 'Measure along edges', 'c');
export const tapeTool = tool('tape', 'Tape measure', 't');
export const drawTool = tool('draw', 'Draw a cut', 'd');

/** All edges in the seam and size steps; elsewhere all pieces. */
export const selectAll = command({
  id: 'selectAll',
  label: () => 'Select all',
  keys: ['Mod+a'],
  enabled: (s) => (s.results.pattern ? true : 'There is nothing to select yet.'),
  run: (s) => {
    const index = indexOf(shownIn(s).pattern);
    const ids = s.step === 'seams' || s.step === 'size' ? index.edges.keys() : index.pieces.keys();
    return effect(() => select([...ids], 'replace'));
  },
});

export const clearSelection = command({
  id: 'clearSelection',
  label: () => 'Select nothing',
  keys: ['Escape'],
  enabled: (s) => (s.selection.length > 0 || s.pairFrom !== null ? true : 'Nothing is selected.'),
  run: () =>
    effect(() => {
      setPairFrom(null);
      select([], 'replace');
    }),
});

export const toggleUnit = command({
  id: 'toggleUnit',
  label: (s) => (s.document?.lengthUnit === 'in' ? 'Show millimetres' : 'Show inches'),
  enabled: withDocument,
  run: (s) => effect(() => setLengthUnit(s.document?.lengthUnit === 'in' ? 'mm' : 'in')),
});

export const setUnit = command<{ readonly unit: 'mm' | 'in' }>({
  id: 'setUnit',
  label: () => 'Unit of lengths',
  enabled: withDocument,
  run: (_s, { unit }) => effect(() => setLengthUnit(unit)),
});

/** After a cancel, or when the computing part stopped: what is shown is older than the decisions. */
export const computeAgain = command({
  id: 'computeAgain',
  label: () => 'Compute again',
  enabled: (s) => {
    if (!s.document) return 'Open a pattern first.';
    return s.stale && !s.progress ? true : 'What is shown is up to date, or on its way.';
  },
  run: () => effect(computeOnceMore),
});

export const chooseTheme = command<{ readonly theme: Session['theme'] }>({
  id: 'chooseTheme',
  label: () => 'Light or dark',
  enabled: always,
  run: (_s, { theme }) => effect(() => setTheme(theme)),
});
