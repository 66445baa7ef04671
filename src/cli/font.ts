import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';

const fontFile = '@fontsource/atkinson-hyperlegible/files/atkinson-hyperlegible-latin-400-normal.woff';

/** The lettering font of the installed package. */
export async function letteringBytes(): Promise<ArrayBuffer> {
  const bytes = await readFile(createRequire(import.meta.url).resolve(fontFile));
  return bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer;
}
