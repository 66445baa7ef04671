/** Parts with outlines of their own, drawn corner by corner or read from a file, in the page's own session. */
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { describeCommand, runCommand } from '../../app/commands';
import { redo, session, undo } from '../../app/document';
import { defaultDecisions, noResults, type PlacedShape, partId } from '../../src/model';
import { plainDocument } from '../project/arbitrary';

/** Nothing is computed here: what is asked of the worker is never answered. */
class SilentWorker {
  postMessage(): void {}
  terminate(): void {}
}
vi.stubGlobal('Worker', SilentWorker);

const parts = () => session.getState().document!.decisions.extras.parts;
const corners = [0.1, 0.5, 0.9].map((x) => ({ face: 'f1', x, y: x === 0.5 ? 0.9 : 0.1 }));
const shape = (changes: Partial<PlacedShape> = {}): PlacedShape => ({
  ...{ kind: 'shape', within: 'shell', turn: 0, width: 80, at: { face: 'f1', x: 0.5, y: 0.5 } },
  rings: [[0, 1, 2].map((k) => ({ x: k === 1 ? 9 : 0, y: k === 2 ? 9 : 0 }))],
  ...changes,
});
/** A line in hand, as the tool holds it. */
const draw = (changes: Record<string, unknown> = {}) =>
  session.setState({
    outline: {
      ...{ as: 'layer', places: null, curved: false, within: 'shell', points: [], pen: { x: 0, y: 0 } },
      ...changes,
    },
    tool: 'outline',
  });

beforeEach(() => {
  session.setState({
    document: { ...plainDocument, decisions: defaultDecisions },
    documentId: 'd',
    step: 'panels',
    tool: 'select',
    outline: null,
    results: noResults,
  });
});

describe('keeping an outline', () => {
  it('takes three corners, and is a raised layer in one step of the history', () => {
    expect(runCommand('keepOutline')).toMatchObject({ done: false, reason: 'No outline is being drawn.' });
    draw();
    for (const point of corners.slice(0, 2)) runCommand('layOutline', { point });
    expect(runCommand('keepOutline')).toMatchObject({
      done: false,
      reason: 'An outline needs three corners or more.',
    });
    expect(parts()).toEqual([]);
    runCommand('layOutline', { point: corners[2]! });
    expect(describeCommand('keepOutline', session.getState()).label).toBe('Make it a raised layer');
    expect(runCommand('keepOutline').done).toBe(true);
    const outline = { kind: 'drawn', points: corners, curved: false, within: 'shell' };
    expect(parts()).toMatchObject([{ id: 'x1', kind: 'layer', faces: [], outline }]);
    expect(session.getState()).toMatchObject({ outline: null, tool: 'select' });
    undo();
    expect(parts()).toEqual([]);
    redo();
    expect(parts()).toHaveLength(1);
  });

  it('makes a stencil of what was chosen, with a name and an id that no other part has', () => {
    for (const as of ['layer', 'layer', 'stencil'] as const) {
      draw({ points: corners });
      runCommand('chooseOutline', { as, curved: true, within: 'panel' });
      runCommand('keepOutline');
    }
    expect(parts().map(({ id, kind }) => [id, kind])).toEqual([
      ['x1', 'layer'],
      ['x2', 'layer'],
      ['x3', 'stencil'],
    ]);
    expect(new Set(parts().map((p) => p.name)).size).toBe(3);
    expect(parts()[2]).toMatchObject({ outline: { curved: true, within: 'panel', points: corners } });
  });
});

describe('a stencil from a shape', () => {
  it('has the name of its file, made its own, and lies on the face as it was drawn', () => {
    runCommand('addStencil', { name: 'Gull', outline: shape() });
    // A face of a split panel is told by the face that it was before.
    runCommand('addStencil', {
      name: 'Gull',
      outline: shape({ at: { face: partId('f2', 'e1', 0), x: 0.2, y: 0.3 } }),
    });
    expect(parts()).toMatchObject([
      { id: 'x1', name: 'Gull', kind: 'stencil', outline: shape() },
      { id: 'x2', name: 'Gull 2', kind: 'stencil', outline: shape({ at: { face: 'f2', x: 0.2, y: 0.3 } }) },
    ]);
    undo();
    expect(parts().map((p) => p.name)).toEqual(['Gull']);
  });

  it('moves to where the next click lays it, and refuses when it is gone', () => {
    runCommand('addStencil', { name: 'Gull', outline: shape() });
    draw({ as: 'stencil', places: 'x1' });
    runCommand('layOutline', { point: corners[2]! });
    expect(parts()).toMatchObject([{ outline: { at: corners[2], width: 80 } }]);
    expect(session.getState().outline).toBeNull();
    draw({ as: 'stencil', places: 'x9' });
    expect(runCommand('layOutline', { point: corners[0]! })).toMatchObject({ done: false });
    expect(parts()).toMatchObject([{ outline: { at: corners[2] } }]);
  });

  it('needs a document', () => {
    session.setState({ document: null });
    expect(describeCommand('addStencil', session.getState())).toMatchObject({
      enabled: false,
      reason: 'Open a pattern first.',
    });
  });
});
