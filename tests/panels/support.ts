/** Generated patterns with their true seams and shell, ready to be cut and joined. */
import type { Pattern, Seams, Shell } from '../../src/model';
import { bendsOfTruth, seamsOfTruth } from '../foam/truthSeams';
import { patternFromTruth, type Truth } from '../support/harbourWatch';
import { shellOfTruth } from '../support/truthShell';

export interface Made {
  readonly pattern: Pattern;
  readonly seams: Seams;
  readonly shell: Shell;
}

export function madeFrom(truth: Truth): Made {
  const shell = shellOfTruth(truth);
  return {
    pattern: patternFromTruth(truth),
    seams: seamsOfTruth(truth),
    shell: { ...shell, bends: bendsOfTruth(truth) },
  };
}

export const foldsOf = (pattern: Pattern): string[] =>
  pattern.pieces.flatMap((p) => p.folds.map((f) => f.id));
