/** Folded shells of known solids and of a sample, with their patterns and sides. */
import type { Pattern, Seams, Shell } from '../../src/model';
import { foldPattern, type ShellSide, shellSides } from '../../src/shell';
import { seamsOfTruth } from '../foam/truthSeams';
import {
  bollardPattern,
  keelPattern,
  patternFromTruth,
  shellPattern,
  solid,
  type Truth,
} from '../support/harbourWatch';

export interface Folded {
  readonly pattern: Pattern;
  readonly seams: Seams;
  readonly shell: Shell;
  readonly sides: readonly ShellSide[];
}

async function folded(truth: Truth): Promise<Folded> {
  const pattern = patternFromTruth(truth);
  const seams = seamsOfTruth(truth);
  const shell = await foldPattern(pattern, seams);
  return { pattern, seams, shell, sides: shellSides(shell, pattern, seams) };
}

/** Bends of a right angle, some as folds and some as seams. */
export const cubeFolded = (): Promise<Folded> =>
  folded(shellPattern(solid('cube'), { maxBend: 2, maxFaces: 6 }));

export const pauldronFolded = (): Promise<Folded> => folded(bollardPattern());

/** Faces between curves, cut into strips. */
export const keelFolded = (): Promise<Folded> => folded(keelPattern());
