import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { saveProject } from '../../src/project';
import { sampleDocument, samplePath, smallDocument } from '../pipeline/support';
import { call, patience, run } from './run';

vi.setConfig({ testTimeout: patience });

const folder = mkdtempSync(join(tmpdir(), 'girthwise-inspect-'));
afterAll(() => rmSync(folder, { recursive: true }));

const put = (name: string, text: string) => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};

type Pair = [number, number];
interface Inspection {
  format: string;
  version: number;
  size: { width: number; height: number; from: string };
  pieces: {
    id: string;
    outline: Pair[];
    holes: Pair[][];
    faces: { id: string; polygon: Pair[] }[];
    folds: { id: string; from: Pair; to: Pair; role: string; bend: number | null }[];
    edges: { id: string; from: Pair; to: Pair; seam: string | null }[];
    tabs: { polygon: Pair[] }[];
  }[];
  seams: {
    id: string;
    a: { piece: string; edge: string; from: Pair; to: Pair };
    b: { piece: string; edge: string; from: Pair; to: Pair };
    evidence: string;
    confidence: number;
    bend: number | null;
  }[];
  shell: null | {
    vertices: [number, number, number][];
    faces: { piece: string; face: string; flat: Pair[]; vertices: number[] }[];
    residual: { rms: number; max: number };
    quality: 'good' | 'doubtful';
  };
  notes: { code: string; severity: string; message: string; at: Pair | null }[];
  lines?: {
    element: string;
    points: Pair[];
    closed: boolean;
    style: { dash: number[]; width: number; class: string };
  }[];
}

async function inspected(...args: string[]): Promise<{ json: Inspection; error: string }> {
  const ran = await run('inspect', ...args, '--json');
  expect(ran.error).not.toMatch(/^error/m);
  expect(ran.status).toBe(0);
  return { json: JSON.parse(ran.out) as Inspection, error: ran.error };
}

const area = (ring: Pair[]) =>
  Math.abs(
    ring.reduce((sum, [x, y], i) => {
      const [u, v] = ring[(i + 1) % ring.length]!;
      return sum + x * v - u * y;
    }, 0) / 2,
  );
const length = (p: Pair, q: Pair) => Math.hypot(p[0] - q[0], p[1] - q[1]);

describe('inspect', () => {
  it('prints one JSON document of the promised shape, positions y down on the page', async () => {
    const { json } = await inspected(put('two plates.svg', smallDocument.sources[0]!.svg));
    expect(Object.keys(json)).toEqual(['format', 'version', 'size', 'pieces', 'seams', 'shell', 'notes']);
    expect(json).toMatchObject({
      format: 'girthwise-inspection',
      version: 1,
      size: { width: 180, height: 80, from: 'physical' },
    });
    expect(json.pieces).toHaveLength(2);
    const left = json.pieces.find((p) => p.outline.some(([x]) => x < 50))!;
    // The left plate is the rectangle 10..80 × 10..60.
    expect(area(left.outline)).toBeCloseTo(3500, 3);
    expect(Math.min(...left.outline.map((p) => p[1]))).toBeCloseTo(10, 6);
    expect(Math.max(...left.outline.map((p) => p[1]))).toBeCloseTo(60, 6);
    expect(left.folds).toEqual([expect.objectContaining({ role: 'mountain' })]);
    expect(left.folds[0]!.from[0]).toBeCloseTo(45, 6);
    expect(left.faces.map((f) => area(f.polygon)).reduce((a, b) => a + b)).toBeCloseTo(3500, 3);
    const right = json.pieces.find((p) => p !== left)!;
    expect(right.folds).toEqual([expect.objectContaining({ role: 'valley' })]);
    expect(json.seams.filter((s) => s.evidence === 'number')).toHaveLength(2);
  });

  it('gives seams whose a.from meets b.from', async () => {
    const { json } = await inspected(samplePath('gannet-helm.clean.svg'));
    expect(json.pieces).toHaveLength(53);
    expect(json.seams).toHaveLength(331);
    const edges = new Map(
      json.pieces.flatMap((p) => p.edges.map((e) => [e.id, { ...e, piece: p.id }] as const)),
    );
    for (const seam of json.seams) {
      for (const side of [seam.a, seam.b]) {
        const edge = edges.get(side.edge)!;
        expect(edge).toMatchObject({ piece: side.piece, seam: seam.id });
        const same = length(edge.from, side.from) < 1e-9 && length(edge.to, side.to) < 1e-9;
        const turned = length(edge.from, side.to) < 1e-9 && length(edge.to, side.from) < 1e-9;
        expect(same || turned).toBe(true);
      }
      // Seen from outside both outlines run against each other at a seam.
      const a = edges.get(seam.a.edge)!;
      const b = edges.get(seam.b.edge)!;
      expect(length(a.from, seam.a.from) < 1e-9).toBe(length(b.from, seam.b.from) > 1e-9);
      expect(seam.confidence).toBeGreaterThan(0);
      expect(seam.confidence).toBeLessThanOrEqual(1);
    }
    const paired = json.pieces.flatMap((p) => p.edges).filter((e) => e.seam !== null);
    expect(paired).toHaveLength(2 * json.seams.length);
  });

  it('folds up: faces keep their shape, and the bends are those of the printed corners', async () => {
    const { json } = await inspected(samplePath('gannet-helm.clean.svg'));
    const shell = json.shell!;
    expect(Object.keys(shell)).toEqual(['vertices', 'faces', 'residual', 'quality']);
    expect(shell.quality).toBe('good');
    expect(shell.residual.max).toBeLessThan(0.01);
    expect(shell.faces.map((f) => f.face).sort()).toEqual(
      json.pieces.flatMap((p) => p.faces.map((f) => f.id)).sort(),
    );
    type Triple = [number, number, number];
    const minus = (p: Triple, q: Triple): Triple => [p[0] - q[0], p[1] - q[1], p[2] - q[2]];
    const cross = (p: Triple, q: Triple): Triple => [
      p[1] * q[2] - p[2] * q[1],
      p[2] * q[0] - p[0] * q[2],
      p[0] * q[1] - p[1] * q[0],
    ];
    const dot = (p: Triple, q: Triple) => p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
    /** Normal of a face with its directed sides: start and end of each as printed, and as corners in space. */
    const sides = new Map<string, { normal: Triple; along: Triple }>();
    const key = (piece: string, from: Pair, to: Pair) => JSON.stringify([piece, from, to]);
    let folded = 0;
    for (const face of shell.faces) {
      const places = face.vertices.map((v) => shell.vertices[v]!);
      expect(places).toHaveLength(face.flat.length);
      // Newell's sum of the ring.
      const normal = places.reduce<Triple>(
        (sum, p, i) => {
          const c = cross(p, places[(i + 1) % places.length]!);
          return [sum[0] + c[0], sum[1] + c[1], sum[2] + c[2]];
        },
        [0, 0, 0],
      );
      places.forEach((p, i) => {
        const j = (i + 1) % places.length;
        const along = minus(places[j]!, p);
        const off = Math.abs(Math.hypot(...along) - length(face.flat[i]!, face.flat[j]!));
        expect(off).toBeLessThan(shell.residual.max + 1e-4);
        sides.set(key(face.piece, face.flat[i]!, face.flat[j]!), { normal, along });
        folded++;
      });
    }
    expect(folded).toBeGreaterThan(1000);
    const between = (here: { normal: Triple; along: Triple }, there: { normal: Triple }) =>
      Math.atan2(
        dot(cross(here.normal, there.normal), here.along) / Math.hypot(...here.along),
        dot(here.normal, there.normal),
      );
    let checked = 0;
    for (const piece of json.pieces)
      for (const fold of piece.folds) {
        const left = sides.get(key(piece.id, fold.from, fold.to));
        const right = sides.get(key(piece.id, fold.to, fold.from));
        if (!left || !right) continue;
        expect(fold.bend).toBeCloseTo(between(left, right), 2);
        checked++;
      }
    for (const seam of json.seams) {
      const edge = json.pieces.flatMap((p) => p.edges).find((e) => e.id === seam.a.edge)!;
      const mate = json.pieces.flatMap((p) => p.edges).find((e) => e.id === seam.b.edge)!;
      const a = sides.get(key(seam.a.piece, edge.from, edge.to));
      const b = sides.get(key(seam.b.piece, mate.from, mate.to));
      if (!a || !b) continue;
      expect(seam.bend).toBeCloseTo(between(a, b), 2);
      checked++;
    }
    expect(checked).toBeGreaterThan(600);
  });

  it('leaves the shell out when asked, with the same seams', async () => {
    const path = samplePath('bollard-pauldron.clean.svg');
    const [whole, flat] = await Promise.all([inspected(path), inspected(path, '--no-shell')]);
    expect(flat.json.shell).toBeNull();
    expect(whole.json.shell).not.toBeNull();
    const bare = (i: Inspection) => i.seams.map(({ bend: _, ...seam }) => seam);
    expect(bare(flat.json)).toEqual(bare(whole.json));
    expect(flat.json.seams.every((s) => s.bend === null)).toBe(true);
    expect(whole.json.seams.every((s) => typeof s.bend === 'number')).toBe(true);
  });

  it('prefers a typed bend to that of the shell, and that to one typed for the kind', async () => {
    const plain = sampleDocument('bollard-pauldron.clean.svg');
    const before = (await inspected(samplePath('bollard-pauldron.clean.svg'))).json;
    const [first, second] = before.seams;
    const { foam } = plain.decisions;
    const typed = {
      ...plain,
      decisions: {
        ...plain.decisions,
        foam: {
          ...foam,
          bends: { [first!.id]: first!.bend! + 0.01 },
          roleBends: { ...foam.roleBends, seam: 1.5 },
        },
      },
    };
    const after = (await inspected('--project', put('typed.json', saveProject(typed)))).json;
    expect(after.seams[0]!.bend).toBeCloseTo(first!.bend! + 0.01, 6);
    expect(Math.abs(after.seams[1]!.bend! - second!.bend!)).toBeLessThan(0.2);
  });

  it('pairs and folds up a pattern whose numbers are gone', async () => {
    const svg = readFileSync(samplePath('bollard-pauldron.clean.svg'), 'utf8');
    const bare = svg.replace(/<text[\s\S]*?<\/text>/g, '');
    expect(bare.length).toBeLessThan(svg.length);
    const { json } = await inspected(put('bare.svg', bare));
    const numbered = (await inspected(samplePath('bollard-pauldron.clean.svg'))).json;
    const pairs = (i: Inspection) =>
      i.seams.map((s) => JSON.stringify([s.a.from, s.a.to, s.b.from, s.b.to].sort())).sort();
    expect(json.seams.every((s) => s.evidence === 'geometry')).toBe(true);
    expect(pairs(json)).toEqual(pairs(numbered));
    // It closes, but 19 free motions of 60 faces leave its shape open: 3.8 % of its size from the truth.
    expect(json.shell!.residual.max).toBeLessThan(0.01);
    expect(json.shell!.quality).toBe('doubtful');
    expect(json.notes.map((n) => n.code)).toContain('shell-unsure');
  });

  it('reads the clean and the loose drawing of one pattern as the same pieces, tabs apart', async () => {
    const clean = await inspected(samplePath('gannet-helm.clean.svg'));
    const loose = await inspected(samplePath('gannet-helm.loose.svg'));
    const areas = (i: Inspection) => i.pieces.map((p) => area(p.outline)).sort((a, b) => a - b);
    const [a, b] = [areas(clean.json), areas(loose.json)];
    expect(b).toHaveLength(a.length);
    // The loose drawing writes its positions to 0.1 px, which moves a corner by up to 0.02 mm.
    const worst = Math.max(...a.map((one, i) => Math.abs(b[i]! - one) / one));
    expect(worst).toBeLessThan(2e-3);
    expect(loose.json.pieces.flatMap((p) => p.tabs).length).toBeGreaterThan(200);
    expect(loose.json.seams).toHaveLength(clean.json.seams.length);
    expect(clean.json.size.from).toBe('physical');
    expect(loose.json.size.from).toBe('assumed 96 per inch');
    expect(loose.json.notes.some((n) => n.code === 'size-assumed')).toBe(true);
    expect(loose.error).toContain('96 units per inch were taken');
  });

  it('takes the unit of a drawing that states none', async () => {
    const path = samplePath('keel-bracer.loose.svg');
    const [at96, at90, inMm] = await Promise.all([
      inspected(path),
      inspected(path, '--unit', '90'),
      inspected(path, '--unit=mm'),
    ]);
    expect(at90.json.size.from).toBe('given 90 per inch');
    expect(at90.json.size.width / at96.json.size.width).toBeCloseTo(96 / 90, 6);
    expect(inMm.json.size.width / at96.json.size.width).toBeCloseTo(96 / 25.4, 6);
    expect(at90.json.notes.some((n) => n.code === 'size-assumed')).toBe(false);
  });

  it('tells a size that a project answered from one that nobody gave', async () => {
    const plain = sampleDocument('keel-bracer.loose.svg');
    const { decisions } = plain;
    const answered = put('answered.json', saveProject(plain));
    const open = put(
      'open.json',
      saveProject({
        ...plain,
        decisions: { ...decisions, reading: { ...decisions.reading, size: { kind: 'ask' } } },
      }),
    );
    const [known, assumed] = await Promise.all([
      inspected('--project', answered),
      inspected('--project', open),
    ]);
    expect(known.json.size.from).toBe('given 96 per inch');
    expect(known.json.notes.some((n) => n.code === 'size-assumed')).toBe(false);
    expect(assumed.json.size.from).toBe('assumed 96 per inch');
    expect(assumed.json.notes.some((n) => n.code === 'size-assumed')).toBe(true);
  });

  it('adds every drawn line, flattened, only when asked', async () => {
    const { json } = await inspected(put('plates.svg', smallDocument.sources[0]!.svg), '--lines');
    expect(json.lines).toHaveLength(4);
    expect(json.lines![0]).toEqual({
      element: 'path',
      points: [
        [10, 10],
        [80, 10],
        [80, 60],
        [10, 60],
        [10, 10],
      ],
      closed: true,
      style: { dash: [], width: 0.5, class: '' },
    });
    expect(json.lines![3]!.style.dash).toEqual([3, 1.5]);
    const round = put(
      'round.svg',
      '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100"><circle class="rim" cx="50" cy="50" r="40" fill="none" stroke="#000"/></svg>',
    );
    const circle = (await inspected(round, '--lines')).json.lines![0]!;
    expect(circle.style.class).toBe('rim');
    // Chord midpoints lie inside the circle by at most the promised 0.05 mm.
    for (let i = 1; i < circle.points.length; i++) {
      const [p, q] = [circle.points[i - 1]!, circle.points[i]!];
      const middle: Pair = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
      expect(Math.abs(40 - length(middle, [50, 50]))).toBeLessThanOrEqual(0.05);
    }
  });

  it('inspects a saved project with its decisions, also one drawn from inside', async () => {
    const plain = sampleDocument('keel-bracer.clean.svg');
    const { reading, foam, shell } = plain.decisions;
    const mirrored = {
      ...plain,
      decisions: {
        ...plain.decisions,
        reading: { ...reading, drawnFromInside: true },
        // Flat, so that the bends typed for whole kinds are in force.
        shell: { ...shell, foldUp: false },
        foam: { ...foam, roleBends: { ...foam.roleBends, mountain: 0.5, seam: 0.25 } },
      },
    };
    const a = await inspected(samplePath('keel-bracer.clean.svg'));
    const b = await inspected('--project', put('bracer.girthwise.json', saveProject(mirrored)));
    // Positions are given as drawn, so mirroring moves nothing; corners are snapped to 0.1 mm at most.
    const places = (i: Inspection) =>
      i.pieces
        .map((p) => [0, 1].flatMap((k) => [Math.min(...p.outline.map((q) => q[k]!)), area(p.outline)]))
        .sort((p, q) => p[0]! - q[0]!);
    const [asDrawn, fromInside] = [places(a.json), places(b.json)];
    expect(fromInside).toHaveLength(asDrawn.length);
    asDrawn.flat().forEach((value, i) => {
      expect(fromInside.flat()[i]).toBeCloseTo(value, 2);
    });
    expect(b.json.shell).toBeNull();
    expect(b.json.seams.map((s) => s.bend)).toEqual(b.json.seams.map(() => 0.25));
    const mountains = b.json.pieces.flatMap((p) => p.folds).filter((f) => f.role === 'mountain');
    for (const f of mountains) expect(f.bend).toBe(0.5);
  });

  it('sums up in words without --json', async () => {
    const ran = await run('inspect', samplePath('gannet-helm.clean.svg'));
    expect(ran.status).toBe(0);
    expect(ran.out).toContain('53 pieces');
    expect(ran.out).toContain('331 seams');
  });

  it('prints the same twice', async () => {
    const [a, b] = await Promise.all([
      run('inspect', samplePath('bollard-pauldron.clean.svg'), '--json'),
      run('inspect', samplePath('bollard-pauldron.clean.svg'), '--json'),
    ]);
    expect(a.out).toBe(b.out);
    expect(a.out.length).toBeGreaterThan(1000);
  });
});

describe('the command line', () => {
  it('speaks through the real program as it does here', async () => {
    for (const args of [['--help'], ['inspect', 'x.svg', '--jsn'], ['inspect', 'no-such.svg']]) {
      expect(await run(...args)).toEqual(await call(...args));
    }
  });

  it('explains both commands', async () => {
    for (const args of [['--help'], ['inspect', '--help'], ['make', '--help']]) {
      const ran = await call(...args);
      expect(ran.status).toBe(0);
      expect(ran.error).toBe('');
      for (const word of ['inspect', 'make', '--stands-for', '--pattern-girth', '--lines']) {
        expect(ran.out).toContain(word);
      }
    }
  });

  it.each([
    [[], 'Say what to do'],
    [['mend'], 'There is no command mend'],
    [['inspect'], 'needs a pattern'],
    [['inspect', 'x.svg', '--jsn'], 'Do you mean --json?'],
    [['inspect', 'x.svg', '-j'], 'knows no option -j'],
    [['inspect', 'x.svg', '--json', '--json'], 'given twice'],
    [['inspect', 'x.svg', '--unit'], 'needs a value'],
    [['inspect', 'x.svg', '--json=yes'], 'takes no value'],
    [['inspect', 'x.svg', '--lines'], '--lines goes with --json'],
    [['inspect', 'x.svg', '--kerf', '1mm'], 'knows no option --kerf'],
  ] as const)('%j is a wrong command line', async (args, says) => {
    const ran = await call(...args);
    expect(ran.status).toBe(2);
    expect(ran.error).toContain(says);
    expect(ran.out).toBe('');
  });

  it.each([
    ['no-such.svg', 'there is no such file'],
    ['.', 'it is a folder'],
  ])('%s can’t be read', async (path, says) => {
    const ran = await call('inspect', path, '--json');
    expect(ran.status).toBe(1);
    expect(ran.error).toContain(says);
    expect(ran.out).toBe('');
  });

  it('a file that is no SVG is a finding with its place, and no JSON', async () => {
    const ran = await call(
      'inspect',
      put('half.svg', '<svg xmlns="http://www.w3.org/2000/svg">\n<path'),
      '--json',
    );
    expect(ran.status).toBe(1);
    expect(ran.error).toMatch(/^error: /m);
    expect(ran.error).toMatch(/half\.svg:\d+:\d+/);
    expect(ran.out).toBe('');
  });

  it('reads UTF-16 with its byte order mark', async () => {
    const path = join(folder, 'wide.svg');
    writeFileSync(path, Buffer.from(`\uFEFF${smallDocument.sources[0]!.svg}`, 'utf16le'));
    const { json } = await inspected(path);
    expect(json.pieces).toHaveLength(2);
  });
});
