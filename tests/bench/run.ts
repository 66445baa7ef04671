/**
 * Speed of the main job's stages, each beside a reference in the same run: `npm run bench`. Not a test: nothing
 * fails on a figure. Times are medians of interleaved runs; a checksum of the results is printed, so that a change of
 * what is computed does not pass for a change of speed.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { SaxesParser } from 'saxes';
import { hashText, unwatched } from '../../src/base';
import { readDrawing } from '../../src/drawing';
import { makePanels } from '../../src/foam';
import { layPages } from '../../src/layout';
import { loadLettering, markPanels } from '../../src/marks';
import { type Decisions, defaultDecisions } from '../../src/model';
import { writePagesPdf } from '../../src/output';
import { offsetRings } from '../../src/plane';
import { readPattern } from '../../src/reading';
import { findSeams } from '../../src/seams';
import { benchFolding } from './folding';
import { interleave } from './measure';
import { benchNest } from './nest';
import { benchPattern } from './pattern';

if (process.argv[2] === 'nest') {
  await benchNest(process.argv.slice(3));
  process.exit();
}

const ms = (value: number) => `${value.toFixed(1)} ms`;
const print = (name: string, figure: string) => console.log(`${name.padEnd(58)} ${figure}`);

const font = createRequire(import.meta.url).resolve(
  '@fontsource/atkinson-hyperlegible/files/atkinson-hyperlegible-latin-400-normal.woff',
);
const fontBytes = readFileSync(font);
const lettering = loadLettering(
  fontBytes.buffer.slice(fontBytes.byteOffset, fontBytes.byteOffset + fontBytes.byteLength) as ArrayBuffer,
);

const { svg, faces } = benchPattern(1000);
const source = { name: 'bench.svg', svg };
console.log(
  `Pattern of ${faces} faces, ${(svg.length / 1000).toFixed(0)} kB of SVG; Node ${process.versions.node}\n`,
);

const bareParse = () => {
  const parser = new SaxesParser({ xmlns: true });
  let count = 0;
  parser.on('opentag', () => count++);
  parser.write(svg).close();
  return count;
};
const drawingOf = () => {
  const outcome = readDrawing(source, { file: 0, size: { kind: 'ask' } });
  if (!outcome.ok) throw new Error(outcome.issues[0]?.message);
  return outcome.value;
};

const reading = await interleave(9, {
  bare: bareParse,
  drawing: drawingOf,
  all: () => readPattern(drawingOf(), defaultDecisions.reading),
});
print('bare parse by the same XML parser', ms(reading.bare));
print(
  'SVG to drawing',
  `${ms(reading.drawing)}  = ${(reading.drawing / reading.bare).toFixed(2)} × the bare parse`,
);
print(
  'SVG to pieces, faces, folds, numbers',
  `${ms(reading.all)}  = ${(reading.all / reading.bare).toFixed(2)} × the bare parse`,
);

const small = benchPattern(500);
const smallDrawing = readDrawing({ name: 'bench.svg', svg: small.svg }, { file: 0, size: { kind: 'ask' } });
if (!smallDrawing.ok) throw new Error('the pattern of the benchmark cannot be read');
const pattern = readPattern(smallDrawing.value, defaultDecisions.reading);
const seams = findSeams(pattern, defaultDecisions.seams);
const decisions: Decisions = {
  ...defaultDecisions,
  foam: {
    ...defaultDecisions.foam,
    roleBends: { mountain: 0.3, valley: -0.2, unknown: 0.1, seam: 0.25 },
  },
};
const rings = pattern.pieces.map((p) => [p.outline.flatMap((e) => e.points.slice(0, -1))]);
let scale = 1;
const shifting = await interleave(15, {
  uniform: () => rings.map((r) => offsetRings(r, 0.63, { kind: 'mitre', limit: 3 })),
  ours: () => {
    // A slider moves: another scale each time, so that nothing is remembered.
    scale += 0.001;
    return makePanels(pattern, seams, scale, decisions.foam, decisions.marks);
  },
});
print(`\nuniform offset of ${pattern.pieces.length} pieces by the polygon library`, ms(shifting.uniform));
print(
  `slider to new outlines: all panels of ${small.faces} faces`,
  `${ms(shifting.ours)}  = ${(shifting.ours / shifting.uniform).toFixed(1)} × the uniform offset`,
);

const foam = makePanels(pattern, seams, 1, decisions.foam, decisions.marks);
const marking = await interleave(5, { marks: () => markPanels(foam, seams, decisions.marks, lettering) });
print('marks for all panels', ms(marking.marks));
const marked = markPanels(foam, seams, decisions.marks, lettering);
const context = {
  title: 'Bench',
  figures: [],
  cautions: [],
  tracedFace: 'outside' as const,
  lengthUnit: 'mm' as const,
};
const plan = await layPages(marked, decisions.pages, lettering, context, unwatched);
const paper = await interleave(3, {
  pages: () => layPages(marked, decisions.pages, lettering, context, unwatched),
  pdf: () => writePagesPdf(plan, { title: 'Bench' }, unwatched),
});
const bytes = await writePagesPdf(plan, { title: 'Bench' }, unwatched);
print(`layout on ${plan.pages.length} pages`, ms(paper.pages));
print(
  `PDF of ${plan.pages.length} pages, ${(bytes.length / 1000).toFixed(0)} kB`,
  `${ms(paper.pdf)}  = ${((paper.pdf * 40) / plan.pages.length).toFixed(0)} ms per 40 pages`,
);
console.log(
  `\nchecksum of panels ${hashText(JSON.stringify(foam.panels))}, pages ${hashText(JSON.stringify(plan.pages.map((p) => p.name)))}`,
);

await benchFolding(interleave);
