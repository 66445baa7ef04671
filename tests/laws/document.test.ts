/** undo∘do is the identity, over random sequences of everything that can change a document. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createEditor, type Editor } from '../../app/document/editor';
import { gesturePause } from '../../app/document/history';
import type { ProjectDocument } from '../../src/model';
import { anyDecisions, anyDocument } from '../project/arbitrary';

type Action = (editor: Editor, clock: { now: number }) => void;

const ids = fc.array(fc.constantFrom('e1', 'e2', 'f1', 's1', 'p1'), { maxLength: 3 });
const key = fc.option(fc.constantFrom('foam.thickness', 'fit.padding', 'rename'), { nil: undefined });

/** A change of one whole section, of one number, or of the document around the decisions. */
const anyChange: fc.Arbitrary<Action> = fc.oneof(
  fc
    .tuple(anyDecisions, fc.constantFrom('reading', 'seams', 'fit', 'foam', 'marks', 'pages' as const), key)
    .map(
      ([from, section, merge]): Action =>
        (editor) =>
          editor.decide(
            `Set ${section}`,
            (d) => ({ ...d, [section]: from[section] }),
            merge ? { merge } : {},
          ),
    ),
  fc.tuple(fc.integer({ min: 0, max: 4 }), key).map(
    ([thickness, merge]): Action =>
      (editor) =>
        editor.decide(
          'Set thickness',
          (d) => ({ ...d, foam: { ...d.foam, thickness } }),
          merge ? { merge } : {},
        ),
  ),
  fc.tuple(fc.constantFrom('Gannet helm', 'Bollard pauldron', 'Keel bracer'), ids).map(
    ([title, select]): Action =>
      (editor) =>
        editor.changeDocument('Rename', (d) => ({ ...d, title }), { merge: 'rename', select }),
  ),
  fc.constant<Action>((editor) =>
    editor.changeDocument('Add a page', (d) => ({ ...d, sources: [...d.sources, ...d.sources.slice(0, 1)] })),
  ),
);

/** Also what makes no step, and undo and redo themselves. */
const anyAction: fc.Arbitrary<Action> = fc.oneof(
  { weight: 5, arbitrary: anyChange },
  {
    weight: 1,
    arbitrary: ids.map(
      (some): Action =>
        (editor) =>
          editor.select(some, 'toggle'),
    ),
  },
  { weight: 1, arbitrary: fc.constant<Action>((editor) => editor.endMerge()) },
  {
    weight: 1,
    arbitrary: fc.integer({ min: 0, max: 2 * gesturePause }).map(
      (ms): Action =>
        (_editor, clock) => {
          clock.now += ms;
        },
    ),
  },
  {
    weight: 1,
    arbitrary: fc.constantFrom('mm' as const, 'in' as const).map(
      (unit): Action =>
        (editor) =>
          editor.setLengthUnit(unit),
    ),
  },
  { weight: 1, arbitrary: fc.constant<Action>((editor) => editor.undo()) },
  { weight: 1, arbitrary: fc.constant<Action>((editor) => editor.redo()) },
);

function opened(document: ProjectDocument) {
  const clock = { now: 0 };
  const editor = createEditor(() => clock.now);
  editor.show(document, 'd1');
  return { editor, clock };
}

const state = (editor: Editor) => {
  const { document, selection } = editor.session.getState();
  return { document, selection };
};

/** The document apart from the unit, which undo leaves alone. */
const work = (editor: Editor) => {
  const { lengthUnit: _unit, ...rest } = editor.session.getState().document!;
  return rest;
};

describe('laws of the document', () => {
  it('undoing everything gives the document back, redoing everything the last one', () => {
    fc.assert(
      fc.property(anyDocument, fc.array(anyAction, { maxLength: 25 }), (document, actions) => {
        const { editor, clock } = opened(document);
        for (const act of actions) act(editor, clock);
        // Leave no future, so that "redo everything" ends where we are now.
        while (editor.session.getState().canRedo !== null) editor.redo();
        const last = work(editor);
        let steps = 0;
        while (editor.session.getState().canUndo !== null) {
          editor.undo();
          steps++;
          expect(steps).toBeLessThanOrEqual(actions.length);
        }
        const { lengthUnit: _unit, ...first } = document;
        expect(work(editor)).toEqual(first);
        for (let i = 0; i < steps; i++) editor.redo();
        expect(editor.session.getState().canRedo).toBeNull();
        expect(work(editor)).toEqual(last);
      }),
      { numRuns: 200 },
    );
  });

  it('one change and undo is the identity, with the selection; redo brings both back', () => {
    fc.assert(
      fc.property(
        anyDocument,
        fc.array(anyAction, { maxLength: 8 }),
        anyChange,
        (document, actions, change) => {
          const { editor, clock } = opened(document);
          for (const act of actions) act(editor, clock);
          editor.endMerge();
          const before = state(editor);
          change(editor, clock);
          const after = state(editor);
          // A change to what is already there may still select; it is no step.
          fc.pre(after.document !== before.document);
          editor.undo();
          expect(state(editor)).toEqual(before);
          expect(editor.session.getState().document).toBe(before.document);
          editor.redo();
          expect(state(editor).document).toEqual(after.document);
        },
      ),
      { numRuns: 200 },
    );
  });

  it('changes of one gesture are one step, whatever their number', () => {
    fc.assert(
      fc.property(
        anyDocument,
        fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 2, maxLength: 30 }),
        fc.array(fc.integer({ min: 0, max: gesturePause - 1 }), { minLength: 30, maxLength: 30 }),
        (document, values, waits) => {
          const { editor, clock } = opened(document);
          values.forEach((thickness, i) => {
            clock.now += waits[i]!;
            editor.decide('Thickness', (d) => ({ ...d, foam: { ...d.foam, thickness: thickness / 8 } }), {
              merge: 'foam.thickness',
            });
          });
          const changed = values.at(-1)! / 8 !== document.decisions.foam.thickness;
          expect(editor.session.getState().canUndo).toBe(changed ? 'Thickness' : null);
          editor.undo();
          expect(editor.session.getState().document).toEqual(document);
          expect(editor.session.getState().canUndo).toBeNull();
        },
      ),
      { numRuns: 100 },
    );
  });

  it('parts that a change leaves alone stay the very same objects', () => {
    fc.assert(
      fc.property(anyDocument, anyDecisions, (document, other) => {
        const { editor } = opened(document);
        const before = editor.session.getState().document!;
        // A careless change that rebuilds everything but alters only the marks.
        editor.decide('Marks', (d) => ({ ...structuredClone(d), marks: other.marks }));
        const after = editor.session.getState().document!;
        expect(after.sources).toBe(before.sources);
        for (const part of ['reading', 'seams', 'fit', 'foam', 'pages'] as const) {
          expect(after.decisions[part]).toBe(before.decisions[part]);
        }
      }),
      { numRuns: 100 },
    );
  });
});
