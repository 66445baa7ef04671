/** Faces of the shell on their mean planes, and how they lie there once their panel is flat. */
import {
  add,
  cross,
  cross3,
  dot,
  dot3,
  type Point,
  type Point3,
  point,
  rotate,
  scaleBy,
  scaleBy3,
  subtract,
  subtract3,
  unitOf3,
} from '../math';
import { faceNormals } from '../shell';
import type { FoamNet } from './surface';

/** A face on its mean plane: its own flat corners, and the axes of that frame in space. */
export interface FaceFrame {
  readonly local: readonly Point[];
  readonly along: Point3;
  readonly up: Point3;
  readonly normal: Point3;
}

export function framesOf(net: FoamNet, faces: readonly number[], places: readonly Point3[]): FaceFrame[] {
  const normals = faceNormals({ vertices: places, faces: faces.map((f) => net.patches[f]!) });
  return faces.map((f, k) => {
    const { vertices } = net.patches[f]!;
    const o = places[vertices[0]!]!;
    const normal = normals[k]!;
    const side = subtract3(places[vertices[1]!]!, o);
    const along = unitOf3(subtract3(side, scaleBy3(normal, dot3(side, normal))));
    const up = cross3(normal, along);
    const local = vertices.map((v) => {
      const d = subtract3(places[v]!, o);
      return point(dot3(d, along), dot3(d, up));
    });
    return { local, along, up, normal };
  });
}

/** The flat axes of a face in space, from its frame and from how its ring lies flat. */
export function flatAxes(frame: FaceFrame, ring: readonly Point[], over: boolean): { x: Point3; y: Point3 } {
  const { angle } = flatTurn(frame, ring, over);
  const x = inFrame(frame, point(Math.cos(angle), -Math.sin(angle)));
  return { x: over ? scaleBy3(x, -1) : x, y: inFrame(frame, point(Math.sin(angle), Math.cos(angle))) };
}

/** By corner, in space: how far the flat ring, laid on the face, lies from the face's own corner. */
export function flatMisfit(frame: FaceFrame, ring: readonly Point[], over: boolean): Point3[] {
  const { own, laid, angle } = flatTurn(frame, ring, over);
  return own.map((p, i) => inFrame(frame, subtract(rotate(laid[i]!, -angle), p)));
}

/** The turn that lays a face's own flat corners on its flat ring best, about the middles of both. */
function flatTurn(frame: FaceFrame, ring: readonly Point[], over: boolean) {
  const seen = over ? ring.map((p) => point(-p.x, p.y)) : ring;
  const middle = (points: readonly Point[]) =>
    scaleBy(
      points.reduce((sum, p) => add(sum, p), point(0, 0)),
      1 / points.length,
    );
  const from = middle(frame.local);
  const to = middle(seen);
  const own = frame.local.map((p) => subtract(p, from));
  const laid = seen.map((p) => subtract(p, to));
  const c = own.reduce((sum, a, i) => sum + dot(a, laid[i]!), 0);
  const s = own.reduce((sum, a, i) => sum + cross(a, laid[i]!), 0);
  return { own, laid, angle: Math.atan2(s, c) };
}

const inFrame = ({ along, up }: FaceFrame, { x, y }: Point): Point3 => ({
  x: along.x * x + up.x * y,
  y: along.y * x + up.y * y,
  z: along.z * x + up.z * y,
});
