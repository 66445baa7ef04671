/** The sample patterns and the lettering font, from the files that come with the page. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { resolve } from 'node:path';
import { type LetteringFont, loadLettering } from '../../src/marks';
import { defaultDecisions, type ProjectDocument } from '../../src/model';

const samples = resolve(__dirname, '../../public/samples');

export const sampleText = (file: string): string => readFileSync(resolve(samples, file), 'utf8');
export const samplePath = (file: string): string => resolve(samples, file);

export function sampleDocument(file: string): ProjectDocument {
  return {
    title: file.replace(/\..*/, ''),
    sources: [{ name: file, svg: sampleText(file) }],
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
