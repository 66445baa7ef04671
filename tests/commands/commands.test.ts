import { describe, expect, it } from 'vitest';
import { type CommandId, commands } from '../../app/commands';
import type { Command, CommandAnswer } from '../../app/commands/command';
import type { Editor } from '../../app/document/editor';
import { seamIdOf } from '../../src/seams';
import { handBench, seamsNow } from './fixture';

/** Runs a command on this bench as the page's runner does; effects are left to the page. */
function perform(editor: Editor, id: CommandId, args?: unknown): CommandAnswer {
  const c = commands[id] as unknown as Command<unknown>;
  const answer = c.run(editor.session.getState(), args);
  if (answer.kind === 'change') {
    editor.decide(answer.label, answer.change, answer.select ? { select: answer.select } : {});
  }
  return answer;
}

const enabled = (editor: Editor, id: CommandId) =>
  (commands[id] as unknown as Command).enabled(editor.session.getState());
const decisions = (editor: Editor) => editor.session.getState().document!.decisions;

describe('the registry', () => {
  it('knows every command by its own id, with words', () => {
    const s = handBench().session.getState();
    const all = Object.entries(commands) as unknown as [string, Command][];
    expect(all.length).toBeGreaterThan(35);
    for (const [id, c] of all) {
      expect(c.id).toBe(id);
      expect(c.label(s).length).toBeGreaterThan(3);
    }
  });

  it('gives no key to two commands', () => {
    const keys = (Object.values(commands) as unknown as Command[]).flatMap((c) => c.keys ?? []);
    expect(new Set(keys).size).toBe(keys.length);
  });

  it('gives a reason in words for whatever is not possible', () => {
    const editor = handBench();
    editor.show(null, null);
    const refused = (Object.entries(commands) as unknown as [string, Command][]).filter(
      ([, c]) => c.enabled(editor.session.getState()) !== true,
    );
    expect(refused.length).toBeGreaterThan(30);
    for (const [, c] of refused) expect(c.enabled(editor.session.getState())).toMatch(/^[A-Z].*\.$/);
  });
});

describe('pairing', () => {
  it('pairs the two selected edges and selects the seam', () => {
    const editor = handBench();
    expect(enabled(editor, 'pairEdges')).not.toBe(true);
    editor.select(['ae1', 'be3']);
    expect(enabled(editor, 'pairEdges')).toBe(true);
    perform(editor, 'pairEdges');
    const id = seamIdOf('ae1', 'be3');
    expect(seamsNow(editor).find((s) => s.id === id)).toMatchObject({ evidence: 'person' });
    expect(editor.session.getState().selection).toEqual([id]);
    editor.undo();
    expect(editor.session.getState().selection).toEqual(['ae1', 'be3']);
  });

  it('takes an edge out of its earlier seam and border', () => {
    const editor = handBench();
    perform(editor, 'pairEdges', { a: 'ae1', b: 'be3' });
    perform(editor, 'markBorder', { edges: ['be1'] });
    perform(editor, 'pairEdges', { a: 'ae1', b: 'be1' });
    expect(decisions(editor).seams).toMatchObject({
      made: [{ a: 'ae1', b: 'be1', direction: 'opposed' }],
      borders: [],
    });
  });

  it('takes apart by edge or seam, for good, and pairs again', () => {
    const editor = handBench();
    perform(editor, 'pairEdges', { a: 'ae1', b: 'be3' });
    editor.select(['be3']);
    perform(editor, 'unpair');
    const id = seamIdOf('ae1', 'be3');
    expect(decisions(editor).seams).toMatchObject({ made: [], rejected: [id] });
    expect(seamsNow(editor).map((s) => s.id)).not.toContain(id);
    perform(editor, 'pairEdges', { a: 'be3', b: 'ae1' });
    expect(decisions(editor).seams.rejected).toEqual([]);
    expect(seamsNow(editor).map((s) => s.id)).toContain(id);
  });

  it('marks and unmarks edges that stay open', () => {
    const editor = handBench();
    perform(editor, 'pairEdges', { a: 'ae1', b: 'be3' });
    editor.select(['ae1', 'ae0']);
    perform(editor, 'markBorder');
    expect(decisions(editor).seams).toMatchObject({ made: [], borders: ['ae1', 'ae0'] });
    expect(enabled(editor, 'unmarkBorder')).toBe(true);
    perform(editor, 'unmarkBorder', { edges: ['ae0'] });
    expect(decisions(editor).seams.borders).toEqual(['ae1']);
  });

  it('turns a seam round', () => {
    const editor = handBench();
    perform(editor, 'pairEdges', { a: 'ae1', b: 'be3' });
    perform(editor, 'turnSeam');
    expect(seamsNow(editor)[0]?.direction).toBe('along');
    perform(editor, 'turnSeam');
    expect(seamsNow(editor)[0]?.direction).toBe('opposed');
  });

  it('refuses an edge with itself, and too few or too many', () => {
    const editor = handBench();
    expect(perform(editor, 'pairEdges', { a: 'ae1', b: 'ae1' }).kind).toBe('refusal');
    editor.select(['ae0']);
    expect(perform(editor, 'pairEdges').kind).toBe('refusal');
    editor.select(['ae0', 'ae1', 'ae2']);
    expect(perform(editor, 'pairEdges').kind).toBe('refusal');
    expect(editor.session.getState().canUndo).toBeNull();
  });
});

describe('foam', () => {
  it('bends the selected folds and the seams of the selected edges, each by its own id', () => {
    const editor = handBench();
    perform(editor, 'pairEdges', { a: 'ae1', b: 'be3' });
    editor.select(['af', 'be3', 'ae0']);
    perform(editor, 'setBend', { angle: 0.5 });
    expect(decisions(editor).foam.bends).toEqual({ af: 0.5, [seamIdOf('ae1', 'be3')]: 0.5 });
    perform(editor, 'setBend', { angle: null, ids: ['af'] });
    expect(decisions(editor).foam.bends).toEqual({ [seamIdOf('ae1', 'be3')]: 0.5 });
  });

  it('bends a whole kind', () => {
    const editor = handBench();
    perform(editor, 'setRoleBend', { role: 'mountain', angle: 0.25 });
    expect(decisions(editor).foam.roleBends).toEqual({
      mountain: 0.25,
      valley: null,
      unknown: null,
      seam: null,
    });
  });

  it('cuts single seams otherwise, and all alike again', () => {
    const editor = handBench();
    perform(editor, 'pairEdges', { a: 'ae1', b: 'be3' });
    perform(editor, 'setPreparation', { preparation: 'square' });
    expect(decisions(editor).foam.preparationOf).toEqual({ [seamIdOf('ae1', 'be3')]: 'square' });
    perform(editor, 'setPreparationForAll', { preparation: 'square' });
    expect(decisions(editor).foam).toMatchObject({ preparation: 'square', preparationOf: {} });
  });
});

describe('reading and girth', () => {
  it('gives roles to groups and lines, and takes them back', () => {
    const editor = handBench();
    perform(editor, 'setGroupRole', { group: 'g1', role: 'valley' });
    editor.select(['0:1:0', 'af']);
    perform(editor, 'setLineRole', { role: 'notes' });
    expect(decisions(editor).reading).toMatchObject({
      groupRoles: { g1: 'valley' },
      lineRoles: { '0:1:0': 'notes' },
    });
    perform(editor, 'setLineRole', { role: null });
    perform(editor, 'setGroupRole', { group: 'g1', role: null });
    expect(decisions(editor).reading).toMatchObject({ groupRoles: {}, lineRoles: {} });
  });

  it('keeps tabs and takes them off', () => {
    const editor = handBench();
    editor.select(['at', 'bt']);
    perform(editor, 'keepTabs');
    perform(editor, 'keepTabs');
    expect(decisions(editor).reading.keptTabs).toEqual(['at', 'bt']);
    perform(editor, 'stripTabs', { tabs: ['at'] });
    expect(decisions(editor).reading.keptTabs).toEqual(['bt']);
  });

  it('measures the girth along edges in the order they were picked', () => {
    const editor = handBench();
    editor.select(['be0', 'ae0']);
    perform(editor, 'measureChain');
    expect(decisions(editor).fit.girth).toEqual({ kind: 'edges', edges: ['be0', 'ae0'] });
    perform(editor, 'clearGirth');
    expect(decisions(editor).fit.girth).toEqual({ kind: 'none' });
    expect(enabled(editor, 'clearGirth')).not.toBe(true);
    expect(perform(editor, 'typeGirth', { length: 0 }).kind).toBe('refusal');
    expect(perform(editor, 'layTape', { parts: [] }).kind).toBe('refusal');
  });
});
