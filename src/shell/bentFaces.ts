import type { RuledStrip } from './stripRows';
import { triangulate } from './strips';
import { buildTopology, edgeKey, type ShellFace, type ShellTopology } from './topology';

/**
 * Faces of more than three corners that may be slightly bent: drawings often leave folds of a few degrees out, and the
 * faces beside such a fold are then drawn as one. Each is divided into triangles along virtual diagonals, over which it
 * may bend as far as such folds do. The vertices stay the same.
 */
export interface BentFaces {
  readonly topology: ShellTopology;
  /** The edge of the surface as drawn that each edge is, −1 for a virtual diagonal. */
  readonly drawnEdge: Int32Array;
  /** The face as drawn that each face is part of. */
  readonly drawnFace: Int32Array;
}

/** The surface with every face divided, mirror-symmetrically where it has a mirror. */
export function divideFaces(
  topology: ShellTopology,
  mirror: Int32Array | null,
  strips: readonly (RuledStrip | null)[] = [],
): BentFaces {
  const n = topology.vertexCount;
  const used = new Set(topology.edgeAt.keys());
  const imageOf = mirror ? mirrorFaces(topology, mirror) : null;
  const parts: (readonly number[])[][] = topology.faces.map((f) => [f.vertices]);
  topology.faces.forEach((face, f) => {
    const image = imageOf?.[f] ?? -1;
    if (face.vertices.length < 4 || strips[f] || (image >= 0 && image < f)) return;
    const rings = trianglesOf(face, image === f ? mirror : null, n);
    const reflected = image > f ? rings.map((r) => r.map((v) => mirror![v]!).reverse()) : [];
    const diagonals = [
      ...diagonalsOf(face, rings, n),
      ...(image > f ? diagonalsOf(topology.faces[image]!, reflected, n) : []),
    ];
    // A diagonal between corners that something else joins already would make no surface.
    if (diagonals.some((k) => used.has(k)) || new Set(diagonals).size < diagonals.length) return;
    for (const k of diagonals) used.add(k);
    parts[f] = rings;
    if (image > f) parts[image] = reflected;
  });
  const drawnFace: number[] = [];
  const faces = parts.flatMap((rings, f): ShellFace[] => {
    const { vertices, flat } = topology.faces[f]!;
    return rings.map((ring) => {
      drawnFace.push(f);
      return { vertices: ring, flat: ring.map((v) => flat[vertices.indexOf(v)]!) };
    });
  });
  const divided = buildTopology(n, faces);
  return {
    topology: divided,
    drawnEdge: Int32Array.from(divided.edges, (e) => topology.edgeAt.get(edgeKey(n, e.a, e.b)) ?? -1),
    drawnFace: Int32Array.from(drawnFace),
  };
}

/**
 * Triangles of a face as rings of vertices. A face that is its own mirror image is divided only along diagonals whose
 * image is one too, so parts of it may have more corners.
 */
function trianglesOf({ vertices, flat }: ShellFace, mirror: Int32Array | null, n: number): number[][] {
  const triangles = triangulate(flat);
  if (!triangles) return [[...vertices]];
  const rings = triangles.map((t) => t.map((i) => vertices[i]!));
  if (!mirror) return rings;
  const keysOf = (ring: readonly number[]) => ring.map((v, i) => edgeKey(n, v, ring[(i + 1) % ring.length]!));
  const all = new Set(rings.flatMap(keysOf));
  const group = rings.map((_, t) => t);
  const at = new Map<number, number>();
  rings.forEach((ring, t) => {
    ring.forEach((v, i) => {
      const w = ring[(i + 1) % ring.length]!;
      const key = edgeKey(n, v, w);
      const other = at.get(key);
      at.set(key, t);
      if (other === undefined || all.has(edgeKey(n, mirror[v]!, mirror[w]!))) return;
      const [p, q] = [group[other]!, group[t]!];
      group.forEach((g, k) => {
        if (g === p) group[k] = q;
      });
    });
  });
  // No corner lies inside: the order round a part is that round the face.
  return [...new Set(group)].map((g) =>
    vertices.filter((v) => rings.some((ring, t) => group[t] === g && ring.includes(v))),
  );
}

function diagonalsOf({ vertices }: ShellFace, rings: readonly (readonly number[])[], n: number): number[] {
  const sides = new Set(vertices.map((v, i) => edgeKey(n, v, vertices[(i + 1) % vertices.length]!)));
  const keys = rings.flatMap((ring) => ring.map((v, i) => edgeKey(n, v, ring[(i + 1) % ring.length]!)));
  return [...new Set(keys)].filter((k) => !sides.has(k));
}

/** The face that each face goes to in the mirror. */
function mirrorFaces(topology: ShellTopology, mirror: Int32Array): Int32Array {
  const key = (list: readonly number[]) => [...list].sort((a, b) => a - b).join(' ');
  const at = new Map(topology.faces.map((f, i) => [key(f.vertices), i]));
  return Int32Array.from(topology.faces, (f) => at.get(key(f.vertices.map((v) => mirror[v]!))) ?? -1);
}
