/** The faces of one piece laid flat side by side across their folds. */
import {
  cross3,
  DisjointSets,
  distance3,
  dot3,
  type Point,
  type Point3,
  point,
  subtract3,
  unitOf3,
} from '../math';
import type { ShellPatch } from '../model';
import type { Mm } from '../units';
import { faceNormals } from './offset';

/** Flat corners of two faces that meet along a fold are the same points on the drawing, up to its joining tolerance. */
const sameCorner: Mm = 0.2;
/** Misfit from which rings are spread; below it the faces meet as exactly as numbers do. */
const ringSlack: Mm = 1e-7;
/** Rounds of spreading: a ring of a few faces settles in a few dozen. */
const rounds = 400;

export interface Flattened {
  /** Flat corners of each patch, in its order, in one frame; seen from outside. */
  readonly flats: readonly (readonly Point[])[];
  /** Largest difference between a side's length in space and flat. */
  readonly misfit: Mm;
}

interface Link {
  readonly to: number;
  /** Corner where the side starts on this face, and where the same side starts on the other one. */
  readonly here: number;
  readonly there: number;
}

export function flattenPatches(patches: readonly ShellPatch[], places: readonly Point3[]): Flattened {
  const shapes = shapesOf(patches, places);
  const links = linksOf(patches);
  const placed = placeAcrossFolds(shapes, links);
  const nodes = nodesOf(patches, links);
  const flats = settle(shapes, placed, nodes);
  let misfit = 0;
  patches.forEach((patch, k) => {
    patch.vertices.forEach((v, i) => {
      const j = (i + 1) % patch.vertices.length;
      const inSpace = distance3(places[v]!, places[patch.vertices[j]!]!);
      const a = flats[k]![i]!;
      const b = flats[k]![j]!;
      misfit = Math.max(misfit, Math.abs(inSpace - Math.hypot(a.x - b.x, a.y - b.y)));
    });
  });
  return { flats, misfit };
}

/** Each face on its mean plane, in a frame of its own. */
function shapesOf(patches: readonly ShellPatch[], places: readonly Point3[]): Point[][] {
  const normals = faceNormals({ vertices: places, faces: patches });
  return patches.map(({ vertices }, k) => {
    const o = places[vertices[0]!]!;
    const n = normals[k]!;
    const side = subtract3(places[vertices[1]!]!, o);
    const along = unitOf3({
      x: side.x - n.x * dot3(side, n),
      y: side.y - n.y * dot3(side, n),
      z: side.z - n.z * dot3(side, n),
    });
    const up = cross3(n, along);
    return vertices.map((v) => {
      const d = subtract3(places[v]!, o);
      return point(dot3(d, along), dot3(d, up));
    });
  });
}

/** Sides that two faces of the piece share: the same vertices, and the same place on the drawing. */
function linksOf(patches: readonly ShellPatch[]): Link[][] {
  const at = new Map<string, { face: number; corner: number }>();
  patches.forEach(({ vertices }, face) => {
    vertices.forEach((v, corner) => {
      at.set(`${v} ${vertices[(corner + 1) % vertices.length]}`, { face, corner });
    });
  });
  const near = (p: Point, q: Point) => Math.hypot(p.x - q.x, p.y - q.y) <= sameCorner;
  return patches.map(({ vertices, flat }, face) =>
    vertices.flatMap((v, here): Link[] => {
      const next = (here + 1) % vertices.length;
      const twin = at.get(`${vertices[next]} ${v}`);
      if (!twin || twin.face === face) return [];
      const other = patches[twin.face]!.flat;
      const fold =
        near(flat[here]!, other[(twin.corner + 1) % other.length]!) && near(flat[next]!, other[twin.corner]!);
      return fold ? [{ to: twin.face, here, there: twin.corner }] : [];
    }),
  );
}

/** Breadth first from the first face, each laid against the face it was reached from. */
function placeAcrossFolds(shapes: readonly Point[][], links: readonly Link[][]): Point[][] {
  const placed: (Point[] | null)[] = shapes.map(() => null);
  for (let first = 0; first < shapes.length; first++) {
    if (placed[first]) continue;
    placed[first] = shapes[first]!;
    const queue = [first];
    for (let q = 0; q < queue.length; q++) {
      const face = queue[q]!;
      const own = placed[face]!;
      for (const { to, here, there } of links[face]!) {
        if (placed[to]) continue;
        const shape = shapes[to]!;
        // The other face runs along the side the other way round.
        const a = shape[there]!;
        const b = shape[(there + 1) % shape.length]!;
        const newA = own[(here + 1) % own.length]!;
        const newB = own[here]!;
        const turn = Math.atan2(newB.y - newA.y, newB.x - newA.x) - Math.atan2(b.y - a.y, b.x - a.x);
        const c = Math.cos(turn);
        const s = Math.sin(turn);
        const middle = point((a.x + b.x) / 2, (a.y + b.y) / 2);
        const goal = point((newA.x + newB.x) / 2, (newA.y + newB.y) / 2);
        placed[to] = shape.map((p) => {
          const x = p.x - middle.x;
          const y = p.y - middle.y;
          return point(goal.x + c * x - s * y, goal.y + s * x + c * y);
        });
        queue.push(to);
      }
    }
  }
  return placed.map((ring) => ring!);
}

/** Corners that are one point of the flat piece share a number. */
function nodesOf(patches: readonly ShellPatch[], links: readonly Link[][]): number[][] {
  let count = 0;
  const ids = patches.map(({ vertices }) => vertices.map(() => count++));
  const one = new DisjointSets(count);
  links.forEach((list, face) => {
    for (const { to, here, there } of list) {
      const own = ids[face]!;
      const other = ids[to]!;
      one.join(own[here]!, other[(there + 1) % other.length]!);
      one.join(own[(here + 1) % own.length]!, other[there]!);
    }
  });
  return ids.map((ring) => ring.map((corner) => one.find(corner)));
}

/** Shared corners averaged; where they do not meet, faces and corners settle in turns. */
function settle(
  shapes: readonly Point[][],
  placed: readonly Point[][],
  nodes: readonly number[][],
): Point[][] {
  let poses: readonly Point[][] = placed;
  let means = meansOf(poses, nodes);
  const gap = () =>
    Math.max(
      ...poses.flatMap((ring, k) =>
        ring.map((p, i) => {
          const m = means.get(nodes[k]![i]!)!;
          return Math.hypot(p.x - m.x, p.y - m.y);
        }),
      ),
    );
  if (gap() > ringSlack)
    for (let round = 0; round < rounds; round++) {
      poses = shapes.map((shape, k) =>
        rigid(
          shape,
          nodes[k]!.map((n) => means.get(n)!),
        ),
      );
      means = meansOf(poses, nodes);
    }
  return nodes.map((ring) => ring.map((n) => means.get(n)!));
}

function meansOf(poses: readonly (readonly Point[])[], nodes: readonly number[][]): Map<number, Point> {
  const sums = new Map<number, { x: number; y: number; n: number }>();
  poses.forEach((ring, k) => {
    ring.forEach((p, i) => {
      const node = nodes[k]![i]!;
      const s = sums.get(node) ?? { x: 0, y: 0, n: 0 };
      sums.set(node, { x: s.x + p.x, y: s.y + p.y, n: s.n + 1 });
    });
  });
  return new Map([...sums].map(([node, { x, y, n }]) => [node, point(x / n, y / n)]));
}

/** The shape turned and moved to lie on its goals as well as it can. */
function rigid(shape: readonly Point[], goals: readonly Point[]): Point[] {
  const n = shape.length;
  let [ax, ay, bx, by] = [0, 0, 0, 0];
  shape.forEach((p, i) => {
    ax += p.x / n;
    ay += p.y / n;
    bx += goals[i]!.x / n;
    by += goals[i]!.y / n;
  });
  let c = 0;
  let s = 0;
  shape.forEach((p, i) => {
    const [x, y, u, v] = [p.x - ax, p.y - ay, goals[i]!.x - bx, goals[i]!.y - by];
    c += x * u + y * v;
    s += x * v - y * u;
  });
  const size = Math.hypot(c, s);
  if (size === 0) return [...shape];
  c /= size;
  s /= size;
  return shape.map((p) => point(bx + c * (p.x - ax) - s * (p.y - ay), by + s * (p.x - ax) + c * (p.y - ay)));
}
