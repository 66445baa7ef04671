/**
 * Which face mirrors which on a mirror-symmetric shell. Pieces that are cut across the middle have no mirror twins, but
 * their faces have: the map is spread from one pair of faces over folds and seams. What is known of one side is then known
 * of the other: the mirror image of a seam is a seam or a fold.
 */
import { distance } from '../math';
import type { Pattern } from '../model';
import type { Mm, Rad } from '../units';
import type { GluedOutlines } from './gluedOutlines';
import type { HalfEdges } from './halfEdges';
import {
  clashCost,
  fewestMirrored,
  mirrorClear,
  mirrorSeeds,
  twinAngle,
  twinAngleOffset,
} from './matchTolerance';

/** Faces as rings of sides; all sides of all faces are numbered. */
interface FaceSides {
  readonly count: number;
  readonly faces: number;
  readonly face: Int32Array;
  readonly next: Int32Array;
  readonly before: Int32Array;
  readonly length: Float64Array;
  /** Inside angle of the face at the start of each side, rad. */
  readonly angle: Float64Array;
  /** The side across a fold; −1 for edges. */
  readonly acrossFold: Int32Array;
  /** Number of the edge that a side is; −1 for folds. */
  readonly edge: Int32Array;
  /** Side of an edge; −1 where its face is not looked at. */
  readonly ofEdge: Int32Array;
}

/** What lies across the mirror image of an edge. */
export type MirrorMate =
  /** Nothing is known. */
  | { readonly kind: 'unknown' }
  /** Nothing is glued there. */
  | { readonly kind: 'open'; readonly image: number }
  /** The mirror image of this edge: the two are mates. */
  | { readonly kind: 'edge'; readonly mate: number }
  /** The mirror image of a fold: what was glued can't be right. */
  | { readonly kind: 'clash' };

export interface FaceMirror {
  /** What the other side of the shell says about the mate of an edge. */
  mateOf(edge: number): MirrorMate;
  /** The edge that is the mirror image of an edge; −1 where it is none that is known. */
  imageOf(edge: number): number;
  /** How many faces have an image, and how many there are. */
  readonly mapped: number;
  readonly faces: number;
}

/**
 * The mirror of the glued faces; null where there is none, or more than one could be.
 * @param reach most difference in length of mirror images
 */
export function faceMirror(pattern: Pattern, glued: GluedOutlines, reach: Mm): FaceMirror | null {
  const sides = sidesOfFaces(pattern, glued.half);
  const across = (s: number): number => {
    if (sides.acrossFold[s]! >= 0) return sides.acrossFold[s]!;
    const mate = sides.edge[s]! >= 0 ? glued.mate[sides.edge[s]!]! : -1;
    return mate >= 0 ? sides.ofEdge[mate]! : -1;
  };
  const image = new Int32Array(sides.count).fill(-1);
  const sizes: number[] = [];
  for (;;) {
    const grown = bestMap(sides, across, image, reach);
    if (!grown) break;
    if (sizes.length === 0 && grown.mapped < fewestMirrored * sides.faces) return null;
    for (const [s, t] of grown.pairs) image[s] = t;
    sizes.push(grown.mapped);
  }
  if (sizes.length === 0) return null;
  return {
    mapped: sizes.reduce((sum, n) => sum + n, 0),
    faces: sides.faces,
    imageOf(edge) {
      const there = image[sides.ofEdge[edge] ?? -1] ?? -1;
      return there < 0 ? -1 : sides.edge[there]!;
    },
    mateOf(edge) {
      const there = image[sides.ofEdge[edge] ?? -1] ?? -1;
      if (there < 0) return { kind: 'unknown' };
      const beyond = across(there);
      if (beyond < 0) return { kind: 'open', image: sides.edge[there]! };
      const back = image[beyond]!;
      if (back < 0) return { kind: 'unknown' };
      return sides.edge[back]! >= 0 ? { kind: 'edge', mate: sides.edge[back]! } : { kind: 'clash' };
    },
  };
}

interface Grown {
  readonly pairs: readonly (readonly [number, number])[];
  readonly mapped: number;
  readonly score: number;
}

/** The map over most faces without an image yet that leads clearly over any other; null where there is none. */
function bestMap(
  sides: FaceSides,
  across: (s: number) => number,
  image: Int32Array,
  reach: Mm,
): Grown | null {
  const starts = seedsOf(sides, image, reach);
  let best: Grown | null = null;
  for (const [s, candidates] of starts) {
    let [first, second]: [Grown | null, Grown | null] = [null, null];
    for (const t of candidates) {
      const grown = spread(sides, across, image, reach, s, t);
      if (!grown) continue;
      if (!first || grown.score > first.score) [first, second] = [grown, first];
      else if (!second || grown.score > second.score) second = grown;
    }
    if (!first || (second && second.score * mirrorClear > first.score)) continue;
    if (!best || first.score > best.score) best = first;
  }
  return best;
}

/** Sides to begin from, of faces with the fewest faces of their shape, each with the sides that could be its image. */
function seedsOf(sides: FaceSides, image: Int32Array, reach: Mm): (readonly [number, readonly number[]])[] {
  const free: number[] = [];
  for (let s = 0; s < sides.count; s++) if (image[s]! < 0) free.push(s);
  const byLength = [...free].sort((p, q) => sides.length[p]! - sides.length[q]! || p - q);
  const seen = new Set<number>();
  const starts: (readonly [number, number[]])[] = [];
  byLength.forEach((s, at) => {
    if (seen.has(sides.face[s]!)) return;
    seen.add(sides.face[s]!);
    const alike: number[] = [];
    for (const step of [-1, 1])
      for (let k = step < 0 ? at : at + 1; k >= 0 && k < byLength.length; k += step) {
        const t = byLength[k]!;
        if (Math.abs(sides.length[t]! - sides.length[s]!) > reach) break;
        if (facesMirror(sides, s, t, reach)) alike.push(t);
      }
    if (alike.length > 0) starts.push([s, alike]);
  });
  return starts.sort((p, q) => p[1].length - q[1].length || p[0] - q[0]).slice(0, mirrorSeeds);
}

/** Whether two faces are mirror images of each other with side s on side t. */
function facesMirror(sides: FaceSides, s: number, t: number, reach: Mm): boolean {
  let [p, q] = [s, t];
  do {
    if (Math.abs(sides.length[p]! - sides.length[q]!) > reach) return false;
    const short = Math.min(sides.length[p]!, sides.length[sides.before[p]!]!);
    const slack = Math.max(twinAngle, twinAngleOffset / Math.max(short, 1e-3));
    if (Math.abs(sides.angle[p]! - sides.angle[sides.next[q]!]!) > slack) return false;
    [p, q] = [sides.next[p]!, sides.before[q]!];
  } while (p !== s && q !== t);
  return p === s && q === t;
}

/** Spreads the map that sends side s to side t, over faces without an image. */
function spread(
  sides: FaceSides,
  across: (s: number) => number,
  image: Int32Array,
  reach: Mm,
  s0: number,
  t0: number,
): Grown | null {
  const map = new Map<number, number>();
  const queue: (readonly [number, number])[] = [];
  let mapped = 0;
  let clashes = 0;
  const put = (s: number, t: number): boolean => {
    if (map.has(s) || map.has(t)) return map.get(s) === t;
    if (image[s]! >= 0 || image[t]! >= 0) return image[s] === t;
    // A face is one other's image, whichever of its sides comes first.
    if (!facesMirror(sides, s, t, reach)) return false;
    let [p, q] = [s, t];
    const ring: (readonly [number, number])[] = [];
    do {
      if ((map.has(p) && map.get(p) !== q) || (map.has(q) && map.get(q) !== p)) return false;
      ring.push([p, q]);
      [p, q] = [sides.next[p]!, sides.before[q]!];
    } while (p !== s);
    // A face that is its own image has each side once on each side of the pair.
    for (const [a, b] of ring) {
      map.set(a, b);
      map.set(b, a);
    }
    mapped += sides.face[s] === sides.face[t] ? 1 : 2;
    queue.push(...ring);
    return true;
  };
  if (!put(s0, t0)) return null;
  for (let k = 0; k < queue.length; k++) {
    const [a, b] = [across(queue[k]![0]), across(queue[k]![1])];
    if (a < 0 || b < 0) continue;
    if (!put(a, b)) clashes++;
    if (clashes * clashCost > mapped + clashCost) return null;
  }
  return { pairs: [...map], mapped, score: mapped - clashCost * clashes };
}

function sidesOfFaces(pattern: Pattern, half: HalfEdges): FaceSides {
  const face: number[] = [];
  const next: number[] = [];
  const before: number[] = [];
  const length: number[] = [];
  const angle: number[] = [];
  const acrossFold: number[] = [];
  const edge: number[] = [];
  const ofEdge = new Int32Array(half.count).fill(-1);
  const ofFold = new Map<string, number>();
  let faces = 0;
  for (const piece of pattern.pieces)
    for (const { polygon, sides, holes } of piece.faces) {
      const n = polygon.length;
      // Sides that curve, and faces round holes, tell nothing here.
      if (n < 3 || sides.length !== n || holes.length > 0) continue;
      const first = face.length;
      sides.forEach((side, k) => {
        const s = first + k;
        const [p, q, r] = [polygon[(k + n - 1) % n]!, polygon[k]!, polygon[(k + 1) % n]!];
        face.push(faces);
        next.push(first + ((k + 1) % n));
        before.push(first + ((k + n - 1) % n));
        length.push(distance(q, r));
        angle.push(insideAngle(p, q, r));
        acrossFold.push(-1);
        edge.push(side.kind === 'edge' ? half.indexOf.get(side.id)! : -1);
        if (side.kind === 'edge') ofEdge[edge[s]!] = s;
        else if (ofFold.has(side.id)) {
          acrossFold[s] = ofFold.get(side.id)!;
          acrossFold[ofFold.get(side.id)!] = s;
        } else ofFold.set(side.id, s);
      });
      faces++;
    }
  return {
    count: face.length,
    faces,
    face: Int32Array.from(face),
    next: Int32Array.from(next),
    before: Int32Array.from(before),
    length: Float64Array.from(length),
    angle: Float64Array.from(angle),
    acrossFold: Int32Array.from(acrossFold),
    edge: Int32Array.from(edge),
    ofEdge,
  };
}

/** Inside angle at q of a ring that runs counter-clockwise, rad. */
function insideAngle(
  p: { readonly x: number; readonly y: number },
  q: { readonly x: number; readonly y: number },
  r: { readonly x: number; readonly y: number },
): Rad {
  const [ax, ay, bx, by] = [q.x - p.x, q.y - p.y, r.x - q.x, r.y - q.y];
  return Math.PI - Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
}
