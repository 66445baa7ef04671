/**
 * A face with a hole whose rim is sewn, divided by two bridges from the outline to the rim: folds of no bend, neither
 * cut nor printed. The rim then belongs to the sides of two faces, and what is sewn to it can be joined like anything
 * else. See `cutRoundHole` of the shell, which lays its bridges alike.
 */
import { nearestAlong, type Point } from '../math';
import { holeMark, type Pattern, type Seams } from '../model';
import { cutRoundHole } from '../shell';
import { inside } from './crossing';
import type { Site } from './holeWay';
import { alongLine } from './lines';
import { divideAlong, linesOf } from './refine';

/** A hole inside one face. */
export interface FaceHole {
  /** The same whatever is edited: its number among the holes of the pattern. */
  readonly id: string;
  readonly rim: readonly string[];
}

/** Holes of the pattern, whether anything is sewn to their rims or not. */
export function holesOf(pattern: Pattern): FaceHole[] {
  return pattern.pieces
    .flatMap((p) => p.holes)
    .map((loop, k) => ({ id: holeMark(k), rim: loop.map((e) => e.id) }));
}

/** The face that a hole lies in, with the loop of its rim. */
export function faceRound(pattern: Pattern, { rim }: FaceHole) {
  const piece = pattern.pieces.find((p) => p.holes.some((loop) => loop[0]?.id === rim[0]));
  const loop = piece?.holes.find((l) => l[0]?.id === rim[0]);
  const first = loop?.[0]?.points[0];
  const face = first && piece?.faces.find((f) => inside(f.polygon, first));
  return loop && face ? { loop, face } : null;
}

/** @returns null where the hole lies in no face, or no two bridges reach its rim */
export function bridgeHole(
  pattern: Pattern,
  seams: Seams,
  { id, rim }: FaceHole,
): { readonly pattern: Pattern; readonly seams: Seams } | null {
  const home = faceRound(pattern, { id, rim });
  if (!home) return null;
  const { loop, face } = home;
  const hole = loop.flatMap((e) => e.points.slice(0, -1));
  const others = face.holes.filter((h) => !hole.some((p) => samePoint(p, h[0]!)));
  const lines = linesOf(pattern);
  const ends = (ids: readonly string[]) => ids.flatMap((l) => [lines.get(l)![0]!, lines.get(l)!.at(-1)!]);
  const may = {
    outer: atEnds(face.polygon, ends(face.sides.map((s) => s.id))),
    hole: atEnds(hole, ends(rim)),
  };
  // From corner to corner where that can be, so that no edge is divided for the sake of a bridge.
  const cut = cutRoundHole(face.polygon, hole, others, may) ?? cutRoundHole(face.polygon, hole, others);
  if (!cut) return null;
  const sides = face.sides.map((s) => ({ id: s.id, points: lines.get(s.id)! }));
  const outerAt = (k: 0 | 1): Site => siteOn(sides, face.polygon[cut.outer[k]]!);
  const rimAt = (k: 0 | 1): Site => siteOn(loop, hole[cut.hole[k]]!);
  const { pattern: divided, seams: sewn } = divideAlong(
    pattern,
    seams,
    [
      {
        ...{ face: face.id, from: outerAt(0), to: outerAt(1), inner: [], tip: null },
        through: { hole: 0, enter: rimAt(0), leave: rimAt(1), before: 0, after: 0 },
      },
    ],
    id,
  );
  return { pattern: divided, seams: sewn };
}

/** Corners within this are one: the numbers of one drawing. */
const samePoint = (p: Point, q: Point) => Math.hypot(p.x - q.x, p.y - q.y) < 1e-6;

/** Numbers of the corners of a ring that lie at one of these ends. */
const atEnds = (ring: readonly Point[], ends: readonly Point[]): ReadonlySet<number> =>
  new Set(ring.flatMap((p, i) => (ends.some((e) => samePoint(e, p)) ? [i] : [])));

/** The place on one of these lines that is nearest to a point. */
function siteOn(
  lines: readonly { readonly id: string; readonly points: readonly Point[] }[],
  p: Point,
): Site {
  let best: { site: Site; off: number } | null = null;
  for (const { id, points } of lines) {
    const at = nearestAlong(points, p);
    const there = alongLine(points, at);
    const off = Math.hypot(there.x - p.x, there.y - p.y);
    if (off < (best?.off ?? Number.POSITIVE_INFINITY)) best = { site: { line: id, at }, off };
  }
  return best!.site;
}
