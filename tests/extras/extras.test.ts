/** Parts on shells whose developed sizes have closed forms (regular prisms and pyramids; facts of plane geometry). */
import { describe, expect, it } from 'vitest';
import { openingChoices } from '../../src/extras';
import { boxOf, type Point, polylineLength, ringArea } from '../../src/math';
import type { ExtraPart, Panel } from '../../src/model';
import { surfaceOfTruth } from '../foam/shellFigures';
import { seamsOfTruth } from '../foam/truthSeams';
import { solid } from '../support/harbourWatch';
import { cut, extrasOf, partsOf, tube } from './tubes';

const common = { id: 'x1', name: 'Part', thickness: null } as const;
const openings = (truth: ReturnType<typeof cut>) => {
  const { pattern, shell, places } = surfaceOfTruth(truth);
  return openingChoices(pattern, seamsOfTruth(truth), shell, places);
};
const areaOf = ({ outlines }: Panel) => outlines.traced.reduce((sum, ring) => sum + ringArea(ring), 0);
const lengthOf = (ring: readonly Point[]) => polylineLength([...ring, ring[0]!]);
const sizeOf = (panel: Panel) => {
  const box = boxOf(panel.outlines.traced.flat());
  return [box.maxX - box.minX, box.maxY - box.minY] as const;
};

/** 24 sides, corners 100 mm from the axis, 60 mm tall. */
const n = 24;
const side = 200 * Math.sin(Math.PI / n);
/** Of a regular n-gon moved out by d, each side grows by 2 d tan(π/n). */
const sideAt = (d: number) => side + 2 * d * Math.tan(Math.PI / n);
const drum = cut(tube(n, 100, 100, 60), 6);
const band = (changes: Partial<Extract<ExtraPart, { kind: 'band' }>> = {}): ExtraPart => ({
  ...common,
  kind: 'band',
  edges: openings(drum)[0]!.edges,
  side: 'outside',
  width: 30,
  shape: 'straight',
  overlap: 0,
  ...changes,
});

describe('a band', () => {
  it('knows the openings of a drum', () => {
    const found = openings(drum);
    expect(found.map((o) => o.where).sort()).toEqual(['bottom', 'top']);
    for (const { girth, edges } of found) {
      expect(girth).toBeCloseTo(n * side, 9);
      expect(edges).toHaveLength(n);
    }
  });

  it.each([
    // The paper is the outer skin of foam of 5 mm, K = 0.5.
    ['outside', 2.5],
    ['inside', -7.5],
  ] as const)('is as long as the rim where its neutral layer lies: %s', (where, depth) => {
    const [panel] = partsOf(extrasOf(drum, [band({ side: where })]));
    const [length, width] = sizeOf(panel!);
    expect(length).toBeCloseTo(n * sideAt(depth), 3);
    expect(width).toBeCloseTo(30, 3);
    // Marks where the seams between the four panels meet the rim; the ends are at one of them or none.
    expect(panel!.guides!.length).toBeGreaterThanOrEqual(3);
  });

  it('takes its own thickness and K, and the overlap on top', () => {
    const [panel] = partsOf(extrasOf(drum, [band({ thickness: 2, overlap: 25 })], { neutralRatio: 0.4 }));
    expect(sizeOf(panel!)[0]).toBeCloseTo(n * sideAt(0.8) + 25, 3);
    const lap = panel!.guides!.find((g) => g.id.endsWith(':lap'))!;
    const box = boxOf(panel!.outlines.traced.flat());
    for (const p of lap.points) expect(box.maxX - p.x).toBeCloseTo(25, 3);
  });

  it('follows a cone as a ring segment', () => {
    const cone = cut(tube(n, 100, 70, 60), 6);
    const low = openings(cone).find((o) => o.where === 'bottom')!;
    const [panel] = partsOf(extrasOf(cone, [band({ edges: low.edges, shape: 'fitted' })]));
    // Walls are trapezia with base angle α; each corner of the rim turns the ribbon by π − 2α.
    const edge = Math.hypot(30, 60);
    const alpha = Math.acos(((200 - 140) * Math.sin(Math.PI / n)) / 2 / edge);
    const wallTilt = Math.atan2(30 * Math.cos(Math.PI / n), 60);
    // Moved out by d square to the walls, the sides of the rim grow as those of the section d / cos(tilt) out.
    const grown = sideAt(2.5 / Math.cos(wallTilt));
    const turn = Math.PI - 2 * alpha;
    const exact = 30 * n * sideAtRim(panel!) - (n - 1) * 30 ** 2 * Math.tan(turn / 2);
    expect(areaOf(panel!)).toBeCloseTo(exact, 1);
    // The rim's own vertices move square to the walls, not level, so their ring is a little smaller than that section.
    expect(sideAtRim(panel!)).toBeLessThan(grown + 1e-6);
    expect(sideAtRim(panel!)).toBeGreaterThan(sideAt(2.5) - 0.5);
  });
});

describe('a fitted band on a wall that slopes along and across', () => {
  // Two rows of walls over a regular 12-gon, the upper one flatter: every corner between them is bent both ways.
  const m = 12;
  const rows = [
    { radius: 100, z: 0 },
    { radius: 90, z: 40 },
    { radius: 50, z: 70 },
  ];
  const dome = cut(
    {
      name: 'dome',
      vertices: rows.flatMap(({ radius, z }) =>
        Array.from({ length: m }, (_, i) => {
          const a = (2 * Math.PI * i) / m;
          return { x: radius * Math.cos(a), y: radius * Math.sin(a), z };
        }),
      ),
      faces: [0, 1].flatMap((row) =>
        Array.from({ length: m }, (_, i) => [
          row * m + i,
          row * m + ((i + 1) % m),
          (row + 1) * m + ((i + 1) % m),
          (row + 1) * m + i,
        ]),
      ),
    },
    4,
  );
  const low = openings(dome).find((o) => o.where === 'bottom')!;
  const made = (width: number, shape: 'fitted' | 'straight' = 'fitted') => {
    const out = extrasOf(dome, [band({ edges: low.edges, shape, width })]);
    return {
      panels: partsOf(out),
      codes: out.issues.filter((i) => i.place.ids?.includes('x1')).map((i) => i.code),
    };
  };
  it('is one piece as long as nothing bends both ways inside it', () => {
    const { panels, codes } = made(30);
    expect([panels.length, codes]).toEqual([1, []]);
  });

  it('is cut in parts beyond, that cover the wall to the width without lying on each other', () => {
    const { panels, codes } = made(65);
    expect(codes).toEqual(['band-in-parts']);
    expect(panels.length).toBeGreaterThan(2);
    expect(panels.length).toBeLessThanOrEqual(m);
    expect(new Set(panels.map((p) => p.name)).size).toBe(panels.length);
    // The rim is as long in all parts together as a straight band.
    // Parts of one wall each are exact: the lower wall whole, and of the upper one what the width reaches.
    const middle = (radius: number) => radius * Math.cos(Math.PI / m);
    const slopes = [0, 1].map((k) => {
      const [p, q] = [rows[k]!, rows[k + 1]!];
      return Math.hypot(middle(p.radius) - middle(q.radius), q.z - p.z);
    });
    const reach = (65 - slopes[0]!) / slopes[1]!;
    const sideOf = (radius: number) => 2 * radius * Math.sin(Math.PI / m);
    const [low1, mid, top] = [100, 90, 90 - 40 * reach].map(sideOf);
    const wall = ((low1! + mid!) / 2) * slopes[0]! + ((mid! + top!) / 2) * (65 - slopes[0]!);
    const total = panels.reduce((sum, p) => sum + areaOf(p), 0);
    // On the neutral layer 2.5 mm out the ring is about 2.5 % larger.
    expect(total / (m * wall)).toBeGreaterThan(1.01);
    expect(total / (m * wall)).toBeLessThan(1.05);
    const [whole] = sizeOf(made(65, 'straight').panels[0]!);
    for (const p of panels) {
      const box = sizeOf(p);
      expect(Math.max(...box)).toBeLessThan(whole / 2);
    }
  });
});

/** The longest side of the outline's lower line: one side of the rim. */
function sideAtRim(panel: Panel): number {
  const ring = panel.outlines.traced[0]!;
  const lengths = ring.map((p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    return Math.hypot(p.x - q.x, p.y - q.y);
  });
  const rim = lengths.filter((l) => l < 29).sort((a, b) => b - a);
  return rim[Math.floor(n / 2)]!;
}

describe('a layer', () => {
  const layer = (faces: readonly string[], changes: Partial<Extract<ExtraPart, { kind: 'layer' }>> = {}) =>
    ({ ...common, kind: 'layer', faces, side: 'outside', margin: 0, ...changes }) satisfies ExtraPart;
  /** Eight neighbouring walls, which are on two or three panels. */
  const walls = (() => {
    const { shell } = surfaceOfTruth(drum);
    const bearing = (i: number) => {
      const at = shell.faces[i]!.vertices.map((v) => shell.vertices[v]!);
      const sum = at.reduce((s, p) => ({ x: s.x + p.x, y: s.y + p.y }), { x: 0, y: 0 });
      return Math.atan2(sum.y, sum.x);
    };
    return shell.faces
      .map((f, i) => ({ id: f.face, piece: f.piece, a: bearing(i) }))
      .sort((p, q) => p.a - q.a)
      .slice(2, 10);
  })();
  const faces = walls.map((w) => w.id);

  it.each([
    ['outside', 2.5],
    ['inside', -7.5],
  ] as const)('on a drum is a rectangle of its own depth: %s', (where, depth) => {
    const [panel, ...others] = partsOf(extrasOf(drum, [layer(faces, { side: where })]));
    expect(others).toEqual([]);
    expect(areaOf(panel!)).toBeCloseTo(8 * sideAt(depth) * 60, 1);
    expect(lengthOf(panel!.outlines.traced[0]!)).toBeCloseTo(2 * (8 * sideAt(depth) + 60), 3);
    expect(panel!.folds).toHaveLength(7);
    for (const fold of panel!.folds) expect(fold.bend).toBeCloseTo((2 * Math.PI) / n, 6);
  });

  it('keeps its margin, and its outline lies on the panels below', () => {
    expect(new Set(walls.map((w) => w.piece)).size).toBeGreaterThan(1);
    const foam = extrasOf(drum, [layer(faces, { margin: 8 })]);
    const [panel] = partsOf(foam);
    const width = 8 * sideAt(2.5) - 16;
    expect(areaOf(panel!)).toBeCloseTo(width * 44, 1);
    const marked = foam.panels.filter((p) => !p.extra && p.guides);
    expect(marked.map((p) => p.id).sort()).toEqual([...new Set(walls.map((w) => w.piece))].sort());
    const drawn = marked
      .flatMap((p) => p.guides!)
      .reduce((sum, g) => sum + polylineLength(g.closed ? [...g.points, g.points[0]!] : g.points), 0);
    // Panels lie flat at their own neutral layer, 2.5 mm within the paper: round the drum they are shorter.
    expect(drawn).toBeCloseTo(2 * 44 + 2 * width * (sideAt(-2.5) / sideAt(2.5)), 2);
  });

  it('stacks: the next one is larger by a thickness and is marked on the one below', () => {
    const first = layer(faces);
    const second = layer(faces.slice(2, 5), { id: 'x2', name: 'Second', thickness: 3 });
    const foam = extrasOf(drum, [first, second]);
    const [below, above] = partsOf(foam);
    expect(areaOf(above!)).toBeCloseTo(3 * sideAt(5 + 1.5) * 60, 1);
    expect(below!.guides!.every((g) => g.id.startsWith('extra:x2'))).toBe(true);
    expect(foam.panels.filter((p) => !p.extra).flatMap((p) => p.guides ?? []).length).toBeGreaterThan(0);
    const on = boxOf(below!.guides!.flatMap((g) => [...g.points]));
    const whole = boxOf(below!.outlines.traced.flat());
    expect(on.minX).toBeGreaterThan(whole.minX - 1e-6);
    expect(on.maxY).toBeLessThan(whole.maxY + 1e-6);
  });

  it('on two faces of a cube is larger by the depth on every side', () => {
    const cube = cut(solid('cube', 60), 1);
    const { shell } = surfaceOfTruth(cube);
    const [panel] = partsOf(extrasOf(cube, [layer(neighbours(shell.faces))]));
    expect(areaOf(panel!)).toBeCloseTo(2 * 65 ** 2, 2);
    expect(panel!.folds[0]!.bend).toBeCloseTo(Math.PI / 2, 6);
  });

  it('is cut in parts where it does not lie flat, and says so', () => {
    const cube = cut(solid('cube', 60), 1);
    const all = surfaceOfTruth(cube).shell.faces.map((f) => f.face);
    const foam = extrasOf(cube, [layer(all)]);
    const parts = partsOf(foam);
    expect(parts.length).toBeGreaterThan(1);
    expect(parts.reduce((sum, p) => sum + areaOf(p), 0)).toBeCloseTo(6 * 65 ** 2, 1);
    expect(foam.issues.map((i) => i.code)).toContain('layer-in-parts');
  });

  it('that has lost its faces is reported, and does no harm', () => {
    const foam = extrasOf(drum, [layer(['gone']), { ...layer([...faces, 'gone']), id: 'x2' }]);
    expect(foam.stuckExtras).toEqual(['x1']);
    expect(foam.issues.map((i) => i.code)).toEqual(expect.arrayContaining(['extra-stuck', 'extra-in-part']));
    expect(partsOf(foam).map((p) => p.extra!.part)).toEqual(['x2']);
  });
});

/** Two faces that share a side. */
function neighbours(faces: readonly { readonly face: string; readonly vertices: readonly number[] }[]) {
  const [first] = faces;
  const other = faces.find(
    (f) => f !== first && f.vertices.filter((v) => first!.vertices.includes(v)).length === 2,
  );
  return [first!.face, other!.face];
}

describe('parts for themselves', () => {
  it('have the areas of circle, ring and rectangle', () => {
    const parts: ExtraPart[] = [
      { ...common, kind: 'disc', diameter: 40, inner: 0, quantity: 4 },
      { ...common, id: 'x2', kind: 'disc', diameter: 80, inner: 50, quantity: 2 },
      { ...common, id: 'x3', kind: 'bar', length: 200, width: 15, quantity: 1 },
    ];
    const [disc, ring, bar] = partsOf(extrasOf(drum, parts));
    expect(areaOf(disc!)).toBeCloseTo(Math.PI * 400, 1);
    expect(areaOf(ring!)).toBeCloseTo(Math.PI * (1600 - 625), 1);
    expect(areaOf(bar!)).toBeCloseTo(3000, 3);
    expect([disc!.quantity, ring!.quantity]).toEqual([4, 2]);
    expect(disc!.guides).toHaveLength(4);
    const boxes = [disc, ring, bar].map((p) => boxOf(p!.outlines.traced.flat()));
    boxes.forEach((a, i) => {
      for (const b of boxes.slice(i + 1)) {
        const apart = a.maxX < b.minX || b.maxX < a.minX || a.maxY < b.minY || b.maxY < a.minY;
        expect(apart).toBe(true);
      }
    });
  });

  it('grow by half the kerf on the traced outline alone', () => {
    const bar: ExtraPart = { ...common, kind: 'bar', length: 200, width: 15, quantity: 1 };
    const [panel] = partsOf(extrasOf(drum, [bar], { kerf: 1 }));
    expect(areaOf(panel!)).toBeCloseTo(201 * 16, 2);
    expect(ringArea(panel!.outlines.outside[0]!)).toBeCloseTo(3000, 3);
  });
});

it('a strip along a seam of a drum is straight, half on each side', () => {
  const seam = seamsOfTruth(drum).seams[0]!.id;
  const strip: ExtraPart = { ...common, kind: 'seamStrip', seams: [seam], side: 'outside', width: 20 };
  const [panel] = partsOf(extrasOf(drum, [strip]));
  expect(areaOf(panel!)).toBeCloseTo(20 * 60, 2);
});
