/**
 * All files of a build as one zip archive. Only the compression library is used for it. Dates are fixed and files stand
 * in the given order, so the same files give the same bytes.
 */
import { strToU8, type Zippable, zipSync } from 'fflate';
import { GirthwiseError } from '../base';

export interface ArchiveFile {
  /** Path inside the archive, "/" between folders. */
  readonly name: string;
  readonly content: string | Uint8Array;
}

/**
 * The earliest day that the format can write: it says nothing, and must not change. The format has local times, so it is
 * noon of the zone that the file is written in.
 */
const fixedDate = () => new Date(1980, 0, 1, 12);

/** @throws GirthwiseError `archive-name-twice` when two files have one name. */
export function writeArchive(files: readonly ArchiveFile[]): Uint8Array {
  const content: Zippable = {};
  for (const file of files) {
    if (file.name in content)
      throw new GirthwiseError('archive-name-twice', `Two files of the archive are called ${file.name}.`);
    // PDF files are compressed already: packing them again costs time and gains nothing.
    const level = file.name.endsWith('.pdf') ? 0 : 6;
    content[file.name] = [
      typeof file.content === 'string' ? strToU8(file.content) : file.content,
      { level, mtime: fixedDate() },
    ];
  }
  return zipSync(content);
}

/** A title as the start of a file name: words of letters and digits joined by "-", at most 60 signs. */
export function fileStem(title: string): string {
  const stem = title
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60)
    .replace(/-+$/, '');
  return stem || 'untitled';
}
