import { describe, expect, it } from 'vitest';
import { commands } from '../../app/commands';
import type { Command, CommandAnswer } from '../../app/commands/command';
import type { Editor } from '../../app/document/editor';
import { handBench } from './fixture';

function perform(editor: Editor, id: keyof typeof commands, args?: unknown): CommandAnswer {
  const c = commands[id] as unknown as Command<unknown>;
  const answer = c.run(editor.session.getState(), args);
  if (answer.kind === 'change') {
    editor.decide(answer.label, answer.change, answer.merge ? { merge: answer.merge } : {});
  }
  return answer;
}

const decisions = (editor: Editor) => editor.session.getState().document!.decisions;

describe('the brow plane', () => {
  it('is set in height and tilt, each without the other, and proposed again', () => {
    const editor = handBench();
    perform(editor, 'setBrow', { at: 0.4 });
    expect(decisions(editor).fit.brow).toEqual({ at: 0.4, tilt: null });
    perform(editor, 'setBrow', { tilt: -0.1 });
    expect(decisions(editor).fit.brow).toEqual({ at: 0.4, tilt: -0.1 });
    perform(editor, 'proposeBrow');
    expect(decisions(editor).fit.brow).toEqual({ at: null, tilt: null });
    editor.undo();
    expect(decisions(editor).fit.brow).toEqual({ at: 0.4, tilt: -0.1 });
  });

  it('moves in one undo step however many keys were pressed', () => {
    const editor = handBench();
    for (const at of [0.41, 0.42, 0.43]) perform(editor, 'setBrow', { at, merge: 'brow' });
    expect(decisions(editor).fit.brow.at).toBe(0.43);
    editor.undo();
    expect(decisions(editor).fit.brow.at).toBeNull();
  });

  it('stays on the shell', () => {
    const editor = handBench();
    for (const args of [{ at: -0.01 }, { at: 1.01 }, { at: Number.NaN }, { tilt: 1.2 }])
      expect(perform(editor, 'setBrow', args).kind).toBe('refusal');
    expect(editor.session.getState().canUndo).toBeNull();
  });
});

describe('turning the shell', () => {
  it('turns about one axis at a time, at most half a turn either way', () => {
    const editor = handBench();
    perform(editor, 'turnShell', { z: Math.PI / 2 });
    perform(editor, 'turnShell', { x: 1.5 * Math.PI });
    const { turned } = decisions(editor).shell;
    expect(turned.z).toBeCloseTo(Math.PI / 2, 12);
    expect(turned.x).toBeCloseTo(-Math.PI / 2, 12);
    perform(editor, 'turnShellBack');
    expect(decisions(editor).shell.turned).toEqual({ x: 0, y: 0, z: 0 });
    expect(perform(editor, 'turnShell', {}).kind).toBe('refusal');
  });

  it('takes doubtful bends only on the person’s word', () => {
    const editor = handBench();
    expect(decisions(editor).shell.trustDoubtful).toBe(false);
    perform(editor, 'trustDoubtful', { trust: true });
    expect(decisions(editor).shell.trustDoubtful).toBe(true);
    editor.undo();
    expect(decisions(editor).shell.trustDoubtful).toBe(false);
  });
});
