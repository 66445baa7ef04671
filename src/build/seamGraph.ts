/**
 * Panels and the stretches of seam between them. Corners of panels that come together in the shell are one place: seams
 * that share a place are glued in one go round the corner, seams that do not leave a gap between them.
 */
import type { FoamResult, FoamSeamRow, MarkedPanels, Seam, Seams } from '../model';
import { createUnion } from './union';

/** A stretch of one seam run between two panels; a = b: of one panel with itself. Panels by index. */
export interface Stretch {
  readonly number: number;
  readonly a: number;
  readonly b: number;
  readonly seams: readonly Seam[];
  readonly rows: readonly FoamSeamRow[];
  readonly length: number;
  /** Places at the ends of its seams. */
  readonly places: ReadonlySet<string>;
  readonly notches: number;
}

export interface SeamGraph {
  readonly count: number;
  readonly stretches: readonly Stretch[];
}

/** Reads the graph. A run that meets several pairs of panels is cut where the pair changes. */
export function seamGraph(foam: FoamResult, seams: Seams, marked: MarkedPanels | null): SeamGraph {
  const panelOf = new Map(foam.panels.flatMap((p, i) => p.loops.flat().map((e) => [e.id, i] as const)));
  const places = createUnion<string>();
  for (const loop of foam.panels.flatMap((p) => p.loops))
    loop.forEach((edge, i) => {
      places.join(`${edge.id} end`, `${loop[(i + 1) % loop.length]!.id} start`);
    });
  for (const seam of seams.seams) {
    const [a0, a1] = endsOf(seam.a.edge, seam.partA);
    const [b0, b1] = endsOf(seam.b.edge, seam.partB);
    places.join(a0, seam.direction === 'opposed' ? b1 : b0);
    places.join(a1, seam.direction === 'opposed' ? b0 : b1);
  }
  const byId = new Map(seams.seams.map((s) => [s.id, s] as const));
  const rowOf = new Map(foam.rows.map((r) => [r.seam, r] as const));
  const notchesOn = new Map<string, number>();
  for (const notch of marked?.panels.flatMap((p) => p.notches) ?? [])
    notchesOn.set(notch.seam, (notchesOn.get(notch.seam) ?? 0) + 0.5);
  const stretches: Stretch[] = [];
  for (const run of seams.runs) {
    let part: Seam[] = [];
    let pair = '';
    const close = () => {
      const first = part[0];
      if (!first) return;
      stretches.push({
        number: run.number,
        a: panelOf.get(first.a.edge)!,
        b: panelOf.get(first.b.edge)!,
        seams: part,
        rows: part.flatMap((s) => rowOf.get(s.id) ?? []),
        length: part.reduce((sum, s) => sum + lengthOf(s, rowOf), 0),
        places: new Set(part.flatMap((s) => endsOf(s.a.edge, s.partA)).map((end) => places.find(end))),
        notches: part.reduce((sum, s) => sum + (notchesOn.get(s.id) ?? 0), 0),
      });
    };
    for (const id of run.seams) {
      const seam = byId.get(id);
      const [a, b] = seam ? [panelOf.get(seam.a.edge), panelOf.get(seam.b.edge)] : [];
      // A seam whose edge is on no panel can't be glued.
      if (!seam || a === undefined || b === undefined) continue;
      if (`${a} ${b}` !== pair) {
        close();
        part = [];
        pair = `${a} ${b}`;
      }
      part.push(seam);
    }
    close();
  }
  return { count: foam.panels.length, stretches };
}

const lengthOf = (seam: Seam, rows: ReadonlyMap<string, FoamSeamRow>): number => {
  const row = rows.get(seam.id);
  return row ? (row.lengthA + row.lengthB) / 2 : (seam.lengthA + seam.lengthB) / 2;
};

/** Names of a glued stretch's ends; a part of an edge has ends of its own, but for one that starts with the edge. */
function endsOf(edge: string, part: readonly [number, number] | undefined): [string, string] {
  if (!part) return [`${edge} start`, `${edge} end`];
  const at = (s: number) => (s < 1e-6 ? `${edge} start` : `${edge} @${s.toFixed(3)}`);
  return [at(part[0]), at(part[1])];
}

/** Stretches that hang together by shared places, longest chain first. */
export function chainsOf(stretches: readonly Stretch[]): Stretch[][] {
  const left = new Set(stretches);
  const chains: Stretch[][] = [];
  for (const first of stretches) {
    if (!left.delete(first)) continue;
    const chain = [first];
    for (const s of chain)
      for (const other of left)
        if ([...other.places].some((p) => s.places.has(p))) {
          left.delete(other);
          chain.push(other);
        }
    chains.push(chain);
  }
  return chains.sort((p, q) => lengthSum(q) - lengthSum(p));
}

export const lengthSum = (stretches: readonly Stretch[]): number =>
  stretches.reduce((sum, s) => sum + s.length, 0);
