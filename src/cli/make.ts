import { mkdir, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Issue } from '../base';
import { loadLettering } from '../marks';
import { type Fit, isCuttable, type ProjectDocument, type Results } from '../model';
import { fileStem, writeArchive } from '../output';
import { archiveWith, createDryFitter, createPipeline, formatPercent, makeAllFiles } from '../pipeline';
import { formatLength } from '../units';
import type { ParsedLine } from './arguments';
import { UsageError } from './arguments';
import { letteringBytes } from './font';
import { assumedNote } from './inspect';
import { type CommandIo, exit } from './io';
import { tellProgress } from './progress';
import { reportOf } from './report';
import { decisionsOf, isSizeAssumed } from './settings';
import { laidOnSheets, wantsSheets } from './sheets';
import { issueLine, readGiven, StopError } from './sources';
import { makeForTroupe } from './troupe';

/**
 * The whole job: writes pages.pdf, panels.svg, panels.dxf, build.pdf, pattern.fold, report.json, for a head band.pdf, and
 * with sheets sheet-1.svg, sheet-1.dxf … and sheets.pdf into the folder.
 */
export async function make(line: ParsedLine, io: CommandIo): Promise<number> {
  const folder = line.options.get('out');
  if (folder === undefined) throw new UsageError('make needs --out FOLDER: where its files go.');
  // Wrong settings are told before any file is read.
  decisionsOf(line.options, null);
  const given = await readGiven(line, 'make', io);
  let document: ProjectDocument = {
    title: given.project?.title ?? titleOf(given.sources[0]?.name ?? ''),
    sources: given.sources,
    decisions: decisionsOf(line.options, given.project?.decisions ?? null),
    lengthUnit: given.project?.lengthUnit ?? 'mm',
  };

  const lettering = async () => loadLettering(await letteringBytes());
  const pipeline = createPipeline(lettering);
  const work = tellProgress(io);
  const archive = line.options.has('archive');
  const table = line.options.get('troupe');
  if (table !== undefined) {
    for (const i of given.issues) io.error(issueLine(i));
    return makeForTroupe(
      { table, folder, archive },
      document,
      (own, its) => pipeline.run(own, its),
      lettering,
      work,
      io,
    );
  }
  let results = await pipeline.run(document, work);
  if (
    wantsSheets(line.options, document) &&
    results.foam &&
    !(results.sheets && isCuttable(results.sheets))
  ) {
    document = await laidOnSheets(results.foam.panels, document, work);
    results = await pipeline.run(document, work);
  }
  const size = results.drawing?.size;
  const assumed = isSizeAssumed(line.options, given.project?.decisions ?? null);
  const issues: readonly Issue[] = [
    ...given.issues,
    ...(size ? assumedNote(size, assumed) : []),
    ...results.issues,
  ];
  for (const i of issues) io.error(issueLine(i));

  const unsized = whyUnsized(results, document);
  if (unsized) throw new StopError(unsized);

  const { recut, fit, foam, pages, sheets } = results;
  const all = await makeAllFiles(results, document, lettering, work);
  if (!all.ok || !recut || !fit || !foam || !pages) {
    const told = new Set(issues.map((i) => i.message));
    for (const i of all.ok ? [] : all.issues) {
      if (!told.has(i.message)) io.error(issueLine(i));
      told.add(i.message);
    }
    return exit.failed;
  }
  for (const i of all.issues) io.error(issueLine(i));
  const { seams } = recut;
  const fitted = await createDryFitter({ brief: true })(results, document, work);
  const dryFit = fitted.ok ? fitted.value : null;
  const report = reportOf({ seams, fit, foam, pages, sheets, dryFit }, [...issues, ...all.issues]);
  const files: readonly (readonly [string, string | Uint8Array])[] = [
    ...all.value.map(({ name, content }) => [name, content] as const),
    ['report.json', `${JSON.stringify(report, null, 1)}\n`],
    ...(archive
      ? [
          [
            `${fileStem(document.title)}-build.zip`,
            archiveWith(all.value, document, { fileStem, writeArchive }),
          ] as const,
        ]
      : []),
  ];
  try {
    await mkdir(folder, { recursive: true });
    for (const [name, content] of files) {
      await mkdir(dirname(join(folder, name)), { recursive: true });
      await writeFile(join(folder, name), content);
    }
  } catch (error) {
    throw new StopError(`${folder} can’t be written: ${(error as Error).message}`);
  }
  io.out(
    [
      ...files.map(([name]) => join(folder, name)),
      `${foam.panels.length} panels at ${scaleWords(fit)}, ${formatLength(document.decisions.foam.thickness, 'mm')} foam, ${pages.pages.length} pages`,
      '',
    ].join('\n'),
  );
  const unlaid = wantsSheets(line.options, document) && !(sheets && isCuttable(sheets));
  if (unlaid) {
    io.error(
      'The panels could not all be laid on the sheets, so no files of sheets were written. Give larger sheets, or more of them.\n',
    );
    return exit.failed;
  }
  const wrong = issues.filter((i) => i.severity === 'error').length;
  if (wrong > 0) {
    io.error(`The files were written, but ${wrong} of the findings above must be put right first.\n`);
    return exit.failed;
  }
  return exit.done;
}

/** Why the size that was asked for is not known, as a sentence; null when it is. */
function whyUnsized({ shell, fit }: Results, { decisions }: ProjectDocument): string | null {
  const { how, head } = decisions.fit;
  if ((how !== 'head' && how !== 'measures') || head === null || !fit || fit.patternGirth !== null)
    return null;
  const way = 'Give the girth of the pattern where the head goes, e.g. --pattern-girth 640mm.';
  if (!shell) return `No shell could be folded up, so nobody knows how far round the pattern goes. ${way}`;
  if (shell.quality === 'doubtful')
    return `The shell folds up doubtfully, so how far round it goes can’t be measured. ${way}`;
  return `The shell has no closed section where a head would go. ${way} Or give another height with --brow.`;
}

/** "96.4 %", or three of them for length, breadth and height. */
function scaleWords({ scale, reshaped, shell }: Fit): string {
  if (!reshaped || !shell) return formatPercent(scale);
  const { length, breadth, height } = shell.scales;
  return `${formatPercent(length)} length, ${formatPercent(breadth)} breadth, ${formatPercent(height)} height`;
}

function titleOf(file: string): string {
  return (
    file
      .replace(/\.(svg|fold)$/i, '')
      .replace(/[_-]+/g, ' ')
      .trim() || 'Untitled'
  );
}
