import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type Issue, unwatched } from '../base';
import { loadLettering } from '../marks';
import type { ProjectDocument } from '../model';
import { createPipeline, formatPercent, makePagesPdf, makePanelsSvg } from '../pipeline';
import { formatLength } from '../units';
import type { ParsedLine } from './arguments';
import { UsageError } from './arguments';
import { letteringBytes } from './font';
import { assumedNote } from './inspect';
import { type CommandIo, exit } from './io';
import { neutralLengths } from './neutral';
import { reportOf } from './report';
import { decisionsOf, isSizeAssumed } from './settings';
import { issueLine, readGiven, StopError } from './sources';

/** The whole job: writes pages.pdf, panels.svg and report.json into the folder. */
export async function make(line: ParsedLine, io: CommandIo): Promise<number> {
  const folder = line.options.get('out');
  if (folder === undefined) throw new UsageError('make needs --out FOLDER: where its files go.');
  // Wrong settings are told before any file is read.
  decisionsOf(withoutProject(line), null);
  const given = await readGiven(line, 'make', io);
  const document: ProjectDocument = {
    title: given.project?.title ?? titleOf(given.sources[0]?.name ?? ''),
    sources: given.sources,
    decisions: decisionsOf(line.options, given.project?.decisions ?? null),
    lengthUnit: given.project?.lengthUnit ?? 'mm',
  };

  const pipeline = createPipeline(async () => loadLettering(await letteringBytes()));
  const results = await pipeline.run(document, unwatched);
  const size = results.drawing?.size;
  const assumed = isSizeAssumed(line.options, given.project?.decisions ?? null);
  const issues: readonly Issue[] = [
    ...given.issues,
    ...(size ? assumedNote(size, assumed) : []),
    ...results.issues,
  ];
  for (const i of issues) io.error(issueLine(i));

  const pdf = await makePagesPdf(results, document, unwatched);
  const svg = await makePanelsSvg(results, document);
  const { pattern, seams, fit, foam, pages } = results;
  if (!pdf.ok || !svg.ok || !pattern || !seams || !fit || !foam || !pages) {
    const told = new Set(issues.map((i) => i.message));
    for (const i of [...(pdf.ok ? [] : pdf.issues), ...(svg.ok ? [] : svg.issues)]) {
      if (!told.has(i.message)) io.error(issueLine(i));
      told.add(i.message);
    }
    return exit.failed;
  }
  const { foam: material, marks } = document.decisions;
  const neutral = neutralLengths(pattern, seams, fit.scale, material, marks);
  const report = reportOf({ seams, fit, foam, pages, neutral }, issues);
  const files: readonly (readonly [string, string | Uint8Array])[] = [
    ['pages.pdf', pdf.value],
    ['panels.svg', svg.value],
    ['report.json', `${JSON.stringify(report, null, 1)}\n`],
  ];
  try {
    await mkdir(folder, { recursive: true });
    for (const [name, content] of files) await writeFile(join(folder, name), content);
  } catch (error) {
    throw new StopError(`${folder} can’t be written: ${(error as Error).message}`);
  }
  io.out(
    [
      ...files.map(([name]) => join(folder, name)),
      `${foam.panels.length} panels at ${formatPercent(fit.scale)}, ${formatLength(document.decisions.foam.thickness, 'mm')} foam, ${pages.pages.length} pages`,
      '',
    ].join('\n'),
  );
  const wrong = issues.filter((i) => i.severity === 'error').length;
  if (wrong > 0) {
    io.error(`The files were written, but ${wrong} of the findings above must be put right first.\n`);
    return exit.failed;
  }
  return exit.done;
}

/** The options that stand for themselves, to check them early; what needs the project is checked with it. */
function withoutProject(line: ParsedLine): ParsedLine['options'] {
  if (!line.options.has('project')) return line.options;
  return new Map([...line.options].filter(([name]) => name !== 'head'));
}

function titleOf(file: string): string {
  return (
    file
      .replace(/\.svg$/i, '')
      .replace(/[_-]+/g, ' ')
      .trim() || 'Untitled'
  );
}
