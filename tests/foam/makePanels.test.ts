import { describe, expect, it } from 'vitest';
import { bendLengthChange, makePanels, rememberShapes, shapePiece } from '../../src/foam';
import { boxOf, distance, point, ringArea } from '../../src/math';
import type { FoamDecisions, Piece, Seams } from '../../src/model';
import { radians } from '../../src/units';
import { foamWith, marks, noSeams, patternOf, prismWalls, stripPiece } from './strips';

type RoleBends = FoamDecisions['roleBends'];
const flat: RoleBends = { mountain: null, valley: null, unknown: null, seam: null };
const widthOf = (ring: readonly { x: number; y: number }[]) => {
  const box = boxOf(ring);
  return box.maxX - box.minX;
};

describe('seams', () => {
  const { pattern, seams } = prismWalls(6, 60, 40);
  const bend = radians(60);
  const make = (changes: Parameters<typeof foamWith>[0] = {}, bends: RoleBends = { ...flat, seam: bend }) =>
    makePanels(pattern, seams, 1, foamWith({ roleBends: bends, ...changes }), marks);
  const right = (result: ReturnType<typeof make>) =>
    result.panels[0]!.loops[0]!.find((edge) => edge.id === 'w0.right')!;

  it('bevelled: outside grows by a tan(φ/2), inside shrinks by b tan(φ/2), the knife leans by φ/2', () => {
    const result = make({ standsFor: 'middle', thickness: 8 });
    const slope = Math.tan(bend / 2);
    expect(widthOf(result.panels[0]!.outlines.outside[0]!)).toBeCloseTo(60 + 2 * 4 * slope, 9);
    expect(widthOf(result.panels[0]!.outlines.inside[0]!)).toBeCloseTo(60 - 2 * 4 * slope, 9);
    expect(right(result)).toMatchObject({ seam: 's0', bend, bevel: bend / 2, shift: 4 * slope });
    expect(result.rows[0]).toMatchObject({
      preparation: 'bevel',
      openWedge: 0,
      bevel: bend / 2,
      mismatch: 0,
    });
  });

  it('traced inside: the same skins, the other outline, the knife leans the other way', () => {
    const outside = make({ standsFor: 'middle' });
    const inside = make({ standsFor: 'middle', traced: 'inside' });
    expect(inside.panels[0]!.outlines.traced).toEqual(outside.panels[0]!.outlines.inside);
    expect(right(inside).bevel).toBeCloseTo(-right(outside).bevel, 12);
  });

  it('a concave bevelled seam is smaller outside and flares out', () => {
    const result = make({ standsFor: 'middle' }, { ...flat, seam: -bend });
    expect(widthOf(result.panels[0]!.outlines.outside[0]!)).toBeLessThan(60);
    expect(widthOf(result.panels[0]!.outlines.inside[0]!)).toBeGreaterThan(60);
    expect(right(result).bevel).toBeCloseTo(-bend / 2, 12);
  });

  it('square: one outline for both skins, moved to the side that touches, with an open wedge', () => {
    const slope = Math.tan(bend / 2);
    const convex = make({ preparation: 'square', standsFor: 'middle' });
    expect(convex.panels[0]!.outlines.outside).toEqual(convex.panels[0]!.outlines.inside);
    expect(right(convex)).toMatchObject({ bevel: 0 });
    expect(right(convex).shift).toBeCloseTo(-2.5 * slope, 12);
    expect(convex.rows[0]!.openWedge).toBeCloseTo(2 * 5 * Math.sin(bend / 2), 12);
    const concave = make({ preparation: 'square', standsFor: 'inside' }, { ...flat, seam: -bend });
    expect(right(concave).shift).toBeCloseTo(-5 * slope, 12);
    const free = make({ preparation: 'square', standsFor: 'outside' }, { ...flat, seam: -bend });
    expect(Math.abs(right(free).shift)).toBe(0);
  });

  it('one seam can be prepared and bent in its own way', () => {
    const result = make({ preparationOf: { s0: 'square' }, bends: { s1: radians(20) } });
    expect(result.rows.map((row) => row.preparation).slice(0, 2)).toEqual(['square', 'bevel']);
    expect(result.rows[1]!.bend).toBeCloseTo(radians(20), 12);
  });

  it('borders stay where they are', () => {
    const box = boxOf(make().panels[0]!.outlines.traced[0]!);
    expect([box.minY, box.maxY]).toEqual([expect.closeTo(0, 12), expect.closeTo(40, 12)]);
    const bottom = make().panels[0]!.loops[0]![0]!;
    expect(bottom).toMatchObject({ id: 'w0.bottom0', seam: null, bend: null, bevel: 0, shift: 0 });
  });

  it('kerf goes on the traced outline alone, half of it all round, and not into the seam lengths', () => {
    const plain = make();
    const wide = make({ kerf: 0.6 });
    const traced = boxOf(wide.panels[0]!.outlines.traced[0]!);
    expect(traced.maxY - traced.minY).toBeCloseTo(40.6, 9);
    expect(traced.maxX - traced.minX).toBeCloseTo(widthOf(plain.panels[0]!.outlines.traced[0]!) + 0.6, 9);
    expect(wide.panels[0]!.outlines.outside).toEqual(plain.panels[0]!.outlines.outside);
    expect(wide.rows.map((row) => row.lengthA)).toEqual(plain.rows.map((row) => row.lengthA));
    expect(right(wide).shift).toBeCloseTo(right(plain).shift + 0.3, 12);
  });

  it('scales lengths but not the foam', () => {
    const result = makePanels(pattern, seams, 1.5, foamWith({ roleBends: { ...flat, seam: bend } }), marks);
    expect(widthOf(result.panels[0]!.outlines.inside[0]!)).toBeCloseTo(90 - 10 * Math.tan(bend / 2), 9);
  });

  it('lists seams without a bend and leaves them flat', () => {
    const result = make({}, flat);
    expect(result.unsetBends).toEqual(['s0', 's1', 's2', 's3', 's4', 's5']);
    expect(result.panels[0]!.outlines.inside).toEqual(result.panels[0]!.outlines.outside);
    expect(result.rows[0]!.bend).toBeNull();
    expect(result.issues.map((issue) => issue.code)).toContain('bend-not-set');
  });

  it('refuses 170° and more', () => {
    const result = make({}, { ...flat, seam: radians(170) });
    expect(result.rows[0]!.bend).toBeNull();
    expect(result.issues.find((issue) => issue.code === 'bend-too-sharp')?.severity).toBe('error');
    expect(make({}, { ...flat, seam: radians(169) }).rows[0]!.bend).toBeCloseTo(radians(169), 12);
  });

  it('says when nothing is left of a panel', () => {
    const narrow = prismWalls(6, 4, 40);
    const result = makePanels(
      narrow.pattern,
      narrow.seams,
      1,
      foamWith({ roleBends: { ...flat, seam: bend }, preparation: 'square' }),
      marks,
    );
    expect(result.panels[0]!.outlines.traced).toEqual([]);
    expect(result.panels[0]!.loops[0]!.every((edge) => edge.points.length === 0)).toBe(true);
    expect(result.issues.filter((issue) => issue.code === 'panel-vanishes').length).toBeGreaterThanOrEqual(6);
  });

  it('takes names and quantities from the marks', () => {
    const result = makePanels(pattern, seams, 1, foamWith(), {
      ...marks,
      pieceNames: { w1: 'Cheek' },
      quantities: { w1: 2 },
    });
    expect(result.panels.map((panel) => [panel.id, panel.name, panel.quantity]).slice(0, 2)).toEqual([
      ['w0', 'W0', 1],
      ['w1', 'Cheek', 2],
    ]);
  });

  it('throws for figures that make no sense', () => {
    expect(() => makePanels(pattern, seams, 0, foamWith(), marks)).toThrow('scale');
    expect(() => make({ thickness: -1 })).toThrow('thickness');
    expect(() => make({ kerf: Number.NaN })).toThrow('kerf');
  });
});

describe('soft bends', () => {
  const foam = (changes: Parameters<typeof foamWith>[0] = {}) =>
    foamWith({ roleBends: { ...flat, mountain: radians(30), valley: -radians(30) }, ...changes });
  const make = (piece: Piece, changes: Parameters<typeof foamWith>[0] = {}) =>
    makePanels(patternOf([piece]), noSeams, 1, foam(changes), marks);

  it.each([1, 2, 5])('%s parallel folds change the length of a strip by as many times Δ', (n) => {
    const strip = stripPiece(
      'p',
      Array.from({ length: n + 1 }, (_, k) => 20 + 3 * k),
      30,
    );
    const panel = make(strip).panels[0]!;
    const change = bendLengthChange(radians(30), foam(), { outside: 0, inside: 5 });
    const before = strip.outline.filter((edge) => edge.id.includes('bottom')).length;
    expect(before).toBe(n + 1);
    const paper = Array.from({ length: n + 1 }, (_, k) => 20 + 3 * k).reduce((p, q) => p + q, 0);
    expect(widthOf(panel.outlines.traced[0]!)).toBeCloseTo(paper + n * change, 9);
    expect(change).toBeLessThan(0);
  });

  it('valleys use the outer depth and change nothing else', () => {
    const strip = stripPiece('p', [20, 20], 30, 'valley');
    const panel = make(strip, { standsFor: 'inside' }).panels[0]!;
    const change = bendLengthChange(-radians(30), foam(), { outside: 5, inside: 0 });
    expect(widthOf(panel.outlines.traced[0]!)).toBeCloseTo(40 + change, 9);
    const box = boxOf(panel.outlines.traced[0]!);
    expect(box.maxY - box.minY).toBeCloseTo(30, 9);
  });

  it('keeps the panel where the piece was, and the folds between its edges', () => {
    const panel = make(stripPiece('p', [30, 10, 30], 30)).panels[0]!;
    const box = boxOf(panel.outlines.traced[0]!);
    expect((box.minX + box.maxX) / 2).toBeCloseTo(35, 9);
    for (const fold of panel.folds) {
      expect(fold.points[0]!.y).toBeCloseTo(0, 9);
      expect(fold.points.at(-1)!.y).toBeCloseTo(30, 9);
    }
    expect(panel.folds[0]!.points[0]!.x).toBeCloseTo(panel.loops[0]![0]!.points.at(-1)!.x, 9);
  });

  it('brings fold ends to the corners of the traced outline', () => {
    const strip = stripPiece('p', [30, 30], 30);
    const seams: Seams = {
      ...noSeams,
      seams: [
        {
          id: 's',
          number: 1,
          a: { piece: 'p', edge: 'p.bottom0' },
          b: { piece: 'p', edge: 'p.top0' },
          direction: 'opposed',
          evidence: 'person',
          confidence: 1,
          lengthA: 30,
          lengthB: 30,
        },
      ],
    };
    const result = makePanels(
      patternOf([strip]),
      seams,
      1,
      foam({ bends: { s: radians(40) }, preparation: 'square' }),
      marks,
    );
    const corner = result.panels[0]!.loops[0]![0]!.points.at(-1)!;
    expect(distance(result.panels[0]!.folds[0]!.points[0]!, corner)).toBeLessThan(1e-9);
    expect(corner.y).toBeGreaterThan(0.5);
  });

  it('warns of soft folds over 40° and of signs that go against the line', () => {
    const steep = make(stripPiece('p', [30, 30], 30), { bends: { 'p.f0': radians(41) } });
    expect(steep.issues.map((issue) => issue.code)).toEqual(['fold-too-steep']);
    const scored = make(stripPiece('p', [30, 30], 30), {
      bends: { 'p.f0': radians(41) },
      foldPreparation: 'scored',
    });
    expect(scored.issues).toEqual([]);
    const contrary = make(stripPiece('p', [30, 30], 30), { bends: { 'p.f0': -radians(10) } });
    expect(contrary.issues.map((issue) => issue.code)).toEqual(['bend-against-role']);
  });

  it('spreads what cannot be met at a closed ring of folds', () => {
    // Four squares round a middle corner: four folds of the same Δ close a ring, and every face just moves inwards.
    const ids = ['a', 'b', 'c', 'd'];
    const signs = [
      [1, 1],
      [-1, 1],
      [-1, -1],
      [1, -1],
    ] as const;
    const rim = [
      point(20, 0),
      point(20, 20),
      point(0, 20),
      point(-20, 20),
      point(-20, 0),
      point(-20, -20),
      point(0, -20),
      point(20, -20),
    ];
    const spokes = [point(20, 0), point(0, 20), point(-20, 0), point(0, -20)];
    const piece: Piece = {
      id: 'p',
      name: 'P',
      outline: rim.map((p, k) => ({ id: `e${k}`, points: [p, rim[(k + 1) % 8]!], curved: false })),
      holes: [],
      // From the middle outwards the face before lies to the right, the one after to the left.
      folds: spokes.map((p, k) => ({
        id: `f${k}`,
        points: [point(0, 0), p],
        role: 'mountain',
        left: ids[k]!,
        right: ids[(k + 3) % 4]!,
      })),
      faces: ids.map((id, k) => {
        const [x, y] = signs[k]!;
        return {
          id,
          polygon: [point(0, 0), point(20 * x, 0), point(20 * x, 20 * y), point(0, 20 * y)],
          sides: [],
          holes: [],
        };
      }),
      tabs: [],
    };
    const panel = make(piece).panels[0]!;
    const change = bendLengthChange(radians(30), foam(), { outside: 0, inside: 5 });
    expect(ringArea(panel.outlines.traced[0]!)).toBeCloseTo((40 + change) ** 2, 6);
  });
});

describe('narrow notches', () => {
  // A block with a notch of 2 mm whose walls are glued to two other pieces: bevelled, they would grow by 5 tan 30°.
  const notch = (gap: number): Piece => {
    const ring = [
      point(0, 0),
      point(60, 0),
      point(60, 40),
      point(30 + gap / 2, 40),
      point(30 + gap / 2, 15),
      point(30 - gap / 2, 15),
      point(30 - gap / 2, 40),
      point(0, 40),
    ];
    return {
      id: 'n',
      name: 'N',
      outline: ring.map((p, k) => ({ id: `n.e${k}`, points: [p, ring[(k + 1) % 8]!], curved: false })),
      holes: [],
      folds: [],
      faces: [{ id: 'n.q', polygon: ring, sides: [], holes: [] }],
      tabs: [],
    };
  };
  const mate = stripPiece('m', [25], 30);
  const seams: Seams = {
    ...noSeams,
    seams: [
      ['s1', 'n.e3', 'm.left'],
      ['s2', 'n.e5', 'm.right'],
    ].map(([id, a, b], k) => ({
      id: id!,
      number: k + 1,
      a: { piece: 'n', edge: a! },
      b: { piece: 'm', edge: b! },
      direction: 'opposed' as const,
      evidence: 'person' as const,
      confidence: 1,
      lengthA: 25,
      lengthB: 30,
    })),
  };
  const foam = foamWith({ standsFor: 'inside', roleBends: { ...flat, seam: radians(60) } });

  it('falls back to square cuts on both sides of the seam, and says so', () => {
    const result = makePanels(patternOf([notch(2), mate]), seams, 1, foam, marks);
    expect(result.rows.map((row) => row.preparation)).toEqual(['square', 'square']);
    const mateEdge = result.panels[1]!.loops[0]!.find((edge) => edge.id === 'm.left')!;
    expect(mateEdge.bevel).toBe(0);
    expect(result.issues.find((issue) => issue.code === 'bevel-collides')?.severity).toBe('repaired');
    expect(result.panels[0]!.outlines.outside[0]!.length).toBe(8);
  });

  it('keeps the bevel where there is room', () => {
    const result = makePanels(patternOf([notch(12), mate]), seams, 1, foam, marks);
    expect(result.rows.map((row) => row.preparation)).toEqual(['bevel', 'bevel']);
    expect(result.issues.map((issue) => issue.code)).not.toContain('bevel-collides');
  });
});

describe('remembering shapes', () => {
  it('gives the same answer and shapes only what changed', () => {
    const { pattern, seams } = prismWalls(6, 60, 40);
    const foam = foamWith({ roleBends: { ...flat, seam: radians(60) } });
    let shaped = 0;
    const remember = rememberShapes((piece, plan) => {
      shaped += 1;
      return shapePiece(piece, plan);
    });
    const first = makePanels(pattern, seams, 1, foam, marks, remember);
    expect(shaped).toBe(6);
    expect(makePanels(pattern, seams, 1, foam, marks, remember)).toEqual(first);
    expect(shaped).toBe(6);
    const one = makePanels(pattern, seams, 1, { ...foam, bends: { s0: radians(10) } }, marks, remember);
    expect(shaped).toBe(8);
    expect(one).toEqual(makePanels(pattern, seams, 1, { ...foam, bends: { s0: radians(10) } }, marks));
  });
});
