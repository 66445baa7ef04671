import { describe, expect, it } from 'vitest';
import { distance, distance3, point3, polylineLength } from '../../src/math';
import type { Pattern } from '../../src/model';
import { unfoldAgain } from '../../src/shell';
import { ringCrossing } from '../../src/shell/flatOverlap';
import {
  bollardPattern,
  gannetPattern,
  openShell,
  patternFromTruth,
  placePieces,
  shellPattern,
  type Truth,
} from '../support/harbourWatch';
import { shellOfTruth } from '../support/truthShell';

const placed = (truth: Truth) =>
  placePieces(truth, { width: 900, height: null, margin: 12, head: 14, pageGap: 20, loose: false, seed: 1 });
const members = [
  { name: 'helm', make: gannetPattern },
  { name: 'pauldron', make: bollardPattern },
  {
    name: 'triangles without symmetry',
    make: () =>
      shellPattern(openShell({ seed: 8, faces: 200, symmetric: false, net: 'triangles', jitter: 0.1 }), {
        darts: true,
      }),
  },
];
const idsOf = (pattern: Pattern) =>
  pattern.pieces.map((p) => ({
    id: p.id,
    edges: [...p.outline, ...p.holes.flat()].map((e) => e.id),
    folds: p.folds.map((f) => [f.id, f.left, f.right, f.role]),
    faces: p.faces.map((f) => [f.id, f.sides]),
  }));

describe.each(members)('$name unfolded again', ({ make }) => {
  const truth = placed(make());
  const pattern = patternFromTruth(truth);
  const shell = shellOfTruth(truth);

  it('from its own places: the pattern as it was', () => {
    const { pattern: again, overlaps, misfits } = unfoldAgain(pattern, shell, shell.vertices, 1);
    expect([overlaps, misfits]).toEqual([[], []]);
    let worst = 0;
    again.pieces.forEach((piece, i) => {
      const was = pattern.pieces[i]!;
      const pairs = [
        ...piece.outline.map((e, k) => [e.points, was.outline[k]!.points] as const),
        ...piece.folds.map((f, k) => [f.points, was.folds[k]!.points] as const),
        ...piece.faces.map((f, k) => [f.polygon, was.faces[k]!.polygon] as const),
      ];
      for (const [a, b] of pairs)
        for (const [k, p] of a.entries()) worst = Math.max(worst, distance(p, b[k]!));
    });
    expect(worst).toBeLessThan(1e-6);
  });

  it('at three scales: ids and cuts as they were, every side as long as in space, mates alike', () => {
    const places = shell.vertices.map((p) => point3(0.93 * p.x, 1.08 * p.y, 1.02 * p.z));
    const { pattern: again, overlaps, misfits } = unfoldAgain(pattern, shell, places, 1.08);
    expect(idsOf(again)).toEqual(idsOf(pattern));
    expect([overlaps, misfits]).toEqual([[], []]);
    const faces = new Map(again.pieces.flatMap((p) => p.faces.map((f) => [f.id, f.polygon] as const)));
    let worst = 0;
    let count = 0;
    for (const patch of shell.faces) {
      const ring = faces.get(patch.face)!;
      patch.vertices.forEach((v, i) => {
        const j = (i + 1) % ring.length;
        const inSpace = distance3(places[v]!, places[patch.vertices[j]!]!);
        worst = Math.max(worst, Math.abs(inSpace - distance(ring[i]!, ring[j]!)));
        count++;
      });
    }
    expect(count).toBeGreaterThan(100);
    expect(worst).toBeLessThan(1e-3);
    const length = new Map(
      again.pieces.flatMap((p) => p.outline.map((e) => [e.id, polylineLength(e.points)] as const)),
    );
    for (const [a, b] of truth.mates) expect(Math.abs(length.get(a)! - length.get(b)!)).toBeLessThan(1e-3);
    const turned = again.pieces.filter((p, i) => {
      const area = (points: readonly { x: number; y: number }[]) =>
        points.reduce((s, q, k) => {
          const r = points[(k + 1) % points.length]!;
          return s + q.x * r.y - q.y * r.x;
        }, 0);
      const outline = (q: typeof p) => q.outline.map((e) => e.points[0]!);
      return area(outline(p)) * area(outline(pattern.pieces[i]!)) <= 0;
    });
    expect(turned).toEqual([]);
  });
});

describe('a piece that overlaps itself', () => {
  it('is found by two of its edges', () => {
    const edge = (id: string, ...xy: [number, number][]) => ({
      id,
      points: xy.map(([x, y]) => ({ x, y })),
      curved: false,
    });
    const bow = [
      edge('a', [0, 0], [10, 10]),
      edge('b', [10, 10], [10, 0]),
      edge('c', [10, 0], [0, 10]),
      edge('d', [0, 10], [0, 0]),
    ];
    expect(ringCrossing(bow)).toEqual(['a', 'c']);
    const square = [
      edge('a', [0, 0], [10, 0]),
      edge('b', [10, 0], [10, 10]),
      edge('c', [10, 10], [0, 10]),
      edge('d', [0, 10], [0, 0]),
    ];
    expect(ringCrossing(square)).toBeNull();
  });
});
