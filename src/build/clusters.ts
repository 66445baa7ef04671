/**
 * Sub-assemblies: groups of panels that hang together by much seam and are small enough to turn in the hands. On a
 * mirror-symmetric shell a group is its own mirror image, or has another group as that.
 */
import { lengthSum, type SeamGraph } from './seamGraph';

/** Up to so many panels there is nothing to group. */
const fewPanels = 6;
/** A group is never larger. */
const largestGroup = 8;

/** @param partner each panel's mirror image, itself in the middle; null without symmetry. */
export function clustersOf(graph: SeamGraph, partner: readonly number[] | null): number[][] {
  const single = Array.from({ length: graph.count }, (_, i) => [i]);
  if (graph.count <= fewPanels) return componentsOf(graph);
  const limit = Math.min(largestGroup, Math.max(3, Math.round(1.2 * Math.sqrt(graph.count))));
  const image = (group: readonly number[]) => sorted(group.map((p) => partner?.[p] ?? p));
  let groups: number[][] = single;
  for (;;) {
    const groupOf = new Map(groups.flatMap((g, i) => g.map((p) => [p, i] as const)));
    const shared = new Map<string, number>();
    const total = groups.map(() => 0);
    for (const s of graph.stretches) {
      const [i, k] = [groupOf.get(s.a)!, groupOf.get(s.b)!].sort((x, y) => x - y) as [number, number];
      if (i === k) continue;
      shared.set(`${i} ${k}`, (shared.get(`${i} ${k}`) ?? 0) + s.length);
      total[i] = total[i]! + s.length;
      total[k] = total[k]! + s.length;
    }
    let best: { made: number[]; score: number } | null = null;
    for (const [key, length] of shared) {
      const [i, k] = key.split(' ').map(Number) as [number, number];
      let made = sorted([...groups[i]!, ...groups[k]!]);
      const mirrored = image(made);
      // Half of a pair would be left over: then both halves go in.
      if (partner && !same(made, mirrored) && made.some((p) => mirrored.includes(p)))
        made = sorted([...new Set([...made, ...mirrored])]);
      if (made.length > limit) continue;
      const score = length / Math.max(1e-9, Math.min(total[i]!, total[k]!));
      if (best === null || score > best.score + 1e-9) best = { made, score };
    }
    if (best === null) return groups;
    const { made } = best;
    const twin = partner ? image(made) : made;
    const gone = new Set([...made, ...twin]);
    const kept = groups.filter((g) => !g.some((p) => gone.has(p)));
    groups = [...kept, made, ...(same(made, twin) ? [] : [twin])].sort((p, q) => p[0]! - q[0]!);
  }
}

/** Panels that hang together by seams at all. */
export function componentsOf(graph: SeamGraph): number[][] {
  const left = new Set(Array.from({ length: graph.count }, (_, i) => i));
  const found: number[][] = [];
  for (const first of [...left]) {
    if (!left.delete(first)) continue;
    const group = [first];
    for (const p of group)
      for (const s of graph.stretches) {
        const other = s.a === p ? s.b : s.b === p ? s.a : p;
        if (left.delete(other)) group.push(other);
      }
    found.push(sorted(group));
  }
  return found;
}

const sorted = (group: readonly number[]): number[] => [...group].sort((a, b) => a - b);
const same = (a: readonly number[], b: readonly number[]) =>
  a.length === b.length && a.every((p, i) => p === b[i]);

/** Length of all seams of a group with others and within. */
export const seamLengthOf = (graph: SeamGraph, group: readonly number[]): number =>
  lengthSum(graph.stretches.filter((s) => group.includes(s.a) || group.includes(s.b)));
