import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { type LetteringFont, loadLettering } from '../../src/marks';

let loaded: LetteringFont | null = null;

/** The lettering font of the product, read once. */
export function testFont(): LetteringFont {
  if (loaded) return loaded;
  const path = createRequire(import.meta.url).resolve(
    '@fontsource/atkinson-hyperlegible/files/atkinson-hyperlegible-latin-400-normal.woff',
  );
  const bytes = readFileSync(path);
  loaded = loadLettering(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
  return loaded;
}
