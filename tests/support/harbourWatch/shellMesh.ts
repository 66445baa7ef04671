/**
 * The shells of the Harbour Watch as meshes: corners in mm, flat convex faces as loops of corner numbers,
 * counter-clockwise seen from outside. Bend angles follow the project's rule: 0 flat, + convex seen from outside.
 */
import { centroid3, cross3, distance3, dot3, minus, times, unit3, type Vec3, vec } from './vec3';

export interface ShellMesh {
  readonly name: string;
  readonly vertices: readonly Vec3[];
  readonly faces: readonly (readonly number[])[];
}

/** An edge of the mesh, once, in the order in which the faces name it. */
export interface MeshEdge {
  readonly index: number;
  readonly from: number;
  readonly to: number;
  /** The face that runs along it from → to. */
  readonly left: number;
  /** The face that runs along it to → from; null: an open edge. */
  readonly right: number | null;
  readonly length: number;
  /** Bend between its faces, rad, + convex; null for an open edge. */
  readonly bend: number | null;
}

export interface MeshTopology {
  readonly edges: readonly MeshEdge[];
  /** Edge number of each side of each face: `sides[face][i]` lies between corners i and i + 1 of the loop. */
  readonly sides: readonly (readonly number[])[];
  readonly normals: readonly Vec3[];
  readonly centroids: readonly Vec3[];
}

/** Unit normal of a flat polygon in space (Newell's sum). */
export function polygonNormal(points: readonly Vec3[]): Vec3 {
  let n = vec(0, 0, 0);
  const o = points[0]!;
  for (let i = 1; i + 1 < points.length; i++) {
    const c = cross3(minus(points[i]!, o), minus(points[i + 1]!, o));
    n = vec(n.x + c.x, n.y + c.y, n.z + c.z);
  }
  return unit3(n);
}

export const facePoints = (mesh: ShellMesh, face: number): Vec3[] =>
  mesh.faces[face]!.map((v) => mesh.vertices[v]!);

/**
 * Edges, normals and bends of a mesh.
 * @throws Error when an edge has more than two faces or two faces run along it in the same direction.
 */
export function topologyOf(mesh: ShellMesh): MeshTopology {
  const normals = mesh.faces.map((_, f) => polygonNormal(facePoints(mesh, f)));
  const centroids = mesh.faces.map((_, f) => centroid3(facePoints(mesh, f)));
  const byKey = new Map<string, number>();
  const found: { from: number; to: number; left: number; right: number | null }[] = [];
  const sides = mesh.faces.map((loop, f) =>
    loop.map((from, i) => {
      const to = loop[(i + 1) % loop.length]!;
      const twin = byKey.get(`${to}>${from}`);
      if (twin === undefined) {
        if (byKey.has(`${from}>${to}`))
          throw new Error(`Faces of ${mesh.name} disagree at edge ${from}-${to}`);
        byKey.set(`${from}>${to}`, found.length);
        found.push({ from, to, left: f, right: null });
        return found.length - 1;
      }
      const edge = found[twin]!;
      if (edge.right !== null) throw new Error(`Edge ${from}-${to} of ${mesh.name} has three faces`);
      edge.right = f;
      return twin;
    }),
  );
  const edges = found.map((e, index) => {
    const a = mesh.vertices[e.from]!;
    const b = mesh.vertices[e.to]!;
    let bend: number | null = null;
    if (e.right !== null) {
      const nA = normals[e.left]!;
      const nB = normals[e.right]!;
      bend = Math.atan2(dot3(cross3(nA, nB), unit3(minus(b, a))), dot3(nA, nB));
    }
    return { index, ...e, length: distance3(a, b), bend };
  });
  return { edges, sides, normals, centroids };
}

/** Loops of open edges, each as its edge numbers in walking order. */
export function openLoops(topology: MeshTopology): number[][] {
  const leaving = new Map<number, number>();
  for (const e of topology.edges) if (e.right === null) leaving.set(e.from, e.index);
  const done = new Set<number>();
  const loops: number[][] = [];
  for (const e of topology.edges) {
    if (e.right !== null || done.has(e.index)) continue;
    const loop: number[] = [];
    let at: number | undefined = e.index;
    while (at !== undefined && !done.has(at)) {
      done.add(at);
      loop.push(at);
      at = leaving.get(topology.edges[at]!.to);
    }
    loops.push(loop);
  }
  return loops;
}

/** Mirror partner of each corner and face under x → −x; null unless the mesh is exactly its own mirror image. */
export function mirrorOf(mesh: ShellMesh): { vertices: number[]; faces: number[] } | null {
  const key = (x: number, y: number, z: number) => `${x === 0 ? 0 : x},${y},${z}`;
  const at = new Map(mesh.vertices.map((v, i) => [key(v.x, v.y, v.z), i]));
  const vertices = mesh.vertices.map((v) => at.get(key(-v.x, v.y, v.z)) ?? -1);
  if (vertices.includes(-1)) return null;
  const loopKey = (loop: readonly number[]) => {
    const first = loop.indexOf(Math.min(...loop));
    return [...loop.slice(first), ...loop.slice(0, first)].join(',');
  };
  const faceAt = new Map(mesh.faces.map((loop, f) => [loopKey(loop), f]));
  const faces = mesh.faces.map((loop) => faceAt.get(loopKey(loop.map((v) => vertices[v]!).reverse())) ?? -1);
  return faces.includes(-1) ? null : { vertices, faces };
}

/** The mesh scaled by one factor about the origin. */
export const scaleMesh = (mesh: ShellMesh, k: number): ShellMesh => ({
  ...mesh,
  vertices: mesh.vertices.map((v) => times(v, k)),
});
