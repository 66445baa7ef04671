/** Lines drawn on the shell: layers within them, layers on layers, stencils. A drum of flat walls unrolls exactly. */
import { describe, expect, it } from 'vitest';
import { boxOf, lerp, type Point, ringArea } from '../../src/math';
import {
  type DrawnOutline,
  type ExtraPart,
  type FoamResult,
  type LayerPart,
  type PlacedShape,
  type StencilPart,
  toParts,
} from '../../src/model';
import { surfaceOfTruth } from '../foam/shellFigures';
import { cut, extrasOf, partsOf, tube } from './tubes';

const n = 24;
const drum = cut(tube(n, 100, 100, 60), 6);
const { pattern, shell } = surfaceOfTruth(drum);
const side = 200 * Math.sin(Math.PI / n);
const areaOf = (rings: readonly (readonly Point[])[]) => rings.reduce((sum, r) => sum + ringArea(r), 0);
const rectangle = (width: number, height: number): Point[] => [
  { x: -width / 2, y: -height / 2 },
  { x: width / 2, y: -height / 2 },
  { x: width / 2, y: height / 2 },
  { x: -width / 2, y: height / 2 },
];
const pieceOf = (face: string) => pattern.pieces.find((p) => p.faces.some((f) => f.id === face))!;
/** The third of the six walls of the first panel, in the order that they stand side by side. */
const first = pattern.pieces[0]!;
const inOrder = first.faces.map((f) => f.id);
const middle = { x: 0.5, y: 0.5 };
const shape = (width: number, height: number, changes: Partial<PlacedShape> = {}): PlacedShape => ({
  ...{ kind: 'shape', rings: [rectangle(width, height)], width, turn: 0, within: 'shell' },
  at: { face: inOrder[2]!, ...middle },
  ...changes,
});
const stencil = (changes: Partial<StencilPart> = {}): StencilPart => ({
  ...{ id: 's', name: 'Gull', thickness: null, kind: 'stencil', side: 'outside', way: 'mask', border: 15 },
  outline: shape(180, 30),
  ...changes,
});
const layer = (id: string, changes: Partial<LayerPart> = {}): LayerPart => ({
  ...{ id, name: id.toUpperCase(), thickness: null, kind: 'layer', faces: [], side: 'outside', margin: 0 },
  ...changes,
});
const made = (...parts: ExtraPart[]): FoamResult => extrasOf(drum, parts);
const codes = (foam: FoamResult) =>
  foam.issues.filter((i) => i.place.ids?.some((id) => id.length <= 2)).map((i) => `${i.code}: ${i.message}`);
/** The panel that a part's outline is drawn on. */
const carrierOf = (foam: FoamResult, id: string) =>
  foam.panels.find((p) => p.guides?.some((g) => g.id.startsWith(`${id}:on:`)))?.id;
const sizeOf = (points: readonly Point[]) => {
  const box = boxOf(points);
  return [box.maxX - box.minX, box.maxY - box.minY].sort((a, b) => b - a) as [number, number];
};

describe('a stencil', () => {
  it('over seams is cut at each, loses nothing, and its parts carry letters and ticks that meet', () => {
    const foam = made(stencil());
    const parts = partsOf(foam);
    // 180 mm over walls of 26.1 mm: seven walls and a part, on two panels of six at least.
    expect(parts.length).toBeGreaterThanOrEqual(2);
    expect(parts.map((p) => p.name)).toEqual(parts.map((_, k) => `Gull ${String.fromCharCode(65 + k)}`));
    const sum = parts.reduce((total, p) => total + areaOf(p.outlines.traced), 0);
    expect(sum).toBeCloseTo(180 * 30, 0);
    const ticks = parts.flatMap((p) =>
      (p.guides ?? []).filter((g) => g.label !== '').map((g) => `${p.name.slice(-1)}${g.label}`),
    );
    expect(ticks.length).toBeGreaterThanOrEqual(2);
    // Each tick has its fellow on the part that it names.
    for (const tick of ticks) expect(ticks).toContain([...tick].reverse().join(''));
    // Crosses on the parts, and as many on the panels below, with the outline and its name.
    const crosses = (id: string) => id.includes(':cross-');
    const above = parts.flatMap((p) => p.guides!.filter((g) => crosses(g.id)));
    const below = foam.panels.filter((p) => !p.extra).flatMap((p) => p.guides ?? []);
    expect(above.length).toBeGreaterThanOrEqual(4);
    expect(below.filter((g) => crosses(g.id))).toHaveLength(above.length);
    expect(new Set(below.filter((g) => !crosses(g.id)).map((g) => g.label))).toEqual(
      new Set(parts.map((p) => p.name)),
    );
    expect(codes(foam)).toEqual([]);
    for (const p of parts) expect(p.material).toBe('card or film');
  });

  it('that lies partly on a layer is cut at the layer’s edge, each part as large as it is there', () => {
    // A layer of 36 mm with one of 14 mm on it, and a stencil of 50 mm over both.
    const cover = shape(36, 20);
    const foam = made(
      layer('a', { outline: cover }),
      layer('b', { outline: shape(14, 20), thickness: 3 }),
      stencil({ outline: shape(50, 12) }),
      { ...stencil({ way: 'window', border: 5, outline: shape(50, 12) }), id: 'w', name: 'Sheet' },
    );
    const parts = partsOf(foam).filter((p) => p.extra!.part === 's');
    const carriers = new Map(parts.map((part) => [part.name, carrierOf(foam, part.id)!] as const));
    // To the left and right of the first layer, to the left and right of the second on it, and on top of that.
    const on = (id: string) => parts.filter((p) => carriers.get(p.name) === id);
    expect([on(first.id).length, on('extra:a').length, on('extra:b').length]).toEqual([2, 2, 1]);
    // The layers' edges are true where their own neutral layers lie, 2.5 and 6.5 mm out; the skins are 0, 5 and 8 mm out.
    // Over a corner of the drum a width grows by 2 tan(π/24) for each mm.
    const cutsOfArea = parts.map((p) => ({ id: carriers.get(p.name)!, area: areaOf(p.outlines.traced) }));
    const sum = (id: string) => cutsOfArea.filter((c) => c.id === id).reduce((s, c) => s + c.area, 0);
    const [low, high] = [sum(first.id), sum('extra:b')];
    expect(low).toBeGreaterThan(12 * (50 - 36) - 1);
    expect(low).toBeLessThan(12 * (50 - 36 + 4 * 2.5 * Math.tan(Math.PI / n)) + 1);
    expect(high).toBeGreaterThan(12 * 14 - 1);
    expect(high).toBeLessThan(12 * (14 + 4 * 1.5 * Math.tan(Math.PI / n)) + 1);
    // Where two parts meet each has a tick with the other's letter.
    const ticks = parts.flatMap((p) =>
      (p.guides ?? []).filter((g) => g.label !== '').map((g) => `${p.name.slice(-1)}${g.label}`),
    );
    expect(ticks).toHaveLength(8);
    for (const tick of ticks) expect(ticks).toContain([...tick].reverse().join(''));
    // On the shell each part lies on its own height.
    const heights = foam.onShell!.filter((l) => l.part === 's').map((l) => Math.round(l.from * 1e6) / 1e6);
    expect(heights.sort((p, q) => p - q)).toEqual([0, 0, 5, 5, 8]);
    // A sheet beside a layer ends at its edge: it would not lie down over the step.
    const sheets = partsOf(foam).filter((p) => p.extra!.part === 'w');
    expect(sheets.length).toBeGreaterThanOrEqual(5);
    const top = sheets.filter((p) => carrierOf(foam, p.id) === 'extra:b');
    expect(top).toHaveLength(1);
    expect(sizeOf(top[0]!.outlines.traced.flat())).toEqual([expect.closeTo(20, 0), expect.closeTo(14, 0)]);
  });

  it('stands upright, at its size and turn', () => {
    const own = shell.faces.find((f) => f.face === inOrder[2])!;
    expect(own).toBeDefined();
    const upright = partsOf(made(stencil({ outline: shape(20, 50) })));
    expect(upright).toHaveLength(1);
    expect(sizeOf(upright[0]!.outlines.traced[0]!)).toEqual([expect.closeTo(50, 2), expect.closeTo(20, 2)]);
    // A quarter turn lies along the walls: 50 mm over walls of 26.1 mm crosses their folds.
    const lying = partsOf(made(stencil({ outline: shape(20, 50, { turn: Math.PI / 2, width: 20 }) })));
    expect(lying.reduce((total, p) => total + areaOf(p.outlines.traced), 0)).toBeCloseTo(1000, 1);
    expect(lying.flatMap((p) => p.folds).length).toBeGreaterThanOrEqual(1);
    // Twice the width is four times the area.
    const large = partsOf(made(stencil({ outline: shape(10, 25, { width: 20 }) })));
    expect(areaOf(large[0]!.outlines.traced)).toBeCloseTo(1000, 1);
  });

  it('kept to one panel ends at its edge, and says so', () => {
    const foam = made(stencil({ outline: shape(180, 30, { within: 'panel' }) }));
    const parts = partsOf(foam);
    expect(parts).toHaveLength(1);
    const panel = foam.panels.find((p) => p.guides?.some((g) => g.label === 'Gull'))!;
    expect(panel.id).toBe(pieceOf(inOrder[2]!).id);
    expect(codes(foam)).toEqual([expect.stringContaining('outline-cut-off')]);
  });

  it('as a window has the shape as a hole, and tells of islands', () => {
    const [sheet] = partsOf(made(stencil({ way: 'window', border: 8, outline: shape(16, 30) })));
    expect(sheet!.outlines.traced).toHaveLength(2);
    expect(-ringArea(sheet!.outlines.traced[1]!)).toBeCloseTo(16 * 30, 1);
    const ring = [rectangle(20, 30), rectangle(10, 15)];
    const foam = made(stencil({ way: 'window', border: 8, outline: shape(20, 30, { rings: ring }) }));
    expect(codes(foam)).toEqual([expect.stringContaining('stencil-islands')]);
  });

  it('says when its ground is gone', () => {
    const foam = made(stencil({ outline: shape(20, 20, { at: { face: 'gone', ...middle } }) }));
    expect(foam.stuckExtras).toEqual(['s']);
    expect(codes(foam)[0]).toContain('a face that it is drawn on is not there any more');
  });
});

describe('a layer within a line', () => {
  /** The corners of a wall, drawn in to the middle by two fifths. */
  const wall = pattern.pieces[0]!.faces[2]!;
  const centre = wall.polygon.reduce((sum, p) => ({ x: sum.x + p.x / 4, y: sum.y + p.y / 4 }), {
    x: 0,
    y: 0,
  });
  const drawn: DrawnOutline = {
    ...{ kind: 'drawn', curved: false, within: 'shell' },
    points: wall.polygon.map((p) => toParts(wall.id, wall.polygon, lerp(centre, p, 0.6))),
  };

  it('is as large as the line where its neutral layer lies', () => {
    const [panel] = partsOf(made(layer('a', { outline: drawn })));
    // The wall grows by 2 · 2.5 · tan(π/24), and the line with it.
    const grown = side + 5 * Math.tan(Math.PI / n);
    expect(areaOf(panel!.outlines.traced)).toBeCloseTo(0.36 * grown * 60, 1);
  });

  it('rounds its corners as a curve through the same points', () => {
    const straight = areaOf(partsOf(made(layer('a', { outline: drawn })))[0]!.outlines.traced);
    const [panel] = partsOf(made(layer('a', { outline: { ...drawn, curved: true } })));
    expect(panel!.outlines.traced[0]!.length).toBeGreaterThan(20);
    expect(areaOf(panel!.outlines.traced)).toBeGreaterThan(straight);
  });

  it('stacks: what lies on another stands on it and is drawn on it; what lies beside it does not', () => {
    const foam = made(
      layer('a', { outline: shape(70, 40) }),
      layer('b', { outline: shape(30, 20), thickness: 3 }),
      layer('c', { outline: shape(10, 8), thickness: 2 }),
      layer('d', { outline: shape(60, 6, { at: { face: inOrder[2]!, x: 0.5, y: 0.06 } }) }),
    );
    const lying = (id: string) => foam.onShell!.find((l) => l.part === id)!;
    // The paper is the outer skin: 0.
    expect([lying('a').from, lying('a').to]).toEqual([expect.closeTo(0, 6), expect.closeTo(5, 6)]);
    expect([lying('b').from, lying('b').to]).toEqual([expect.closeTo(5, 6), expect.closeTo(8, 6)]);
    expect([lying('c').from, lying('c').to]).toEqual([expect.closeTo(8, 6), expect.closeTo(10, 6)]);
    expect(lying('d').from).toBeCloseTo(0, 6);
    const labels = (id: string) => foam.panels.find((p) => p.id === id)!.guides?.map((g) => g.label) ?? [];
    expect(labels('extra:a')).toContain('B');
    expect(labels('extra:a')).not.toContain('D');
    expect(labels('extra:b')).toContain('C');
    expect(labels(first.id)).toEqual(expect.arrayContaining(['A', 'D']));
    expect(labels(first.id)).not.toContain('B');
    // Each is true to size where its own neutral layer lies, however high it stands.
    for (const [id, size] of [
      ['a', 2800],
      ['b', 600],
      ['c', 80],
      ['d', 360],
    ] as const)
      expect(areaOf(foam.panels.find((p) => p.id === `extra:${id}`)!.outlines.traced)).toBeCloseTo(size, 0);
  });
});
