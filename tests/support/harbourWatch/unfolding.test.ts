import { describe, expect, test } from 'vitest';
import { distance, type Point, polylineLength, ringArea } from '../../../src/math';
import {
  corpus,
  distance3,
  drawPattern,
  edgesOf,
  facePoints,
  keelPattern,
  patternFromTruth,
  runsOf,
  shellPattern,
  solid,
  topologyOf,
  withoutMildFolds,
} from '.';
import { isClear } from './unfold';

/** Rounding in a chain of up to 20 hinges near 200 mm. */
const exact = 1e-9;

describe.each(corpus)('$name', ({ name, make }) => {
  const flat = make();
  const { truth } = drawPattern(flat, { manner: 'loose' });
  const curved = name === 'Keel bracer';

  test('flat faces are congruent to the faces of the shell and seen from outside', () => {
    const seen = new Set<number>();
    for (const piece of truth.pieces)
      for (const face of piece.faces) {
        expect(ringArea(face.polygon)).toBeGreaterThan(0);
        for (const f of face.meshFaces) {
          seen.add(f);
          const solid = facePoints(truth.shell, f);
          expect(face.polygon).toHaveLength(solid.length);
          for (let i = 0; i < solid.length; i++)
            for (let j = 0; j < i; j++) {
              const off = distance(face.polygon[i]!, face.polygon[j]!) - distance3(solid[i]!, solid[j]!);
              expect(Math.abs(off)).toBeLessThan(exact);
            }
        }
      }
    if (!curved) expect(seen.size).toBe(truth.shell.faces.length);
  });

  test('outlines are simple, counter-clockwise and closed; faces fill them', () => {
    for (const piece of truth.pieces) {
      const ring = piece.outline.flatMap((e) => e.points.slice(0, -1));
      piece.outline.forEach((e, i) => {
        const next = piece.outline[(i + 1) % piece.outline.length]!;
        expect(distance(e.points[e.points.length - 1]!, next.points[0]!)).toBeLessThan(exact);
      });
      const area = ringArea(ring);
      const faces = piece.faces.reduce((sum, f) => sum + ringArea(f.polygon), 0);
      expect(Math.abs(area - faces)).toBeLessThan(1e-6);
      if (!curved)
        expect(isClear(piece.outline.map((e) => ({ from: e.points[0]!, to: e.points[1]! })))).toBe(true);
    }
  });

  test('mates are mutual, equally long and carry the bend of the mesh', () => {
    const edges = edgesOf(truth);
    const { edges: meshEdges } = topologyOf(truth.shell);
    let mates = 0;
    for (const edge of edges.values()) {
      if (edge.mate === null) {
        expect(edge.bend).toBeNull();
        continue;
      }
      mates++;
      const mate = edges.get(edge.mate)!;
      expect(mate.mate).toBe(edge.id);
      expect(mate.number).toBe(edge.number);
      expect(Math.abs(polylineLength(edge.points) - polylineLength(mate.points))).toBeLessThan(exact);
      expect(edge.bend).not.toBeNull();
      expect(mate.bend).toBe(edge.bend);
      if (!curved) expect(edge.bend).toBe(meshEdges[edge.meshEdge]!.bend);
    }
    expect(mates).toBe(2 * truth.mates.length);
    if (!curved) {
      const folds = truth.pieces.flatMap((p) => p.folds);
      for (const fold of folds) expect(fold.bend).toBe(meshEdges[fold.meshEdge]!.bend);
      const borders = [...edges.values()].filter((e) => e.mate === null).length;
      expect(borders).toBe(meshEdges.filter((e) => e.right === null).length);
      expect(truth.mates.length + folds.length + borders).toBe(meshEdges.length);
    }
  });

  test('pieces lie on the page without touching', () => {
    const boxes = truth.pieces.map((p) => {
      const points = p.outline.flatMap((e) => e.points);
      const xs = points.map((q) => q.x);
      const ys = points.map((q) => q.y);
      return [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)] as const;
    });
    boxes.forEach((a, i) => {
      expect(a[0]).toBeGreaterThan(0);
      expect(a[1]).toBeLessThan(truth.width);
      expect(a[3]).toBeLessThan(0);
      expect(a[2]).toBeGreaterThan(-truth.height);
      for (const b of boxes.slice(0, i))
        expect(a[0] > b[1] || b[0] > a[1] || a[2] > b[3] || b[2] > a[3]).toBe(true);
    });
  });

  test('tabs leave their piece and each other free', () => {
    const tabbed = truth.pieces.reduce((n, p) => n + p.tabs.length, 0);
    const straight = truth.mates.filter(([a]) => edgesOf(truth).get(a)!.curve === undefined).length;
    expect(tabbed).toBeLessThanOrEqual(straight);
    // Crowded corners leave some out; most seams have one.
    expect(tabbed).toBeGreaterThan(0.6 * straight);
    for (const piece of truth.pieces)
      for (const tab of piece.tabs) {
        expect(ringArea(tab.polygon)).toBeGreaterThan(0);
        expect(piece.outline.some((e) => e.id === tab.edge)).toBe(true);
      }
  });

  test('the model pattern says the same', () => {
    const pattern = patternFromTruth(truth);
    expect(pattern.pieces).toHaveLength(truth.pieces.length);
    for (const piece of pattern.pieces) {
      const sides = piece.faces.flatMap((f) => f.sides);
      const edgeIds = piece.outline.map((e) => e.id).sort();
      const foldIds = piece.folds.map((f) => f.id).sort();
      expect(
        sides
          .filter((s) => s.kind === 'edge')
          .map((s) => s.id)
          .sort(),
      ).toEqual(edgeIds);
      expect(new Set(sides.filter((s) => s.kind === 'fold').map((s) => s.id))).toEqual(new Set(foldIds));
      // Each fold runs forward in the face on its left and backward in the one on its right.
      for (const fold of piece.folds) {
        const side = (face: string) =>
          piece.faces.find((f) => f.id === face)!.sides.find((s) => s.id === fold.id)!;
        expect(side(fold.left).forward).toBe(true);
        expect(side(fold.right).forward).toBe(false);
      }
    }
    expect(pattern.labels).toHaveLength(2 * truth.mates.length);
  });
});

test('mirror pairs of pieces are exact mirror images', () => {
  const flat = corpus[0]!.make();
  let pairs = 0;
  for (const piece of flat.pieces) {
    if (piece.mirrorOf === null) continue;
    pairs++;
    const other = flat.pieces.find((p) => p.id === piece.mirrorOf)!;
    expect(other.mirrorOf).toBe(piece.id);
    const key = (p: Point) => `${p.x.toFixed(9)},${p.y.toFixed(9)}`.replace(/-0\.0+(?=,|$)/g, '0.000000000');
    const own = new Set(piece.outline.map((e) => key(e.points[0]!)));
    const mirrored = new Set(other.outline.map((e) => key({ x: -e.points[0]!.x, y: e.points[0]!.y })));
    expect(mirrored).toEqual(own);
  }
  expect(pairs).toBeGreaterThan(20);
});

test('leaving out mild folds joins faces and keeps outlines', () => {
  const flat = corpus[0]!.make();
  const merged = withoutMildFolds(flat, 0.3);
  const count = (t: typeof flat) => t.pieces.reduce((n, p) => n + p.faces.length, 0);
  const folds = (t: typeof flat) => t.pieces.reduce((n, p) => n + p.folds.length, 0);
  expect(count(merged)).toBeLessThan(count(flat));
  expect(count(flat) - count(merged)).toBe(folds(flat) - folds(merged));
  merged.pieces.forEach((piece, i) => {
    expect(piece.outline).toEqual(flat.pieces[i]!.outline);
    const area = piece.faces.reduce((sum, f) => sum + ringArea(f.polygon), 0);
    const before = flat.pieces[i]!.faces.reduce((sum, f) => sum + ringArea(f.polygon), 0);
    expect(Math.abs(area - before)).toBeLessThan(1e-6);
    for (const fold of piece.folds) expect(fold.left).not.toBe(fold.right);
  });
});

test('runs on the net of a cube cut into single faces are single edges', () => {
  const flat = shellPattern(solid('cube'), { maxFaces: 1 });
  expect(flat.pieces).toHaveLength(6);
  expect(runsOf(flat).map((r) => r.length)).toEqual(Array.from({ length: 12 }, () => 1));
});

test('curved mates of the bracer match point by point', () => {
  const edges = edgesOf(keelPattern());
  let curved = 0;
  for (const edge of edges.values()) {
    if (edge.mate === null || !edge.curve) continue;
    curved++;
    const mate = edges.get(edge.mate)!;
    const chord = (e: typeof edge) => distance(e.points[0]!, e.points[e.points.length - 1]!);
    expect(mate.points).toHaveLength(edge.points.length);
    expect(Math.abs(chord(edge) - chord(mate))).toBeLessThan(exact);
    // Seen from outside they run against each other: the bulge is on the other side.
    const bulge = (e: typeof edge) => ringArea(e.points);
    expect(Math.abs(bulge(edge) + bulge(mate))).toBeLessThan(1e-6);
  }
  expect(curved).toBe(4);
});
