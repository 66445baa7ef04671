/**
 * Hand-made panels and seams for the stages that only read them: real shapes with true edge lengths, no foam stage in
 * between. Every fixture is plain data and the same on every run.
 */
import { seededRandom } from '../../src/base';
import { type Point, polylineLength } from '../../src/math';
import type { FoamResult, Panel, PanelEdge, PanelFold, Seam, SeamRun, Seams } from '../../src/model';

export interface PanelSpec {
  readonly name: string;
  /** Loops of edges, each edge its points with both ends. */
  readonly loops: readonly (readonly (readonly Point[])[])[];
  readonly folds?: readonly { readonly points: readonly Point[]; readonly role: PanelFold['role'] }[];
  readonly quantity?: number;
  readonly mirrored?: boolean;
  /** Bevel of all glued edges, radians, or edge by edge of the outline. */
  readonly bevel?: number | readonly number[];
}

/** [panel, edge of its outline] on both sides; panels and edges by index. */
export type SeamSpec = readonly [panelA: number, edgeA: number, panelB: number, edgeB: number];

export interface Fixture {
  readonly name: string;
  readonly foam: FoamResult;
  readonly seams: Seams;
}

/** Builds a fixture. `runs` lists seams that a maker sees as one, in order along side a. */
export function buildFixture(
  name: string,
  specs: readonly PanelSpec[],
  runs: readonly (readonly SeamSpec[])[],
): Fixture {
  const edgeId = (panel: number, edge: number) => `e${panel}.${edge}`;
  const seamOf = new Map<string, string>();
  const seams: Seam[] = [];
  const made: SeamRun[] = runs.map((run, r) => ({
    id: `run${r + 1}`,
    number: r + 1,
    seams: run.map(([pa, ea, pb, eb]) => {
      const a = edgeId(pa, ea);
      const b = edgeId(pb, eb);
      const id = `${a}+${b}`;
      seamOf.set(a, id);
      seamOf.set(b, id);
      seams.push({
        id,
        number: r + 1,
        a: { piece: `P${pa}`, edge: a },
        b: { piece: `P${pb}`, edge: b },
        direction: 'opposed',
        evidence: 'number',
        confidence: 1,
        lengthA: polylineLength(specs[pa]!.loops[0]![ea]!),
        lengthB: polylineLength(specs[pb]!.loops[0]![eb]!),
      });
      return id;
    }),
  }));
  const panels = specs.map((spec, p): Panel => {
    let count = 0;
    const loops = spec.loops.map((loop) =>
      loop.map((points): PanelEdge => {
        const index = count++;
        const id = edgeId(p, index);
        const seam = seamOf.get(id) ?? null;
        const bevel = typeof spec.bevel === 'object' ? (spec.bevel[index] ?? 0) : (spec.bevel ?? 0);
        return {
          id,
          seam,
          shift: 0,
          bevel: seam === null ? 0 : bevel,
          bend: null,
          points,
          curved: points.length > 2,
        };
      }),
    );
    const rings = spec.loops.map((loop) => loop.flatMap((points) => points.slice(0, -1)));
    return {
      id: `P${p}`,
      name: spec.name,
      pieces: [`P${p}`],
      quantity: spec.quantity ?? 1,
      mirrored: spec.mirrored ?? false,
      thickness: 5,
      loops,
      folds: (spec.folds ?? []).map((f, i) => ({
        id: `f${p}.${i}`,
        points: f.points,
        role: f.role,
        bend: null,
      })),
      outlines: { inside: rings, traced: rings, outside: rings },
    };
  });
  return {
    name,
    foam: { panels, rows: [], unsetBends: [], issues: [] },
    seams: { seams, runs: made, open: [], issues: [] },
  };
}

/** The edges of a straight-sided ring. */
export function sidesOf(ring: readonly Point[]): Point[][] {
  return ring.map((p, i) => [p, ring[(i + 1) % ring.length]!]);
}

const moved = (ring: readonly Point[], dx: number, dy: number): Point[] =>
  ring.map((p) => ({ x: p.x + dx, y: p.y + dy }));

/**
 * A bell-like body of `count` equal gores: `steps` straight edges up each side, an open lower edge, folds across.
 * Gore k's right side is glued to gore k+1's left side, so every gore looks like its neighbours: notches must tell
 * them apart.
 */
export function gores(count: number, steps: number, height: number, girth: number, bevel = 0): Fixture {
  const half = (t: number) => (girth / count / 2) * (1 - 0.93 * t ** 1.7) * (1 + 0.25 * t * (1 - t));
  const levels = Array.from({ length: steps + 1 }, (_, i) => i / steps);
  const right = levels.map((t) => ({ x: half(t), y: t * height }));
  const left = [...levels].reverse().map((t) => ({ x: -half(t), y: t * height }));
  const ring = [...right, ...left];
  const specs = Array.from({ length: count }, (_, k): PanelSpec => {
    const placed = moved(ring, k * (girth / count + 15), 0);
    return {
      name: `Gore ${k + 1}`,
      loops: [sidesOf(placed)],
      folds: levels.slice(1, -1).map((_, i) => ({
        points: [placed[2 * steps - i]!, placed[i + 1]!],
        role: i % 3 === 2 ? 'valley' : 'mountain',
      })),
      bevel,
    };
  });
  const runs: SeamSpec[][] = Array.from({ length: count }, (_, k) =>
    Array.from({ length: steps }, (_, i): SeamSpec => [k, i, (k + 1) % count, 2 * steps - i]),
  );
  return buildFixture(`gores ${count}x${steps}`, specs, runs);
}

/** A strip of separate triangles glued side to side, from large to very small: little room for lettering. */
export function triangleStrip(count: number, largest: number, shrink: number): Fixture {
  const specs: PanelSpec[] = [];
  let x = 0;
  for (let k = 0; k < count; k++) {
    const size = largest * shrink ** k;
    const next = largest * shrink ** (k + 1);
    // Sides: base `size` shared with the triangle before, then two sides of `next`-related length.
    const ring = k % 2 === 0 ? triangle(size, next, size * 1.1) : triangle(size, next, size * 0.95);
    specs.push({ name: `T${k + 1}`, loops: [sidesOf(moved(ring, x, 0))], bevel: 0.2 });
    x += size * 1.6 + 10;
  }
  const runs: SeamSpec[][] = specs.slice(1).map((_, k) => [[k, 1, k + 1, 0]]);
  return buildFixture(`triangles ${count}`, specs, runs);
}

/** Triangle with sides a (along x), b, c in counter-clockwise order. */
function triangle(a: number, b: number, c: number): Point[] {
  const x = (a * a + c * c - b * b) / (2 * a);
  return [
    { x: 0, y: 0 },
    { x: a, y: 0 },
    { x, y: Math.sqrt(Math.max(0, c * c - x * x)) },
  ];
}

/** One plate larger than a page, with a curved edge, a hole and a dart, a long strip glued to its straight side. */
export function largePlate(): Fixture {
  const arc = Array.from({ length: 41 }, (_, i) => {
    const a = (Math.PI * i) / 40;
    return { x: 260 + 260 * Math.cos(a), y: 330 + 140 * Math.sin(a) };
  });
  const hole = Array.from({ length: 33 }, (_, i) => {
    const a = (-2 * Math.PI * i) / 32;
    return { x: 150 + 45 * Math.cos(a), y: 250 + 30 * Math.sin(a) };
  });
  hole[32] = hole[0]!;
  const outline: Point[][] = [
    [
      { x: 0, y: 0 },
      { x: 240, y: 0 },
    ],
    [
      { x: 240, y: 0 },
      { x: 262, y: 90 },
    ],
    [
      { x: 262, y: 90 },
      { x: 284, y: 0 },
    ],
    [
      { x: 284, y: 0 },
      { x: 520, y: 0 },
    ],
    [
      { x: 520, y: 0 },
      { x: 520, y: 330 },
    ],
    arc,
    [
      { x: 0, y: 330 },
      { x: 0, y: 0 },
    ],
  ];
  const strip = sidesOf([
    { x: 560, y: 0 },
    { x: 574, y: 0 },
    { x: 574, y: 330 },
    { x: 560, y: 330 },
  ]);
  return buildFixture(
    'large plate',
    [
      {
        name: 'Breast plate',
        loops: [outline, [hole.slice(0, 17), hole.slice(16)]],
        folds: [
          {
            points: [
              { x: 0, y: 180 },
              { x: 520, y: 200 },
            ],
            role: 'unknown',
          },
        ],
        mirrored: true,
        bevel: [0, 0.3, 0.3, 0, -0.35, 0.1, 0.25],
      },
      { name: 'Long strip, outer', loops: [strip], quantity: 2, bevel: 0.35 },
    ],
    [[[0, 1, 0, 2]], [[0, 4, 1, 3]], [[0, 6, 1, 1]]],
  );
}

/** Panels of random convex shape in a ring, each glued to the next along one edge; seeded. */
export function randomRing(seed: number): Fixture {
  const random = seededRandom(seed);
  const count = 3 + Math.floor(random() * 6);
  const corners = 4 + Math.floor(random() * 5);
  const specs: PanelSpec[] = [];
  const shared = Array.from({ length: count }, () => 15 + random() * 90);
  let x = 0;
  for (let k = 0; k < count; k++) {
    // Edge 0 has the length shared with the panel before, edge 1.. are free, the last but one is shared with the next.
    const size = 30 + random() * 160;
    const ring = Array.from({ length: corners }, (_, i) => {
      const a = (2 * Math.PI * (i + 0.6 * random())) / corners;
      return { x: Math.cos(a) * size * 0.5, y: Math.sin(a) * size * (0.3 + 0.4 * random()) };
    });
    specs.push({
      name: random() < 0.5 ? `Part ${k + 1}` : `Side plate ${k + 1}`,
      loops: [sidesOf(moved(stretched(ring, shared[k]!), x + size / 2, 0))],
      bevel: random() < 0.5 ? 0 : random() - 0.5,
    });
    x += size + shared[k]! + 30;
  }
  const runs = specs.map((_, k): SeamSpec[] => [[k, 0, (k + 1) % count, 1]]);
  return buildFixture(`ring ${seed}`, specs, runs);
}

/** The ring with its first edge set to the length, the other corners kept. */
function stretched(ring: readonly Point[], length: number): Point[] {
  const [a, b] = [ring[0]!, ring[1]!];
  const d = Math.hypot(b.x - a.x, b.y - a.y);
  if (d <= length) return [...ring];
  const k = length / d;
  return [{ x: b.x + (a.x - b.x) * k, y: b.y + (a.y - b.y) * k }, ...ring.slice(1)];
}

/** The fixtures that every law is checked on. */
export function family(): Fixture[] {
  return [
    gores(6, 8, 300, 640),
    gores(5, 5, 180, 500, 0.21),
    gores(12, 10, 320, 700, -0.12),
    triangleStrip(9, 70, 0.78),
    largePlate(),
    ...[1, 2, 3, 4, 5, 6].map(randomRing),
  ];
}
