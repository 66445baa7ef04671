/**
 * Bands on walls that slope along and across: the strip of faces along the rim is unfolded, in parts where it does not
 * lie flat as one. A strip without corners of the surface inside it is a developable one: then its rim alone tells its
 * shape, and nothing has to be divided.
 */
import {
  add,
  add3,
  norm3,
  type Point,
  type Point3,
  polylineLength,
  ringArea,
  rotate,
  scaleBy,
  scaleBy3,
  subtract,
  subtract3,
  unitOf,
} from '../math';
import { intersectRings, uniteRings } from '../plane';
import type { Mm, Rad } from '../units';
import { besideCourse, ribbon } from './course';
import { cornerAngle, fanAngle, type Ground } from './ground';
import { type LaidFaces, lay, overlapOf } from './layFlat';
import { flatMisfit, overlapShare, rimSlack, shaving } from './tolerance';

/** Corners of a rim, closed, with the surface on their left. */
export interface Rim {
  readonly order: readonly number[];
  readonly places: readonly Point3[];
  readonly width: Mm;
}

export interface StripPart {
  /** Of the rim: number of its first corner, and how many stretches. */
  readonly from: number;
  readonly count: number;
  /** Along the rim, laid flat; the surface lies to its left. */
  readonly line: readonly Point[];
  /** The far edge, point by point. */
  readonly beside: readonly Point[];
  readonly rings: readonly (readonly Point[])[];
  /** Farthest that a side of a face is longer or shorter flat than on the shell. */
  readonly misfit: Mm;
  /** By how much the rim of the part is longer than the shell's. */
  readonly longer: Mm;
}

/**
 * By how much the far edge of the strip would be too long or too short if its rim alone were developed: the sum of the
 * angles that are missing (or over) at corners inside it, each times the rest of the width (Gauss–Bonnet).
 */
export function farMisfit(ground: Ground, { order, places, width }: Rim): Mm {
  const angle = new Map<number, Rad>();
  for (const patch of ground.patches)
    patch.vertices.forEach((v, i) => {
      angle.set(v, (angle.get(v) ?? 0) + cornerAngle(patch, i, places));
    });
  const border = new Set(ground.sides.flatMap((s) => (s.kind === 'open' ? [s.from, s.to] : [])));
  let sum = 0;
  for (const [v, total] of angle) {
    if (border.has(v)) continue;
    const away = Math.min(
      ...order.map((w, i) => fromStretch(places[v]!, places[w]!, places[order[(i + 1) % order.length]!]!)),
    );
    if (away < width) sum += Math.abs(2 * Math.PI - total) * (width - away);
  }
  return sum;
}

/** The strip in as few parts as lie flat, one after the other from the first corner; a single stretch is always one. */
export function stripParts(ground: Ground, rim: Rim): StripPart[] {
  const n = rim.order.length;
  const own = facesBeside(ground, rim);
  const parts: StripPart[] = [];
  for (let from = 0; from < n; ) {
    const at = (count: number) => unfolded(ground, rim, own, from, count);
    // A ring as a whole would have to close when flat.
    let [low, high] = [1, Math.min(n - from, n - 1) + 1];
    let best = at(1);
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      const tried = at(middle);
      if (liesFlat(tried)) [low, best] = [middle, tried];
      else high = middle;
    }
    // A face with two sides on the rim is not torn.
    const tears = (count: number) =>
      (from + count) % n !== 0 && faceAt(ground, rim, from + count - 1) === faceAt(ground, rim, from + count);
    let count = low;
    while (count > 1 && tears(count)) count--;
    while (from + count < n && tears(count)) count++;
    parts.push((count === low ? best : at(count)).part);
    from += count;
  }
  return parts;
}

const faceAt = (ground: Ground, { order }: Rim, k: number): number =>
  ground.sideAt(order[k % order.length]!, order[(k + 1) % order.length]!)!.face;

interface Tried {
  readonly part: StripPart;
  readonly laid: LaidFaces;
}

const liesFlat = ({ part, laid }: Tried): boolean =>
  part.misfit <= flatMisfit &&
  Math.abs(part.longer) <= rimSlack &&
  part.rings.length === 1 &&
  overlapOf(laid) <= overlapShare;

function unfolded(
  ground: Ground,
  { order, places, width }: Rim,
  own: readonly (readonly number[])[],
  from: number,
  count: number,
): Tried {
  const n = order.length;
  const at = (k: number) => order[(k + n) % n]!;
  const faces = new Set<number>();
  for (let k = from; k < from + count; k++) for (const f of own[k % n]!) faces.add(f);
  const laid = lay(
    ground,
    [...faces].sort((a, b) => a - b),
    places,
  );
  const line = Array.from({ length: count + 1 }, (_, k): Point => {
    const [v, w] = k < count ? [at(from + k), at(from + k + 1)] : [at(from + k - 1), at(from + k)];
    const { face, corner } = ground.sideAt(v, w)!;
    const ring = laid.rings.get(face)!;
    return ring[(k < count ? corner : corner + 1) % ring.length]!;
  });
  // The rim goes on beyond both ends, as far as the strip is wide; the part ends where its faces end.
  const beyond = (p: Point, inner: Point, angle: Rad): Point =>
    add(p, scaleBy(unitOf(rotate(subtract(inner, p), angle)), width));
  const angleAt = (k: number) => fanAngle(ground, at(k), at(k + 1), at(k - 1), places) ?? Math.PI;
  const whole = [
    beyond(line[0]!, line[1]!, angleAt(from)),
    ...line,
    beyond(line[count]!, line[count - 1]!, -angleAt(from + count)),
  ];
  const within = uniteRings([...laid.rings.values()]);
  const rings = intersectRings(within, ribbon(whole, width, 0)).filter(
    (r) => Math.abs(ringArea(r)) > shaving,
  );
  const lengths = Array.from({ length: count }, (_, k) =>
    norm3(subtract3(places[at(from + k + 1)]!, places[at(from + k)]!)),
  );
  return {
    laid,
    part: {
      ...{ from, count, line, rings, misfit: laid.misfit },
      beside: besideCourse(whole, width).slice(1, -1),
      longer: polylineLength(line) - lengths.reduce((sum, l) => sum + l, 0),
    },
  };
}

/** Faces round a corner of the rim, from the one beside the stretch that begins there. */
function fan(ground: Ground, v: number, w: number): number[] {
  const faces: number[] = [];
  for (let to = w; faces.length < ground.patches.length; ) {
    const side = ground.sideAt(v, to);
    if (!side) break;
    faces.push(side.face);
    const { vertices } = ground.patches[side.face]!;
    to = vertices[(side.corner + vertices.length - 1) % vertices.length]!;
  }
  return faces;
}

/**
 * For each stretch of the rim its own face, of those round its ends the nearer ones, and of all others within the width
 * those whose middle is nearest to it: every face has one stretch.
 */
function facesBeside(ground: Ground, { order, places, width }: Rim): number[][] {
  const n = order.length;
  const stretch = (k: number) => [places[order[k]!]!, places[order[(k + 1) % n]!]!] as const;
  const own = order.map((v, k) => [ground.sideAt(v, order[(k + 1) % n]!)!.face]);
  const done = new Set(own.flat());
  const offFrom = (f: number, k: number): Mm => {
    const ring = ground.patches[f]!.vertices;
    const sum = ring.reduce((all, v) => add3(all, places[v]!), { x: 0, y: 0, z: 0 });
    return fromStretch(scaleBy3(sum, 1 / ring.length), ...stretch(k));
  };
  const take = (f: number, stretches: readonly number[]): number => {
    const k = stretches.reduce((best, j) => (offFrom(f, j) < offFrom(f, best) ? j : best));
    done.add(f);
    own[k]!.push(f);
    return k;
  };
  order.forEach((v, k) => {
    for (const f of fan(ground, v, order[(k + 1) % n]!)) if (!done.has(f)) take(f, [(k + n - 1) % n, k]);
  });
  const reaches = (f: number) => {
    const { vertices } = ground.patches[f]!;
    return vertices.some((a, i) => {
      const [p, q] = [places[a]!, places[vertices[(i + 1) % vertices.length]!]!];
      return samples.some((t) => order.some((_, k) => fromStretch(between(p, q, t), ...stretch(k)) < width));
    });
  };
  for (const f of done) {
    const { vertices } = ground.patches[f]!;
    vertices.forEach((a, i) => {
      const g = ground.sideAt(vertices[(i + 1) % vertices.length]!, a)?.face;
      if (g !== undefined && !done.has(g) && reaches(g))
        take(
          g,
          order.map((_, k) => k),
        );
    });
  }
  return own;
}

/** Where sides of faces are looked at. */
const samples = [0, 0.25, 0.5, 0.75];

const between = (p: Point3, q: Point3, t: number): Point3 => add3(p, scaleBy3(subtract3(q, p), t));

/** Distance of a point from the stretch p–q. */
function fromStretch(x: Point3, p: Point3, q: Point3): Mm {
  const along = subtract3(q, p);
  const size = along.x ** 2 + along.y ** 2 + along.z ** 2;
  const d = subtract3(x, p);
  const t = size === 0 ? 0 : (d.x * along.x + d.y * along.y + d.z * along.z) / size;
  return norm3(subtract3(x, between(p, q, Math.min(1, Math.max(0, t)))));
}
