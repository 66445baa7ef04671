/** Corners of faces that become one corner of a flat panel, and where they lie face by face. */
import { add, DisjointSets, type Point, point, rotate, scaleBy, subtract } from '../math';
import type { FaceFrame } from './flatFaces';
import { type FoamNet, innerNeighbour } from './surface';

/** Corners of the faces that are one corner of the flat panel share a number. */
export interface Nodes {
  readonly count: number;
  readonly of: ReadonlyMap<number, readonly number[]>;
}

export function nodesOf(net: FoamNet, faces: readonly number[]): Nodes {
  const first = new Map<number, number>();
  let corners = 0;
  for (const f of faces) {
    first.set(f, corners);
    corners += net.patches[f]!.vertices.length;
  }
  const one = new DisjointSets(corners);
  const corner = (f: number, i: number) => first.get(f)! + (i % net.patches[f]!.vertices.length);
  for (const f of faces)
    for (const side of net.sides[f]!) {
      const other = innerNeighbour(net, side);
      if (!other) continue;
      one.join(corner(f, side.corner), corner(other.face, other.corner + 1));
      one.join(corner(f, side.corner + 1), corner(other.face, other.corner));
    }
  const number = new Map<number, number>();
  const of = new Map<number, number[]>();
  for (const f of faces)
    of.set(
      f,
      net.patches[f]!.vertices.map((_, i) => {
        const r = one.find(corner(f, i));
        if (!number.has(r)) number.set(r, number.size);
        return number.get(r)!;
      }),
    );
  return { count: number.size, of };
}

/** Breadth first from the first face, each laid against the face it was reached from. */
export function placeAcrossFolds(
  net: FoamNet,
  faces: readonly number[],
  frames: readonly FaceFrame[],
): Point[][] {
  const order = new Map(faces.map((f, k) => [f, k]));
  const placed: (Point[] | null)[] = faces.map(() => null);
  placed[0] = [...frames[0]!.local];
  const queue = [0];
  for (const k of queue) {
    const own = placed[k]!;
    for (const side of net.sides[faces[k]!]!) {
      const other = innerNeighbour(net, side);
      const m = other ? order.get(other.face)! : -1;
      if (!other || placed[m]) continue;
      const shape = frames[m]!.local;
      const a = shape[other.corner]!;
      const b = shape[(other.corner + 1) % shape.length]!;
      const newA = own[(side.corner + 1) % own.length]!;
      const newB = own[side.corner]!;
      const turn = Math.atan2(newB.y - newA.y, newB.x - newA.x) - Math.atan2(b.y - a.y, b.x - a.x);
      const middle = scaleBy(add(a, b), 0.5);
      const goal = scaleBy(add(newA, newB), 0.5);
      placed[m] = shape.map((p) => add(goal, rotate(subtract(p, middle), turn)));
      queue.push(m);
    }
  }
  return placed.map((ring) => ring!);
}

/** By corner of the panel, the mean of where its faces have it. */
export function meansOf(
  count: number,
  rings: readonly (readonly number[])[],
  poses: readonly (readonly Point[])[],
): Point[] {
  const sums = Array.from({ length: count }, () => ({ x: 0, y: 0, n: 0 }));
  rings.forEach((ring, k) => {
    ring.forEach((node, i) => {
      const s = sums[node]!;
      const p = poses[k]![i]!;
      s.x += p.x;
      s.y += p.y;
      s.n += 1;
    });
  });
  return sums.map(({ x, y, n }) => point(x / n, y / n));
}
