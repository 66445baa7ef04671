/**
 * Cleans the moved loops with one union of all rings (positive winding counts, so what an inset turned over is gone),
 * and finds again which stretch of the result belongs to which edge.
 *
 * Loops that do not touch come out as they went in: the exact points are kept and nothing is rounded to the grid.
 */
import {
  cross,
  distance,
  distanceToSegment,
  dot,
  type Point,
  polylineLength,
  ringArea,
  subtract,
} from '../math';
import type { Mm } from '../units';
import type { OwnedRing } from './edgeShiftCollapse';
import { onLine } from './edgeShiftTolerance';
import { gridPitch, uniteRings } from './polygonLibrary';

/** A side of a raw ring with its edge (an index over all loops), −1 for a side between two edges. */
export interface OwnedSide {
  readonly from: Point;
  readonly to: Point;
  readonly owner: number;
  /** The edge whose end this side follows: `owner`, or for a side between two edges the one before. */
  readonly near: number;
}

export interface CleanRings {
  /** Outlines counter-clockwise, largest first, then holes clockwise, largest first. First point not repeated. */
  readonly rings: readonly (readonly Point[])[];
  /** True when the union changed nothing. */
  readonly untouched: boolean;
  /** By edge: the stretches of the rings that lie on it, in ring order. Null when untouched. */
  readonly parts: ReadonlyMap<number, readonly (readonly Point[])[]> | null;
  /** Pairs of edges whose moved lines cross. */
  readonly crossings: readonly (readonly [number, number])[];
}

export function cleanRings(raw: readonly OwnedRing[]): CleanRings {
  const rings = raw.map((ring) => ring.points);
  const united = uniteRings(rings);
  if (sameRings(rings, united)) return { rings: inOrder(rings), untouched: true, parts: null, crossings: [] };
  const sides = raw.flatMap(sidesOf);
  const sharp = united.map((ring) => ring.map((p) => exactPoint(p, sides)));
  return {
    rings: inOrder(sharp),
    untouched: false,
    parts: findParts(sharp, sides),
    crossings: crossingPairs(sides),
  };
}

/** The union gave the same rings up to rounding: as many, with the same areas and lengths all together. */
function sameRings(before: readonly (readonly Point[])[], after: readonly (readonly Point[])[]): boolean {
  if (before.length !== after.length || !before.some((ring) => ringArea(ring) > 0)) return false;
  const count = before.reduce((n, ring) => n + ring.length, 0);
  const girth = sum(before, ringLength);
  const moved = 0.71 * gridPitch;
  return (
    Math.abs(sum(before, ringLength) - sum(after, ringLength)) <= 2 * count * moved &&
    Math.abs(sum(before, ringArea) - sum(after, ringArea)) <= girth * moved &&
    Math.abs(sum(before, absoluteArea) - sum(after, absoluteArea)) <= girth * moved
  );
}

const sum = <T>(items: readonly T[], of: (item: T) => number) => items.reduce((n, item) => n + of(item), 0);
const ringLength = (ring: readonly Point[]): Mm => polylineLength([...ring, ...ring.slice(0, 1)]);
const absoluteArea = (ring: readonly Point[]) => Math.abs(ringArea(ring));

function inOrder(rings: readonly (readonly Point[])[]): (readonly Point[])[] {
  const rank = (ring: readonly Point[]) => ringArea(ring);
  return [
    ...rings.filter((ring) => rank(ring) > 0).sort((p, q) => rank(q) - rank(p)),
    ...rings.filter((ring) => rank(ring) < 0).sort((p, q) => rank(p) - rank(q)),
  ];
}

function sidesOf(ring: OwnedRing): OwnedSide[] {
  let near = [...ring.owners].reverse().find((owner) => owner >= 0) ?? -1;
  return ring.points.map((from, k) => {
    const owner = ring.owners[k]!;
    if (owner >= 0) near = owner;
    return { from, to: ring.points[(k + 1) % ring.points.length]!, owner, near };
  });
}

/** The raw corner that a point of the united rings was rounded from; the point itself where it is a new crossing. */
function exactPoint(p: Point, sides: readonly OwnedSide[]): Point {
  for (const side of sides) if (distance(side.from, p) <= 1.5 * gridPitch) return side.from;
  return p;
}

/** Runs of ring sides on the same edge. */
function findParts(
  rings: readonly (readonly Point[])[],
  sides: readonly OwnedSide[],
): Map<number, Point[][]> {
  const parts = new Map<number, Point[][]>();
  for (const ring of rings) {
    const owners = ring.map((from, k) => ownerOf(from, ring[(k + 1) % ring.length]!, sides));
    // Begin where the owner changes, so that no run is cut at the start of the ring.
    const start = Math.max(
      0,
      owners.findIndex((owner, k) => owner !== owners[(k + ring.length - 1) % ring.length]),
    );
    let run: Point[] = [];
    for (let step = 0; step < ring.length; step++) {
      const k = (start + step) % ring.length;
      const owner = owners[k]!;
      const changed = step === 0 || owner !== owners[(k + ring.length - 1) % ring.length];
      if (owner < 0) continue;
      if (changed) {
        run = [ring[k]!];
        const runs = parts.get(owner);
        if (runs) runs.push(run);
        else parts.set(owner, [run]);
      }
      run.push(ring[(k + 1) % ring.length]!);
    }
  }
  return parts;
}

/** The edge of the raw side that a side of the result lies on, running the same way; −1 when none. */
function ownerOf(from: Point, to: Point, sides: readonly OwnedSide[]): number {
  const length = distance(from, to);
  let best = -1;
  let bestOff = onLine;
  for (const side of sides) {
    const off = Math.max(
      distanceToSegment(from, side.from, side.to),
      distanceToSegment(to, side.from, side.to),
    );
    if (off > bestOff) continue;
    // Sides as short as the grid have no trustworthy direction.
    const along = dot(subtract(to, from), subtract(side.to, side.from));
    if (along <= 0 && length > onLine) continue;
    best = side.owner;
    bestOff = off;
  }
  return best;
}

/** Every pair of edges that cross somewhere else than at a common corner. */
function crossingPairs(sides: readonly OwnedSide[]): (readonly [number, number])[] {
  const found = new Map<string, readonly [number, number]>();
  for (let i = 0; i < sides.length; i++) {
    for (let j = i + 1; j < sides.length; j++) {
      const p = sides[i]!;
      const q = sides[j]!;
      if (!crosses(p, q)) continue;
      const pair = [Math.min(p.near, q.near), Math.max(p.near, q.near)] as const;
      found.set(pair.join(), pair);
    }
  }
  return [...found.values()].sort((p, q) => p[0] - q[0] || p[1] - q[1]);
}

/** Two sides cross at a point inside both. */
function crosses(p: OwnedSide, q: OwnedSide): boolean {
  if (Math.max(p.from.x, p.to.x) < Math.min(q.from.x, q.to.x)) return false;
  if (Math.max(q.from.x, q.to.x) < Math.min(p.from.x, p.to.x)) return false;
  if (Math.max(p.from.y, p.to.y) < Math.min(q.from.y, q.to.y)) return false;
  if (Math.max(q.from.y, q.to.y) < Math.min(p.from.y, p.to.y)) return false;
  const side = (s: OwnedSide, at: Point) => cross(subtract(s.to, s.from), subtract(at, s.from));
  return side(p, q.from) * side(p, q.to) < 0 && side(q, p.from) * side(q, p.to) < 0;
}
