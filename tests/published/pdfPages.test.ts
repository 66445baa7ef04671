/**
 * The PDF file against what is published about PDF, paper and units, read by an independent tool:
 * - the unit of default user space is 1/72 in, and each page's UserUnit multiplies it: ISO 32000-1:2008, 8.3.2.1; so
 *   4 in are 288 units and the sizes below follow. Left at 1 here, since not all readers honour it;
 * - ViewerPreferences / PrintScaling None selects "no scaling" in the print dialogue: ISO 32000-1:2008, table 150;
 * - A4 and A3: ISO 216; Letter 8.5 × 11 in, Legal 8.5 × 14 in, Tabloid 11 × 17 in, whose sizes in points are whole.
 */
import { describe, expect } from 'vitest';
import { unwatched } from '../../src/base';
import type { PaperName } from '../../src/model';
import { writePagesPdf } from '../../src/output';
import { lay, markFixture } from '../support/pages';
import { gores } from '../support/panels';
import { itWith, run, unpacked, withPdf } from '../support/pdfTools';

const marked = markFixture(gores(5, 5, 180, 500, 0.2));
const pdfOf = async (paper: PaperName) =>
  writePagesPdf(await lay(marked, { paper, orientation: 'portrait' }), { title: 'Gannet helm' }, unwatched);

/** Points: whole for the inch sizes; 210 mm = 210 / 25.4 · 72 = 595.276, 297 mm = 841.890, 420 mm = 1190.551. */
const sizes: [PaperName, number, number][] = [
  ['A4', 595.276, 841.89],
  ['A3', 841.89, 1190.551],
  ['Letter', 612, 792],
  ['Legal', 612, 1008],
  ['Tabloid', 792, 1224],
];

describe('PDF pages', () => {
  for (const [paper, width, height] of sizes) {
    itWith(['pdfinfo'], `${paper} is ${width} × ${height} points`, async () => {
      const info = withPdf(await pdfOf(paper), (file) => run('pdfinfo', ['-f', '1', '-l', '99', file]));
      const found = [...info.matchAll(/Page +\d+ size: +([\d.]+) x ([\d.]+) pts/g)];
      expect(found.length).toBeGreaterThan(1);
      for (const page of found) {
        expect(Number(page[1])).toBeCloseTo(width, 2);
        expect(Number(page[2])).toBeCloseTo(height, 2);
      }
    });
  }

  itWith(['qpdf'], 'switch print scaling off and leave the unit of user space alone', async () => {
    const text = unpacked(await pdfOf('A4'));
    expect(text).toMatch(/\/ViewerPreferences <<[^>]*\/PrintScaling \/None/);
    expect(text).not.toContain('/UserUnit');
  });

  itWith(['qpdf'], 'draw 4 in as 288 units and 100 mm as 283.465', async () => {
    const text = unpacked(await pdfOf('Letter'));
    const contents = [...text.matchAll(/stream\n([\s\S]*?)endstream/g)].map((m) => m[1]!);
    const pages = contents.filter((c) => c.includes(' cm'));
    expect(pages.length).toBeGreaterThan(1);
    for (const page of pages) {
      const scale = Number(/q\n([\d.]+) 0 0 ([\d.]+) 0 0 cm/.exec(page)![1]);
      const squares = [
        ...page.matchAll(
          /([\d.]+) ([\d.]+) m ([\d.]+) ([\d.]+) l ([\d.]+) ([\d.]+) l ([\d.]+) ([\d.]+) l h S/g,
        ),
      ].map((m) => {
        const n = m.slice(1).map(Number);
        return { width: (n[2]! - n[0]!) * scale, height: (n[5]! - n[1]!) * scale };
      });
      for (const side of [288, 283.465]) {
        const found = squares.filter(
          (s) => Math.abs(s.width - side) < 0.001 && Math.abs(s.height - side) < 0.001,
        );
        expect(found).toHaveLength(1);
      }
    }
  });
});
