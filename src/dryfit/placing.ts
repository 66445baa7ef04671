/**
 * A flat panel bent up and put at its place. Each face is rigid and hinged to its neighbours along the folds on the layer
 * that keeps its length, bent by as much as the shell is; the whole is then laid on the shell by the rigid motion that
 * fits its corners best. Where it comes to lie depends on the flat panel and the bends, not on the vectors that moved
 * its outline.
 */
import {
  add,
  add3,
  cross3,
  dot3,
  type Point,
  type Point3,
  point,
  point3,
  scaleBy,
  scaleBy3,
  subtract,
  subtract3,
  unitOf3,
} from '../math';
import type { BendModel, PanelBody, ShellPatch } from '../model';
import { faceNormals, offsetPlaces } from '../shell';
import type { Mm } from '../units';
import { type HingedFace, hingedFit, hingesApart } from './hingedFit';
import { type Pose, poseOf } from './pose';
import { rigidFit } from './rigidFit';
import { ringMisfit } from './tolerance';

/** The shell that panels are put on: its paper's surface at the final size. */
export interface DryFitSurface {
  readonly patches: readonly ShellPatch[];
  readonly places: readonly Point3[];
  readonly vectors: readonly Point3[];
}

export interface PlacedFace {
  readonly patch: number;
  readonly ring: readonly number[];
  /** On the layer that keeps its length, without the moves of the outline. */
  readonly corners: readonly Point3[];
  /** The flat axes, and the normal, in space. */
  readonly x: Point3;
  readonly y: Point3;
  readonly normal: Point3;
}

export interface PlacedPanel {
  readonly id: string;
  readonly body: PanelBody;
  readonly faces: readonly PlacedFace[];
  /** Height of the layer that keeps its length above the designed neutral layer. */
  readonly layer: Mm;
  /** By corner of the panel: where it stands at the mitre of its faces, one unit of height there, and those faces. */
  readonly nodes: readonly {
    readonly at: Point3;
    readonly mitre: Point3;
    readonly faces: readonly number[];
  }[];
}

/**
 * @param layer height of the layer that really keeps its length above the one that the panel was made with, in the
 * panel's own heights; 0 for foam that bends as reckoned with
 */
export function placePanel(
  id: string,
  body: PanelBody,
  surface: DryFitSurface,
  layer: (body: PanelBody) => Mm = () => 0,
): PlacedPanel {
  const height = layer(body);
  const [made, goal] = [body.depth, body.depth + height].map((depth) =>
    offsetPlaces(surface.places, surface.vectors, depth),
  ) as [Point3[], Point3[]];
  const parts = body.faces.map(
    ({ patch, ring }): HingedFace => ({
      ring,
      flat: ring.map((node) => body.corners[node]!),
      goal: surface.patches[patch]!.vertices.map((v) => made[v]!),
    }),
  );
  const bent = foldFaces(body, surface, goal);
  const apart = hingesApart(parts, bent, body.corners.length);
  const poses = apart > ringMisfit ? hingedFit(parts, body.corners.length) : bent;
  const from: Point3[] = [];
  const to: Point3[] = [];
  body.faces.forEach(({ patch, ring }, f) => {
    ring.forEach((node, i) => {
      // Where the cut of a square edge was moved to does not matter here, only how it goes with the height.
      const moved = subtract(moveAt(body, node, height), moveAt(body, node, 0));
      from.push(poses[f]!.put(add(body.corners[node]!, moved)));
      to.push(goal[surface.patches[patch]!.vertices[i]!]!);
    });
  });
  const { turn, move } = rigidFit(from, to);
  const faces = body.faces.map(({ patch, ring }, f): PlacedFace => {
    const { x, y, normal, put } = poses[f]!;
    return {
      patch,
      ring,
      corners: ring.map((node) => move(put(body.corners[node]!))),
      x: turn(x),
      y: turn(y),
      normal: turn(normal),
    };
  });
  return { id, body, faces, layer: height, nodes: nodesOf(body, faces) };
}

/**
 * The paper's own faces at their places, cut square from foam: what is left without any allowance for its thickness.
 * @param heights of the skins above the paper's surface
 */
export function placePaper(
  id: string,
  { faces, corners, outline, folds }: PanelBody,
  surface: DryFitSurface,
  heights: PanelBody['heights'],
): PlacedPanel {
  const still = corners.map(() => ({ inside: point(0, 0), outside: point(0, 0) }));
  const body: PanelBody = { faces, corners, outline, folds, heights, depth: 0, moves: still };
  const normals = faceNormals({
    vertices: surface.places,
    faces: faces.map(({ patch }) => surface.patches[patch]!),
  });
  const placed = faces.map(({ patch, ring }, f): PlacedFace => {
    const at = surface.patches[patch]!.vertices.map((v) => surface.places[v]!);
    const normal = normals[f]!;
    const side = subtract3(at[1]!, at[0]!);
    const x = unitOf3(subtract3(side, scaleBy3(normal, dot3(side, normal))));
    return { patch, ring, corners: at, x, y: cross3(normal, x), normal };
  });
  return { id, body, faces: placed, layer: 0, nodes: nodesOf(body, placed) };
}

/** By how much a corner of the panel lies elsewhere at a height than on the neutral layer: cut faces are ruled. */
export function moveAt({ heights, moves }: PanelBody, node: number, height: Mm): Point {
  const { inside, outside } = moves[node]!;
  const part = (height - heights.inside) / (heights.outside - heights.inside);
  return add(inside, scaleBy(subtract(outside, inside), part));
}

/** The corner of a face at a height above the designed neutral layer, as the foam is bent. */
export function cornerAt(
  panel: PlacedPanel,
  f: number,
  corner: number,
  height: Mm,
  model: BendModel,
): Point3 {
  const face = panel.faces[f]!;
  const node = face.ring[corner % face.ring.length]!;
  const d = moveAt(panel.body, node, height);
  const up = height - panel.layer;
  if (model === 'rigid')
    return add3(
      add3(face.corners[corner % face.ring.length]!, scaleBy3(face.normal, up)),
      add3(scaleBy3(face.x, d.x), scaleBy3(face.y, d.y)),
    );
  const { at, mitre, faces } = panel.nodes[node]!;
  let slid = point3(0, 0, 0);
  for (const k of faces) {
    const { x, y } = panel.faces[k]!;
    slid = add3(slid, add3(scaleBy3(x, d.x), scaleBy3(y, d.y)));
  }
  return add3(add3(at, scaleBy3(mitre, up)), scaleBy3(slid, 1 / faces.length));
}

function nodesOf(body: PanelBody, faces: readonly PlacedFace[]): PlacedPanel['nodes'] {
  const at = body.corners.map(() => ({
    sum: point3(0, 0, 0),
    normals: point3(0, 0, 0),
    faces: [] as number[],
  }));
  faces.forEach(({ ring, corners, normal }, f) => {
    ring.forEach((node, i) => {
      const so = at[node]!;
      so.sum = add3(so.sum, corners[i]!);
      so.normals = add3(so.normals, normal);
      so.faces.push(f);
    });
  });
  return at.map(({ sum, normals, faces: round }) => {
    const rise = round.reduce((s, f) => s + dot3(normals, faces[f]!.normal), 0) / round.length;
    return {
      at: scaleBy3(sum, 1 / Math.max(1, round.length)),
      mitre: rise > 0 ? scaleBy3(normals, 1 / rise) : normals,
      faces: round,
    };
  });
}

/** Face by face from the first, breadth first, each turned about the fold that it was reached across. */
function foldFaces(body: PanelBody, surface: DryFitSurface, goal: readonly Point3[]): Pose[] {
  const { faces } = body;
  const patches = faces.map(({ patch }) => surface.patches[patch]!);
  const normals = faceNormals({ vertices: goal, faces: patches });
  const sideAt = new Map<string, number>();
  faces.forEach(({ ring }, f) => {
    ring.forEach((node, i) => void sideAt.set(`${node} ${ring[(i + 1) % ring.length]!}`, f));
  });
  const poses: (Pose | null)[] = faces.map(() => null);
  faces.forEach((_, root) => {
    if (poses[root]) return;
    poses[root] = poseOf(point3(1, 0, 0), point3(0, 1, 0), point3(0, 0, 0));
    const queue = [root];
    for (const f of queue) {
      const pose = poses[f]!;
      const { ring } = faces[f]!;
      ring.forEach((node, i) => {
        const next = ring[(i + 1) % ring.length]!;
        const g = sideAt.get(`${next} ${node}`);
        if (g === undefined || poses[g]) return;
        const vertices = patches[f]!.vertices;
        const edge = unitOf3(subtract3(goal[vertices[(i + 1) % ring.length]!]!, goal[vertices[i]!]!));
        const bend = Math.atan2(dot3(cross3(normals[f]!, normals[g]!), edge), dot3(normals[f]!, normals[g]!));
        const a = pose.put(body.corners[node]!);
        const axis = unitOf3(subtract3(pose.put(body.corners[next]!), a));
        const spin = (p: Point3): Point3 =>
          add3(
            add3(scaleBy3(p, Math.cos(bend)), scaleBy3(cross3(axis, p), Math.sin(bend))),
            scaleBy3(axis, dot3(axis, p) * (1 - Math.cos(bend))),
          );
        const origin = add3(a, spin(subtract3(pose.put(point(0, 0)), a)));
        poses[g] = poseOf(spin(pose.x), spin(pose.y), origin);
        queue.push(g);
      });
    }
  });
  return poses.map((p) => p!);
}
