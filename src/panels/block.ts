/**
 * Panels while joins are tried: faces with their flat places, normals and extents, and one join as a pure function.
 * Limits and the order of trial follow an own study on eleven shells.
 */
import { add3, dot3, norm3, type Point, type Point3, point3, scaleBy3 } from '../math';
import type { PanelLimits } from '../model';
import type { Mm } from '../units';
import { type FlatTriangle, trianglesOf, trianglesOverlap } from './overlap';
import { bestMotion, type Motion, misfitOf, moved } from './procrustes';
import { cornersOf, type Surface } from './surface';
import { overlapSlack } from './tolerance';

export interface Block {
  readonly key: number;
  readonly faces: readonly number[];
  /** Flat corners by face, in the block's own frame. */
  readonly at: ReadonlyMap<number, readonly Point[]>;
  /** Sum of unit normals weighted by area. */
  readonly normal: Point3;
}

/** What does not change while joins are tried. */
export interface Ground {
  readonly surface: Surface;
  readonly normals: readonly Point3[];
  readonly areas: readonly number[];
  /** By hinge: bend without its sign, and length. */
  readonly bends: readonly number[];
  readonly lengths: readonly Mm[];
  readonly triangles: readonly (readonly (readonly [number, number, number])[])[];
  readonly limits: PanelLimits;
  /** The sheet of foam that every panel has to fit on, at the size of the drawing; null: none is known. */
  readonly sheet: SheetRoom | null;
}

/** Usable width and height of a sheet. */
export interface SheetRoom {
  readonly width: Mm;
  readonly height: Mm;
}

export const groundTriangles = (surface: Surface) => surface.faces.map((f) => trianglesOf(f.flat));

/** Largest angle between a face of these and their mean normal. */
export function spreadOf(ground: Ground, faces: readonly number[], sum: Point3): number {
  const size = norm3(sum);
  if (size === 0) return Math.PI;
  const mean = scaleBy3(sum, 1 / size);
  let least = 1;
  for (const f of faces) least = Math.min(least, dot3(ground.normals[f]!, mean));
  return Math.acos(Math.max(-1, Math.min(1, least)));
}

export function normalSum(ground: Ground, faces: readonly number[]): Point3 {
  let sum = point3(0, 0, 0);
  for (const f of faces) sum = add3(sum, scaleBy3(ground.normals[f]!, ground.areas[f]!));
  return sum;
}

/** Directions in which extents are taken: the largest is within 0.4 % of the diameter. */
const directions = Array.from({ length: 18 }, (_, k) => ({
  x: Math.cos((k * Math.PI) / 18),
  y: Math.sin((k * Math.PI) / 18),
}));

export function reachOf(at: Iterable<readonly Point[]>): Mm {
  return Math.max(0, ...extents(at));
}

/** Whether a panel is too large: wider than the reach, or for the sheet however it is turned (by steps of 10°). */
export function tooLarge(
  { limits, sheet }: Pick<Ground, 'limits' | 'sheet'>,
  at: ReadonlyMap<number, readonly Point[]>,
): boolean {
  const spans = extents(at.values());
  if (Math.max(0, ...spans) > limits.reach) return true;
  if (!sheet) return false;
  const quarter = directions.length / 2;
  return !spans.some(
    (span, k) => span <= sheet.width && spans[(k + quarter) % directions.length]! <= sheet.height,
  );
}

/** Extent in each direction. */
function extents(at: Iterable<readonly Point[]>): Mm[] {
  const low = directions.map(() => Infinity);
  const high = directions.map(() => -Infinity);
  for (const ring of at)
    for (const p of ring)
      for (const [k, d] of directions.entries()) {
        const s = p.x * d.x + p.y * d.y;
        if (s < low[k]!) low[k] = s;
        if (s > high[k]!) high[k] = s;
      }
  return directions.map((_, k) => high[k]! - low[k]!);
}

export interface Joined {
  readonly block: Block;
  /** Hinges that close. */
  readonly closed: readonly number[];
}

/** Both sides of a hinge, start to end along the side that lies in `faces`. */
function sidesOf(surface: Surface, h: number, a: Block, b: Block): { here: Point[]; there: Point[] } | null {
  const hinge = surface.hinges[h]!;
  for (const [c, d] of [
    [hinge.a, hinge.b],
    [hinge.b, hinge.a],
  ] as const) {
    const one = surface.chains[c]!;
    const two = surface.chains[d]!;
    const p = a.at.get(one.face);
    const q = b.at.get(two.face);
    if (!p || !q) continue;
    return {
      here: cornersOf(surface, one).map((i) => p[i]!),
      there: cornersOf(surface, two)
        .reverse()
        .map((i) => q[i]!),
    };
  }
  return null;
}

/**
 * Lays `b` against `a` along these hinges and joins them where everything holds: the misfit, no faces on each other, the
 * reach, the spread of normals, the width of darts. Other hinges between the two close where they lie together.
 * @param shared all hinges between the two
 */
export function tryJoin(
  ground: Ground,
  a: Block,
  b: Block,
  run: readonly number[],
  shared: readonly number[],
  key: number,
): Joined | null {
  const { surface, limits } = ground;
  const faces = [...a.faces, ...b.faces];
  const normal = add3(a.normal, b.normal);
  if (spreadOf(ground, faces, normal) > limits.spread + 1e-9) return null;
  const from: Point[] = [];
  const to: Point[] = [];
  for (const h of run) {
    const sides = sidesOf(surface, h, a, b);
    if (!sides) return null;
    to.push(...sides.here);
    from.push(...sides.there);
  }
  const motion = bestMotion(from, to);
  const misfit = misfitOf(from, to, motion);
  if (misfit > limits.misfit) return null;
  const closed = [...run];
  for (const h of shared) {
    if (run.includes(h)) continue;
    const sides = sidesOf(surface, h, a, b);
    if (!sides) continue;
    const width = misfitOf(sides.there, sides.here, motion);
    if (width <= limits.misfit && ground.bends[h]! <= limits.bend) closed.push(h);
    else if (width > limits.dart) return null;
  }
  const at = new Map(a.at);
  for (const [f, ring] of b.at)
    at.set(
      f,
      ring.map((p) => moved(p, motion)),
    );
  if (tooLarge(ground, at)) return null;
  if (anyOverlap(ground, a, b, motion, overlapSlack + misfit)) return null;
  return { block: { key, faces: faces.sort((p, q) => p - q), at, normal }, closed };
}

function anyOverlap(ground: Ground, a: Block, b: Block, motion: Motion, slack: Mm): boolean {
  const own = boxed(ground, a, null);
  const other = boxed(ground, b, motion);
  for (const p of own)
    for (const q of other) {
      if (p.maxX - q.minX <= slack || q.maxX - p.minX <= slack) continue;
      if (p.maxY - q.minY <= slack || q.maxY - p.minY <= slack) continue;
      for (const s of p.triangles)
        for (const t of q.triangles) if (trianglesOverlap(s, t, slack)) return true;
    }
  return false;
}

function boxed(ground: Ground, block: Block, motion: Motion | null) {
  return block.faces.map((f) => {
    const ring = motion ? block.at.get(f)!.map((p) => moved(p, motion)) : block.at.get(f)!;
    let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
    for (const p of ring) {
      minX = Math.min(minX, p.x);
      minY = Math.min(minY, p.y);
      maxX = Math.max(maxX, p.x);
      maxY = Math.max(maxY, p.y);
    }
    const triangles = ground.triangles[f]!.map(
      (t): FlatTriangle => t.flatMap((i) => [ring[i]!.x, ring[i]!.y]),
    );
    return { minX, minY, maxX, maxY, triangles };
  });
}

/** Vertices at both ends of a hinge. */
export function runEnds(surface: Surface, h: number): readonly [number, number] {
  const chain = surface.chains[surface.hinges[h]!.a]!;
  const ring = surface.faces[chain.face]!.vertices;
  return [ring[chain.first]!, ring[(chain.first + chain.count) % ring.length]!];
}

/** Runs are tried in every stretch up to so many hinges; of longer ones only stretches that begin or end the run. */
const everyStretch = 24;

/**
 * Stretches of a run that close within the misfit, so that what stays open opens as darts no wider than the limit. The
 * one that does least harm comes first: the smallest area of open darts (width × length, summed).
 */
export function leastOpen(
  ground: Ground,
  a: Block,
  b: Block,
  run: readonly number[],
  shared: readonly number[],
): number[][] {
  const { surface, limits, lengths } = ground;
  const order = inOrder(surface, run);
  const n = order.length;
  const sides = new Map(shared.map((h) => [h, sidesOf(surface, h, a, b)] as const));
  const found: { readonly part: number[]; readonly harm: number }[] = [];
  for (let i = 0; i < n; i++)
    for (let j = i + 1; j <= n; j++) {
      if (j - i === n || (n > everyStretch && i > 0 && j < n)) continue;
      const part = order.slice(i, j);
      const own = part.map((h) => sides.get(h));
      if (own.some((s) => !s)) continue;
      const from = own.flatMap((s) => s!.there);
      const to = own.flatMap((s) => s!.here);
      const motion = bestMotion(from, to);
      if (misfitOf(from, to, motion) > limits.misfit) continue;
      let harm = 0;
      let widest = 0;
      for (const h of shared) {
        const other = sides.get(h);
        if (!other || part.includes(h)) continue;
        const width = misfitOf(other.there, other.here, motion);
        if (width <= limits.misfit && ground.bends[h]! <= limits.bend) continue;
        widest = Math.max(widest, width);
        harm += width * lengths[h]!;
      }
      if (widest <= limits.dart) found.push({ part, harm });
    }
  return found
    .sort((p, q) => p.harm - q.harm || q.part.length - p.part.length || p.part[0]! - q.part[0]!)
    .map(({ part }) => part);
}

/** The hinges of a run from one of its ends to the other. */
function inOrder(surface: Surface, run: readonly number[]): number[] {
  const at = new Map<number, number[]>();
  for (const h of run) for (const v of runEnds(surface, h)) at.set(v, [...(at.get(v) ?? []), h]);
  const first = run.find((h) => runEnds(surface, h).some((v) => at.get(v)!.length === 1)) ?? run[0]!;
  const out = [first];
  const done = new Set(out);
  for (let h: number | undefined = first; h !== undefined; ) {
    h = runEnds(surface, h)
      .flatMap((v) => at.get(v)!)
      .find((g) => !done.has(g));
    if (h === undefined) break;
    done.add(h);
    out.push(h);
  }
  return [...out, ...run.filter((h) => !done.has(h))];
}

/** Inner angle of a counter-clockwise ring at a corner, 0 to a full turn. */
export function angleAt(ring: readonly Point[], i: number): number {
  const n = ring.length;
  const [p, q, r] = [ring[(i + n - 1) % n]!, ring[i]!, ring[(i + 1) % n]!];
  const angle = Math.atan2(p.y - q.y, p.x - q.x) - Math.atan2(r.y - q.y, r.x - q.x);
  return angle < 0 ? angle + 2 * Math.PI : angle;
}
