import type { Point } from '../math';
import type { GluedFace } from './glue';

/**
 * Faces that curves bound may bend without a fold: paper bends along straight lines (rulings) from one side of the face
 * to another. Such a face is cut into triangles between its corners, whose sides stand for the rulings; the smoothness
 * of the fold-up decides how much each bends, and a face that is flat in truth stays flat.
 */
export function cutCurvedFaces(faces: readonly (GluedFace & { readonly bends: boolean })[]): GluedFace[] {
  const used = new Set<string>();
  const key = (a: number, b: number) => (a < b ? `${a} ${b}` : `${b} ${a}`);
  for (const { vertices } of faces)
    for (const [i, v] of vertices.entries()) used.add(key(v, vertices[(i + 1) % vertices.length]!));
  const strips = faces.flatMap(({ bends, ...face }): GluedFace[] => {
    // Cut along its rulings already.
    if (face.strip) return [{ ...face, bends }];
    if (!bends || face.vertices.length < 4) return [face];
    const cut = stripsOf(face.flat);
    const n = face.vertices.length;
    const rulings = cut.flatMap((ring) =>
      ring.flatMap((i, k) => {
        const j = ring[(k + 1) % ring.length]!;
        return i < j && j !== i + 1 ? [key(face.vertices[i]!, face.vertices[j]!)] : [];
      }),
    );
    // A ruling between corners that another side joins already would make no surface: then the face stays whole.
    if (rulings.some((k) => used.has(k)) || new Set(rulings).size < rulings.length) return [face];
    if (cut.length < 2) return [face];
    for (const k of rulings) used.add(k);
    return cut.map((ring): GluedFace => {
      const drawnSide = (k: number) => (ring[k]! + 1) % n === ring[(k + 1) % ring.length];
      return {
        piece: face.piece,
        face: face.face,
        bends: true,
        vertices: ring.map((i) => face.vertices[i]!),
        flat: ring.map((i) => face.flat[i]!),
        drawn: ring.map((i) => face.drawn[i]!),
        sideIds: ring.map((i, k) => (drawnSide(k) ? face.sideIds[i]! : '')),
        seamIds: ring.map((i, k) => (drawnSide(k) ? face.seamIds[i]! : null)),
      };
    });
  });
  return numbered(strips);
}

/** Parts of one face numbered from 0: a face round a hole comes as several rings, each of which may be cut into strips. */
function numbered(faces: readonly GluedFace[]): GluedFace[] {
  const name = ({ piece, face }: GluedFace) => `${piece} ${face}`;
  const count = new Map<string, number>();
  for (const face of faces) count.set(name(face), (count.get(name(face)) ?? 0) + 1);
  const next = new Map<string, number>();
  return faces.map((face) => {
    if (count.get(name(face)) === 1) return face;
    const part = next.get(name(face)) ?? 0;
    next.set(name(face), part + 1);
    return { ...face, part };
  });
}

/** Corners this near to one circle, mm, leave the diagonal between them undecided: twice the noise of a drawing. */
const oneCircle = 0.1;

/**
 * Flat strips of a simple counter-clockwise polygon as rings of corner numbers: its triangles, those whose corners lie
 * on one circle put together again. So a sheet between two arcs about one centre falls into the strips between its
 * rulings, a disc stays whole, and a mirror-symmetric face is cut alike on both sides.
 */
export function stripsOf(ring: readonly Point[]): number[][] {
  const triangles = triangulate(ring);
  if (!triangles) return [ring.map((_, i) => i)];
  const group = triangles.map((_, t) => t);
  const find = (t: number): number => (group[t] === t ? t : find(group[t]!));
  const side = new Map<string, number>();
  triangles.forEach((t, f) => {
    for (const [k, a] of t.entries()) side.set(`${a} ${t[(k + 1) % 3]!}`, f);
  });
  triangles.forEach((t, f) => {
    for (const [k, a] of t.entries()) {
      const b = t[(k + 1) % 3]!;
      const g = side.get(`${b} ${a}`);
      if (g === undefined || g < f) continue;
      const d = triangles[g]!.find((v) => v !== a && v !== b)!;
      if (offCircle(ring[t[0]]!, ring[t[1]]!, ring[t[2]]!, ring[d]!) < oneCircle) {
        const [p, q] = [find(f), find(g)];
        group[Math.max(p, q)] = Math.min(p, q);
      }
    }
  });
  const corners = new Map<number, Set<number>>();
  triangles.forEach((t, f) => {
    const set = corners.get(find(f)) ?? new Set();
    for (const v of t) set.add(v);
    corners.set(find(f), set);
  });
  // No corner lies inside: the order round a strip is that round the face.
  return [...corners.values()].map((set) => [...set].sort((p, q) => p - q));
}

/** Distance of d from the circle through a, b and c. */
function offCircle(a: Point, b: Point, c: Point, d: Point): number {
  const [bx, by, cx, cy] = [b.x - a.x, b.y - a.y, c.x - a.x, c.y - a.y];
  const twice = 2 * (bx * cy - by * cx);
  const [b2, c2] = [bx * bx + by * by, cx * cx + cy * cy];
  const [ux, uy] = [(cy * b2 - by * c2) / twice, (bx * c2 - cx * b2) / twice];
  return Math.abs(Math.hypot(d.x - a.x - ux, d.y - a.y - uy) - Math.hypot(ux, uy));
}

/** Twice the area of a triangle under this part of its longest side squared is a line: rounding. */
const noArea = 1e-9;

/**
 * Triangles of a simple counter-clockwise polygon, as corner numbers: ears cut off, then diagonals turned until no
 * corner lies in the circle of a triangle beside it (Lawson 1977, from memory). Null where no ear is left.
 */
export function triangulate(ring: readonly Point[]): [number, number, number][] | null {
  const area = (i: number, j: number, k: number) => {
    const [p, q, r] = [ring[i]!, ring[j]!, ring[k]!];
    return (q.x - p.x) * (r.y - p.y) - (r.x - p.x) * (q.y - p.y);
  };
  const span = (i: number, j: number) => {
    const [p, q] = [ring[i]!, ring[j]!];
    return (q.x - p.x) ** 2 + (q.y - p.y) ** 2;
  };
  const solid = (i: number, j: number, k: number) =>
    area(i, j, k) > noArea * Math.max(span(i, j), span(j, k), span(k, i));
  const left = ring.map((_, i) => i);
  const out: [number, number, number][] = [];
  while (left.length > 3) {
    // The fattest ear first, so that collinear corners are not left to the end.
    let best = -1;
    let most = 0;
    left.forEach((j, at) => {
      const i = left[(at + left.length - 1) % left.length]!;
      const k = left[(at + 1) % left.length]!;
      if (!solid(i, j, k)) return;
      const holds = left.some(
        (m) =>
          m !== i && m !== j && m !== k && area(i, j, m) >= 0 && area(j, k, m) >= 0 && area(k, i, m) >= 0,
      );
      if (holds) return;
      const fat = area(i, j, k) / Math.max(span(i, j), span(j, k), span(k, i));
      if (fat > most * (1 + 1e-9)) {
        most = fat;
        best = at;
      }
    });
    if (best < 0) return null;
    const before = left[(best + left.length - 1) % left.length]!;
    out.push([before, left[best]!, left[(best + 1) % left.length]!]);
    left.splice(best, 1);
  }
  if (!solid(left[0]!, left[1]!, left[2]!)) return null;
  out.push([left[0]!, left[1]!, left[2]!]);
  turnDiagonals(ring, out, solid);
  return out;
}

function turnDiagonals(
  ring: readonly Point[],
  triangles: [number, number, number][],
  solid: (i: number, j: number, k: number) => boolean,
): void {
  for (let round = 0; round < 4 * ring.length; round++) {
    let turned = false;
    const side = new Map<string, number>();
    triangles.forEach((t, f) => {
      for (const [k, a] of t.entries()) side.set(`${a} ${t[(k + 1) % 3]!}`, f);
    });
    for (const [name, f] of side) {
      const [a, b] = name.split(' ').map(Number) as [number, number];
      const g = side.get(`${b} ${a}`);
      if (g === undefined || a > b) continue;
      const c = triangles[f]!.find((v) => v !== a && v !== b)!;
      const d = triangles[g]!.find((v) => v !== a && v !== b)!;
      if (!solid(d, b, c) || !solid(c, a, d) || !inCircle(ring[a]!, ring[b]!, ring[c]!, ring[d]!)) continue;
      triangles[f] = [d, b, c];
      triangles[g] = [c, a, d];
      turned = true;
      break;
    }
    if (!turned) return;
  }
}

/** Whether d lies inside the circle of the counter-clockwise triangle a, b, c by more than rounding. */
function inCircle(a: Point, b: Point, c: Point, d: Point): boolean {
  const [ax, ay, bx, by, cx, cy] = [a.x - d.x, a.y - d.y, b.x - d.x, b.y - d.y, c.x - d.x, c.y - d.y];
  const [p, q, r] = [ax * ax + ay * ay, bx * bx + by * by, cx * cx + cy * cy];
  const terms = [p * (bx * cy - cx * by), q * (cx * ay - ax * cy), r * (ax * by - bx * ay)];
  const sum = terms[0]! + terms[1]! + terms[2]!;
  return sum > 1e-9 * terms.reduce((s, t) => s + Math.abs(t), 0);
}
