/** Smoothing: vertices stay, both sides get the same curve, lengths hardly change, sharp corners stay. */
import { expect, it } from 'vitest';
import { makePanels } from '../../src/foam';
import { polylineLength, ringArea } from '../../src/math';
import { defaultDecisions } from '../../src/model';
import { recutPattern, smoothPanels } from '../../src/panels';
import { foamOfTruth, seamsOfTruth } from '../foam/truthSeams';
import { openShell, patternFromTruth, shellPattern, solid } from '../support/harbourWatch';
import { shellOfTruth } from '../support/truthShell';

const truth = shellPattern(openShell({ seed: 6, faces: 320, symmetric: false, net: 'quads', jitter: 0 }), {
  seed: 6,
});
const pattern = patternFromTruth(truth);
/** Runs as the panels have them: an edit that is undone elsewhere still numbers runs, so one far fold is cut. */
const fold = pattern.pieces.flatMap((p) => p.folds)[0]!.id;
const recut = recutPattern(pattern, seamsOfTruth(truth), shellOfTruth(truth), {
  edits: [{ kind: 'cut', id: 'e1', lines: [fold] }],
});
/** Single seams put together where they follow each other along the same two edges' pieces. */
const runs = runsByPieces();
const seams = { ...recut.seams, runs };
const material = foamOfTruth(truth, { thickness: 0 });
const foam = makePanels(recut.pattern, seams, 1, material, defaultDecisions.marks);
const smooth = smoothPanels(foam, seams);

it('makes curves of many edges and moves no corner', () => {
  expect(smooth.edges).toBeGreaterThan(20);
  const before = new Map(foam.panels.flatMap((p) => p.loops.flat()).map((e) => [e.id, e]));
  for (const edge of smooth.foam.panels.flatMap((p) => p.loops.flat())) {
    const was = before.get(edge.id)!;
    expect(edge.points[0]).toEqual(was.points[0]);
    expect(edge.points.at(-1)).toEqual(was.points.at(-1));
  }
});

it('both sides of a seam are the same curve where both were the same line', () => {
  const edges = new Map(smooth.foam.panels.flatMap((p) => p.loops.flat()).map((e) => [e.id, e]));
  let curves = 0;
  for (const seam of seams.seams) {
    const [a, b] = [edges.get(seam.a.edge)!, edges.get(seam.b.edge)!];
    if (!a.curved && !b.curved) continue;
    curves += 1;
    expect(a.curved && b.curved).toBe(true);
    // Flat mates are chords of the same length here, up to 1e-5, so what is left of it is what the curves add.
    expect(Math.abs(polylineLength(a.points) - polylineLength(b.points))).toBeLessThan(1e-3);
    const [p, q] = [bulges(a.points), bulges(b.points).reverse()];
    p.forEach((left, k) => {
      expect(left + q[k]!).toBeCloseTo(0, 5);
    });
  }
  expect(curves * 2).toBe(smooth.edges);
  // Curves of their own would have left more than the thickness of a cut.
  expect(smooth.apart).toBeGreaterThan(0.1);
});

it('stays near the straight edges, keeps lengths, and the outline is made of its edges', () => {
  expect(smooth.deviation).toBeLessThan(1);
  expect(smooth.stretch).toBeLessThan(0.25);
  for (const panel of smooth.foam.panels) {
    const [outline] = panel.outlines.traced;
    const walked = panel.loops[0]!.flatMap((e) => e.points.slice(0, -1));
    expect(ringArea(outline!)).toBeCloseTo(ringArea(walked), 6);
  }
  for (const row of smooth.foam.rows)
    expect(row.mismatch).toBeCloseTo(Math.abs(row.lengthA + row.stretchA - row.lengthB - row.stretchB), 9);
});

it('leaves sharp corners alone: a cube has nothing to smooth, and comes back itself', () => {
  const cube = shellPattern(solid('cube'), { maxBend: 2, maxFaces: 6 });
  const its = makePanels(
    patternFromTruth(cube),
    seamsOfTruth(cube),
    1,
    foamOfTruth(cube),
    defaultDecisions.marks,
  );
  expect(smoothPanels(its, seamsOfTruth(cube)).foam).toBe(its);
});

/** How far each point of a curve lies to the left of its chord. */
function bulges(points: readonly { readonly x: number; readonly y: number }[]): number[] {
  const [p, q] = [points[0]!, points.at(-1)!];
  const length = Math.hypot(q.x - p.x, q.y - p.y);
  return points.map((r) => ((q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x)) / length);
}

/** Runs: seams whose edges follow each other on both pieces, found from the outlines. */
function runsByPieces() {
  const next = new Map<string, string>();
  for (const p of recut.pattern.pieces)
    p.outline.forEach((e, i) => {
      next.set(e.id, p.outline[(i + 1) % p.outline.length]!.id);
    });
  const mate = new Map(
    recut.seams.seams.flatMap((s) => [[s.a.edge, s.b.edge] as const, [s.b.edge, s.a.edge] as const]),
  );
  const byA = new Map(recut.seams.seams.map((s) => [s.a.edge, s]));
  const done = new Set<string>();
  const goesTo = (id: string) => {
    const after = byA.get(next.get(id)!);
    const b = mate.get(id)!;
    return after && next.get(after.b.edge) === b ? after : null;
  };
  const follows = new Set(recut.seams.seams.flatMap((s) => goesTo(s.a.edge)?.id ?? []));
  return recut.seams.seams
    .filter((s) => !follows.has(s.id))
    .map((first, i) => {
      const ids: string[] = [];
      for (let s: typeof first | null = first; s && !done.has(s.id); s = goesTo(s.a.edge)) {
        done.add(s.id);
        ids.push(s.id);
      }
      return { id: `run${i}`, number: i + 1, seams: ids };
    });
}
