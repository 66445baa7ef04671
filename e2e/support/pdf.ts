/** PDF files by other people's programs: poppler tells and draws, qpdf checks and unpacks. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Picture, readPgm } from './picture';

function withFile<T>(bytes: Uint8Array, use: (file: string, folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'girthwise-pdf-'));
  try {
    const file = join(folder, 'pages.pdf');
    writeFileSync(file, bytes);
    return use(file, folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const run = (program: string, args: readonly string[]): string =>
  execFileSync(program, [...args], { encoding: 'latin1', maxBuffer: 1 << 28 });

export interface PdfFacts {
  readonly pages: number;
  /** Points. */
  readonly width: number;
  readonly height: number;
  /** The print dialog's preset for scaling, as the file names it; null: none. */
  readonly printScaling: string | null;
}

/** What the file says of itself. Throws when qpdf finds a mistake in it. */
export function pdfFacts(bytes: Uint8Array): PdfFacts {
  return withFile(bytes, (file) => {
    run('qpdf', ['--check', file]);
    const info = run('pdfinfo', [file]);
    const pages = /^Pages:\s+(\d+)$/m.exec(info);
    const size = /^Page size:\s+([\d.]+) x ([\d.]+) pts/m.exec(info);
    if (!pages || !size) throw new Error(`pdfinfo says no page size:\n${info}`);
    const objects = run('qpdf', ['--qdf', '--object-streams=disable', file, '-']);
    return {
      pages: Number(pages[1]),
      width: Number(size[1]),
      height: Number(size[2]),
      printScaling: /\/PrintScaling\s+\/(\w+)/.exec(objects)?.[1] ?? null,
    };
  });
}

/** Pages from the first to the last given (counted from 1), drawn in grey. */
export function drawPages(bytes: Uint8Array, dotsPerInch: number, first: number, last: number): Picture[] {
  return withFile(bytes, (file, folder) => {
    const range = ['-f', String(first), '-l', String(last)];
    run('pdftoppm', ['-r', String(dotsPerInch), '-gray', ...range, file, join(folder, 'p')]);
    const numberOf = (name: string) => Number(/-(\d+)\.pgm$/.exec(name)?.[1]);
    return readdirSync(folder)
      .filter((name) => name.endsWith('.pgm'))
      .sort((a, b) => numberOf(a) - numberOf(b))
      .map((name) => readPgm(readFileSync(join(folder, name)), dotsPerInch));
  });
}
