import { describe, expect, it } from 'vitest';
import { createEditor } from '../../app/document/editor';
import { gesturePause, historyLimit } from '../../app/document/history';
import type { Decisions } from '../../src/model';
import { plainDocument } from '../project/arbitrary';

const thick =
  (thickness: number) =>
  (d: Decisions): Decisions => ({ ...d, foam: { ...d.foam, thickness } });

function bench() {
  const clock = { now: 0 };
  const editor = createEditor(() => clock.now);
  editor.show(plainDocument, 'd1');
  const thickness = () => editor.session.getState().document!.decisions.foam.thickness;
  const labels = () => {
    const { canUndo, canRedo } = editor.session.getState();
    return [canUndo, canRedo];
  };
  return { editor, clock, thickness, labels };
}

describe('undo steps', () => {
  it('names the steps for undo and redo', () => {
    const { editor, labels } = bench();
    expect(labels()).toEqual([null, null]);
    editor.decide('First', thick(6));
    editor.decide('Second', thick(7));
    expect(labels()).toEqual(['Second', null]);
    editor.undo();
    expect(labels()).toEqual(['First', 'Second']);
    editor.undo();
    expect(labels()).toEqual([null, 'First']);
    editor.decide('Third', thick(8));
    expect(labels()).toEqual(['Third', null]);
  });

  it('says what was undone and redone, also twice the same', () => {
    const { editor } = bench();
    editor.decide('Thickness', thick(6));
    editor.decide('Thickness', thick(7));
    const said = () => editor.session.getState().stepped;
    expect(said()).toBeNull();
    editor.undo();
    const first = said()!;
    editor.undo();
    expect([first.words, said()!.words]).toEqual(['Undone: Thickness.', 'Undone: Thickness.']);
    expect(said()!.turn).not.toBe(first.turn);
    editor.redo();
    expect(said()!.words).toBe('Redone: Thickness.');
  });

  it('a change to the same value is no step and wakes nobody', () => {
    const { editor, labels } = bench();
    let woken = 0;
    editor.session.subscribe(() => woken++);
    editor.decide('Nothing', thick(5));
    expect(labels()).toEqual([null, null]);
    expect(woken).toBe(0);
  });

  it('lets a lasting gesture rest until it is ended', () => {
    const { editor, clock, thickness } = bench();
    const click = (to: number) =>
      editor.decide('Thickness', thick(to), { merge: 'thickness', lasting: true });
    click(6);
    clock.now += 60 * gesturePause;
    click(7);
    editor.endMerge();
    click(8);
    editor.undo();
    expect(thickness()).toBe(7);
    editor.undo();
    expect(thickness()).toBe(5);
  });

  it('ends a gesture after a pause, with endMerge, with another key, and after undo', () => {
    const { editor, clock, thickness } = bench();
    const drag = (to: number, merge = 'thickness') => editor.decide('Thickness', thick(to), { merge });
    drag(6);
    clock.now += gesturePause;
    drag(7);
    editor.undo();
    expect(thickness()).toBe(6);
    drag(8);
    editor.undo();
    expect(thickness()).toBe(6);
    drag(9);
    editor.endMerge();
    drag(10);
    editor.undo();
    expect(thickness()).toBe(9);
    drag(11);
    drag(12, 'other');
    editor.undo();
    expect(thickness()).toBe(11);
    editor.undo();
    expect(thickness()).toBe(9);
  });

  it('a drag that returns to its start leaves no step', () => {
    const { editor, labels } = bench();
    editor.decide('Thickness', thick(6), { merge: 'thickness' });
    editor.decide('Thickness', thick(5), { merge: 'thickness' });
    expect(labels()).toEqual([null, null]);
    expect(editor.session.getState().document).toBe(plainDocument);
  });

  it('restores the selection with the step, but selecting is no step', () => {
    const { editor, labels } = bench();
    editor.select(['e1', 'e2']);
    expect(labels()).toEqual([null, null]);
    editor.decide('Pair', thick(6), { select: ['s1'] });
    editor.select(['p1'], 'add');
    expect(editor.session.getState().selection).toEqual(['s1', 'p1']);
    editor.undo();
    expect(editor.session.getState().selection).toEqual(['e1', 'e2']);
  });

  it('keeps a bounded number of steps', () => {
    const { editor, thickness } = bench();
    for (let i = 1; i <= historyLimit + 20; i++) editor.decide('Step', thick(5 + i));
    for (let i = 0; i < historyLimit + 20; i++) editor.undo();
    expect(thickness()).toBe(5 + 20);
  });

  it('leaves the unit alone', () => {
    const { editor } = bench();
    editor.decide('Thickness', thick(6));
    editor.setLengthUnit('in');
    editor.undo();
    expect(editor.session.getState().document!.lengthUnit).toBe('in');
    expect(editor.session.getState().document!.decisions.foam.thickness).toBe(5);
  });
});

describe('the bench', () => {
  it('starts clean with another document', () => {
    const { editor, labels } = bench();
    editor.decide('Thickness', thick(6));
    editor.select(['e1']);
    editor.setStep('foam');
    editor.focusOn([{ x: 1, y: 2 }], ['e1']);
    editor.show({ ...plainDocument, title: 'Keel bracer' }, 'd2');
    const s = editor.session.getState();
    expect(labels()).toEqual([null, null]);
    expect(s).toMatchObject({ documentId: 'd2', step: 'pattern', selection: [], stale: true, focus: null });
    editor.undo();
    expect(editor.session.getState().document!.title).toBe('Keel bracer');
  });

  it('adds, toggles and replaces selections without repeats', () => {
    const { editor } = bench();
    const selection = () => editor.session.getState().selection;
    editor.select(['a', 'b', 'a']);
    expect(selection()).toEqual(['a', 'b']);
    editor.select(['b', 'c'], 'add');
    expect(selection()).toEqual(['a', 'b', 'c']);
    editor.select(['b', 'd'], 'toggle');
    expect(selection()).toEqual(['a', 'c', 'd']);
    const same = selection();
    editor.select(['a', 'c', 'd']);
    expect(selection()).toBe(same);
  });

  it('counts requests to show a place, also the same one twice', () => {
    const { editor } = bench();
    editor.focusOn([{ x: 0, y: 0 }]);
    editor.focusOn([{ x: 0, y: 0 }]);
    expect(editor.session.getState().focus?.serial).toBe(2);
  });

  it('does nothing without a document', () => {
    const editor = createEditor(() => 0);
    editor.decide('Thickness', thick(6));
    editor.undo();
    editor.redo();
    editor.setLengthUnit('in');
    expect(editor.session.getState().document).toBeNull();
  });
});
