/**
 * Where a line drawn on a panel that lies flat crosses its faces: a chord for each way through a face, with what it
 * meets at both ends. A line that passes a corner closely goes through it, one along a fold cuts that fold.
 */
import { cross, distance, dot, lerp, type Point, polylineLength, subtract, unitOf } from '../math';
import type { Surface } from './surface';
import { curveReach, lineReach, throughCorner, touching } from './tolerance';

/** A corner of a face (`t` is 0), or a place along the side that begins there. */
export interface Contact {
  readonly corner: number;
  readonly t: number;
}

export interface Chord {
  readonly face: number;
  readonly from: Contact;
  readonly to: Contact;
  /** Points between both ends, where the panel lies. */
  readonly inner: readonly Point[];
  /** Of a slit that ends in this face: number of its last point in `inner`; the rest of the chord is not cut. */
  readonly tip: number | null;
}

/** Where a line enters a hole of a face, and where it leaves it. */
export interface HoleCrossing {
  /** Number of the hole in its face. */
  readonly hole: number;
  readonly enter: HolePlace;
  readonly leave: HolePlace;
}

export interface HolePlace {
  readonly at: Point;
  /** Way along the line. */
  readonly s: number;
}

/**
 * How a line of a face passes the holes in it. Both in one frame.
 * @returns null when it misses them all; `'tangled'` when it meets more than one hole, or one more than twice
 */
export function acrossHoles(
  holes: readonly (readonly Point[])[],
  line: readonly Point[],
): HoleCrossing | 'tangled' | null {
  const found = holes.flatMap((ring, hole) => {
    const places = ring.flatMap((a, i) => meetings(line, a, ring[(i + 1) % ring.length]!));
    places.sort((p, q) => p.s - q.s);
    // A corner of the hole is met on both of its sides.
    return places.filter((p, i) => i === 0 || p.s - places[i - 1]!.s > touching).map((p) => ({ hole, ...p }));
  });
  if (found.length === 0) return null;
  const [enter, leave, ...more] = found;
  if (!enter || !leave || more.length > 0 || enter.hole !== leave.hole) return 'tangled';
  return leave.s - enter.s > throughCorner ? { hole: enter.hole, enter, leave } : 'tangled';
}

/** Where a line meets a segment. */
function meetings(line: readonly Point[], a: Point, b: Point): HolePlace[] {
  const side = subtract(b, a);
  let run = 0;
  const out: HolePlace[] = [];
  for (let i = 0; i + 1 < line.length; i++) {
    const [p, q] = [line[i]!, line[i + 1]!];
    const along = subtract(q, p);
    const turn = cross(along, side);
    const length = Math.hypot(along.x, along.y);
    if (turn !== 0) {
      const t = cross(subtract(a, p), side) / turn;
      const u = cross(subtract(a, p), along) / turn;
      if (t >= 0 && t <= 1 && u >= 0 && u <= 1) out.push({ at: lerp(p, q, t), s: run + t * length });
    }
    run += length;
  }
  return out;
}

export interface Crossings {
  /** In the order of the line. */
  readonly chords: readonly Chord[];
  /** Hinges that the line runs along. */
  readonly along: readonly number[];
}

interface Panel {
  readonly surface: Surface;
  readonly corners: ReadonlyMap<number, readonly Point[]>;
}

/**
 * @param line first and last point on the outline of the panel; of a slit, the first
 */
export function crossingsOf(
  surface: Surface,
  faces: readonly number[],
  corners: ReadonlyMap<number, readonly Point[]>,
  line: readonly Point[],
  slit: boolean,
): Crossings {
  const panel: Panel = { surface, corners };
  const path = throughNear(
    faces.flatMap((f) => [...corners.get(f)!]),
    withReach(
      line,
      slit,
      faces.map((f) => corners.get(f)!),
    ),
    slit,
  );
  const found = faces.flatMap((f) => through(panel, f, path, slit));
  const chords = found.flatMap((x) => (x.kind === 'chord' ? [x] : [])).sort((p, q) => p.s - q.s);
  const along = found.flatMap((x) => (x.kind === 'along' ? [x.hinge] : []));
  return { chords: chords.map(({ chord }) => chord), along: [...new Set(along)] };
}

/**
 * The line goes on a little at its ends, so that it surely crosses the outline there; farther where an end lies within a
 * face, on a curve that its chord cuts off.
 */
function withReach(line: readonly Point[], slit: boolean, rings: readonly (readonly Point[])[]): Point[] {
  const beyond = (end: Point, inner: Point) => {
    const back = unitOf(subtract(end, inner));
    const reach = rings.some((ring) => inside(ring, end)) ? curveReach : lineReach;
    return { x: end.x + back.x * reach, y: end.y + back.y * reach };
  };
  const start = beyond(line[0]!, line[1]!);
  return slit ? [start, ...line] : [start, ...line, beyond(line.at(-1)!, line.at(-2)!)];
}

/** The line led through corners that it passes closely. */
function throughNear(corners: readonly Point[], line: readonly Point[], slit: boolean): Point[] {
  const out = [...line];
  const done: Point[] = [];
  for (const corner of corners) {
    if (done.some((d) => distance(d, corner) <= touching)) continue;
    const near = nearestOn(out, corner);
    if (near.off > throughCorner) continue;
    done.push(corner);
    const from = out[near.segment]!;
    const to = out[near.segment + 1]!;
    if (distance(corner, from) <= throughCorner && near.segment > 0) out[near.segment] = corner;
    else if (distance(corner, to) <= throughCorner && near.segment + (slit ? 1 : 2) < out.length)
      out[near.segment + 1] = corner;
    else out.splice(near.segment + 1, 0, corner);
  }
  return out;
}

function nearestOn(line: readonly Point[], p: Point): { segment: number; s: number; off: number } {
  let best = { segment: 0, s: 0, off: Number.POSITIVE_INFINITY };
  let run = 0;
  for (let i = 0; i + 1 < line.length; i++) {
    const along = subtract(line[i + 1]!, line[i]!);
    const size = dot(along, along);
    const t = size === 0 ? 0 : Math.min(1, Math.max(0, dot(subtract(p, line[i]!), along) / size));
    const off = distance(p, lerp(line[i]!, line[i + 1]!, t));
    const length = Math.sqrt(size);
    if (off < best.off - 1e-12) best = { segment: i, s: run + t * length, off };
    run += length;
  }
  return best;
}

type Found =
  | { readonly kind: 'chord'; readonly s: number; readonly chord: Chord }
  | { readonly kind: 'along'; readonly hinge: number };

/** All ways of the line through one face. */
function through({ surface, corners }: Panel, f: number, line: readonly Point[], slit: boolean): Found[] {
  const ring = corners.get(f)!;
  const contacts = contactsOf(ring, line);
  const total = polylineLength(line);
  const found: Found[] = [];
  const pointsBetween = (from: number, to: number): Point[] => {
    const out: Point[] = [];
    let run = 0;
    for (let i = 1; i < line.length; i++) {
      run += distance(line[i - 1]!, line[i]!);
      if (run > from + touching && run < to - touching) out.push(line[i]!);
    }
    return out;
  };
  contacts.forEach((from, i) => {
    const to = contacts[i + 1];
    if (!to) {
      const tip = line.at(-1)!;
      if (!slit || total - from.s < throughCorner || !inside(ring, tip)) return;
      const inner = [...pointsBetween(from.s, total), tip];
      if (!inside(ring, placeAt(line, (from.s + total) / 2))) return;
      const chord = { face: f, from, to: onward(ring, inner.at(-2) ?? placeOf(ring, from), tip), inner };
      found.push({ kind: 'chord', s: from.s, chord: { ...chord, tip: inner.length - 1 } });
      return;
    }
    if (to.s - from.s <= touching) return;
    const middle = placeAt(line, (from.s + to.s) / 2);
    const side = ring.findIndex((p, k) => offSegment(middle, p, ring[(k + 1) % ring.length]!) <= touching);
    if (side >= 0) {
      const chain = surface.chains[surface.chainOf[surface.start[f]! + side]!]!;
      const ends = [from, to].every(
        (c) => c.t === 0 && (c.corner === side || c.corner === (side + 1) % ring.length),
      );
      if (ends && chain.count === 1 && chain.hinge >= 0) found.push({ kind: 'along', hinge: chain.hinge });
    } else if (inside(ring, middle)) {
      const inner = pointsBetween(from.s, to.s);
      if (hugs(ring, from, to, inner)) return;
      found.push({ kind: 'chord', s: from.s, chord: { face: f, from, to, inner, tip: null } });
    }
  });
  return found;
}

/** A way that stays beside one side of the face cuts nothing off that foam could be. */
function hugs(ring: readonly Point[], from: Contact, to: Contact, inner: readonly Point[]): boolean {
  const n = ring.length;
  const sidesAt = ({ corner, t }: Contact) => (t === 0 ? [corner, (corner + n - 1) % n] : [corner]);
  return sidesAt(from).some(
    (side) =>
      sidesAt(to).includes(side) &&
      inner.every((p) => offSegment(p, ring[side]!, ring[(side + 1) % n]!) <= throughCorner),
  );
}

const placeOf = (ring: readonly Point[], { corner, t }: Contact): Point =>
  lerp(ring[corner]!, ring[(corner + 1) % ring.length]!, t);

function placeAt(line: readonly Point[], s: number): Point {
  let left = s;
  for (let i = 0; i + 1 < line.length; i++) {
    const length = distance(line[i]!, line[i + 1]!);
    if (left <= length || i + 2 === line.length)
      return lerp(line[i]!, line[i + 1]!, length === 0 ? 0 : Math.min(1, left / length));
    left -= length;
  }
  return line[0]!;
}

function contactsOf(ring: readonly Point[], line: readonly Point[]): (Contact & { readonly s: number })[] {
  const out: (Contact & { readonly s: number })[] = [];
  ring.forEach((p, corner) => {
    const near = nearestOn(line, p);
    if (near.off <= touching) out.push({ corner, t: 0, s: near.s });
  });
  let run = 0;
  for (let i = 0; i + 1 < line.length; i++) {
    const [p, q] = [line[i]!, line[i + 1]!];
    const along = subtract(q, p);
    const length = Math.hypot(along.x, along.y);
    ring.forEach((a, corner) => {
      const side = subtract(ring[(corner + 1) % ring.length]!, a);
      const size = Math.hypot(side.x, side.y);
      const turn = cross(along, side);
      if (turn === 0 || length === 0) return;
      const u = cross(subtract(a, p), side) / turn;
      const t = cross(subtract(a, p), along) / turn;
      const clear = touching / size;
      const slack = touching / length;
      if (t > clear && t < 1 - clear && u > -slack && u < 1 + slack)
        out.push({ corner, t, s: run + u * length });
    });
    run += length;
  }
  out.sort((a, b) => a.s - b.s);
  // A crossing at a point of the line is found on both stretches.
  return out.filter((c, i) => i === 0 || c.s - out[i - 1]!.s > 2 * touching);
}

/** Where the line of a slit meets the far side of its face: a corner well ahead if one is seen, else straight on. */
function onward(ring: readonly Point[], before: Point, tip: Point): Contact {
  const ahead = unitOf(subtract(tip, before));
  const seen = (corner: number) =>
    ring.every((a, i) => {
      const j = (i + 1) % ring.length;
      return i === corner || j === corner || !meet(tip, ring[corner]!, a, ring[j]!);
    });
  let best: { corner: number; cosine: number } | null = null;
  for (let corner = 0; corner < ring.length; corner++) {
    const cosine = dot(unitOf(subtract(ring[corner]!, tip)), ahead);
    if (cosine > 0.25 && cosine > (best?.cosine ?? 0) && seen(corner)) best = { corner, cosine };
  }
  if (best) return { corner: best.corner, t: 0 };
  let hit: { contact: Contact; u: number } = { contact: { corner: 0, t: 0 }, u: Number.POSITIVE_INFINITY };
  ring.forEach((a, corner) => {
    const side = subtract(ring[(corner + 1) % ring.length]!, a);
    const turn = cross(ahead, side);
    if (turn === 0) return;
    const u = cross(subtract(a, tip), side) / turn;
    const t = cross(subtract(a, tip), ahead) / turn;
    if (u > touching && u < hit.u && t >= 0 && t < 1) hit = { contact: { corner, t }, u };
  });
  return hit.contact;
}

function meet(p: Point, q: Point, a: Point, b: Point): boolean {
  const side = (x: Point, y: Point, z: Point) => Math.sign(cross(subtract(y, x), subtract(z, x)));
  return side(p, q, a) * side(p, q, b) <= 0 && side(a, b, p) * side(a, b, q) <= 0;
}

/** Distance of a point from a segment. */
export function offSegment(p: Point, a: Point, b: Point): number {
  return nearestOn([a, b], p).off;
}

/** Even-odd test; the rim does not count. */
export function inside(ring: readonly Point[], p: Point): boolean {
  let odd = false;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) odd = !odd;
  });
  return odd && ring.every((a, i) => offSegment(p, a, ring[(i + 1) % ring.length]!) > touching);
}
