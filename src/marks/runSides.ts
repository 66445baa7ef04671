/**
 * Which stretches of a panel's outline belong to which printed seam: consecutive edges of one loop that lie on the
 * same side of the same run. Also the edge pairs of each run, with where both sides have their common start.
 */
import { type Point, polylineLength } from '../math';
import type { Panel, PanelEdge, Seam, Seams } from '../model';
import type { Mm } from '../units';

/** One edge of a run as it lies on its panel. */
export interface SideEdge {
  readonly edge: PanelEdge;
  readonly seam: Seam;
  /** The edge's points from the corner that both sides of the seam share as start. */
  readonly fromStart: readonly Point[];
  readonly length: Mm;
}

/** What a maker sees as one edge to glue: consecutive edges of one side of one run, in outline order. */
export interface RunSide {
  readonly run: string;
  readonly number: number;
  readonly side: 'a' | 'b';
  readonly panel: string;
  readonly loop: number;
  readonly edges: readonly SideEdge[];
  /** The whole stretch in outline direction. */
  readonly points: readonly Point[];
  readonly length: Mm;
}

/** The two edges of one seam; a side is missing when its edge vanished or its piece gave no panel. */
export interface EdgePair {
  readonly seam: Seam;
  readonly a: (SideEdge & { readonly panel: string }) | null;
  readonly b: (SideEdge & { readonly panel: string }) | null;
}

export interface RunPairs {
  readonly run: string;
  readonly number: number;
  readonly pairs: readonly EdgePair[];
}

interface Belonging {
  readonly seam: Seam;
  readonly run: string;
  readonly number: number;
}

/** Seams by id with their run; a seam that no run names stands as a run of its own under its own number. */
function belongings(seams: Seams): Map<string, Belonging> {
  const byId = new Map(seams.seams.map((s) => [s.id, s]));
  const found = new Map<string, Belonging>();
  for (const run of seams.runs) {
    for (const id of run.seams) {
      const seam = byId.get(id);
      if (seam) found.set(id, { seam, run: run.id, number: run.number });
    }
  }
  for (const seam of seams.seams) {
    if (!found.has(seam.id)) found.set(seam.id, { seam, run: seam.id, number: seam.number });
  }
  return found;
}

function sideEdge(edge: PanelEdge, seam: Seam, side: 'a' | 'b'): SideEdge {
  const backwards = side === 'b' && seam.direction === 'opposed';
  return {
    edge,
    seam,
    fromStart: backwards ? [...edge.points].reverse() : edge.points,
    length: polylineLength(edge.points),
  };
}

/** The run sides of every panel, in order of panels, loops and edges. */
export function findRunSides(panels: readonly Panel[], seams: Seams): RunSide[] {
  const known = belongings(seams);
  const sides: RunSide[] = [];
  for (const panel of panels) {
    panel.loops.forEach((loop, loopIndex) => {
      const keys = loop.map((edge) => {
        const of = edge.seam === null ? undefined : known.get(edge.seam);
        if (!of || edge.points.length < 2) return null;
        const side: 'a' | 'b' = of.seam.a.edge === edge.id ? 'a' : 'b';
        return { of, side, key: `${of.run} ${side}` };
      });
      for (const stretch of stretches(keys.map((k) => k?.key ?? null))) {
        const first = keys[stretch[0]!]!;
        const edges = stretch.map((i) => sideEdge(loop[i]!, keys[i]!.of.seam, first.side));
        const points = chain(edges.map((e) => e.edge.points));
        sides.push({
          run: first.of.run,
          number: first.of.number,
          side: first.side,
          panel: panel.id,
          loop: loopIndex,
          edges,
          points,
          length: polylineLength(points),
        });
      }
    });
  }
  return sides;
}

/** Groups of equal consecutive keys round a ring (null: no group); a group across the ring's start is one. */
function stretches(keys: readonly (string | null)[]): number[][] {
  const n = keys.length;
  let start = 0;
  if (n > 1 && keys[0] !== null && keys[0] === keys[n - 1] && keys.some((k) => k !== keys[0])) {
    start = n - 1;
    while (keys[start - 1] === keys[0]) start--;
  }
  const groups: number[][] = [];
  let previous: string | null = null;
  for (let step = 0; step < n; step++) {
    const i = (start + step) % n;
    const key = keys[i] ?? null;
    if (key !== null) {
      if (key === previous) groups.at(-1)!.push(i);
      else groups.push([i]);
    }
    previous = key;
  }
  return groups;
}

function chain(parts: readonly (readonly Point[])[]): Point[] {
  const points: Point[] = [];
  for (const part of parts) {
    const last = points.at(-1);
    const first = part[0];
    const joined = last && first && Math.hypot(last.x - first.x, last.y - first.y) === 0;
    points.push(...(joined ? part.slice(1) : part));
  }
  return points;
}

/** The edge pairs of every run, in the order of the runs and along side a. */
export function findRunPairs(panels: readonly Panel[], seams: Seams): RunPairs[] {
  const edges = new Map<string, { edge: PanelEdge; panel: string }>();
  for (const panel of panels) {
    for (const edge of panel.loops.flat()) {
      if (edge.points.length >= 2) edges.set(edge.id, { edge, panel: panel.id });
    }
  }
  const runs = new Map<string, { run: string; number: number; pairs: EdgePair[] }>();
  for (const { seam, run, number } of belongings(seams).values()) {
    const on = (side: 'a' | 'b') => {
      const found = edges.get(seam[side].edge);
      return found ? { ...sideEdge(found.edge, seam, side), panel: found.panel } : null;
    };
    const entry = runs.get(run) ?? { run, number, pairs: [] };
    entry.pairs.push({ seam, a: on('a'), b: on('b') });
    runs.set(run, entry);
  }
  return [...runs.values()];
}
