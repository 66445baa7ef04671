/** An offcut drawn on the bench, in the page's own session. */
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { commands, describeCommand, runCommand } from '../../app/commands';
import { redo, session, undo } from '../../app/document';
import { defaultDecisions, noResults } from '../../src/model';
import { plainDocument } from '../project/arbitrary';
import { buildFixture, sidesOf } from '../support/panels';

/** Nothing is computed here: what is asked of the worker is never answered. */
class SilentWorker {
  postMessage(): void {}
  terminate(): void {}
}
vi.stubGlobal('Worker', SilentWorker);

const { foam } = buildFixture(
  'plate',
  [{ name: 'A', loops: [sidesOf([0, 1, 2].map((k) => ({ x: k === 1 ? 90 : 0, y: k === 2 ? 90 : 0 })))] }],
  [],
);
const stock = () => session.getState().document!.decisions.sheets.stock;
const lay = (...points: readonly (readonly [number, number])[]) =>
  runCommand('layCorners', { points: points.map(([x, y]) => ({ x, y })), pen: { x: 0, y: 0 } });

beforeEach(() => {
  session.setState({
    document: { ...plainDocument, decisions: defaultDecisions },
    documentId: 'd',
    step: 'sheets',
    tool: 'select',
    offcut: null,
    results: { ...noResults, foam },
  });
});

describe('drawing an offcut', () => {
  it('lists it at its true size in one step of the history, and draws it anew', () => {
    runCommand('offcutTool');
    expect(session.getState().offcut).toMatchObject({ thickness: foam.panels[0]!.thickness, points: [] });
    lay([0, 0], [300, 0]);
    expect(describeCommand('keepOffcut', session.getState()).enabled).toBe(false);
    lay([0, 0], [300, 0], [0, -200]);
    // What has been laid is taken back corner by corner, not the document.
    expect(commands.undo.label(session.getState())).toBe('Undo: corner');
    runCommand('undo');
    expect(session.getState().offcut!.points.length).toBe(2);
    lay([0, 0], [300, 0], [0, -200]);
    runCommand('keepOffcut');
    expect(session.getState()).toMatchObject({ offcut: null, tool: 'select' });
    expect(stock()).toEqual([
      {
        ...{ id: 's1', thickness: foam.panels[0]!.thickness, material: '', count: 1, price: null },
        shape: {
          kind: 'offcut',
          outline: [
            { x: 0, y: 0 },
            { x: 300, y: 200 },
            { x: 0, y: 200 },
          ],
        },
      },
    ]);
    undo();
    expect(stock()).toEqual([]);
    redo();
    const { thickness, material } = stock()[0]!;
    runCommand('startOffcut', { thickness, material, changes: 's1' });
    // As it hung from the rulers' zero.
    expect(session.getState().offcut!.points).toEqual([
      { x: 0, y: -200 },
      { x: 300, y: 0 },
      { x: 0, y: 0 },
    ]);
    lay([0, 0], [400, 0], [0, -200]);
    runCommand('keepOffcut');
    expect(stock().map((s) => s.shape.kind === 'offcut' && s.shape.outline[1]!.x)).toEqual([400]);
  });

  it('says why it does not close, and ends with its step', () => {
    runCommand('offcutTool');
    lay([0, 0], [100, -80], [100, 0], [0, -80]);
    expect(describeCommand('keepOffcut', session.getState()).reason).toContain('crosses itself');
    expect(runCommand('keepOffcut').done).toBe(false);
    runCommand('goToStep', { step: 'pages' });
    expect(session.getState()).toMatchObject({ offcut: null, tool: 'select' });
    expect(runCommand('offcutTool').done).toBe(false);
  });
});
