import type { Issue } from '../base';
import type { DrawingSize } from '../model';
import { createFoldMemos, distinctIssues, foldUp, pairUp, partOf, realStages } from '../pipeline';
import type { ParsedLine } from './arguments';
import { UsageError } from './arguments';
import { inspectionOf, summaryOf } from './inspection';
import { type CommandIo, exit } from './io';
import { tellProgress } from './progress';
import { decisionsOf, isSizeAssumed } from './settings';
import { issueLine, readGiven } from './sources';

/** Words for where the scale of a drawing comes from. */
export function sizeWords(size: DrawingSize, assumed: boolean): string {
  switch (size.from.kind) {
    case 'physical':
      return 'physical';
    case 'perInch':
      return `${assumed ? 'assumed' : 'given'} ${size.from.value} per inch`;
    case 'knownLength':
      return 'known length';
    case 'none':
      return 'assumed 96 per inch';
  }
}

/** The note that the size was taken and not stated, for a command that can't ask. */
export function assumedNote(size: DrawingSize, assumed: boolean): readonly Issue[] {
  if (size.from.kind === 'physical' || size.from.kind === 'knownLength' || !assumed) return [];
  return [
    {
      code: 'size-assumed',
      severity: 'note',
      stage: 'drawing',
      message: 'The file states no physical size; 96 units per inch were taken.',
      remedy: 'Give --unit when it was drawn otherwise, and check the result with a ruler.',
      place: {},
    },
  ];
}

/** Where folding the shell starts in the progress of the whole: finding seams folds up about as often. */
const shellStarts = 0.5;

export async function inspect(line: ParsedLine, io: CommandIo): Promise<number> {
  const json = line.options.has('json');
  const withLines = line.options.has('lines');
  if (withLines && !json) throw new UsageError('--lines goes with --json.');
  const given = await readGiven(line, 'inspect', io);
  const decisions = decisionsOf(line.options, given.project?.decisions ?? null);
  const outcomes = given.sources.map((source, file) =>
    realStages.readDrawing(source, { file, size: decisions.reading.size }),
  );
  const failed = outcomes.filter((o) => !o.ok);
  if (failed.length > 0) {
    for (const i of failed.flatMap((o) => o.issues)) io.error(issueLine(i));
    return exit.failed;
  }
  const drawings = outcomes.flatMap((o) => (o.ok ? [o.value] : []));
  const drawing = realStages.joinDrawings(drawings);
  const pattern = realStages.readPattern(drawing, decisions.reading);
  const work = tellProgress(io);
  const memos = createFoldMemos();
  const { seams, trouble } = await pairUp(
    realStages,
    pattern,
    decisions.seams,
    partOf(work, 0, shellStarts),
    memos,
  );
  // The seams are the same with and without the shell.
  const shape = { ...decisions.shell, foldUp: decisions.shell.foldUp && !line.options.has('no-shell') };
  const folded = await foldUp(
    realStages,
    memos,
    pattern,
    seams,
    { ...decisions, shell: shape },
    partOf(work, shellStarts, 1),
  );
  const assumed = isSizeAssumed(line.options, given.project?.decisions ?? null);
  const issues = distinctIssues([
    ...given.issues,
    ...assumedNote(drawing.size, assumed),
    ...outcomes.flatMap((o) => o.issues),
    ...drawing.issues,
    ...pattern.issues,
    ...trouble,
    ...seams.issues,
    ...folded.issues,
  ]);
  for (const i of issues) io.error(issueLine(i));
  const from = sizeWords(drawing.size, assumed);
  const found = { drawing, pattern, seams, shell: folded.shell };
  io.out(
    json
      ? `${JSON.stringify(inspectionOf(found, decisions, from, issues, withLines))}\n`
      : summaryOf(found, from),
  );
  return exit.done;
}
