/** The whole job for every wearer of a table. */
import { mkdir, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Work } from '../base';
import type { LetteringFont } from '../marks';
import type { ProjectDocument } from '../model';
import { fileStem, writeArchive } from '../output';
import { makeTroupe, type RunDocument } from '../pipeline';
import { readTroupe } from '../troupe';
import { type CommandIo, exit } from './io';
import { issueLine, StopError, textOf } from './sources';

export interface TroupeOrder {
  readonly table: string;
  readonly folder: string;
  readonly archive: boolean;
}

/** Reads the table, makes everybody's files and writes them. Done only when nobody was left out. */
export async function makeForTroupe(
  { table, folder, archive }: TroupeOrder,
  document: ProjectDocument,
  run: RunDocument,
  lettering: () => Promise<LetteringFont>,
  work: Work,
  io: CommandIo,
): Promise<number> {
  const read = readTroupe(await textOf(table), document.lengthUnit, (row) => `w${row + 1}`);
  for (const issue of read.issues) io.error(issueLine(issue));
  if (!read.ok) throw new StopError(`${table} holds nobody to make files for.`);
  const wearers = read.value;
  const full = { ...document, decisions: { ...document.decisions, troupe: { wearers } } };
  const made = await makeTroupe(full, run, lettering, work);
  for (const issue of made.issues) io.error(issueLine(issue));
  if (!made.ok) return exit.failed;
  const stem = `${fileStem(document.title)}-troupe`;
  const files = [
    ...made.value.files,
    ...(archive
      ? [
          {
            name: `${stem}.zip`,
            content: writeArchive(made.value.files.map((f) => ({ ...f, name: `${stem}/${f.name}` }))),
          },
        ]
      : []),
  ];
  try {
    for (const { name, content } of files) {
      const path = join(folder, name);
      await mkdir(dirname(path), { recursive: true });
      await writeFile(path, content);
    }
  } catch (error) {
    throw new StopError(`${folder} can’t be written: ${(error as Error).message}`);
  }
  io.out(
    [
      ...files.map(({ name }) => join(folder, name)),
      `${made.value.made} of ${wearers.length} wearers`,
      '',
    ].join('\n'),
  );
  const wrong = [...read.issues, ...made.issues].some((i) => i.severity === 'error');
  return wrong || made.value.made < wearers.length ? exit.failed : exit.done;
}
