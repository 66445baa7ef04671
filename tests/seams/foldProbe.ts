/** The product's fold-up as the probe of `verifySeams`. */
import type { Pattern } from '../../src/model';
import type { FoldProbe } from '../../src/seams';
import { buildTopology, foldUp, type ShellFace } from '../../src/shell';

/** Corners this close on the drawing are one corner of a piece, mm. */
const sameCorner = 1e-3;

export function probeOf(pattern: Pattern): FoldProbe {
  return async (seams, work) => {
    const root: number[] = [];
    const find = (v: number): number => {
      let r = v;
      while (root[r] !== r) r = root[r]!;
      root[v] = r;
      return r;
    };
    const at = new Map<string, number>();
    const corner = (piece: string, p: { x: number; y: number }): number => {
      const [x, y] = [Math.round(p.x / sameCorner), Math.round(p.y / sameCorner)];
      for (let dx = -1; dx <= 1; dx++)
        for (let dy = -1; dy <= 1; dy++) {
          const old = at.get(`${piece} ${x + dx} ${y + dy}`);
          if (old !== undefined) return old;
        }
      at.set(`${piece} ${x} ${y}`, root.length);
      root.push(root.length);
      return root.length - 1;
    };
    const ends = new Map<string, readonly [number, number]>();
    const faces: { corners: number[]; flat: ShellFace['flat'] }[] = [];
    for (const piece of pattern.pieces) {
      for (const edge of [piece.outline, ...piece.holes].flat()) {
        const last = edge.points[edge.points.length - 1]!;
        ends.set(edge.id, [corner(piece.id, edge.points[0]!), corner(piece.id, last)]);
      }
      for (const face of piece.faces)
        faces.push({ corners: face.polygon.map((p) => corner(piece.id, p)), flat: face.polygon });
    }
    for (const { a, b } of seams) {
      const [p, q] = [ends.get(a)!, ends.get(b)!];
      for (const [v, w] of [
        [p[0], q[1]],
        [p[1], q[0]],
      ] as const)
        root[find(v)] = find(w);
    }
    const number = new Map<number, number>();
    const vertexOf = (v: number): number => {
      const r = find(v);
      if (!number.has(r)) number.set(r, number.size);
      return number.get(r)!;
    };
    const glued = faces.map((f): ShellFace => ({ vertices: f.corners.map(vertexOf), flat: f.flat }));
    const topology = buildTopology(number.size, glued);
    const folded = await foldUp({ topology, signOfEdge: new Int8Array(topology.edges.length) }, work);
    const place = (v: number) => {
      const i = 3 * vertexOf(v);
      return { x: folded.positions[i]!, y: folded.positions[i + 1]!, z: folded.positions[i + 2]! };
    };
    return {
      endsOf: (edge) => {
        const e = ends.get(edge);
        return e ? [place(e[0]), place(e[1])] : null;
      },
      residual: folded.residual,
    };
  };
}
