import { describe, expect, it } from 'vitest';
import { point } from '../../src/math';
import {
  bridges,
  faceFinder,
  joinStrokes,
  type Stroke,
  splitAtCrossings,
  subdivide,
  subdivisionAreaError,
  subdivisionCrossings,
  subdivisionEuler,
  withoutStrokes,
} from '../../src/plane';

const stroke = (ax: number, ay: number, bx: number, by: number): Stroke => ({
  a: point(ax, ay),
  b: point(bx, by),
});
const square = (x: number, y: number, w: number): Stroke[] => [
  stroke(x, y, x + w, y),
  stroke(x + w, y, x + w, y + w),
  stroke(x + w, y + w, x, y + w),
  stroke(x, y + w, x, y),
];
const build = (strokes: readonly Stroke[], within = 0.1) => {
  const graph = splitAtCrossings(joinStrokes(strokes, within));
  return { graph, s: subdivide(graph.nodes, graph.links) };
};
const areas = (strokes: readonly Stroke[]) => {
  const { s } = build(strokes);
  return s.faces
    .slice(1)
    .map((f) => Math.round(s.loops[f.loop]!.area * 1000) / 1000)
    .sort((a, b) => a - b);
};

describe('joining strokes', () => {
  it('makes one node of ends that lie together, and one link of strokes drawn twice', () => {
    const { graph } = build([...square(0, 0, 10), stroke(10, 0, 0, 0)]);
    expect(graph.nodes).toHaveLength(4);
    expect(graph.links).toHaveLength(4);
    expect(graph.report.doubled).toHaveLength(1);
    expect(graph.report.joined.count).toBe(0);
  });

  it('splits a stroke where another ends on it, and at crossings', () => {
    expect(areas([...square(0, 0, 10), stroke(4, 0, 4, 10)])).toEqual([40, 60]);
    expect(areas([...square(0, 0, 10), stroke(5, 0, 5, 10), stroke(0, 5, 10, 5)])).toEqual([25, 25, 25, 25]);
  });

  it('merges strokes that overlap in part', () => {
    const { graph } = build([stroke(0, 0, 10, 0), stroke(4, 0, 14, 0)]);
    expect(graph.links.map((l) => l.strokes.length).sort()).toEqual([1, 1, 2]);
  });

  it('cuts back an end that runs past a line, and says so', () => {
    const { graph, s } = build([...square(0, 0, 10), stroke(5, -0.06, 5, 10.03)]);
    expect(graph.report.trimmed.map((t) => Math.round(t.length * 100) / 100).sort()).toEqual([0.03, 0.06]);
    expect(s.faces).toHaveLength(3);
  });

  it('closes a gap within the distance and leaves a wider one', () => {
    const open = (gap: number) => [stroke(gap, 0, 10, 0), ...square(0, 0, 10).slice(1)];
    expect(build(open(0.08)).s.faces).toHaveLength(2);
    expect(build(open(0.08)).graph.report.joined.widest).toBeCloseTo(0.08, 3);
    expect(build(open(0.2)).s.faces).toHaveLength(1);
  });

  it('keeps a narrow slit open in a tidy drawing although the distance would allow closing it', () => {
    // A wedge 0.05 mm wide at its mouth, both sides with a corner half-way.
    const wedge = [
      stroke(0, 0, 10, 0),
      stroke(10, 0, 10, 20),
      stroke(10, 20, 5.025, 20),
      stroke(5.025, 20, 5.0125, 15),
      stroke(5.0125, 15, 5, 10),
      stroke(5, 10, 4.9875, 15),
      stroke(4.9875, 15, 4.975, 20),
      stroke(4.975, 20, 0, 20),
      stroke(0, 20, 0, 0),
    ];
    const { graph, s } = build(wedge);
    expect(graph.nodes).toHaveLength(9);
    expect(s.faces).toHaveLength(2);
  });

  it('does not depend on the order or the direction of the strokes', () => {
    const strokes = [...square(0, 0, 10), ...square(10, 3, 10), stroke(0, 0, 10, 10), stroke(3, 8, 18, 5)];
    const turned = [...strokes].reverse().map((s, i) => (i % 2 ? { a: s.b, b: s.a } : s));
    expect(build(turned).graph.nodes).toEqual(build(strokes).graph.nodes);
    expect(areas(turned)).toEqual(areas(strokes));
  });

  it('refuses distances and coordinates that are none', () => {
    expect(() => joinStrokes([], 0)).toThrow(/above 0/);
    expect(() => joinStrokes([stroke(0, Number.NaN, 1, 1)], 0.1)).toThrow(/not a number/);
  });

  it('knows the nodes of every stroke and can leave strokes out', () => {
    const graph = joinStrokes([...square(0, 0, 10), stroke(0, 0, 10, 10)], 0.1);
    const [a, b] = [graph.ends[8]!, graph.ends[9]!];
    expect([graph.nodes[a], graph.nodes[b]]).toEqual([point(0, 0), point(10, 10)]);
    expect(withoutStrokes(graph, new Set([4])).links).toHaveLength(4);
  });
});

describe('the subdivision', () => {
  it('fulfils the formula of Euler and keeps areas', () => {
    const { s } = build([
      ...square(0, 0, 10),
      ...square(2, 2, 3),
      ...square(20, 0, 4),
      stroke(0, 0, 10, 10),
      stroke(30, 0, 40, 9),
    ]);
    expect(subdivisionEuler(s)).toBe(0);
    expect(subdivisionAreaError(s)).toBeLessThan(1e-9);
    expect(subdivisionCrossings(s)).toBe(0);
  });

  it('notices links that cross without a node', () => {
    const graph = joinStrokes([stroke(0, 0, 10, 10), stroke(0, 10, 10, 0)], 0.1);
    const s = subdivide(graph.nodes, graph.links);
    expect(subdivisionCrossings(s)).toBe(1);
  });

  it('knows which part lies in which face', () => {
    const { s } = build([...square(0, 0, 30), ...square(5, 5, 10), ...square(7, 7, 2)]);
    const find = faceFinder(s);
    const at = (x: number, y: number) => find(point(x, y));
    expect(at(-1, 0)).toBe(0);
    expect(new Set([at(1, 1), at(6, 6), at(8, 8)]).size).toBe(3);
    const partOf = (face: number) => s.parts.find((p) => p.faces.includes(face))!;
    expect(partOf(at(8, 8)).within).toBe(at(6, 6));
    expect(partOf(at(6, 6)).within).toBe(at(1, 1));
    expect(partOf(at(1, 1)).within).toBe(0);
  });

  it('walks faces counter-clockwise and the outside clockwise', () => {
    const { s } = build([...square(0, 0, 10), stroke(0, 0, 10, 10)]);
    for (const loop of s.loops) expect(loop.area > 0).toBe(!loop.outer);
  });

  it('finds the links that close nothing', () => {
    const { s } = build([
      ...square(0, 0, 10),
      stroke(10, 10, 15, 15),
      stroke(15, 15, 15, 20),
      stroke(5, 0, 5, 4),
    ]);
    const lengths = bridges(s).flatMap((b, i) => {
      const l = s.links[i]!;
      const [p, q] = [s.nodes[l.from]!, s.nodes[l.to]!];
      return b ? [Math.round(Math.hypot(p.x - q.x, p.y - q.y) * 10) / 10] : [];
    });
    expect(lengths.sort()).toEqual([4, 5, 7.1]);
  });

  it('has a face of no strokes: the unbounded one', () => {
    const { s } = build([]);
    expect(s.faces).toHaveLength(1);
    expect(subdivisionEuler(s)).toBe(0);
  });
});
