/**
 * Growing one assembly from parts (panels, or sub-assemblies): next comes the part that meets what is there along one
 * unbroken chain of seams, the longest first. A part that would close a ring, because it meets what is there in several
 * chains, is glued along the longest; the others are closed at the end. What would be walled in comes last of all.
 */
import { chainsOf, lengthSum, type SeamGraph, type Stretch } from './seamGraph';

export interface Grown {
  /** Parts by index in the order in which they are taken, the first one with nothing to be glued to. */
  readonly taken: readonly { readonly part: number; readonly glued: readonly Stretch[] }[];
  /** Chains that close rings, in the order in which they came up. */
  readonly closing: readonly (readonly Stretch[])[];
}

/**
 * @param parts panels of each part; all hang together by seams
 * @param partner each part's mirror image, itself in the middle; null without symmetry
 */
export function grow(
  graph: SeamGraph,
  parts: readonly (readonly number[])[],
  partner: readonly number[] | null,
): Grown {
  const partOf = new Map(parts.flatMap((panels, i) => panels.map((p) => [p, i] as const)));
  const between = graph.stretches.filter((s) => {
    const [i, k] = [partOf.get(s.a), partOf.get(s.b)];
    return i !== undefined && k !== undefined && i !== k;
  });
  const touching = (part: number) =>
    between.filter((s) => partOf.get(s.a) === part || partOf.get(s.b) === part);
  const seamed = parts.map((_, i) => lengthSum(touching(i)));
  // Work in pairs starts in the middle, or with two that touch: then what is there has two like sides throughout.
  const isMiddle = (i: number) =>
    partner !== null &&
    (partner[i] === i ||
      touching(i).some((s) => partOf.get(s.a) === partner[i] || partOf.get(s.b) === partner[i]));
  const first = seamed.reduce((best, length, i) => {
    const nearer = Number(isMiddle(i)) - Number(isMiddle(best));
    return nearer > 0 || (nearer === 0 && length > seamed[best]! + 1e-9) ? i : best;
  }, 0);
  const placed = new Set([first]);
  const taken: { part: number; glued: readonly Stretch[] }[] = [{ part: first, glued: [] }];
  const closing: (readonly Stretch[])[] = [];
  let wanted: number | null = partner?.[first] ?? null;
  while (placed.size < parts.length) {
    const candidates = parts.flatMap((_, part) => {
      if (placed.has(part)) return [];
      const own = touching(part);
      const ready = own.filter((s) => placed.has(partOf.get(s.a)!) || placed.has(partOf.get(s.b)!));
      if (ready.length === 0) return [];
      const chains = chainsOf(ready);
      // Nothing but placed parts round it, in one chain: it fills a hole.
      const walled = ready.length === own.length && chains.length === 1 && own.length > 2;
      const order: readonly number[] = [
        part === wanted ? 0 : 1,
        walled ? 1 : 0,
        chains.length > 1 ? 1 : 0,
        -lengthSum(chains[0]!),
        part,
      ];
      return [{ part, chains, order }];
    });
    const next = candidates.sort((p, q) => compare(p.order, q.order))[0];
    // Parts that do not hang together are the caller's mistake; they are left to it.
    if (!next) break;
    placed.add(next.part);
    taken.push({ part: next.part, glued: next.chains[0]! });
    closing.push(...next.chains.slice(1));
    const twin = partner?.[next.part];
    wanted = twin !== undefined && !placed.has(twin) ? twin : null;
  }
  return { taken, closing };
}

function compare(a: readonly number[], b: readonly number[]): number {
  for (const [i, x] of a.entries()) if (Math.abs(x - b[i]!) > 1e-9) return x - b[i]!;
  return 0;
}
