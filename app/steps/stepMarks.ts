/**
 * What the rail says about each step, derived from the results: waiting for an earlier step, an answer that only the
 * person can give, a count of findings to look at, or done. Pure.
 */
import type { Issue, StageName } from '../../src/base';
import type { Decisions, Seams } from '../../src/model';
import type { Results, StepName } from '../document/session';
import { groupOpen } from './seams/openRows';

export interface StepMark {
  readonly state: 'waiting' | 'ask' | 'look' | 'done';
  /** Findings that fail or want a look. */
  readonly count: number;
  /** The state in words. */
  readonly word: string;
  /** The word where there is little room. */
  readonly short: string;
}

/** The step at which a stage's findings can be dealt with. */
export const stepOfStage: Readonly<Record<StageName, StepName>> = {
  drawing: 'pattern',
  reading: 'pattern',
  project: 'pattern',
  seams: 'seams',
  shell: 'seams',
  fit: 'size',
  panels: 'panels',
  foam: 'foam',
  marks: 'pages',
  sheets: 'sheets',
  layout: 'pages',
  build: 'build',
  output: 'pages',
};

/** Findings that something has to be done about; notes and repairs only inform. */
const needsALook = (issue: Issue): boolean => issue.severity === 'error' || issue.severity === 'warning';

export function stepMarks(results: Results, decisions: Decisions): Readonly<Record<StepName, StepMark>> {
  const counts = new Map<StepName, number>();
  for (const issue of results.issues) {
    if (!needsALook(issue)) continue;
    const step = stepOfStage[issue.stage];
    counts.set(step, (counts.get(step) ?? 0) + 1);
  }
  const mark = (step: StepName, ready: boolean, asks: string | null = null): StepMark => {
    const count = counts.get(step) ?? 0;
    if (asks !== null) return { state: 'ask', count, word: asks, short: asks };
    if (count > 0) return { state: 'look', count, word: `${count} to look at`, short: `look: ${count}` };
    if (!ready) return { state: 'waiting', count, word: 'waiting', short: 'waiting' };
    return { state: 'done', count, word: 'done', short: 'done' };
  };
  return {
    pattern: mark(
      'pattern',
      results.pattern !== null && results.pattern.pieces.length > 0,
      results.drawing?.size.from.kind === 'none' ? 'how large?' : null,
    ),
    seams: mark('seams', results.seams !== null, edgesToDecide(results.seams)),
    size: mark('size', results.fit !== null, results.pattern ? missingMeasure(decisions, results) : null),
    panels: mark('panels', results.recut !== null),
    foam: mark('foam', results.foam !== null),
    sheets: sheetMark(mark('sheets', results.sheets !== null), decisions),
    // Without a real size there is nothing that may be printed yet.
    pages: mark('pages', results.pages !== null && results.drawing?.size.from.kind !== 'none'),
    build: buildMark(mark('build', results.build !== null), results),
  };
}

/** Sheets are one way to cut, pages the other: nothing is missing while none are laid out. */
function sheetMark(mark: StepMark, { sheets }: Decisions): StepMark {
  return sheets.laid === null ? { ...mark, state: 'waiting', word: 'not used', short: 'not used' } : mark;
}

/** While the build goes on, how far it has come. */
function buildMark(mark: StepMark, { build }: Results): StepMark {
  const done = build?.steps.filter((s) => s.done).length ?? 0;
  const all = build?.steps.length ?? 0;
  if (mark.state !== 'done' || done === all) return mark;
  return { ...mark, state: 'waiting', word: `${done} of ${all}`, short: `${done}/${all}` };
}

/**
 * Edges that have no mate and are no border, in words for the rail; null when there are none. Those that several mates
 * fit come first: nobody but the person can say.
 */
function edgesToDecide(seams: Seams | null): string | null {
  const { ambiguous, lonely } = groupOpen(seams?.open ?? []);
  if (ambiguous.length > 0) return `${ambiguous.length} unclear`;
  return lonely.length > 0 ? `${lonely.length} open` : null;
}

/** What is still to be given before a size can be computed, in a word for the rail; null when nothing is. */
export function missingMeasure(decisions: Decisions, results: Results): string | null {
  const { fit } = decisions;
  switch (fit.how) {
    case 'head':
    case 'measures':
      if (fit.head === null) return 'head?';
      // The folded shell measures the girth; before the fit is there nobody knows whether it can.
      if (fit.girth.kind !== 'none' || !results.fit || results.fit.patternGirth !== null) return null;
      return 'girth?';
    case 'known':
      return fit.known.have === null || fit.known.want === null ? 'length?' : null;
    case 'percent':
      return null;
  }
}
