/** Half patterns: edges are paired on the drawn half, then the whole has their images and the rim. */
import type { Pattern, SeamDecisions } from '../model';
import { completeHalf, halfDecisions, withMirrorImage } from '../panels';
import { seamIdOf } from '../seams';
import type { PairedUp } from './folding';

/** The pattern with its mirror image, where the person says that it is one half; else the pattern itself. */
export const wholePattern = (drawn: Pattern, { half }: SeamDecisions): Pattern =>
  half ? withMirrorImage(drawn) : drawn;

/** @param pair pairs the edges of the drawn half by these decisions */
export async function pairWhole(
  whole: Pattern,
  decisions: SeamDecisions,
  pair: (decisions: SeamDecisions) => Promise<PairedUp>,
): Promise<PairedUp> {
  if (!decisions.half) return pair(decisions);
  const paired = await pair(halfDecisions(decisions, seamIdOf));
  return { ...paired, seams: completeHalf(whole, paired.seams, decisions, seamIdOf) };
}
