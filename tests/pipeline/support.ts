/** The sample patterns and the lettering font, from the files that come with the page. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { resolve } from 'node:path';
import { type LetteringFont, loadLettering } from '../../src/marks';
import { defaultDecisions, type ProjectDocument } from '../../src/model';

const samples = resolve(import.meta.dirname, '../../public/samples');

export const sampleText = (file: string): string => readFileSync(resolve(samples, file), 'utf8');
export const samplePath = (file: string): string => resolve(samples, file);

/** Two folded plates with common numbers and a fold of each kind: small enough to be run many times. */
const twoPlates = `<svg xmlns="http://www.w3.org/2000/svg" width="180mm" height="80mm" viewBox="0 0 180 80"
  fill="none" stroke="#000" stroke-width="0.5" font-size="4">
  <path d="M10 10H80V60H10Z"/>
  <path d="M100 10H170V60H100Z"/>
  <path d="M45 10V60" stroke-dasharray="6 1.2 0.4 1.2 0.4 1.2"/>
  <path d="M135 10V60" stroke-dasharray="3 1.5"/>
  <g fill="#000" stroke="none">
    <text x="75" y="36">1</text><text x="103" y="36">1</text>
    <text x="60" y="15">2</text><text x="150" y="58">2</text>
  </g>
</svg>`;

export const sampleDocument = (file: string): ProjectDocument => documentOf(file, sampleText(file));

export const smallDocument: ProjectDocument = documentOf('two-plates.svg', twoPlates);

function documentOf(file: string, svg: string): ProjectDocument {
  return {
    title: file.replace(/\..*/, ''),
    sources: [{ name: file, svg }],
    decisions: {
      ...defaultDecisions,
      reading: { ...defaultDecisions.reading, size: { kind: 'perInch', value: 96 } },
    },
    lengthUnit: 'mm',
  };
}

let font: LetteringFont | null = null;

export async function lettering(): Promise<LetteringFont> {
  if (!font) {
    const name = '@fontsource/atkinson-hyperlegible/files/atkinson-hyperlegible-latin-400-normal.woff';
    const bytes = readFileSync(createRequire(import.meta.url).resolve(name));
    font = loadLettering(new Uint8Array(bytes).buffer);
  }
  return font;
}
