/**
 * Seams and shell belong together: what is sure is folded up, that shows more seams, and those fold up to the shell. A
 * fault in folding up costs the shell, never the run.
 */
import { Cancelled, type Issue, type Work } from '../base';
import type { Decisions, Pattern, SeamDecisions, Seams, Shell } from '../model';
import { type FoldMemory, rememberFolds } from '../shell';
import { bendsOfPattern } from './cut';
import { faultWords, stopped } from './faults';
import { createMemo, type Memo } from './memo';
import type { Stages } from './stages';

/** Seams, with what stopped a better way of finding them. */
export interface PairedUp {
  readonly seams: Seams;
  readonly trouble: readonly Issue[];
}

/**
 * Pairs the edges. A fault while folding up to check seams leaves those that flat geometry finds, and the maker is told.
 * @throws Cancelled
 */
export async function pairUp(
  stages: Stages,
  pattern: Pattern,
  decisions: SeamDecisions,
  work: Work,
  { folds }: FoldMemos,
): Promise<PairedUp> {
  if (!decisions.findRest) return { seams: stages.findSeams(pattern, decisions), trouble: [] };
  try {
    return { seams: await stages.verifySeams(pattern, decisions, work, folds), trouble: [] };
  } catch (error) {
    if (error instanceof Cancelled) throw error;
    return { seams: stages.matchSeams(pattern, decisions), trouble: [unchecked(error)] };
  }
}

/** The fold-up that checks seams stopped; those that flat outlines give are there all the same. */
const unchecked = (error: unknown): Issue => ({
  code: 'seams-unchecked',
  severity: 'warning',
  stage: 'seams',
  message: `Folding up to check the seams stopped on a fault of the program (${faultWords(error)}), so only what the flat outlines tell is paired.`,
  remedy: 'Pair the open edges by hand; the project file helps whoever looks into the fault.',
  place: {},
});

export interface FoldMemos {
  /** Parts folded while checking seams are what the shell is made of. */
  readonly folds: FoldMemory;
  readonly folded: Memo<Shell>;
  readonly turned: Memo<Shell>;
}

export const createFoldMemos = (): FoldMemos => ({
  folds: rememberFolds(),
  folded: createMemo(),
  turned: createMemo(),
});

export interface Folded {
  /** As turned; null when folding up is off, there is nothing to fold, or it failed. */
  readonly shell: Shell | null;
  readonly issues: readonly Issue[];
}

const notFolded: Folded = { shell: null, issues: [] };

/**
 * The shell. Turning it does not fold it again.
 * @throws Cancelled
 */
export async function foldUp(
  stages: Stages,
  memos: FoldMemos,
  pattern: Pattern,
  seams: Seams,
  { shell: choice, foam: { bends } }: Decisions,
  work: Work,
): Promise<Folded> {
  const nothing = seams.seams.length === 0 && pattern.pieces.every((piece) => piece.folds.length === 0);
  if (!choice.foldUp || nothing) return notFolded;
  const { distances, girths, symmetry, turned } = choice;
  try {
    const folded = await memos.folded.recallLater([pattern, seams, bends, distances, girths, symmetry], () =>
      stages.foldPattern(
        pattern,
        seams,
        { bends: bendsOfPattern(bends), distances, girths, symmetry },
        work,
        memos.folds,
      ),
    );
    return {
      shell: memos.turned.recall([folded, turned], () => stages.turnShell(folded, turned)),
      issues: folded.issues,
    };
  } catch (error) {
    if (error instanceof Cancelled) throw error;
    return { ...notFolded, issues: [stopped('shell', error)] };
  }
}
