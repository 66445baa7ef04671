/** Found seams on the hand-made bench: accepted, exchanged, looked for again. */
import { describe, expect, it } from 'vitest';
import { type CommandId, commands, freeStretch, isSure } from '../../app/commands';
import type { Command, CommandAnswer } from '../../app/commands/command';
import type { Editor } from '../../app/document/editor';
import { polylineLength } from '../../src/math';
import type { Seam } from '../../src/model';
import { seamIdOf } from '../../src/seams';
import { handBench } from './fixture';

function perform(editor: Editor, id: CommandId, args?: unknown): CommandAnswer {
  const c = commands[id] as unknown as Command<unknown>;
  const answer = c.run(editor.session.getState(), args);
  if (answer.kind === 'change')
    editor.decide(answer.label, answer.change, answer.select ? { select: answer.select } : {});
  return answer;
}

const enabled = (editor: Editor, id: CommandId) =>
  (commands[id] as unknown as Command).enabled(editor.session.getState());
const decisions = (editor: Editor) => editor.session.getState().document!.decisions;

const lengthOf = (edge: string) =>
  polylineLength(
    handBench()
      .session.getState()
      .results.pattern!.pieces.flatMap((p) => p.outline)
      .find((e) => e.id === edge)!.points,
  );

const found = (a: string, b: string, more: Partial<Seam> = {}): Seam => ({
  id: seamIdOf(a, b),
  number: 1,
  a: { piece: 'a', edge: a },
  b: { piece: 'b', edge: b },
  direction: 'opposed',
  evidence: 'geometry',
  confidence: 0.95,
  lengthA: 100,
  lengthB: 100,
  ...more,
});

/** A bench on which these seams were found. */
function benchWith(...seams: readonly Seam[]): Editor {
  const editor = handBench();
  const { results } = editor.session.getState();
  editor.report({ results: { ...results, seams: { seams, runs: [], open: [], issues: [] } } });
  return editor;
}

describe('accepting', () => {
  it('makes a found seam the person’s, once', () => {
    const editor = benchWith(found('ae1', 'be3', { direction: 'along' }));
    editor.select(['be3']);
    expect(enabled(editor, 'confirmSeams')).toBe(true);
    perform(editor, 'confirmSeams');
    expect(decisions(editor).seams.made).toEqual([{ a: 'ae1', b: 'be3', direction: 'along' }]);
    editor.undo();
    expect(decisions(editor).seams.made).toEqual([]);
    expect(
      perform(editor, 'confirmSeams', { seams: [found('ae1', 'be3', { evidence: 'person' })] }).kind,
    ).toBe('refusal');
  });

  it('takes all sure ones in one step and leaves what wants a look', () => {
    const editor = benchWith(
      found('ae1', 'be3'),
      found('ae0', 'be0', { confidence: 0.6 }),
      found('ae2', 'be2', { evidence: 'number' }),
    );
    perform(editor, 'acceptSure');
    expect(decisions(editor).seams.made).toEqual([{ a: 'ae1', b: 'be3', direction: 'opposed' }]);
    expect(editor.session.getState().canUndo).toBe('Accept 1 sure seams');
    expect(enabled(benchWith(found('ae0', 'be0', { confidence: 0.6 })), 'acceptSure')).not.toBe(true);
  });

  it('takes a seam on a part of an edge with its neighbours there, the parts as shares of its length', () => {
    const length = lengthOf('ae1');
    const [first, second] = [
      found('ae1', 'be3', { partA: [0, 0.4 * length] }),
      found('ae1', 'be0', { partA: [0.4 * length, length], confidence: 0.6 }),
    ];
    expect(isSure(first!)).toBe(true);
    const editor = benchWith(first!, second!, found('ae2', 'be2'));
    perform(editor, 'confirmSeams', { seams: [first] });
    const { made } = decisions(editor).seams;
    expect(made.map((m) => [m.a, m.b])).toEqual([
      ['ae1', 'be3'],
      ['ae1', 'be0'],
    ]);
    expect(made[0]!.partA).toEqual([0, expect.closeTo(0.4, 9)]);
    expect(made[1]!.partA).toEqual([expect.closeTo(0.4, 9), 1]);
    expect(made.every((m) => m.partB === undefined)).toBe(true);
    // One of them taken apart leaves the other; a mate for the whole edge leaves neither.
    perform(editor, 'unpair', { seams: [first] });
    expect(decisions(editor).seams.made.map((m) => m.b)).toEqual(['be0']);
    expect(decisions(editor).seams.rejected).toEqual([first!.id]);
    perform(editor, 'giveMate', { edge: 'ae1', mate: 'be1' });
    expect(decisions(editor).seams.made).toEqual([{ a: 'ae1', b: 'be1', direction: 'opposed' }]);
  });

  it('finds room for a shorter mate at either end of what is free', () => {
    const half = { a: 'ae1', b: 'be3', direction: 'opposed' as const, partA: [0, 0.5] as const };
    expect(freeStretch([], 'ae1', 0.3, 'start')).toEqual([0, 0.3]);
    expect(freeStretch([half], 'ae1', 0.3, 'start')).toEqual([0.5, 0.8]);
    expect(freeStretch([half], 'ae1', 0.3, 'end')).toEqual([0.7, 1]);
    expect(freeStretch([half], 'ae1', 0.9, 'end')).toEqual([0.5, 1]);
    expect(freeStretch([{ ...half, partA: [0, 1] }], 'ae1', 0.3, 'start')).toBeNull();
  });
});

describe('exchanging', () => {
  it('gives an edge another mate and forgets its earlier ones', () => {
    const editor = handBench();
    perform(editor, 'pairEdges', { a: 'ae1', b: 'be3' });
    perform(editor, 'giveMate', { edge: 'ae1', mate: 'be1' });
    expect(decisions(editor).seams.made).toEqual([{ a: 'ae1', b: 'be1', direction: 'opposed' }]);
    editor.undo();
    expect(decisions(editor).seams.made).toEqual([{ a: 'ae1', b: 'be3', direction: 'opposed' }]);
  });

  it('refuses an edge with itself and one that is gone', () => {
    const editor = handBench();
    expect(perform(editor, 'giveMate', { edge: 'ae1', mate: 'ae1' }).kind).toBe('refusal');
    expect(perform(editor, 'giveMate', { edge: 'ae1', mate: 'gone' }).kind).toBe('refusal');
  });
});

describe('finding the rest', () => {
  it('is switched off and on again, each a step', () => {
    const editor = handBench();
    expect(enabled(editor, 'findRest')).toMatch(/looked for/);
    perform(editor, 'leaveRest');
    expect(decisions(editor).seams.findRest).toBe(false);
    expect(enabled(editor, 'leaveRest')).not.toBe(true);
    perform(editor, 'findRest');
    expect(decisions(editor).seams.findRest).toBe(true);
    editor.undo();
    expect(decisions(editor).seams.findRest).toBe(false);
  });

  it('looks once more after a cancel', () => {
    const editor = handBench();
    editor.report({ stale: true });
    expect(enabled(editor, 'findRest')).toBe(true);
    expect(perform(editor, 'findRest').kind).toBe('effect');
    expect(editor.session.getState().canUndo).toBeNull();
  });
});

describe('what is known of the shell', () => {
  const corner = (edge: string, end: 'start' | 'end' = 'start') => ({ edge, end });

  it('holds one distance for two places, whichever is named first', () => {
    const editor = handBench();
    perform(editor, 'knowDistance', { from: corner('ae0'), to: corner('be0'), length: 150 });
    perform(editor, 'knowDistance', { from: corner('be0'), to: corner('ae0'), length: 160 });
    perform(editor, 'knowDistance', { from: corner('ae0', 'end'), to: corner('be0'), length: 90 });
    expect(decisions(editor).shell.distances.map((d) => d.length)).toEqual([160, 90]);
    perform(editor, 'forgetKnown', { kind: 'distance', index: 0 });
    expect(decisions(editor).shell.distances.map((d) => d.length)).toEqual([90]);
    expect(perform(editor, 'forgetKnown', { kind: 'distance', index: 5 }).kind).toBe('refusal');
  });

  it('holds one girth for each section', () => {
    const editor = handBench();
    perform(editor, 'knowGirth', { at: 0.5, tilt: 0, girth: 600 });
    perform(editor, 'knowGirth', { at: 0.5, tilt: 0, girth: 610 });
    perform(editor, 'knowGirth', { at: 0.25, tilt: 0.1, girth: 500 });
    expect(decisions(editor).shell.girths.map((g) => g.girth)).toEqual([610, 500]);
    perform(editor, 'forgetKnown', { kind: 'girth', index: 1 });
    expect(decisions(editor).shell.girths.map((g) => g.girth)).toEqual([610]);
  });

  it('refuses what can’t be', () => {
    const editor = handBench();
    const refused = (id: CommandId, args: unknown) => perform(editor, id, args).kind === 'refusal';
    expect(refused('knowDistance', { from: corner('ae0'), to: corner('be0'), length: 0 })).toBe(true);
    expect(refused('knowDistance', { from: corner('ae0'), to: corner('ae0'), length: 10 })).toBe(true);
    expect(refused('knowGirth', { at: 1.2, tilt: 0, girth: 600 })).toBe(true);
    expect(refused('knowGirth', { at: 0.5, tilt: 0, girth: Number.NaN })).toBe(true);
    expect(editor.session.getState().canUndo).toBeNull();
  });

  it('turns folding up and symmetry off and on', () => {
    const editor = handBench();
    perform(editor, 'foldUp', { on: false });
    perform(editor, 'keepSymmetry', { on: false });
    expect(decisions(editor).shell).toMatchObject({ foldUp: false, symmetry: false });
    editor.undo();
    editor.undo();
    expect(decisions(editor).shell).toMatchObject({ foldUp: true, symmetry: true });
  });
});

describe('the try-on band', () => {
  it('is offered once the shell is measured, and says why not before', () => {
    const editor = handBench();
    expect(enabled(editor, 'exportBand')).toMatch(/no sound shell/);
    editor.report({ stale: true });
    expect(enabled(editor, 'exportBand')).toMatch(/still being folded up/);
    expect(perform(editor, 'exportBand').kind).toBe('refusal');
  });
});
