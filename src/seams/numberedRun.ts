/**
 * Some patterns print one number for a whole run of edges, beside any edge of it. The run is found by laying the two
 * outlines against each other: edges in reverse order have the same lengths, and where two mates follow two mates the
 * outlines turn opposite ways (together the corners there make about a full turn). Lengths alone are not enough: past
 * the end of a seam between mirror-image pieces the open edges are equally long too, but both outlines turn inwards.
 */
import { cross, dot, type Point, subtract } from '../math';
import type { Rad } from '../units';
import type { EdgePlace, EdgeTable } from './edgeTable';
import { areSame } from './lengths';
import { openCorner, openEnd } from './tolerance';

/**
 * One way to lay the outlines against each other: mates in order along the outline of the first edge. Those from one
 * numbered edge to the other are `sure` to belong to the run if this is the way; beyond them it may have ended.
 */
export type Alignment = readonly { readonly a: string; readonly b: string; readonly sure: boolean }[];

/**
 * All ways in which a run holds both edges, each grown as far as lengths and corners allow over edges that `isPart`
 * lets belong to it.
 */
export function alignmentsOf(
  a: EdgePlace,
  b: EdgePlace,
  edges: EdgeTable,
  isPart: (edge: string) => boolean,
): Alignment[] {
  const found: Alignment[] = [];
  for (const start of stretchRound(b, edges, isPart)) {
    if (start === a || !areSame(a.length, start.length)) continue;
    const run: [EdgePlace, EdgePlace][] = [[a, start]];
    const used = new Set([a.id, start.id]);
    /** How far the corner before each edge, seen from edge a, is from closing. */
    const openness = new Map<EdgePlace, Rad>();
    const grow = (step: 1 | -1) => {
      for (;;) {
        const [p, q] = step === 1 ? run[run.length - 1]! : run[0]!;
        const nextP = edges.neighbour(p.id, step);
        const nextQ = edges.neighbour(q.id, step === 1 ? -1 : 1);
        if (!isPart(nextP.id) && nextP !== a) return;
        if (!isPart(nextQ.id) && nextQ !== b) return;
        // On a dart both sides lie on one outline; an edge has one mate only.
        if (nextP === nextQ || used.has(nextP.id) || used.has(nextQ.id)) return;
        if (!areSame(nextP.length, nextQ.length)) return;
        const turns =
          step === 1
            ? turnBetween(p, nextP) + turnBetween(nextQ, q)
            : turnBetween(nextP, p) + turnBetween(q, nextQ);
        if (Math.abs(turns) > openCorner) return;
        openness.set(nextP, Math.abs(turns));
        used.add(nextP.id).add(nextQ.id);
        if (step === 1) run.push([nextP, nextQ]);
        else run.unshift([nextP, nextQ]);
      }
    };
    grow(1);
    grow(-1);
    const atA = run.findIndex(([p]) => p === a);
    const atB = run.findIndex(([, q]) => q === b);
    if (atB < 0) continue;
    const sure = [Math.min(atA, atB), Math.max(atA, atB)] as const;
    let [from, to] = sure;
    const closes = (i: number) => i >= 0 && i < run.length && openness.get(run[i]![0])! < openEnd;
    while (closes(from - 1)) from--;
    while (closes(to + 1)) to++;
    found.push(
      run.map(([p, q], i) => ({ a: p.id, b: q.id, sure: i >= sure[0] && i <= sure[1] })).slice(from, to + 1),
    );
  }
  return found;
}

/** The edge and its neighbours on either side as far as they may belong to its run. */
function stretchRound(start: EdgePlace, edges: EdgeTable, isPart: (edge: string) => boolean): EdgePlace[] {
  const found = new Set([start]);
  for (const step of [1, -1] as const) {
    let at = edges.neighbour(start.id, step);
    while (isPart(at.id) && !found.has(at)) {
      found.add(at);
      at = edges.neighbour(at.id, step);
    }
  }
  return [...found];
}

/** Turn of the outline from the end of one edge into the next, + to the left. */
export function turnBetween(from: EdgePlace, to: EdgePlace): Rad {
  const p = from.edge.points;
  const q = to.edge.points;
  const into: Point = subtract(p[p.length - 1]!, p[p.length - 2]!);
  const out: Point = subtract(q[1]!, q[0]!);
  return Math.atan2(cross(into, out), dot(into, out));
}
