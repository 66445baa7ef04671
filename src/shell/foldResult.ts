import type { Unsure } from '../model';
import { off } from './anneal';
import type { BentFaces } from './bentFaces';
import { flexCount } from './flexCount';
import type { FoldInput } from './foldUp';
import { bendAngles, type Hinges } from './hinge';
import { freeMotions } from './softModes';
import type { System } from './system';
import { wrongSignBend } from './tolerance';
import { notSure, shapeUnsure } from './unsure';

/** What is handed on of a surface that was folded up. */
export interface FoldedUp {
  /** 3 numbers per vertex, mm. */
  readonly positions: Float64Array;
  /** Bend of each edge of the topology, NaN where open. */
  readonly bends: Float64Array;
  readonly hinges: Hinges;
  /** Lengths of edges and diagonals against flat, mm. */
  readonly residual: { readonly rms: number; readonly max: number };
  /** [cost / w²] at prior weight .01 over the same at .1: 1.00–1.08 at a clean minimum. */
  readonly rho: number;
  /** Folds that bend against their drawn sign by more than 0.03 rad. */
  readonly wrongSigns: number;
  /** Free motions, see `freeMotions`. */
  readonly flexes: number;
  /** How far the vertices may be from the shell that the pattern was made from, rms, mm; see `shapeUnsure`. */
  readonly unsure: Unsure;
  /** How far each edge is from its flat length, mm. */
  readonly offOfEdge: Float64Array;
  /** How far each face bends over virtual diagonals at most, rad; 0 where it stays flat. */
  readonly bendOfFace: Float64Array;
  /** Mirror partner of each vertex, its plane at x = 0; null without symmetry. */
  readonly mirror: Int32Array | null;
  /** Softest free motions, see `freeMotions`. */
  readonly softModes: readonly Float64Array[];
}

/** @param bent the faces as divided, where they were */
export function measure(
  system: System,
  x: Float64Array,
  rho: number,
  input: FoldInput,
  hinges: Hinges,
  bent: BentFaces | null,
): FoldedUp {
  const { topology, signOfEdge } = input;
  const theta = bendAngles(system.hinges, x);
  const bends = new Float64Array(topology.edges.length).fill(Number.NaN);
  const bendOfFace = new Float64Array(topology.faces.length);
  let wrongSigns = 0;
  for (let h = 0; h < system.hinges.count; h++) {
    const own = system.hinges.edgeOf[h]!;
    const edge = bent ? bent.drawnEdge[own]! : own;
    if (edge < 0) {
      const face = bent!.drawnFace[bent!.topology.edges[own]!.left]!;
      bendOfFace[face] = Math.max(bendOfFace[face]!, Math.abs(theta[h]!));
      continue;
    }
    bends[edge] = theta[h]!;
    if (signOfEdge[edge]! * theta[h]! < -wrongSignBend) wrongSigns++;
  }
  let sum = 0;
  let max = 0;
  const offOfEdge = new Float64Array(topology.edges.length);
  topology.edges.forEach((e, k) => {
    const a = e.a * 3;
    const b = e.b * 3;
    const r = Math.abs(Math.hypot(x[a]! - x[b]!, x[a + 1]! - x[b + 1]!, x[a + 2]! - x[b + 2]!) - e.length);
    offOfEdge[k] = r;
    sum += r * r;
    max = Math.max(max, r);
  });
  // What holds mild faces flat is a wish, not a length: it makes nothing surer.
  const loose = { ...system, mild: null };
  const count = flexCount(system.topology);
  const motions = input.rough ? { flexes: count, modes: [] } : freeMotions(loose, x, count);
  return {
    positions: x,
    bends,
    hinges,
    residual: { rms: Math.sqrt(sum / Math.max(1, topology.edges.length)), max },
    rho,
    wrongSigns,
    flexes: motions.flexes,
    unsure: input.rough ? notSure(x) : shapeUnsure(loose, x, motions.flexes, off.huber),
    offOfEdge,
    bendOfFace,
    mirror: system.mirror,
    softModes: motions.modes,
  };
}
