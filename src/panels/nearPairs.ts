/**
 * Panels that were meant to be mirror images and are not quite: those that differ by little beside their own size. The
 * nearest pair is taken first, so that a panel is not offered with another while its own image is there.
 */
import type { FoamResult } from '../model';
import type { Mm } from '../units';
import { agreement, edgesOf, formOf, type Laid, type MirrorPair, mayPair } from './pairs';
import { fewCorners, likeShape, likeShapeOfFew } from './tolerance';

/**
 * Exact pairs are among them.
 * @param within corners of the traced outlines agree so well at the least, mm
 */
export function nearMirrorPairs({ panels }: Pick<FoamResult, 'panels'>, within: Mm): readonly MirrorPair[] {
  const forms = panels.map(formOf);
  const sizeOf = (i: number): Mm => Math.sqrt(Math.abs(forms[i]?.area ?? 0));
  const shareOf = (i: number) =>
    (panels[i]!.outlines.traced[0]?.length ?? 0) < fewCorners ? likeShapeOfFew : likeShape;
  const found: { i: number; j: number; laid: Laid; share: number }[] = [];
  for (let i = 0; i < panels.length; i++)
    for (let j = i + 1; j < panels.length; j++) {
      const [a, b] = [forms[i], forms[j]];
      if (!a || !b) continue;
      const size = Math.min(sizeOf(i), sizeOf(j));
      const apart = Math.min(within, shareOf(i) * size);
      if (!mayPair(panels[i]!, panels[j]!, a, b, apart)) continue;
      const laid = agreement(panels[i]!, panels[j]!, apart);
      if (laid) found.push({ i, j, laid, share: laid.off / size });
    }
  const taken = new Set<number>();
  return found
    .sort((p, q) => p.share - q.share)
    .filter(({ i, j }) => {
      if (taken.has(i) || taken.has(j)) return false;
      taken.add(i).add(j);
      return true;
    })
    .sort((p, q) => p.i - q.i)
    .map(({ i, j, laid }) => ({
      ...{ kept: panels[i]!.id, twin: panels[j]!.id, off: laid.off },
      edges: edgesOf(panels[i]!, panels[j]!, laid),
    }));
}
