import { GirthwiseError } from '../base';
import { DisjointSets, type Point } from '../math';
import type { Mm } from '../units';

/**
 * The glued surface as topology: which corners are one vertex, which faces share an edge. It never stores folded
 * positions; rest lengths come from the flat faces. Faces run counter-clockwise seen from outside.
 */
export interface ShellFace {
  /** Vertex of each corner, counter-clockwise seen from outside. */
  readonly vertices: readonly number[];
  /** The same corners flat, mm. */
  readonly flat: readonly Point[];
}

export interface ShellEdge {
  readonly a: number;
  readonly b: number;
  /** Rest length: mean of the faces' own flat lengths. */
  readonly length: Mm;
  /** Face that runs a → b, and the one that runs b → a; −1 where the shell is open. */
  readonly left: number;
  readonly right: number;
}

export interface ShellTopology {
  readonly vertexCount: number;
  readonly faces: readonly ShellFace[];
  readonly edges: readonly ShellEdge[];
  /** Indices of edges with a face on both sides. */
  readonly hinges: readonly number[];
  /** Edge index by vertex pair, see {@link edgeKey}. */
  readonly edgeAt: ReadonlyMap<number, number>;
  /** Faces round each vertex, in no order. */
  readonly facesOf: readonly (readonly number[])[];
  /** Component number of each vertex; components are numbered by their lowest vertex. */
  readonly component: readonly number[];
  readonly componentCount: number;
  /** Closed loops of open edges. */
  readonly borderEdges: number;
}

export const edgeKey = (vertexCount: number, a: number, b: number) =>
  Math.min(a, b) * vertexCount + Math.max(a, b);

/**
 * Builds the topology.
 * @throws GirthwiseError `shell-not-manifold` when an edge has more than two faces, or two faces run along it alike
 */
export function buildTopology(vertexCount: number, faces: readonly ShellFace[]): ShellTopology {
  interface Draft {
    a: number;
    b: number;
    left: number;
    right: number;
    sum: number;
    count: number;
  }
  const drafts = new Map<number, Draft>();
  const facesOf: number[][] = Array.from({ length: vertexCount }, () => []);
  faces.forEach((face, f) => {
    const n = face.vertices.length;
    face.vertices.forEach((a, i) => {
      facesOf[a]!.push(f);
      const b = face.vertices[(i + 1) % n]!;
      const p = face.flat[i]!;
      const q = face.flat[(i + 1) % n]!;
      const length = Math.hypot(p.x - q.x, p.y - q.y);
      const key = edgeKey(vertexCount, a, b);
      const known = drafts.get(key);
      if (!known) {
        drafts.set(key, { a, b, left: f, right: -1, sum: length, count: 1 });
        return;
      }
      if (known.right !== -1 || known.a === a) {
        throw new GirthwiseError(
          'shell-not-manifold',
          `Edge ${a}–${b} is used by more faces than a surface allows`,
        );
      }
      known.right = f;
      known.sum += length;
      known.count += 1;
    });
  });
  const edges: ShellEdge[] = [];
  const edgeAt = new Map<number, number>();
  for (const [key, d] of drafts) {
    edgeAt.set(key, edges.length);
    edges.push({ a: d.a, b: d.b, length: d.sum / d.count, left: d.left, right: d.right });
  }
  const hinges = edges.flatMap((e, i) => (e.right >= 0 ? [i] : []));

  const together = new DisjointSets(vertexCount);
  for (const e of edges) together.join(e.a, e.b);
  const numberOf = new Map<number, number>();
  const component = Array.from({ length: vertexCount }, (_, v) => {
    const r = together.find(v);
    if (!numberOf.has(r)) numberOf.set(r, numberOf.size);
    return numberOf.get(r)!;
  });
  return {
    vertexCount,
    faces,
    edges,
    hinges,
    edgeAt,
    facesOf,
    component,
    componentCount: numberOf.size,
    borderEdges: edges.length - hinges.length,
  };
}

/** Loops of open edges: edge indices in walking order, the material on the left; longest first. */
export function borderLoops(topology: ShellTopology): number[][] {
  const leaving = new Map<number, number[]>();
  topology.edges.forEach((e, i) => {
    if (e.right < 0) leaving.set(e.a, [...(leaving.get(e.a) ?? []), i]);
  });
  const done = new Uint8Array(topology.edges.length);
  const loops: number[][] = [];
  topology.edges.forEach((e, i) => {
    if (e.right >= 0 || done[i]) return;
    const loop: number[] = [];
    for (let at: number | undefined = i; at !== undefined; ) {
      done[at] = 1;
      loop.push(at);
      at = leaving.get(topology.edges[at]!.b)?.find((k) => !done[k]);
    }
    loops.push(loop);
  });
  const length = (loop: number[]) => loop.reduce((sum, e) => sum + topology.edges[e]!.length, 0);
  return loops.sort((p, q) => length(q) - length(p) || p[0]! - q[0]!);
}
