/**
 * Faces that may bend slightly, where they cannot all be flat: drawings leave mild folds out.
 */
import { type Annealed, annealHalf, annealRest, off } from './anneal';
import { evaluate } from './evaluate';
import type { FoldInput } from './foldUp';
import { edgesOff, isShut } from './strain';
import { bendsAreMild, type Surface, surfaceWithBentFaces, systemOf } from './surface';
import type { System } from './system';
import { doubtfulRho } from './tolerance';

/**
 * Where flat faces leave edges off their length by more than this (rms, mm), the drawing may have left mild folds out:
 * exact drawings stay under 1e-4, drawings with 0.02 mm of noise under 2e-3.
 */
const facesTooStiff = 2e-3;
/** Bent faces are believed when edges fit so many times better with them. */
const worthBending = 2;
/**
 * Where they fit no better than this part half way, they will not: the noise of a drawing strains edges, not faces
 * (0.92–1.01 there; folds left out under 0.1, own family).
 */
const noGain = 0.8;

/** A surface that was folded with its faces flat. */
export interface FlatFaced {
  readonly input: FoldInput;
  readonly signOfEdge: Int8Array;
  readonly mirror: Int32Array | null;
  readonly system: System;
}

/** The shell with bent faces, from the one with flat ones; null unless that makes them fit. */
export function withBentFaces(
  { input, signOfEdge, mirror, system }: FlatFaced,
  best: Annealed,
): { readonly best: Annealed; readonly surface: Surface; readonly system: System } | null {
  const strain = Math.sqrt((2 * evaluate(system, best.x, off)) / input.topology.edges.length);
  const tooStiff = strain > facesTooStiff || (best.rho > doubtfulRho && strain > facesTooStiff / 4);
  if (system.planar.length === 0 || !tooStiff) return null;
  const bent = surfaceWithBentFaces(input, signOfEdge, mirror);
  const soft = systemOf(bent, input, mirror, { smooth: true });
  const before = edgesOff(system, best.x);
  const half = annealHalf(soft, best.x, [[0.1, 2, 0]]);
  if (edgesOff(soft, half.x) > before * noGain) return null;
  const relaxed = annealRest(soft, half);
  const better = edgesOff(soft, relaxed.x) * worthBending < before;
  if (!better || !bendsAreMild(bent, relaxed.x) || isShut(soft, relaxed.x)) return null;
  return { best: relaxed, surface: bent, system: soft };
}
