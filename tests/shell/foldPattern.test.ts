import { describe, expect, it } from 'vitest';
import { nothingKnown, type Seams } from '../../src/model';
import { foldPattern } from '../../src/shell';
import { bendsOfTruth, seamsOfTruth } from '../foam/truthSeams';
import {
  gannetPattern,
  openShell,
  patternFromTruth,
  prism,
  shellPattern,
  solid,
} from '../support/harbourWatch';

const cube = () => shellPattern(solid('cube'), { maxBend: 2, maxFaces: 6 });
const degrees = (rad: number) => (rad * 180) / Math.PI;

describe('folding a pattern up', () => {
  it('gives every fold and seam of a cube its right angle', async () => {
    const truth = cube();
    const shell = await foldPattern(patternFromTruth(truth), seamsOfTruth(truth));
    const wanted = bendsOfTruth(truth);
    expect(Object.keys(shell.bends).sort()).toEqual(Object.keys(wanted).sort());
    for (const bend of Object.values(shell.bends)) expect(degrees(bend)).toBeCloseTo(90, 4);
    expect(shell.quality).toBe('good');
    expect(shell.vertices.length).toBe(8);
    expect(shell.components.length).toBe(1);
    expect(shell.components[0]!.openings).toBe(0);
    expect(shell.issues).toEqual([]);
  });

  it('finds the bends of the helm from its pieces and stands it upright with its mirror plane at x = 0', async () => {
    const truth = gannetPattern();
    const shell = await foldPattern(patternFromTruth(truth), seamsOfTruth(truth));
    const wanted = bendsOfTruth(truth);
    const off = Object.entries(wanted)
      .map(([id, bend]) => Math.abs(degrees(shell.bends[id]! - bend)))
      .sort((a, b) => a - b);
    expect(off.length).toBeGreaterThan(400);
    expect(off[Math.floor(off.length * 0.95)]).toBeLessThan(3);
    expect(shell.quality).toBe('good');
    expect(shell.symmetry).not.toBeNull();
    for (const [v, w] of shell.symmetry!.pairs) {
      expect(shell.vertices[v]!.x).toBeCloseTo(-shell.vertices[w]!.x, 9);
      expect(shell.vertices[v]!.z).toBeCloseTo(shell.vertices[w]!.z, 9);
    }
    // The truth has its neck at the bottom and its face to the front: the highest vertex is far above the neck.
    const low = Math.min(...shell.vertices.map((p) => p.z));
    const high = Math.max(...shell.vertices.map((p) => p.z));
    const truthHeight =
      Math.max(...truth.shell!.vertices.map((p) => p.z)) - Math.min(...truth.shell!.vertices.map((p) => p.z));
    expect(Math.abs(high - low - truthHeight)).toBeLessThan(0.1 * truthHeight);
  });

  it('folds what the seams hold together and puts the rest beside it', async () => {
    const truth = shellPattern(prism(6), { maxBend: 0.1, maxFaces: 1 });
    const none: Seams = { seams: [], runs: [], open: [], issues: [] };
    const shell = await foldPattern(patternFromTruth(truth), none);
    expect(shell.components.length).toBe(8);
    const spans = shell.components.map((c) => {
      const xs = c.vertices.map((v) => shell.vertices[v]!.x);
      return [Math.min(...xs), Math.max(...xs)] as const;
    });
    for (let i = 1; i < spans.length; i++) expect(spans[i]![0]).toBeGreaterThan(spans[i - 1]![1]);
    expect(shell.quality).toBe('good');
    expect(Object.keys(shell.bends)).toEqual([]);
  });

  it('leaves out a second seam at an edge, the less certain one, and says so', async () => {
    const truth = cube();
    const seams = seamsOfTruth(truth);
    const [first, second] = seams.seams;
    const extra = { ...first!, id: 'extra', b: second!.b, confidence: 0.4, evidence: 'geometry' as const };
    const shell = await foldPattern(patternFromTruth(truth), { ...seams, seams: [extra, ...seams.seams] });
    expect(shell.leftOut).toEqual(['extra']);
    expect(shell.issues.map((i) => i.code)).toEqual(['shell-seam-left-out']);
    expect(shell.quality).toBe('good');
  });

  it('leaves out seams that would fold a face onto itself', async () => {
    const truth = cube();
    const pattern = patternFromTruth(truth);
    const face = pattern.pieces[0]!.faces.find((f) => f.sides.filter((s) => s.kind === 'edge').length >= 2)!;
    const [a, b] = face.sides.filter((s) => s.kind === 'edge');
    const bad = {
      ...seamsOfTruth(truth).seams[0]!,
      id: 'bad',
      a: { piece: pattern.pieces[0]!.id, edge: a!.id },
      b: { piece: pattern.pieces[0]!.id, edge: b!.id },
    };
    // Two edges of one square, mated so that both their ends fall together.
    const shell = await foldPattern(pattern, {
      seams: [{ ...bad, direction: 'along' }],
      runs: [],
      open: [],
      issues: [],
    });
    expect(shell.leftOut).toEqual(['bad']);
  });

  it('leaves out two crossed seams, whose sides differ in length, and folds up without them', async () => {
    const mesh = openShell({ seed: 4, faces: 60, symmetric: false, net: 'quads', jitter: 0 });
    const truth = shellPattern(mesh, { maxFaces: 6 });
    const seams = seamsOfTruth(truth);
    const [p, q] = [seams.seams[3]!, seams.seams[11]!];
    const crossed = seams.seams.map((s) => (s === p ? { ...p, b: q.b } : s === q ? { ...q, b: p.b } : s));
    const shell = await foldPattern(patternFromTruth(truth), { ...seams, seams: crossed });
    expect([...shell.leftOut].sort()).toEqual([p.id, q.id].sort());
    expect(shell.quality).toBe('good');
  });

  it('doubts a shell whose pieces do not close, and names the place', async () => {
    const truth = shellPattern(solid('cube'), { maxBend: 0.1, maxFaces: 1 });
    const pattern = patternFromTruth(truth);
    // One square is drawn a fifth too tall.
    const taller = ({ x, y }: { x: number; y: number }) => ({ x, y: y * 1.2 });
    const wrong = pattern.pieces[0]!;
    const pieces = pattern.pieces.map((piece) =>
      piece === wrong
        ? {
            ...piece,
            outline: piece.outline.map((e) => ({ ...e, points: e.points.map(taller) })),
            faces: piece.faces.map((f) => ({ ...f, polygon: f.polygon.map(taller) })),
          }
        : piece,
    );
    const shell = await foldPattern({ ...pattern, pieces }, seamsOfTruth(truth));
    expect(shell.quality).toBe('doubtful');
    expect(shell.issues.map((i) => i.code)).toContain('shell-not-closed');
    const near = seamsOfTruth(truth)
      .seams.filter((s) => s.a.piece === wrong.id || s.b.piece === wrong.id)
      .map((s) => s.id);
    expect(near).toContain(shell.worst!.ids[0]);
  });

  it('turns over a piece that was drawn from inside', async () => {
    const flip = <T extends { x: number; y: number }>(p: T) => ({ x: -p.x, y: p.y });
    const single = shellPattern(solid('cube'), { maxBend: 0.1, maxFaces: 1 });
    const pattern = patternFromTruth(single);
    const seams = seamsOfTruth(single);
    const target = pattern.pieces[2]!;
    // Seen from inside: mirrored, its outline run the other way so that it is counter-clockwise again.
    const flipped = {
      ...target,
      outline: [...target.outline]
        .reverse()
        .map((e) => ({ ...e, points: [...e.points].reverse().map(flip) })),
      faces: target.faces.map((f) => ({
        ...f,
        polygon: [...f.polygon].reverse().map(flip),
        sides: [...f.sides].reverse(),
      })),
    };
    const touched = new Set(target.outline.map((e) => e.id));
    const shell = await foldPattern(
      { ...pattern, pieces: pattern.pieces.map((p) => (p === target ? flipped : p)) },
      {
        ...seams,
        seams: seams.seams.map((s) =>
          touched.has(s.a.edge) || touched.has(s.b.edge) ? { ...s, direction: 'along' as const } : s,
        ),
      },
    );
    expect(shell.issues.map((i) => i.code)).toEqual(['shell-piece-turned']);
    for (const bend of Object.values(shell.bends)) expect(degrees(bend)).toBeCloseTo(90, 4);
  });

  it('bends a free hinge as typed and reports what came out', async () => {
    const truth = shellPattern(prism(4, 60, 80, true), { maxBend: 2, maxFaces: 4 });
    const pattern = patternFromTruth(truth);
    const fold = pattern.pieces[0]!.folds[0]!.id;
    const none: Seams = { seams: [], runs: [], open: [], issues: [] };
    const shell = await foldPattern(pattern, none, { ...nothingKnown, bends: { [fold]: 0.7 } });
    const known = shell.known[0]!;
    expect(known.ids).toEqual([fold]);
    expect(known.wanted).toBe(0.7);
    expect(known.got).toBe(shell.bends[fold]);
    expect(Math.abs(known.got - 0.7)).toBeLessThan(0.02);
    expect(shell.flexes).toBe(pattern.pieces.reduce((n, p) => n + p.folds.length, 0));
  });
});
