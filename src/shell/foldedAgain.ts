/**
 * A folded shell whose faces were given other shapes, folded anew from where it is: the lengths of the new faces, and
 * beside them the bends that the shell has now, so that it gives only where it must. Damped Gauss-Newton of the fold-up.
 */
import type { Point, Point3 } from '../math';
import type { Mm } from '../units';
import { descend } from './descend';
import { bendAngles, buildHinges } from './hinge';
import { buildSystem } from './system';
import { buildTopology } from './topology';

/** A face: its vertices, and its shape flat, seen from outside, mm. */
export interface ReshapedFace {
  readonly vertices: readonly number[];
  readonly flat: readonly Point[];
}

/**
 * What a radian of other bend counts against a millimetre of length: ten times more stretches panels by tenths of a
 * millimetre to spare a bend, ten times less lets parts far away swing about.
 */
const bendWorth: Mm = 0.3;
const mostSteps = 60;

/**
 * @param places where the vertices are now
 * @returns where they come to lie; neighbours that disagree about a shared side meet half way
 */
export function foldedAgain(faces: readonly ReshapedFace[], places: readonly Point3[]): Point3[] {
  const topology = buildTopology(places.length, faces);
  const hinges = buildHinges(topology);
  const start = Float64Array.from(places.flatMap((p) => [p.x, p.y, p.z]));
  const bends = Array.from(bendAngles(hinges, start), (bend, hinge) => ({
    ...{ hinge, bend, weight: bendWorth },
    as: 'known' as const,
  }));
  const system = buildSystem(topology, hinges, new Int8Array(hinges.count), null, { bends });
  const weights = { sign: 0, margin: 0, bend: 0, target: 0, prior: 0, huber: 1 };
  const { x } = descend(system, start, weights, mostSteps);
  return places.map((_, v) => ({ x: x[3 * v]!, y: x[3 * v + 1]!, z: x[3 * v + 2]! }));
}
