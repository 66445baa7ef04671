/**
 * One loop of edges on its way from the source to its full shift.
 *
 * All edge lines move at constant speed for λ = 0…1; corners move on straight lines (see edgeShiftCorner). When a
 * stretch shrinks to nothing it leaves the loop at that moment and its neighbours meet from then on, the earliest
 * first: the edge events of a weighted straight skeleton. Where the two that should meet run back along each other
 * there is no meeting point; both then move square to themselves and the loop keeps the place of the collapse as a
 * corner, so that what lies beyond winds the other way and disappears in the union afterwards. Loops that run into
 * other loops are left to that union too.
 */
import { add, cross, distance, dot, type Point, polylineLength, scaleBy, subtract, turnRight } from '../math';
import type { Mm, Rad } from '../units';
import { type Lead, type Meeting, meetEdges, meetInside } from './edgeShiftCorner';
import { blendBelow, collapseSlack, reversalAbove, shortestRun } from './edgeShiftTolerance';

/** The part of an edge that this file needs. */
export interface MovingEdge {
  readonly points: readonly Point[];
  readonly shift: Mm;
  /** Nearly collinear corners take the smaller shift when both edges say so. */
  readonly deeper: boolean;
  /** Displacement of the corner at its end, where it is given. */
  readonly corner?: Point;
}

/** A closed ring whose side from point k to the next belongs to edge `owners[k]`; −1: to the corner after an edge. */
export interface OwnedRing {
  readonly points: readonly Point[];
  readonly owners: readonly number[];
}

export interface MovedLoop {
  /** Null when the whole loop collapsed. */
  readonly ring: OwnedRing | null;
  /** For each edge its shifted line, empty when it collapsed. */
  readonly lines: readonly (readonly Point[])[];
  /** For each edge: an end of it was blended or capped, so it is not parallel to its source all along. */
  readonly blended: readonly boolean[];
}

/** A straight stretch between two points of the source. Neighbours and corners live in {@link Chain}. */
interface Stretch extends Lead {
  readonly owner: number;
  readonly length: Mm;
  /** Its end on the source. */
  readonly end: Point;
}

/** The loop as a ring of stretches, by index, from which collapsed ones are unhooked. */
interface Chain {
  readonly stretches: readonly Stretch[];
  readonly prev: number[];
  readonly next: number[];
  /** The corner at the end of each stretch. */
  readonly corners: Corner[];
  readonly alive: boolean[];
  /** By edge. */
  readonly blended: boolean[];
}

/** A corner on its way: the end of the stretch before and the start of the one after, from when and where. */
interface Corner {
  readonly a: Track;
  readonly b: Track;
  /** Displacements of further points between the two, from `a.base`. */
  readonly between: readonly Point[];
  /** Places of collapses that the loop has to keep. */
  readonly via: readonly Point[];
  /** Sum of the turns of all corners that merged here. */
  readonly turn: Rad;
}

interface Track {
  readonly base: Point;
  readonly from: number;
  readonly velocity: Point;
}

const placeOf = (track: Track, at: number): Point =>
  add(track.base, scaleBy(track.velocity, at - track.from));

const cornerAt = (base: Point, from: number, turn: Rad, meeting: Meeting): Corner => ({
  a: { base, from, velocity: meeting.before },
  b: { base, from, velocity: meeting.after },
  between: meeting.between,
  via: [],
  turn,
});

/** Moves every edge of a closed loop by its own distance. Edges follow each other; material lies to their left. */
export function moveLoop(edges: readonly MovingEdge[], mitreLimit: number): MovedLoop {
  const stretches = cutIntoStretches(edges);
  const gone = edges.map(() => []);
  if (stretches.length < 2) return { ring: null, lines: gone, blended: edges.map(() => false) };
  const { corners, blended } = setCorners(stretches, edges, mitreLimit);
  const count = stretches.length;
  const chain: Chain = {
    stretches,
    corners,
    prev: stretches.map((_, k) => (k + count - 1) % count),
    next: stretches.map((_, k) => (k + 1) % count),
    alive: stretches.map(() => true),
    blended,
  };
  if (!collapseStretches(chain, mitreLimit)) return { ring: null, lines: gone, blended };
  return { ...readOff(chain, edges.length), blended };
}

function cutIntoStretches(edges: readonly MovingEdge[]): Stretch[] {
  const stretches: Stretch[] = [];
  edges.forEach((edge, owner) => {
    let a = edge.points[0];
    for (const b of edge.points.slice(1)) {
      const length = a ? distance(a, b) : 0;
      if (!a || length < shortestRun) continue;
      const e = scaleBy(subtract(b, a), 1 / length);
      stretches.push({ owner, length, e, n: turnRight(e), shift: edge.shift, end: b });
      a = b;
    }
  });
  return stretches;
}

const turnBetween = (before: Lead, after: Lead): Rad =>
  Math.atan2(cross(before.e, after.e), dot(before.e, after.e));

/** The corner at the end of every stretch. Corners between edges come first: they tell how far the ends of a blended
 *  edge leave their line, and its inner corners share that out along its length. */
function setCorners(
  stretches: readonly Stretch[],
  edges: readonly MovingEdge[],
  mitreLimit: number,
): { corners: Corner[]; blended: boolean[] } {
  const nextOf = (k: number) => stretches[(k + 1) % stretches.length]!;
  const blended = edges.map(() => false);
  const excessAtStart = edges.map(() => 0);
  const excessAtEnd = edges.map(() => 0);
  const between = stretches.map((stretch, k): Corner | null => {
    const next = nextOf(k);
    if (stretch.owner === next.owner) return null;
    const turn = turnBetween(stretch, next);
    const deeper = edges[stretch.owner]!.deeper && edges[next.owner]!.deeper;
    const given = edges[stretch.owner]!.corner;
    const meeting: Meeting = given
      ? { before: given, after: given, between: [], off: true }
      : meetEdges(stretch, next, turn, { mitreLimit, deeper });
    if (meeting.off) {
      excessAtEnd[stretch.owner] = dot(meeting.before, stretch.n) - stretch.shift;
      excessAtStart[next.owner] = dot(meeting.after, next.n) - next.shift;
      blended[stretch.owner] = true;
      blended[next.owner] = true;
    }
    return cornerAt(stretch.end, 0, turn, meeting);
  });
  let owner = -1;
  let along = 0;
  let length = 0;
  const corners = stretches.map((stretch, k): Corner => {
    if (stretch.owner !== owner) {
      owner = stretch.owner;
      along = 0;
      length = polylineLength(edges[owner]!.points);
    }
    along += stretch.length;
    const set = between[k];
    if (set) return set;
    const next = nextOf(k);
    const part = Math.min(1, along / length);
    const shift = stretch.shift + excessAtStart[owner]! * (1 - part) + excessAtEnd[owner]! * part;
    const turn = turnBetween(stretch, next);
    return cornerAt(stretch.end, 0, turn, meetInside(stretch, next, turn, shift));
  });
  return { corners, blended };
}

/** Length that stretch k has at λ, along its own direction; negative once it has turned over. */
function lengthAt(chain: Chain, k: number, at: number): Mm {
  const start = placeOf(chain.corners[chain.prev[k]!]!.b, at);
  return dot(subtract(placeOf(chain.corners[k]!.a, at), start), chain.stretches[k]!.e);
}

/** Takes out the stretches that collapse before λ = 1, the earliest first. False when the whole loop collapses. */
function collapseStretches(chain: Chain, mitreLimit: number): boolean {
  let left = chain.stretches.length;
  let now = 0;
  for (;;) {
    let dying = -1;
    let when = Number.POSITIVE_INFINITY;
    for (let k = 0; k < chain.alive.length; k++) {
      if (!chain.alive[k]) continue;
      const last = lengthAt(chain, k, 1);
      if (last > collapseSlack) continue;
      const present = Math.max(0, lengthAt(chain, k, now));
      const at = present > last ? now + (1 - now) * Math.min(1, present / (present - last)) : now;
      if (at < when) {
        when = at;
        dying = k;
      }
    }
    if (dying < 0) return true;
    chain.alive[dying] = false;
    left -= 1;
    if (left <= 2) return false;
    now = Math.max(now, Math.min(1, when));
    joinNeighbours(chain, dying, now, mitreLimit);
  }
}

/** Unhooks a stretch that has just collapsed and lets its neighbours meet. */
function joinNeighbours(chain: Chain, dying: number, now: number, mitreLimit: number): void {
  const p = chain.prev[dying]!;
  const n = chain.next[dying]!;
  chain.next[p] = n;
  chain.prev[n] = p;
  const before = chain.corners[p]!;
  const after = chain.corners[dying]!;
  const place = collapsePlace(placeOf(before.b, now), placeOf(after.a, now), chain, dying);
  const turn = before.turn + after.turn;
  const keeps = before.via.length > 0 || after.via.length > 0;
  if (!keeps && Math.abs(turn) < reversalAbove) {
    const meeting = meetAgain(chain.stretches[p]!, chain.stretches[n]!, turn, mitreLimit);
    const crossing = meetingPlace(chain.stretches[p]!, chain.stretches[n]!, turn, now);
    chain.corners[p] = cornerAt(crossing ?? place, now, turn, meeting);
    const oneEdge = chain.stretches[p]!.owner === chain.stretches[n]!.owner;
    if (!meeting.off && (crossing || oneEdge)) return;
    chain.blended[chain.stretches[p]!.owner] = true;
    chain.blended[chain.stretches[n]!.owner] = true;
    return;
  }
  const square = (lead: Lead): Track => ({ base: place, from: now, velocity: scaleBy(lead.n, lead.shift) });
  chain.corners[p] = {
    a: before.via.length > 0 ? before.a : square(chain.stretches[p]!),
    b: after.via.length > 0 ? after.b : square(chain.stretches[n]!),
    between: [],
    via: [...before.via, place, ...after.via],
    turn,
  };
}

/**
 * Where a stretch collapsed: where its ends came together. A blended stretch tilts, so that they come together side
 * by side; then the outer one counts for an edge that moves out and the inner one for an edge that moves in.
 */
function collapsePlace(start: Point, end: Point, chain: Chain, dying: number): Point {
  const p = chain.stretches[chain.prev[dying]!]!;
  const n = chain.stretches[chain.next[dying]!]!;
  const gain = dot(subtract(end, start), add(p.n, n.n)) * chain.stretches[dying]!.shift;
  return gain > 0 ? end : start;
}

/**
 * Where the lines of two stretches cross at λ: the place of the collapse itself, unless the collapsed stretch was
 * blended, so that its two ends came together beside the lines of its neighbours. Null when the lines meet at too
 * small an angle to be asked.
 */
function meetingPlace(before: Stretch, after: Stretch, turn: Rad, at: number): Point | null {
  if (Math.abs(turn) < blendBelow || Math.abs(turn) > Math.PI - blendBelow) return null;
  const p = add(before.end, scaleBy(before.n, before.shift * at));
  const q = add(after.end, scaleBy(after.n, after.shift * at));
  return add(p, scaleBy(before.e, cross(subtract(q, p), after.e) / cross(before.e, after.e)));
}

/** Neighbours that became so by a collapse meet as two edges, or smoothly as parts of one. */
function meetAgain(before: Stretch, after: Stretch, turn: Rad, mitreLimit: number): Meeting {
  if (before.owner === after.owner && Math.abs(turn) < blendBelow)
    return meetInside(before, after, turn, before.shift);
  return meetEdges(before, after, turn, { mitreLimit, deeper: false });
}

/** The ring and the edge lines at λ = 1, from the first stretch of the first edge that is left. */
function readOff(chain: Chain, count: number): Pick<MovedLoop, 'ring' | 'lines'> {
  const points: Point[] = [];
  const owners: number[] = [];
  const lines: Point[][] = Array.from({ length: count }, () => []);
  // Stretches stand in the order of the loop, so the first that is alive is the one.
  const first = chain.alive.indexOf(true);
  let k = first;
  do {
    const stretch = chain.stretches[k]!;
    const corner = chain.corners[k]!;
    const next = chain.next[k]!;
    const line = lines[stretch.owner]!;
    const start = placeOf(chain.corners[chain.prev[k]!]!.b, 1);
    const end = placeOf(corner.a, 1);
    const after = placeOf(corner.b, 1);
    const between = [
      ...corner.between.map((d) => add(corner.a.base, scaleBy(d, 1 - corner.a.from))),
      ...corner.via,
    ];
    const sameEdge = next !== first && chain.stretches[next]!.owner === stretch.owner;
    if (line.length === 0) line.push(start);
    line.push(end);
    points.push(start);
    owners.push(stretch.owner);
    if (between.length > 0 || distance(end, after) > 0) {
      points.push(end, ...between);
      for (let n = 0; n <= between.length; n++) owners.push(sameEdge ? stretch.owner : -1);
      if (sameEdge) line.push(...between, after);
    }
    k = next;
  } while (k !== first);
  return { ring: { points, owners }, lines };
}
