import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PDFDocument } from '@cantoo/pdf-lib';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { saveProject } from '../../src/project';
import { samplePath, smallDocument } from '../pipeline/support';
import { call, patience, type Ran, run } from './run';

vi.setConfig({ testTimeout: patience });

const folder = mkdtempSync(join(tmpdir(), 'girthwise-make-'));
afterAll(() => rmSync(folder, { recursive: true }));

const put = (name: string, text: string) => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};
const plates = put('two-plates.svg', smallDocument.sources[0]!.svg);

type Pair = [number, number];
type Faces<T> = { inside: T; traced: T; outside: T };
interface Side {
  panel: string;
  from: Pair;
  to: Pair;
  length: number;
  neutral: number;
}
interface Report {
  format: string;
  version: number;
  fit: {
    scale: number | [number, number, number];
    patternGirth: number | null;
    insideGirthWanted: number | null;
    insideGirth: number | null;
    outside: [number, number, number] | null;
  };
  panels: {
    id: string;
    pieces: string[];
    quantity: number;
    mirrored: boolean;
    thickness: number;
    outlines: Faces<Pair[]>;
    edges: { id: string; seam: string | null; shift: number; bevel: number }[];
  }[];
  seams: {
    id: string;
    a: Side;
    b: Side;
    mismatch: number;
    openWedge: number;
    bevel: number;
    bend: number | null;
  }[];
  dryFit: null;
  pages: { count: number; width: number; height: number };
  sheets: [];
  notes: { code: string; severity: string; message: string; at: Pair | null }[];
}

/** Only the two numbered seams, and no shell, so that bends typed for whole kinds are in force. */
const numberedOnly = {
  seams: { ...smallDocument.decisions.seams, findRest: false },
  shell: { ...smallDocument.decisions.shell, foldUp: false },
};

let made = 0;

const make = (...args: string[]) => makeBy(run, args);

async function makeBy(by: (...args: string[]) => Promise<Ran>, args: readonly string[]) {
  const out = join(folder, `out${++made}`, 'deep');
  const ran = await by('make', ...args, '--out', out);
  const text = (name: string) => readFileSync(join(out, name), 'utf8');
  return {
    ran,
    out,
    report: () => JSON.parse(text('report.json')) as Report,
    svg: () => text('panels.svg'),
    pdf: () => readFileSync(join(out, 'pages.pdf')),
  };
}

const area = (ring: Pair[]) =>
  Math.abs(
    ring.reduce((sum, [x, y], i) => {
      const [u, v] = ring[(i + 1) % ring.length]!;
      return sum + x * v - u * y;
    }, 0) / 2,
  );
const length = (p: Pair, q: Pair) => Math.hypot(p[0] - q[0], p[1] - q[1]);

describe('make', () => {
  it('writes pages, panels and a report, and names them on standard output', async () => {
    const { ran, out, report, svg, pdf } = await make(plates);
    expect(ran.status).toBe(0);
    expect(ran.out.split('\n').slice(0, 6)).toEqual(
      ['pages.pdf', 'panels.svg', 'panels.dxf', 'build.pdf', 'pattern.fold', 'report.json'].map((name) =>
        join(out, name),
      ),
    );
    expect(svg()).toContain('<svg');
    const r = report();
    expect(Object.keys(r)).toEqual([
      'format',
      'version',
      'fit',
      'panels',
      'seams',
      'dryFit',
      'pages',
      'sheets',
      'notes',
    ]);
    expect(r).toMatchObject({ format: 'girthwise-report', version: 1, dryFit: null, sheets: [] });
    expect(r.fit).toMatchObject({ scale: 1, outside: null });
    expect(r.panels).toHaveLength(2);
    expect(r.panels.map((p) => p.thickness)).toEqual([5, 5]);
    const document = await PDFDocument.load(pdf(), { updateMetadata: false });
    expect(document.getPageCount()).toBe(r.pages.count);
    // A4 in points (1 pt = 25.4/72 mm).
    const { width, height } = document.getPage(0).getSize();
    expect([width, height].map((n) => (n * 25.4) / 72).sort((a, b) => a - b)).toEqual([
      expect.closeTo(210, 1),
      expect.closeTo(297, 1),
    ]);
  });

  it('scales; without thickness and kerf the panels are the scaled pattern', async () => {
    for (const [option, scale] of [
      [['--scale', '50%'], 0.5],
      [['--scale=0.5'], 0.5],
      [['--known', '7cm=14cm'], 2],
    ] as const) {
      const { ran, report } = await make(plates, ...option, '--foam', '0mm');
      expect(ran.status).toBe(0);
      expect(report().fit.scale).toBeCloseTo(scale, 9);
      for (const p of report().panels) {
        expect(area(p.outlines.traced)).toBeCloseTo(3500 * scale ** 2, 2);
        expect(area(p.outlines.inside)).toBeCloseTo(3500 * scale ** 2, 2);
        for (const e of p.edges) expect(e.shift).toBe(0);
      }
      const ys = report().panels.flatMap((p) => p.outlines.traced.map((q) => q[1]));
      expect(Math.min(...ys)).toBeCloseTo(10 * scale, 4);
    }
  });

  it('sizes by a head with the pattern’s girth: the wanted inside girth is head + 2π ease', async () => {
    const { report } = await make(plates, '--head', '58cm', '--pattern-girth', '640mm', '--ease', '8mm');
    const { fit } = report();
    // Steiner's formula for parallel curves of a convex one (from memory).
    expect(fit.insideGirthWanted).toBeCloseTo(580 + 2 * Math.PI * 8, 4);
    expect(fit.patternGirth).toBe(640);
    expect(fit.insideGirth).toBeCloseTo(fit.insideGirthWanted!, 3);
    // The paper is the outside: foam of 5 mm takes 2π·5 off an upright round wall.
    expect(fit.scale).toBeCloseTo((580 + 2 * Math.PI * 13) / 640, 4);
  });

  it('reports seams on the traced outline, a.from meeting b.from, with kerf left out of lengths', async () => {
    const decisions = {
      ...smallDocument.decisions,
      ...numberedOnly,
      foam: {
        ...smallDocument.decisions.foam,
        standsFor: 'inside' as const,
        roleBends: { mountain: null, valley: null, unknown: null, seam: 0.6 },
      },
    };
    const project = put('plates.girthwise.json', saveProject({ ...smallDocument, decisions }));
    const { ran, report } = await make('--project', project, '--kerf', '0.4mm', '--seam', 'square');
    expect(ran.status).toBe(0);
    const r = report();
    expect(r.seams).toHaveLength(2);
    for (const s of r.seams) {
      expect(s.bend).toBe(0.6);
      // Two faces of depth t that touch on one side and open by φ stand 2·t·sin(φ/2) apart (plain trigonometry).
      expect(s.openWedge).toBeCloseTo(2 * 5 * Math.sin(0.3), 5);
      expect(s.mismatch).toBeCloseTo(Math.abs(s.a.length - s.b.length), 5);
      for (const side of [s.a, s.b]) {
        const panel = r.panels.find((p) => p.id === side.panel)!;
        const near = (q: Pair) => Math.min(...panel.outlines.traced.map((p) => length(p, q)));
        expect(near(side.from)).toBeLessThan(0.01);
        expect(near(side.to)).toBeLessThan(0.01);
        expect(side.neutral).toBeGreaterThan(0);
      }
    }
    // Convex square seams whose paper is the inside touch at the paper: only half the kerf is added.
    for (const e of r.panels.flatMap((p) => p.edges)) expect(e.shift).toBeCloseTo(0.2, 5);
  });

  it('puts the neutral length between those of both faces', async () => {
    const decisions = {
      ...smallDocument.decisions,
      ...numberedOnly,
      foam: {
        ...smallDocument.decisions.foam,
        roleBends: { mountain: null, valley: null, unknown: null, seam: 0.6 },
      },
    };
    const project = put('bevel.girthwise.json', saveProject({ ...smallDocument, decisions }));
    const outside = (await make('--project', project, '--trace', 'outside')).report();
    const inside = (await make('--project', project, '--trace', 'inside')).report();
    expect(outside.seams.length).toBe(2);
    outside.seams.forEach((s, i) => {
      const other = inside.seams[i]!;
      expect(s.a.neutral).toBeCloseTo((s.a.length + other.a.length) / 2, 5);
      expect(other.a.neutral).toBeCloseTo(s.a.neutral, 6);
    });
    expect(outside.panels[0]!.outlines.outside).toEqual(inside.panels[0]!.outlines.outside);
  });

  it('takes the page', async () => {
    const { report } = await make(plates, '--page', '300x200mm', '--margin', '12mm', '--overlap', '5mm');
    const { width, height } = report().pages;
    expect([width, height].sort((a, b) => a - b)).toEqual([200, 300]);
    const letter = (await make(plates, '--page', 'letter')).report().pages;
    // 8.5 × 11 in (ANSI/ASME Y14.1 size A, from memory).
    expect([letter.width, letter.height].sort((a, b) => a - b)).toEqual([215.9, 279.4]);
  });

  it('makes the same bytes twice', async () => {
    const [a, b] = await Promise.all([
      make(samplePath('keel-bracer.clean.svg')),
      make(samplePath('keel-bracer.clean.svg')),
    ]);
    expect(a.ran.status).toBe(0);
    expect(a.pdf().equals(b.pdf())).toBe(true);
    expect(a.svg()).toBe(b.svg());
    expect(a.report()).toEqual(b.report());
  });

  it('runs the whole helm', async () => {
    const { ran, report } = await make(
      samplePath('gannet-helm.loose.svg'),
      '--head=22 7/8in',
      '--pattern-girth=640mm',
      '--foam',
      '6mm',
    );
    expect(ran.status).toBe(0);
    const r = report();
    expect(r.panels).toHaveLength(53);
    expect(r.seams).toHaveLength(331);
    expect(r.notes.some((n) => n.code === 'size-assumed')).toBe(true);
    expect(ran.error).toContain('96 units per inch were taken');
  });
});

describe('make on the folded shell', () => {
  let made58: ReturnType<typeof make> | null = null;
  const usual = () =>
    (made58 ??= make(samplePath('gannet-helm.clean.svg'), '--head', '58cm', '--ease', '8mm'));

  it('measures the head there, takes its bends, and writes a try-on band', async () => {
    const { ran, out, report } = await usual();
    expect(ran.status).toBe(0);
    const r = report();
    // Steiner's formula for the room round the head (from memory); solved to a tenth of a millimetre.
    const wanted = 580 + 2 * Math.PI * 8;
    expect(r.fit.insideGirthWanted).toBeCloseTo(wanted, 4);
    expect(Math.abs(r.fit.insideGirth! - wanted)).toBeLessThan(0.1);
    // Sloping walls take more than 2π per millimetre of foam off an upright one.
    expect((r.fit.scale as number) * r.fit.patternGirth!).toBeGreaterThan(wanted + 2 * Math.PI * 5 - 1);
    expect(r.fit.outside!.every((length) => length > 150 && length < 500)).toBe(true);
    expect(r.seams.every((s) => typeof s.bend === 'number')).toBe(true);
    expect(new Set(r.seams.map((s) => s.bend)).size).toBeGreaterThan(100);
    const band = await PDFDocument.load(readFileSync(join(out, 'band.pdf')), { updateMetadata: false });
    expect(band.getPageCount()).toBeLessThanOrEqual(2);
    expect(ran.out).toContain('band.pdf');
  });

  it('sizes on another brow when told its height', async () => {
    const low = (await usual()).report().fit;
    const high = (
      await make(samplePath('gannet-helm.clean.svg'), '--head', '58cm', '--ease', '8mm', '--brow', '0.8')
    ).report().fit;
    expect(high.patternGirth!).toBeLessThan(low.patternGirth! - 5);
    expect(high.scale as number).toBeGreaterThan(low.scale as number);
  });
});

describe('make refuses', () => {
  const cases: readonly (readonly [readonly string[], string])[] = [
    [[plates, '--head', '58', '--pattern-girth', '640mm'], 'a length needs its unit'],
    [[plates, '--brow', '1.2'], 'a part of the shell’s height'],
    [[plates, '--brow', '62mm'], 'a part of the shell’s height'],
    [[plates, '--head', '58cm', '--scale', '97%', '--pattern-girth', '64cm'], 'both set the size'],
    [[plates, '--scale', '97'], 'write 97% if percent is meant'],
    [[plates, '--scale', '-1'], 'a scale is written as'],
    [[plates, '--known', '120mm'], '120mm=135mm'],
    [[plates, '--known', '0mm=135mm'], 'more than 0 mm'],
    [[plates, '--page', 'A9'], 'one of A4, A3'],
    [[plates, '--page', '210x297'], 'a length needs its unit'],
    [[plates, '--stands-for', 'middel'], 'one of outside, middle, inside'],
    [[plates, '--seed', 'x'], 'a whole number'],
    [[plates, '--kerf', '5px'], '--kerf 5px'],
    [[plates, '--lines'], 'knows no option --lines'],
  ];
  it.each(cases)('%j', async (args, says) => {
    const { ran, out } = await makeBy(call, args);
    expect(ran.status).toBe(2);
    expect(ran.error).toContain(says);
    expect(ran.out).toBe('');
    expect(existsSync(out)).toBe(false);
  });

  it('a head when no sound shell is there to measure, and writes nothing', async () => {
    const { ran, out } = await makeBy(call, [plates, '--head', '58cm']);
    expect(ran.status).toBe(1);
    expect(ran.error).toContain('The shell folds up doubtfully');
    expect(ran.error).toContain('--pattern-girth');
    expect(ran.out).toBe('');
    expect(existsSync(out)).toBe(false);
    const flat = {
      ...smallDocument,
      decisions: { ...smallDocument.decisions, shell: { ...smallDocument.decisions.shell, foldUp: false } },
    };
    const project = put('unfolded.girthwise.json', saveProject(flat));
    const unfolded = await makeBy(call, ['--project', project, '--head', '58cm']);
    expect(unfolded.ran.status).toBe(1);
    expect(unfolded.ran.error).toContain('No shell could be folded up');
    expect(existsSync(unfolded.out)).toBe(false);
  });

  it('without a folder', async () => {
    const ran = await call('make', plates);
    expect(ran.status).toBe(2);
    expect(ran.error).toContain('--out');
  });

  it('a drawing without pieces, and writes nothing', async () => {
    const empty = put(
      'empty.svg',
      '<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="50mm" viewBox="0 0 50 50"/>',
    );
    const { ran, out } = await makeBy(call, [empty]);
    expect(ran.status).toBe(1);
    expect(ran.error.length).toBeGreaterThan(20);
    expect(ran.out).toBe('');
    expect(existsSync(out)).toBe(false);
  });

  it('a folder that can’t be made', async () => {
    const ran = await call('make', plates, '--out', join(plates, 'inside-a-file'));
    expect(ran.status).toBe(1);
    expect(ran.error).toContain('can’t be written');
  });
});

describe('a troupe', () => {
  it('gets a folder each, shared sheets and an archive, and says who was left out', async () => {
    const table = put(
      'watch.csv',
      'name,girth\nHarbour master,58cm\nLamp keeper,58mm\nBell ringer,22 1/2 in\n',
    );
    const out = join(folder, 'troupe');
    const ran = await call(
      'make',
      plates,
      '--out',
      out,
      '--pattern-girth',
      '500mm',
      '--troupe',
      table,
      '--archive',
    );
    expect(ran.status).toBe(1);
    expect(ran.error).toContain('Lamp keeper: a girth of 58 mm is no head’s');
    expect(ran.out).toContain('2 of 3 wearers');
    for (const file of [
      'Harbour-master/build.pdf',
      'Bell-ringer/pages.pdf',
      'shared-sheets/sheet-1.dxf',
      'shared-sheets/sheets.pdf',
      'two-plates-troupe.zip',
      'overview.csv',
    ])
      expect(existsSync(join(out, file)), file).toBe(true);
    expect((await call('make', plates, '--out', out, '--troupe', join(folder, 'none.csv'))).error).toContain(
      'none.csv',
    );
  });
});
