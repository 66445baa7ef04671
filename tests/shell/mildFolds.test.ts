/** Drawings leave mild folds out: faces then bend slightly, and the shell closes all the same. */
import { describe, expect, it } from 'vitest';
import type { Seam } from '../../src/model';
import { foldPattern } from '../../src/shell';
import { bendsOfTruth, seamsOfTruth } from '../foam/truthSeams';
import {
  openShell,
  patternFromTruth,
  shellPattern,
  topologyOf,
  withoutMildFolds,
} from '../support/harbourWatch';

const degree = Math.PI / 180;
const net = { faces: 90, symmetric: false, jitter: 0 } as const;

describe('folds under 3° left out of the drawing', () => {
  it('leave a shell that closes, is good, and says how far its faces bend', async () => {
    const truth = withoutMildFolds(shellPattern(openShell({ ...net, seed: 301, net: 'quads' })), 3 * degree);
    const shell = await foldPattern(patternFromTruth(truth), seamsOfTruth(truth));
    expect(shell.quality).toBe('good');
    expect(shell.residual.max).toBeLessThan(1e-3);
    const note = shell.issues.find((i) => i.code === 'shell-faces-slightly-bent');
    expect(note?.severity).toBe('note');
    const told = Number(/up to ([\d.]+)°/.exec(note!.message)![1]);
    expect(told).toBeGreaterThan(1);
    expect(told).toBeLessThan(3.6);
    const off = Object.entries(bendsOfTruth(truth)).map(([id, bend]) => Math.abs(shell.bends[id]! - bend));
    expect(off.filter((d) => d < 3 * degree).length).toBeGreaterThan(0.95 * off.length);
  });

  it('do not bend the faces of a shell that closes with all of them flat', async () => {
    const truth = shellPattern(openShell({ ...net, seed: 301, net: 'quads' }));
    const shell = await foldPattern(patternFromTruth(truth), seamsOfTruth(truth));
    expect(shell.issues.map((i) => i.code)).not.toContain('shell-faces-slightly-bent');
    expect(shell.quality).toBe('good');
  });

  it('do not hide a seam sewn where none belongs', async () => {
    const mesh = openShell({ ...net, faces: 150, seed: 6, net: 'mixed' });
    const truth = shellPattern(mesh);
    const { edges } = topologyOf(mesh);
    const border = truth.pieces.flatMap((p) =>
      p.outline
        .filter((e) => e.mate === null)
        .map((e) => ({ piece: p.id, edge: e.id, on: edges[e.meshEdge]! })),
    );
    const next = border
      .flatMap((a) => border.filter((b) => a.on.to === b.on.from).map((b) => [a, b] as const))
      .sort((p, q) => Math.abs(p[0].on.length - p[1].on.length) - Math.abs(q[0].on.length - q[1].on.length));
    const seams = seamsOfTruth(truth);
    const [a, b] = next[1]!;
    const wrong: Seam = { ...seams.seams[0]!, id: 'wrong', a, b, evidence: 'geometry', confidence: 0.5 };
    const shell = await foldPattern(patternFromTruth(truth), { ...seams, seams: [...seams.seams, wrong] });
    expect(shell.leftOut).toEqual([]);
    expect(shell.quality).toBe('doubtful');
  });
});
