/** The dry fit of panels from a shell whose truth is known. */
import { unwatched, type Work } from '../../src/base';
import { dryFit } from '../../src/dryfit';
import type { DryFit, FoamDecisions, Plane3 } from '../../src/model';
import { panelsOfTruth, surfaceOfTruth } from '../foam/shellFigures';
import { foamOfTruth } from '../foam/truthSeams';
import type { Truth } from '../support/harbourWatch';

export function dryFitOfTruth(
  truth: Truth,
  changes: Partial<FoamDecisions> = {},
  brow: Plane3 | null = null,
  work: Work = unwatched,
): Promise<DryFit> {
  const { shell, places } = surfaceOfTruth(truth);
  const foam = panelsOfTruth(truth, changes);
  return dryFit({ foam, decisions: foamOfTruth(truth, changes), shell, places, brow }, work);
}
