/** `make --sheet`: panels on sheets of foam, the files read back by a DXF library and compared with the report. */
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PDFDocument } from '@cantoo/pdf-lib';
import DxfParser from 'dxf-parser';
import { afterAll, describe, expect, it, vi } from 'vitest';
import { smallDocument } from '../pipeline/support';
import { call, patience } from './run';

vi.setConfig({ testTimeout: patience });

const folder = mkdtempSync(join(tmpdir(), 'girthwise-sheets-'));
afterAll(() => rmSync(folder, { recursive: true }));
const plates = join(folder, 'two-plates.svg');
writeFileSync(plates, smallDocument.sources[0]!.svg);

type Pair = [number, number];
interface Placed {
  panel: string;
  mirrored: boolean;
  turn: number;
  x: number;
  y: number;
}
interface Report {
  panels: { id: string; outlines: { traced: Pair[] } }[];
  sheets: { width: number; height: number; thickness: number; panels: Placed[] }[];
}

let made = 0;

/** Foam of no thickness: panels are the plates, 70 × 50 mm. */
async function make(...args: string[]) {
  const out = join(folder, `out${++made}`);
  const ran = await call('make', plates, '--out', out, '--foam', '0mm', ...args);
  const text = (name: string) => readFileSync(join(out, name), 'utf8');
  return {
    ran,
    out,
    text,
    report: () => JSON.parse(text('report.json')) as Report,
    bytes: (name: string) => readFileSync(join(out, name)),
  };
}

/** Outlines of a sheet as the report says that they lie, from the sheet's top-left corner with y down. */
const placed = ({ panels }: Report, sheet: Report['sheets'][number]): Pair[][] =>
  sheet.panels.map(({ panel, mirrored, turn, x, y }) => {
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    return panels
      .find((p) => p.id === panel)!
      .outlines.traced.map(([u, v]): Pair => {
        const m = mirrored ? -u : u;
        return [c * m - s * v + x, s * m + c * v + y];
      });
  });

/** Closed lines on the layer of cuts, y down as well. */
function cutsOf(dxf: string, height: number): Pair[][] {
  const { entities } = new DxfParser().parseSync(dxf)!;
  return entities
    .filter((e) => e.layer === 'CUT')
    .map((e) => (e as unknown as { vertices: { x: number; y: number }[] }).vertices)
    .map((ring) => ring.map(({ x, y }): Pair => [x, height - y]));
}

/** Each ring's points are all among those of one ring of the other side. */
function expectSame(found: Pair[][], wanted: Pair[][]) {
  expect(found).toHaveLength(wanted.length);
  const near = ([a, b]: Pair, ring: Pair[]) => ring.some(([x, y]) => Math.hypot(a - x, b - y) < 1e-3);
  for (const ring of wanted) {
    const same = found.filter((r) => r.length === ring.length && ring.every((p) => near(p, r)));
    expect(same).toHaveLength(1);
  }
}

describe('make --sheet', () => {
  it('writes each sheet as SVG and DXF and all on pages, as the report says', async () => {
    const { ran, out, text, report, bytes } = await make('--sheet', '100x80mm');
    expect(ran.status).toBe(0);
    // One plate fills a sheet: 5 mm stay free at the rim.
    const names = ['sheet-1.svg', 'sheet-1.dxf', 'sheet-2.svg', 'sheet-2.dxf', 'sheets.pdf'];
    for (const name of names) expect(ran.out).toContain(join(out, name));
    expect(existsSync(join(out, 'sheet-3.dxf'))).toBe(false);
    const r = report();
    expect(r.sheets.map((s) => [s.width, s.height, s.panels.length])).toEqual([
      [100, 80, 1],
      [100, 80, 1],
    ]);
    for (const [k, sheet] of r.sheets.entries()) {
      const wanted = placed(r, sheet);
      for (const [x, y] of wanted.flat()) {
        expect(Math.min(x, 100 - x)).toBeGreaterThan(4.999);
        expect(Math.min(y, 80 - y)).toBeGreaterThan(4.999);
      }
      expectSame(cutsOf(text(`sheet-${k + 1}.dxf`), sheet.height), wanted);
      expect(text(`sheet-${k + 1}.svg`)).toContain('width="100mm" height="80mm"');
    }
    // The overview and a page for each.
    const pdf = await PDFDocument.load(bytes('sheets.pdf'), { updateMetadata: false });
    expect(pdf.getPageCount()).toBe(3);
  });

  it('keeps the gap that is asked for, and writes the same bytes again', async () => {
    const ask = ['--sheet', '170x60mm', '--gap', '12mm', '--seed', '3'];
    const one = await make(...ask);
    expect(one.ran.status).toBe(0);
    const r = one.report();
    expect(r.sheets.map((s) => s.panels.length)).toEqual([2]);
    // Both lie flat: 5 + 70 + gap + 70 + 5 leaves 20 mm at most between them.
    const [a, b] = placed(r, r.sheets[0]!).map((ring) => ring.map(([x]) => x));
    const apart = Math.max(Math.min(...b!) - Math.max(...a!), Math.min(...a!) - Math.max(...b!));
    expect(apart).toBeGreaterThan(11.999);
    expect(apart).toBeLessThan(20.001);
    const again = await make(...ask);
    expect(again.text('sheet-1.dxf')).toBe(one.text('sheet-1.dxf'));
  });

  it('fails, and says so, when a panel has no place on sheets of that size', async () => {
    const { ran, out } = await make('--sheet', '70x50mm');
    expect(ran.status).toBe(1);
    expect(ran.error).toContain('no files of sheets were written');
    expect(existsSync(join(out, 'panels.svg'))).toBe(true);
    expect(existsSync(join(out, 'sheet-1.dxf'))).toBe(false);
  });

  it('is in the help, and wants a width and a height', async () => {
    const { out } = await call('--help');
    const line = out.split('\n').find((l) => l.trimStart().startsWith('--sheet'));
    expect(line).toMatch(/^ {2}--sheet 600x900mm +lay the panels on sheets of foam.*sheets\.pdf$/);
    expect(out).toMatch(/^ {2}--gap 3mm +with sheets/m);
    for (const size of ['600', '600x', '0x900mm', 'large']) {
      const wrong = await make('--sheet', size);
      expect([size, wrong.ran.status]).toEqual([size, 2]);
      expect(wrong.ran.error).toMatch(/^--sheet .*(600x900mm|more than 0)/);
    }
  });
});
