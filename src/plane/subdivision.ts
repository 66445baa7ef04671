/**
 * The planar subdivision of a graph of straight links: half-edges, loops, faces, and which part lies in which face.
 *
 * Contract: links meet at nodes only (see subdivisionStrokes). Half-edge 2·i runs along link i from `from` to `to`,
 * 2·i + 1 the other way; its face lies to its left (y up). Each connected part has one outer loop, walked clockwise
 * (or of no area, when the part encloses nothing); every other loop runs counter-clockwise and bounds one face.
 * Face 0 is the unbounded one. A face's `inner` loops are the outer loops of the parts that lie in it.
 */
import Flatbush from 'flatbush';
import { orient2d } from 'robust-predicates';
import type { Box, Point } from '../math';
import type { Mm2 } from '../units';
import { insideHalfEdges } from './subdivisionFind';
import type { Link } from './subdivisionJoining';

export interface Loop {
  readonly halfEdges: readonly number[];
  /** Signed: positive counter-clockwise. */
  readonly area: Mm2;
  readonly part: number;
  /** True for the one loop round the outside of its part. */
  readonly outer: boolean;
  readonly box: Box;
}

export interface SubdivisionFace {
  /** Loop that bounds it; −1 only for face 0, the unbounded one. */
  readonly loop: number;
  /** Outer loops of the parts inside. */
  readonly inner: readonly number[];
}

/** A connected part of the graph. */
export interface Part {
  readonly outerLoop: number;
  /** Faces bounded by its loops. */
  readonly faces: readonly number[];
  /** The face of another part (or 0) that it lies in. */
  readonly within: number;
}

export interface Subdivision {
  readonly nodes: readonly Point[];
  readonly links: readonly Link[];
  readonly origin: Int32Array;
  readonly next: Int32Array;
  readonly loopOf: Int32Array;
  readonly faceOf: Int32Array;
  readonly loops: readonly Loop[];
  readonly faces: readonly SubdivisionFace[];
  readonly parts: readonly Part[];
  /** Half-edges leaving each node, counter-clockwise. */
  readonly leaving: readonly (readonly number[])[];
}

/** Builds the subdivision; links keep their numbers. */
export function subdivide(nodes: readonly Point[], links: readonly Link[]): Subdivision {
  const origin = new Int32Array(links.length * 2);
  const leaving: number[][] = nodes.map(() => []);
  links.forEach((l, i) => {
    origin[2 * i] = l.from;
    origin[2 * i + 1] = l.to;
    leaving[l.from]!.push(2 * i);
    leaving[l.to]!.push(2 * i + 1);
  });
  sortRound(leaving, nodes, origin);
  const next = new Int32Array(origin.length);
  for (const list of leaving) {
    // Arriving along the twin of h, the walk that keeps its face to the left leaves by the next one clockwise.
    let before = list[list.length - 1]!;
    for (const h of list) {
      next[h ^ 1] = before;
      before = h;
    }
  }
  const partOfNode = connectedParts(nodes.length, links);
  const { loops, loopOf } = walkLoops(nodes, origin, next, partOfNode);
  const { faces, faceOf, parts } = nestParts(nodes, origin, loops, loopOf);
  return { nodes, links, origin, next, loopOf, faceOf, loops, faces, parts, leaving };
}

/** Counter-clockwise from the direction −x, decided exactly where the angles are close. */
function sortRound(leaving: readonly number[][], nodes: readonly Point[], origin: Int32Array): void {
  const angles = new Float64Array(origin.length);
  for (let h = 0; h < origin.length; h++) {
    const o = nodes[origin[h]!]!;
    const p = nodes[origin[h ^ 1]!]!;
    angles[h] = Math.atan2(p.y - o.y, p.x - o.x);
  }
  // Angles this close may be in the wrong order through rounding; the exact sign decides.
  const doubtful = 1e-9;
  const order = (g: number, h: number): number => {
    const d = angles[g]! - angles[h]!;
    if (Math.abs(d) > doubtful) return d;
    const o = nodes[origin[g]!]!;
    const p = nodes[origin[g ^ 1]!]!;
    const q = nodes[origin[h ^ 1]!]!;
    // orient2d is positive for a clockwise triple in the library's axes (y down), so its sign is turned here.
    return orient2d(o.x, o.y, p.x, p.y, q.x, q.y) || g - h;
  };
  for (const list of leaving) if (list.length > 1) list.sort(order);
}

function connectedParts(count: number, links: readonly Link[]): Int32Array {
  const parent = Int32Array.from({ length: count }, (_, i) => i);
  const rootOf = (i: number): number => {
    let r = i;
    while (parent[r] !== r) r = parent[r]!;
    while (parent[i] !== r) {
      const up = parent[i]!;
      parent[i] = r;
      i = up;
    }
    return r;
  };
  for (const l of links) parent[rootOf(l.from)] = rootOf(l.to);
  const number = new Int32Array(count).fill(-1);
  const out = new Int32Array(count).fill(-1);
  let parts = 0;
  for (const l of links) {
    const r = rootOf(l.from);
    if (number[r] === -1) number[r] = parts++;
    out[l.from] = number[r]!;
    out[l.to] = number[r]!;
  }
  return out;
}

function walkLoops(nodes: readonly Point[], origin: Int32Array, next: Int32Array, partOfNode: Int32Array) {
  const loopOf = new Int32Array(origin.length).fill(-1);
  const raw: { halfEdges: number[]; area: number; part: number; box: Box }[] = [];
  // The loop of the most negative area is the one round the outside; the only one of a part without faces.
  const outerOf: number[] = [];
  for (let start = 0; start < origin.length; start++) {
    if (loopOf[start] !== -1) continue;
    const halfEdges: number[] = [];
    const o = nodes[origin[start]!]!;
    let twice = 0;
    let [minX, minY, maxX, maxY] = [o.x, o.y, o.x, o.y];
    let p = o;
    for (let h = start; loopOf[h] === -1; h = next[h]!) {
      loopOf[h] = raw.length;
      halfEdges.push(h);
      const q = nodes[origin[h ^ 1]!]!;
      twice += (p.x - o.x) * (q.y - o.y) - (p.y - o.y) * (q.x - o.x);
      if (p.x < minX) minX = p.x;
      if (p.x > maxX) maxX = p.x;
      if (p.y < minY) minY = p.y;
      if (p.y > maxY) maxY = p.y;
      p = q;
    }
    const part = partOfNode[origin[start]!]!;
    const area = twice / 2;
    const best = outerOf[part];
    if (best === undefined || area < raw[best]!.area) outerOf[part] = raw.length;
    raw.push({ halfEdges, area, part, box: { minX, minY, maxX, maxY } });
  }
  const loops = raw.map(
    ({ halfEdges, area, part, box }, i): Loop => ({ halfEdges, area, part, box, outer: outerOf[part] === i }),
  );
  return { loops, loopOf };
}

function nestParts(nodes: readonly Point[], origin: Int32Array, loops: readonly Loop[], loopOf: Int32Array) {
  const faceLoop: number[] = [-1];
  const faceOfLoop = new Int32Array(loops.length);
  let partCount = 0;
  for (const l of loops) if (l.part >= partCount) partCount = l.part + 1;
  const partFaces: number[][] = Array.from({ length: partCount }, () => []);
  const outerLoop = new Int32Array(partCount);
  loops.forEach((l, i) => {
    if (l.outer) outerLoop[l.part] = i;
    else {
      faceOfLoop[i] = faceLoop.length;
      partFaces[l.part]!.push(faceLoop.length);
      faceLoop.push(i);
    }
  });
  const inner: number[][] = faceLoop.map(() => []);
  const within = new Int32Array(partCount);
  // One part alone lies in the unbounded face.
  if (faceLoop.length > 1 && partCount > 1) {
    const facesAt = facesOver(faceLoop, loops, partCount);
    for (let part = 0; part < partCount; part++) {
      const p = nodes[origin[loops[outerLoop[part]!]!.halfEdges[0]!]!]!;
      let best = 0;
      for (const face of facesAt(p)) {
        const loop = loops[faceLoop[face]!]!;
        if (loop.part === part) continue;
        if (best !== 0 && loop.area >= loops[faceLoop[best]!]!.area) continue;
        if (insideHalfEdges({ nodes, origin }, loop.halfEdges, p)) best = face;
      }
      within[part] = best;
    }
  }
  for (let part = 0; part < partCount; part++) {
    inner[within[part]!]!.push(outerLoop[part]!);
    faceOfLoop[outerLoop[part]!] = within[part]!;
  }
  const faceOf = new Int32Array(loopOf.length);
  for (let h = 0; h < loopOf.length; h++) faceOf[h] = faceOfLoop[loopOf[h]!]!;
  const faces: SubdivisionFace[] = faceLoop.map((loop, i) => ({ loop, inner: inner[i]! }));
  const parts: Part[] = partFaces.map((f, i) => ({ outerLoop: outerLoop[i]!, faces: f, within: within[i]! }));
  return { faces, faceOf, parts };
}

/** Faces whose boxes hold a point; a tree is built only for so many questions that looking through all takes longer. */
function facesOver(
  faceLoop: readonly number[],
  loops: readonly Loop[],
  questions: number,
): (p: Point) => number[] {
  if (questions > treeFrom) {
    const index = new Flatbush(faceLoop.length - 1);
    for (let face = 1; face < faceLoop.length; face++) {
      const { minX, minY, maxX, maxY } = loops[faceLoop[face]!]!.box;
      index.add(minX, minY, maxX, maxY);
    }
    index.finish();
    return (p) => index.search(p.x, p.y, p.x, p.y).map((k) => k + 1);
  }
  return (p) => {
    const out: number[] = [];
    for (let face = 1; face < faceLoop.length; face++) {
      const b = loops[faceLoop[face]!]!.box;
      if (p.x >= b.minX && p.x <= b.maxX && p.y >= b.minY && p.y <= b.maxY) out.push(face);
    }
    return out;
  };
}

const treeFrom = 64;

/** Links with the same loop on both sides: taking one away splits its part in two, or drops a loose end. */
export function bridges(s: Subdivision): boolean[] {
  return s.links.map((_, i) => s.loopOf[2 * i] === s.loopOf[2 * i + 1]);
}

/** Corners of a loop in order, the start of each half-edge. */
export function loopPoints(s: Subdivision, loop: number): Point[] {
  return s.loops[loop]!.halfEdges.map((h) => s.nodes[s.origin[h]!]!);
}

/**
 * Self-check: V − E + F − 1 − C for nodes in use, links, faces with the unbounded one, and parts. Zero for every
 * plane graph (Euler's formula), so anything else means links that cross without a node.
 */
export function subdivisionEuler(s: Subdivision): number {
  const used = s.leaving.reduce((n, l) => n + (l.length > 0 ? 1 : 0), 0);
  return used - s.links.length + s.faces.length - 1 - s.parts.length;
}

/**
 * Self-check: the largest difference (mm²) between the area inside a part's outer loop and the sum of its faces.
 * Zero up to rounding.
 */
export function subdivisionAreaError(s: Subdivision): Mm2 {
  let worst = 0;
  for (const part of s.parts) {
    const inside = part.faces.reduce((sum, f) => sum + s.loops[s.faces[f]!.loop]!.area, 0);
    worst = Math.max(worst, Math.abs(inside + s.loops[part.outerLoop]!.area));
  }
  return worst;
}

/** Self-check: links that cross another without a node between them. */
export function subdivisionCrossings(s: Subdivision): number {
  if (s.links.length === 0) return 0;
  const index = new Flatbush(s.links.length);
  const ends = s.links.map((l) => [s.nodes[l.from]!, s.nodes[l.to]!] as const);
  for (const [a, b] of ends)
    index.add(Math.min(a.x, b.x), Math.min(a.y, b.y), Math.max(a.x, b.x), Math.max(a.y, b.y));
  index.finish();
  let count = 0;
  ends.forEach(([a, b], i) => {
    for (const j of index.search(
      Math.min(a.x, b.x),
      Math.min(a.y, b.y),
      Math.max(a.x, b.x),
      Math.max(a.y, b.y),
      (k) => k > i,
    )) {
      const [c, d] = ends[j]!;
      const split = orient2d(a.x, a.y, b.x, b.y, c.x, c.y) * orient2d(a.x, a.y, b.x, b.y, d.x, d.y) < 0;
      if (split && orient2d(c.x, c.y, d.x, d.y, a.x, a.y) * orient2d(c.x, c.y, d.x, d.y, b.x, b.y) < 0)
        count++;
    }
  });
  return count;
}
