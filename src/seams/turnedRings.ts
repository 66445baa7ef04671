/**
 * Rings that fit turned by half a turn: a closed line of seams whose lengths repeat after half of it. What lies inside
 * the ring could as well be glued in turned round, and neither lengths nor closing corners tell which way is right.
 */

import type { Mm } from '../units';
import type { GluedOutlines } from './gluedOutlines';
import { endAngle } from './halfEdges';
import { fewestRingSeams, longestRing, mostTurnedDefect, ringSteps } from './matchTolerance';

/** The seams of a ring in order, each from the inner side, and what each inner side would meet turned round. */
export interface TurnedRing {
  readonly now: readonly (readonly [number, number])[];
  readonly turned: readonly (readonly [number, number])[];
}

/** A way on along a line of seams: the next inner edge, and the angle inside and outside at the corner between. */
interface WayOn {
  readonly edge: number;
  readonly inside: number;
  readonly outside: number;
}

/**
 * The longest such ring, or null.
 * @param reach most difference in length, mm
 * @param mayTurn false for edges whose seam is of stronger evidence
 */
export function turnedRing(
  glued: GluedOutlines,
  reach: Mm,
  mayTurn: (edge: number) => boolean,
): TurnedRing | null {
  const { half, mate } = glued;
  const same = (a: number, b: number) => Math.abs(half.length[a]! - half.length[b]!) <= reach;
  const ways = Array.from({ length: half.count }, (_, e) => (mayTurn(e) ? waysOn(glued, e) : []));
  const byLength = Array.from({ length: half.count }, (_, e) => e)
    .filter((e) => ways[e]!.length > 0)
    .sort((a, b) => half.length[a]! - half.length[b]! || a - b);
  let steps = 0;
  let best: [number, number][] | null = null;
  const used = new Uint8Array(half.count);

  /** Walks on from both edges at once, until each has come to where the other began. */
  const walk = (path: [number, number][]): void => {
    const [x, y] = path[path.length - 1]!;
    const [x0, y0] = path[0]!;
    for (const p of ways[x]!)
      for (const q of ways[y]!) {
        if (++steps > ringSteps || path.length > longestRing) return;
        const fits = (sum: number) => Math.abs(sum - 2 * Math.PI) <= mostTurnedDefect;
        if (!fits(p.inside + q.outside) || !fits(q.inside + p.outside)) continue;
        if (p.edge === y0 && q.edge === x0) {
          if (2 * path.length >= fewestRingSeams && path.length > (best?.length ?? 0)) best = [...path];
          continue;
        }
        if (p.edge === q.edge || mate[p.edge] === q.edge || !same(p.edge, q.edge)) continue;
        if (used[p.edge] || used[q.edge] || used[mate[p.edge]!] || used[mate[q.edge]!]) continue;
        for (const e of [p.edge, q.edge]) used[e] = 1;
        path.push([p.edge, q.edge]);
        walk(path);
        path.pop();
        for (const e of [p.edge, q.edge]) used[e] = 0;
      }
  };
  byLength.forEach((x, i) => {
    for (let k = i + 1; k < byLength.length && same(x, byLength[k]!); k++) {
      const y = byLength[k]!;
      if (mate[x] === y || steps > ringSteps) continue;
      used[x] = 1;
      used[y] = 1;
      walk([[x, y]]);
      used[x] = 0;
      used[y] = 0;
    }
  });
  if (!best) return null;
  const pairs: [number, number][] = best;
  return {
    now: pairs.flatMap(([x, y]): [number, number][] => [
      [x, mate[x]!],
      [y, mate[y]!],
    ]),
    turned: pairs.flatMap(([x, y]): [number, number][] => [
      [x, mate[y]!],
      [y, mate[x]!],
    ]),
  };
}

/** Ways on from the end of a glued edge with its own side as the inner one; none at the rim of an opening. */
function waysOn({ half, mate }: GluedOutlines, edge: number): WayOn[] {
  if (mate[edge]! < 0) return [];
  const found: { edge: number; inside: number }[] = [];
  let angle = endAngle(half, edge);
  let out = half.next[edge]!;
  while (out !== mate[edge]) {
    if (mate[out]! < 0 || found.length > half.count) return [];
    found.push({ edge: out, inside: angle });
    angle += endAngle(half, mate[out]!);
    out = half.next[mate[out]!]!;
  }
  return found.map((f) => ({ ...f, outside: angle - f.inside }));
}
