/**
 * Independent tools that read PDF files: poppler (pdfinfo, pdftoppm) and qpdf. Where one is missing its tests are
 * skipped on a maker's machine, but fail on the build machine (CI=true), so that they cannot vanish unnoticed.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';

export type PdfTool = 'pdfinfo' | 'pdftoppm' | 'qpdf';

const present = new Map<PdfTool, boolean>();

function has(tool: PdfTool): boolean {
  let known = present.get(tool);
  if (known === undefined) {
    try {
      execFileSync(tool, [tool === 'qpdf' ? '--version' : '-v'], { stdio: 'ignore' });
      known = true;
    } catch {
      known = false;
    }
    present.set(tool, known);
  }
  return known;
}

/** A test that needs the tools. */
export function itWith(
  tools: readonly PdfTool[],
  name: string,
  run: () => void | Promise<void>,
  timeout = 60_000,
): void {
  const missing = tools.filter((t) => !has(t));
  if (missing.length === 0) {
    it(name, run, timeout);
  } else if (process.env.CI === 'true') {
    it(name, () =>
      expect.fail(`${missing.join(', ')} must be installed on the build machine (poppler-utils, qpdf).`),
    );
  } else {
    it.skip(`${name} (${missing.join(', ')} not installed)`, run);
  }
}

/** Runs a tool on a file with these bytes; what it wrote to standard output. */
export function withPdf<T>(bytes: Uint8Array, use: (file: string, folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'pages-'));
  try {
    const file = join(folder, 'pages.pdf');
    writeFileSync(file, bytes);
    return use(file, folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

export function run(tool: PdfTool, args: readonly string[]): string {
  return execFileSync(tool, [...args], { encoding: 'latin1', maxBuffer: 1 << 28 });
}

/** A grey picture, row by row from the top; 0 is black. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array;
}

/** Every page of the file as a grey picture. */
export function renderPages(bytes: Uint8Array, dotsPerInch: number): Picture[] {
  return withPdf(bytes, (file, folder) => {
    run('pdftoppm', ['-r', String(dotsPerInch), '-gray', file, join(folder, 'p')]);
    return readdirSync(folder)
      .filter((name) => name.endsWith('.pgm'))
      .sort((a, b) => Number(/(\d+)\.pgm/.exec(a)![1]) - Number(/(\d+)\.pgm/.exec(b)![1]))
      .map((name) => readPgm(readFileSync(join(folder, name))));
  });
}

function readPgm(data: Buffer): Picture {
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(data.subarray(0, 64).toString('latin1'));
  if (!head) throw new Error('not a grey picture');
  const width = Number(head[1]);
  const height = Number(head[2]);
  return {
    width,
    height,
    pixels: new Uint8Array(data.subarray(head[0].length, head[0].length + width * height)),
  };
}

/** The PDF with its streams unpacked, as text. */
export const unpacked = (bytes: Uint8Array): string =>
  withPdf(bytes, (file) => run('qpdf', ['--qdf', '--object-streams=disable', file, '-']));
