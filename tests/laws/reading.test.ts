/**
 * What reading must not depend on: the order and direction of lines, lines drawn twice or in parts, small noise, the
 * place, turn and scale of the drawing. Tried on generated patterns in several manners.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/base';
import { readDrawing } from '../../src/drawing';
import { type Point, ringArea } from '../../src/math';
import {
  type Drawing,
  type DrawingLine,
  defaultDecisions,
  type Pattern,
  type Segment,
} from '../../src/model';
import {
  joinStrokes,
  type Stroke,
  splitAtCrossings,
  subdivide,
  subdivisionAreaError,
  subdivisionCrossings,
  subdivisionEuler,
} from '../../src/plane';
import { readPattern } from '../../src/reading';
import { bollardPattern, drawPattern, keelPattern, openShell, shellPattern } from '../support/harbourWatch';

const read = (d: Drawing): Pattern => readPattern(d, defaultDecisions.reading);

const drawings: [string, Drawing][] = (
  [
    ['pauldron, clean', bollardPattern(), 'clean'],
    ['pauldron, loose with tabs', bollardPattern(), 'loose'],
    ['bracer with curves, inches', keelPattern(), 'inch'],
    [
      'open shell, folds like cuts',
      shellPattern(openShell({ seed: 2, faces: 60, symmetric: false, net: 'triangles', jitter: 0.12 })),
      'plain',
    ],
    [
      'open shell, pages',
      shellPattern(openShell({ seed: 1, faces: 40, symmetric: true, net: 'quads', jitter: 0 })),
      'stacked',
    ],
  ] as const
).map(([name, truth, manner]) => {
  const { svg } = drawPattern(truth, { manner, seed: 5 });
  const outcome = readDrawing({ name, svg }, { file: 0, size: { kind: 'perInch', value: 96 } });
  if (!outcome.ok) throw new Error(name);
  return [name, outcome.value];
});

interface Summary {
  readonly pieces: number;
  readonly faces: number;
  readonly folds: readonly number[];
  readonly edges: number;
  readonly tabs: number;
  readonly labels: number;
  readonly names: readonly string[];
  readonly areas: readonly number[];
}

function summary(p: Pattern): Summary {
  const folds = p.pieces.flatMap((q) => q.folds);
  return {
    pieces: p.pieces.length,
    faces: p.pieces.reduce((n, q) => n + q.faces.length, 0),
    folds: ['mountain', 'valley', 'unknown'].map((r) => folds.filter((f) => f.role === r).length),
    edges: p.pieces.reduce((n, q) => n + q.outline.length + q.holes.flat().length, 0),
    tabs: p.pieces.reduce((n, q) => n + q.tabs.length, 0),
    labels: p.labels.length,
    names: p.pieces.map((q) => q.name).sort(),
    areas: p.pieces.map((q) => q.faces.reduce((s, f) => s + ringArea(f.polygon), 0)).sort((a, b) => a - b),
  };
}

/** Same counts; areas within `slack` mm per mm of outline, roughly. */
function expectAlike(a: Summary, b: Summary, slack: number, scale = 1): void {
  expect({ ...a, areas: [] }).toEqual({ ...b, areas: [] });
  a.areas.forEach((area, i) => {
    expect(Math.abs(area - b.areas[i]! * scale * scale)).toBeLessThanOrEqual(
      slack * 8 * Math.sqrt(area) + 1e-6,
    );
  });
}

function mapped(d: Drawing, point: (p: Point) => Point, turn = 0, scale = 1): Drawing {
  const segment = (s: Segment): Segment =>
    s.kind === 'line'
      ? { kind: 'line', to: point(s.to) }
      : { kind: 'cubic', c1: point(s.c1), c2: point(s.c2), to: point(s.to) };
  return {
    ...d,
    size: { ...d.size, width: d.size.width * scale, height: d.size.height * scale },
    lines: d.lines.map((l) => ({
      ...l,
      start: point(l.start),
      segments: l.segments.map(segment),
      style: {
        ...l.style,
        strokeWidth: l.style.strokeWidth * scale,
        dash: l.style.dash.map((v) => v * scale),
      },
    })),
    texts: d.texts.map((t) => ({
      ...t,
      at: point(t.at),
      centre: point(t.centre),
      size: t.size * scale,
      angle: t.angle + turn,
    })),
  };
}

function reversed(l: DrawingLine): DrawingLine {
  const stops = [l.start, ...l.segments.map((s) => s.to)];
  const segments = l.segments
    .map(
      (s, i): Segment =>
        s.kind === 'line'
          ? { kind: 'line', to: stops[i]! }
          : { kind: 'cubic', c1: s.c2, c2: s.c1, to: stops[i]! },
    )
    .reverse();
  const last = stops[stops.length - 1]!;
  if (!l.closed) return { ...l, start: last, segments };
  // The closing side stays the closing side of the reversed ring when the ring is written out in full.
  return { ...l, start: l.start, segments: [{ kind: 'line', to: last }, ...segments] };
}

function shuffled<T>(items: readonly T[], seed: number): T[] {
  const random = seededRandom(seed);
  const out = [...items];
  for (let i = out.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [out[i], out[j]] = [out[j]!, out[i]!];
  }
  return out;
}

const seeds = fc.integer({ min: 1, max: 1_000_000 });
const few = { numRuns: 3 };

describe.each(drawings)('reading %s', (_, drawing) => {
  const original = read(drawing);
  const base = summary(original);

  it('finds something', () => {
    expect(base.pieces).toBeGreaterThan(3);
    expect(base.folds.reduce((a, b) => a + b)).toBeGreaterThan(0);
    expect(original.unread).toEqual([]);
  });

  it('does not depend on the order of lines and texts', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const p = read({
          ...drawing,
          lines: shuffled(drawing.lines, seed),
          texts: shuffled(drawing.texts, seed + 1),
        });
        expect(p.pieces).toEqual(original.pieces);
        expect(p.labels).toEqual(original.labels);
        expect(p.roleOfLine).toEqual(original.roleOfLine);
      }),
      few,
    );
  });

  it('does not depend on the direction of lines', () => {
    const p = read({ ...drawing, lines: drawing.lines.map((l, i) => (i % 2 ? reversed(l) : l)) });
    expectAlike(summary(p), base, 1e-6);
  });

  it('counts lines drawn twice once', () => {
    const twice = drawing.lines.flatMap((l, i) => (i % 5 === 0 ? [l, { ...l, id: `${l.id}*` }] : [l]));
    // Where ends are off by noise, the middle of an end drawn twice moves a little.
    expectAlike(summary(read({ ...drawing, lines: twice })), base, 0.02);
  });

  it('reads lines in parts: the same pieces and faces, one more edge or fold for each new end', () => {
    let cuts = 0;
    const lines = drawing.lines.flatMap((l, i): DrawingLine[] => {
      const only = l.segments[0];
      if (
        i % 4 !== 0 ||
        l.segments.length !== 1 ||
        !only ||
        only.kind !== 'line' ||
        original.roleOfLine[l.id] === 'notes'
      )
        return [l];
      cuts++;
      const m = { x: l.start.x * 0.6 + only.to.x * 0.4, y: l.start.y * 0.6 + only.to.y * 0.4 };
      return [
        { ...l, segments: [{ kind: 'line', to: m }] },
        { ...l, id: `${l.id}*`, start: m },
      ];
    });
    const p = summary(read({ ...drawing, lines }));
    expect([p.pieces, p.faces, p.names]).toEqual([base.pieces, base.faces, base.names]);
    const ends = (s: Summary) => s.edges + s.folds.reduce((a, b) => a + b);
    // A part of a tab's line or of a line drawn twice adds none.
    expect(ends(p) - ends(base)).toBeLessThanOrEqual(cuts);
    expect(ends(p) - ends(base)).toBeGreaterThanOrEqual(base.tabs > 0 ? 0 : cuts);
  });

  it('bears noise of 0.02 mm', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const random = seededRandom(seed);
        const near = (p: Point): Point => {
          const r = 0.02 * Math.sqrt(random());
          const a = 2 * Math.PI * random();
          return { x: p.x + r * Math.cos(a), y: p.y + r * Math.sin(a) };
        };
        expectAlike(summary(read(mapped(drawing, near))), base, 0.04);
      }),
      few,
    );
  });

  it('moves and turns with the drawing', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.integer({ min: -500, max: 500 }),
        (turn, dx) => {
          const [c, s] = [Math.cos(turn), Math.sin(turn)];
          const move = (p: Point): Point => ({ x: p.x * c - p.y * s + dx, y: p.x * s + p.y * c - dx / 2 });
          const p = read(mapped(drawing, move, turn));
          expectAlike(summary(p), base, 1e-6);
          // Every edge is where the drawing's motion takes it.
          const places = new Set(p.pieces.flatMap((q) => q.outline.map((e) => placeOf(e.points[0]!))));
          const missing = original.pieces
            .flatMap((q) => q.outline.map((e) => move(e.points[0]!)))
            .filter((q) => !near(q, places));
          expect(missing).toEqual([]);
        },
      ),
      few,
    );
  });

  it('scales with the drawing', () => {
    for (const k of [0.5, 2]) {
      const scaled = mapped(drawing, (p) => ({ x: p.x * k, y: p.y * k }), 0, k);
      // Curves are flattened to the same 0.02 mm at every scale.
      expectAlike(summary(read(scaled)), base, 0.02, k);
    }
  });

  it('keeps ids when the person only decides', () => {
    const ids = (p: Pattern) =>
      p.pieces.flatMap((q) => [q.id, ...q.outline.map((e) => e.id), ...q.folds.map((f) => f.id)]).sort();
    const group = original.groups.find((g) => g.role === 'mountain' || g.role === 'fold');
    const other = readPattern(drawing, {
      ...defaultDecisions.reading,
      groupRoles: group ? { [group.key]: 'valley' } : {},
    });
    expect(ids(other)).toEqual(ids(original));
    expect(ids(readPattern(drawing, { ...defaultDecisions.reading, drawnFromInside: true }))).toEqual(
      ids(original),
    );
  });

  it('makes pieces that hold together', () => {
    for (const piece of original.pieces) {
      const area = (ring: readonly Point[]) => ringArea(ring);
      const outline = area(piece.outline.flatMap((e) => e.points.slice(0, -1)));
      const holes = piece.holes.reduce((s, h) => s + area(h.flatMap((e) => e.points.slice(0, -1))), 0);
      const faces = piece.faces.reduce(
        (s, f) => s + area(f.polygon) + f.holes.reduce((t, h) => t + area(h), 0),
        0,
      );
      expect(outline).toBeGreaterThan(0);
      expect(Math.abs(outline + holes - faces)).toBeLessThan(1e-6 * outline);
      const sides = piece.faces.flatMap((f) => f.sides);
      const edges = sides.filter((s) => s.kind === 'edge').map((s) => s.id);
      const folds = sides.filter((s) => s.kind === 'fold').map((s) => s.id);
      expect(edges.sort()).toEqual(piece.outline.map((e) => e.id).sort());
      expect(folds.sort()).toEqual(piece.folds.flatMap((f) => [f.id, f.id]).sort());
      piece.outline.forEach((e, i) => {
        expect(e.points[e.points.length - 1]).toEqual(
          piece.outline[(i + 1) % piece.outline.length]!.points[0],
        );
      });
    }
  });
});

const placeOf = (p: Point) => `${Math.round(p.x * 1e4)},${Math.round(p.y * 1e4)}`;
function near(p: Point, places: ReadonlySet<string>): boolean {
  for (const dx of [0, -1e-4, 1e-4])
    for (const dy of [0, -1e-4, 1e-4]) if (places.has(placeOf({ x: p.x + dx, y: p.y + dy }))) return true;
  return false;
}

describe('the planar subdivision of any strokes', () => {
  const whole = fc.integer({ min: 0, max: 40 });
  const place = fc.oneof(
    { weight: 3, arbitrary: fc.record({ x: whole, y: whole }) },
    {
      weight: 1,
      arbitrary: fc.record({
        x: fc.double({ min: 0, max: 40, noNaN: true }),
        y: fc.double({ min: 0, max: 40, noNaN: true }),
      }),
    },
  );
  const strokes = fc.array(fc.record({ a: place, b: place }), { minLength: 1, maxLength: 60 });
  const build = (list: readonly Stroke[]) => {
    const graph = splitAtCrossings(joinStrokes(list, 0.05));
    return subdivide(graph.nodes, graph.links);
  };

  it('obeys Euler, keeps areas, and leaves no crossing', () => {
    fc.assert(
      fc.property(strokes, (list) => {
        const s = build(list);
        expect(subdivisionCrossings(s)).toBe(0);
        expect(subdivisionEuler(s)).toBe(0);
        expect(subdivisionAreaError(s)).toBeLessThan(1e-6);
      }),
      { numRuns: 300 },
    );
  });

  it('does not depend on order or direction', () => {
    fc.assert(
      fc.property(strokes, seeds, (list, seed) => {
        const other = shuffled(list, seed).map((s, i) => (i % 2 ? { a: s.b, b: s.a } : s));
        expect(build(other).nodes).toEqual(build(list).nodes);
        expect(build(other).links.map((l) => [l.from, l.to])).toEqual(
          build(list).links.map((l) => [l.from, l.to]),
        );
      }),
      { numRuns: 100 },
    );
  });
});
