/**
 * Where the faces of a panel come to lie whose folds close rings. Such a panel is laid flat with a small misfit that the
 * foam takes up (`settleFlat` of the foam stage), so its stiff faces, bent fold after fold exactly as the shell is, do
 * not close again: a tenth of a millimetre inside becomes two at the far end of a panel. Folds of real foam are bent by
 * the panels around it. So here faces stay stiff and hinged, and folds give: every face is laid on the shell by itself,
 * then faces are brought together at their hinges in turns (each hinge corner to the mean of its faces, each face to its
 * corners), which moves them as little as it can.
 */
import { add3, distance3, type Point, type Point3, point3, scaleBy3 } from '../math';
import type { Mm } from '../units';
import { type Pose, poseOf } from './pose';
import { rigidFit } from './rigidFit';
import { hingeRounds, hingeSlack } from './tolerance';

export interface HingedFace {
  /** Corners of the panel. */
  readonly ring: readonly number[];
  /** Where they lie flat. */
  readonly flat: readonly Point[];
  /** Where the shell has them, on the layer that the panel was made for. */
  readonly goal: readonly Point3[];
}

/**
 * @param corners of the panel, how many
 * @returns by face, where it lies; faces that `hingeRounds` turns do not bring together stay apart, and gape as they lie
 */
export function hingedFit(faces: readonly HingedFace[], corners: number): Pose[] {
  let poses = faces.map(({ flat, goal }) => layFlat(flat, goal));
  for (let round = 0; round < hingeRounds; round++) {
    const nodes = nodesOf(faces, poses, corners);
    if (farthest(faces, poses, nodes) < hingeSlack) break;
    poses = faces.map(({ ring, flat }) =>
      layFlat(
        flat,
        ring.map((node) => nodes[node]!),
      ),
    );
  }
  return poses;
}

/** The largest distance of a corner of a face from the mean of all that are the same corner of the panel. */
export function hingesApart(
  faces: readonly Pick<HingedFace, 'ring' | 'flat'>[],
  poses: readonly Pose[],
  corners: number,
): Mm {
  return farthest(faces, poses, nodesOf(faces, poses, corners));
}

function layFlat(flat: readonly Point[], goal: readonly Point3[]): Pose {
  const { turn, move } = rigidFit(
    flat.map(({ x, y }) => point3(x, y, 0)),
    goal,
  );
  return poseOf(turn(point3(1, 0, 0)), turn(point3(0, 1, 0)), move(point3(0, 0, 0)));
}

type Ringed = Pick<HingedFace, 'ring' | 'flat'>;

function nodesOf(faces: readonly Ringed[], poses: readonly Pose[], corners: number): Point3[] {
  const sums = Array.from({ length: corners }, () => ({ at: point3(0, 0, 0), count: 0 }));
  faces.forEach(({ ring, flat }, f) => {
    ring.forEach((node, i) => {
      const so = sums[node]!;
      so.at = add3(so.at, poses[f]!.put(flat[i]!));
      so.count++;
    });
  });
  return sums.map(({ at, count }) => scaleBy3(at, 1 / Math.max(1, count)));
}

const farthest = (faces: readonly Ringed[], poses: readonly Pose[], nodes: readonly Point3[]): Mm =>
  faces.reduce(
    (most, { ring, flat }, f) =>
      ring.reduce((m, node, i) => Math.max(m, distance3(nodes[node]!, poses[f]!.put(flat[i]!))), most),
    0,
  );
