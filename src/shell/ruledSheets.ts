import { cross, distance, lerp, type Point, subtract } from '../math';
import type { Mm, Rad } from '../units';
import type { GluedFace } from './glue';
import { isInside } from './holeFaces';
import type { RuledStrip } from './stripRows';

/**
 * Sheets between straight creases, cut along their rulings. A straight line along which a bent sheet is creased is one
 * of its rulings, and two such lines give all of them: the lines through one apex, or parallel ones (a cone or a
 * cylinder; the plainest sheet between two lines). Sheets that meet along a curved seam and lie side by side when flat
 * are one sheet that was cut apart: their rulings run on across the seam. Strips between rulings are flat, so such a
 * seam bends nowhere.
 */
type Sheet = GluedFace & { readonly bends: boolean };

/** Both sides of a seam lie on each other within this when laid flat, mm: noise of a drawing many times over. */
const fitsFlat: Mm = 0.3;
/** Lines that part by less over their length run through one apex, mm. */
const onPencil: Mm = 0.5;
/** Lines that turn by less against each other are parallel, rad: noise turns a line of 50 mm by a tenth of this. */
const parallel: Rad = 5e-3;
/**
 * A ruling that passes a corner this near runs through it, mm. No more: flat strips let no ruling bend that is crooked
 * by as little as a tenth of a degree where a seam crosses it.
 */
const throughCorner: Mm = 1e-3;
/** Strips are so wide at most, mm: a sleeve of 38 mm radius then bends by 20° at a ruling. */
const stripWidth: Mm = 14;
/** A sheet gets no more strips. */
const mostStrips = 40;
/** A pencil with its apex in the sheet, or spread over half a turn, is no ruling of it. */
const widestPencil: Rad = Math.PI * 0.95;

interface Draft {
  readonly face: Sheet;
  readonly vertices: number[];
  readonly flat: Point[];
  readonly drawn: Point[];
  readonly sideIds: string[];
  readonly seamIds: (string | null)[];
}

/** A motion of the plane: turned by (c, s), then moved. */
interface Motion {
  readonly c: number;
  readonly s: number;
  readonly x: number;
  readonly y: number;
}
const atRest: Motion = { c: 1, s: 0, x: 0, y: 0 };
const moved = ({ c, s, x, y }: Motion, p: Point): Point => ({
  x: c * p.x - s * p.y + x,
  y: s * p.x + c * p.y + y,
});

/** All rulings of a sheet, each by its place across them: an angle at the apex, or mm. */
interface Pencil {
  readonly across: (p: Point) => number;
  /** How far a point is from a ruling, mm, with a sign. */
  readonly off: (p: Point, ruling: number) => Mm;
  readonly onward: (p: Point) => number;
  readonly perUnit: Mm;
}

/** @returns the faces, those of ruled sheets cut into strips */
export function cutAlongRulings(
  faces: readonly Sheet[],
  vertexCount: number,
): { readonly faces: Sheet[]; readonly vertexCount: number } {
  if (!faces.some((f) => f.bends)) return { faces: [...faces], vertexCount };
  const drafts = faces.map(
    (face): Draft => ({
      face,
      vertices: [...face.vertices],
      flat: [...face.flat],
      drawn: [...face.drawn],
      sideIds: [...face.sideIds],
      seamIds: [...face.seamIds],
    }),
  );
  const sheets = sheetsOf(drafts);
  const facesOf = new Map<string, Set<string>>();
  for (const { piece, face } of faces) facesOf.set(piece, (facesOf.get(piece) ?? new Set()).add(face));
  const cut = new Map<number, Sheet[]>();
  let next = vertexCount;
  for (const sheet of sheets) {
    const pencil = pencilOf(drafts, sheet);
    if (!pencil) continue;
    const rulings = rulingsOf(drafts, sheet, pencil);
    const onRuling = rulings.map(() => new Set<number>());
    next = putCorners(drafts, sheet, pencil, rulings, onRuling, next);
    for (const f of sheet.motion.keys()) {
      const whole = drafts[f]!.vertices.map((_, i) => i);
      const strips = onRuling.reduce(
        (rings, on) => rings.flatMap((ring) => divided(drafts[f]!, ring, on, placeIn(sheet, f), pencil)),
        [whole],
      );
      const strip: RuledStrip = { sheet: f, creased: facesOf.get(drafts[f]!.face.piece)!.size > 1 };
      cut.set(
        f,
        strips.map((ring) => stripOf(drafts[f]!, ring, strip)),
      );
    }
  }
  return {
    faces: drafts.flatMap((d, f) => cut.get(f) ?? [asFace(d)]),
    vertexCount: next,
  };
}

/** Faces laid side by side: the motion of each into the frame of the first. */
interface LaidSheet {
  readonly motion: ReadonlyMap<number, Motion>;
}

const placeIn = (sheet: LaidSheet, f: number) => (p: Point) => moved(sheet.motion.get(f)!, p);

const sideKey = (v: number, w: number) => `${v} ${w}`;

function facesAtSides(drafts: readonly Draft[]): Map<string, number> {
  return new Map(
    drafts.flatMap(({ vertices }, f) =>
      vertices.map((v, i) => [sideKey(v, vertices[(i + 1) % vertices.length]!), f] as const),
    ),
  );
}

/** Bent faces joined along curved seams whose sides lie on each other when flat. */
function sheetsOf(drafts: readonly Draft[]): LaidSheet[] {
  const at = facesAtSides(drafts);
  const done = new Set<number>();
  return drafts.flatMap(({ face }, first): LaidSheet[] => {
    if (!face.bends || done.has(first)) return [];
    const motion = new Map([[first, atRest]]);
    done.add(first);
    for (const [f, own] of motion) {
      for (const { other, mine, theirs } of curvedSeams(drafts, at, f)) {
        if (done.has(other)) continue;
        const fit = laidOn(
          theirs,
          mine.map((p) => moved(own, p)),
        );
        if (!fit) continue;
        done.add(other);
        motion.set(other, fit);
      }
    }
    return [{ motion }];
  });
}

/** Seams of several stretches between a bent face and another one: the corners on both sides, in pairs. */
function curvedSeams(drafts: readonly Draft[], at: ReadonlyMap<string, number>, f: number) {
  const { vertices, flat, seamIds } = drafts[f]!;
  const bySeam = new Map<string, { other: number; sides: number[] }>();
  vertices.forEach((v, i) => {
    const other = at.get(sideKey(vertices[(i + 1) % vertices.length]!, v));
    const id = seamIds[i];
    if (id == null || other === undefined || other === f || !drafts[other]!.face.bends) return;
    const seam = bySeam.get(`${id} ${other}`) ?? { other, sides: [] };
    seam.sides.push(i);
    bySeam.set(`${id} ${other}`, seam);
  });
  return [...bySeam.values()]
    .filter((seam) => seam.sides.length > 1)
    .map(({ other, sides }) => {
      const corners = [...new Set(sides.flatMap((i) => [i, (i + 1) % vertices.length]))];
      const they = drafts[other]!;
      return {
        other,
        mine: corners.map((i) => flat[i]!),
        theirs: corners.map((i) => they.flat[they.vertices.indexOf(vertices[i]!)]!),
      };
    });
}

/** The motion that lays points on others best (least squares), null where one stays off. */
function laidOn(points: readonly Point[], onto: readonly Point[]): Motion | null {
  const n = points.length;
  const mean = (list: readonly Point[]): Point => ({
    x: list.reduce((sum, p) => sum + p.x, 0) / n,
    y: list.reduce((sum, p) => sum + p.y, 0) / n,
  });
  const [p0, q0] = [mean(points), mean(onto)];
  let dot = 0;
  let turn = 0;
  points.forEach((p, i) => {
    const [a, b] = [subtract(p, p0), subtract(onto[i]!, q0)];
    dot += a.x * b.x + a.y * b.y;
    turn += cross(a, b);
  });
  const size = Math.hypot(dot, turn);
  if (size === 0) return null;
  const [c, s] = [dot / size, turn / size];
  const motion = { c, s, x: q0.x - c * p0.x + s * p0.y, y: q0.y - s * p0.x - c * p0.y };
  return points.every((p, i) => distance(moved(motion, p), onto[i]!) < fitsFlat) ? motion : null;
}

/** Straight sides of a sheet that another face is joined to, in the frame of the sheet. */
function straightSides(drafts: readonly Draft[], sheet: LaidSheet): (readonly [Point, Point])[] {
  const at = facesAtSides(drafts);
  return [...sheet.motion.keys()].flatMap((f) => {
    const { vertices, flat, sideIds, seamIds } = drafts[f]!;
    const place = placeIn(sheet, f);
    const joinOf = (i: number) => seamIds[i] ?? sideIds[i]!;
    return vertices.flatMap((v, i): (readonly [Point, Point])[] => {
      const j = (i + 1) % vertices.length;
      const joined = at.has(sideKey(vertices[j]!, v));
      // A curve, or a line that is sewn to one, comes in several stretches.
      const single = vertices.filter((_, k) => joinOf(k) === joinOf(i)).length === 1;
      return joined && single ? [[place(flat[i]!), place(flat[j]!)]] : [];
    });
  });
}

/**
 * Whether a side of several stretches joins the sheet to something that does not lie beside it when flat: rulings would
 * have to end at its corners, and stand where they stand.
 */
function isSewnToCurve(drafts: readonly Draft[], sheet: LaidSheet): boolean {
  const at = facesAtSides(drafts);
  return [...sheet.motion.keys()].some((f) => {
    const { vertices, sideIds, seamIds } = drafts[f]!;
    const joinOf = (i: number) => seamIds[i] ?? sideIds[i]!;
    return vertices.some((v, i) => {
      const other = at.get(sideKey(vertices[(i + 1) % vertices.length]!, v));
      if (other === undefined || (other !== f && sheet.motion.has(other))) return false;
      return vertices.some((_, k) => k !== i && joinOf(k) === joinOf(i));
    });
  });
}

/** The pencil of lines that all straight creases of a sheet belong to, null where there is none. */
function pencilOf(drafts: readonly Draft[], sheet: LaidSheet): Pencil | null {
  const lines = straightSides(drafts, sheet);
  if (lines.length < 2 || isSewnToCurve(drafts, sheet)) return null;
  const corners = [...sheet.motion.keys()].flatMap((f) => drafts[f]!.flat.map(placeIn(sheet, f)));
  const ways = lines.map(([p, q]) => {
    const length = distance(p, q);
    return { x: (q.x - p.x) / length, y: (q.y - p.y) / length };
  });
  const first = ways[0]!;
  const widest = Math.max(...ways.map((w) => Math.abs(cross(first, w))));
  if (widest < parallel) {
    const across = (p: Point) => cross(first, p);
    const offs = lines.map(([p, q]) => Math.abs(across(p) - across(q)));
    const spread = new Set(lines.map(([p]) => Math.round(across(p) / onPencil))).size > 1;
    return spread && offs.every((off) => off < onPencil)
      ? {
          across,
          off: (p, ruling) => across(p) - ruling,
          onward: (p) => first.x * p.x + first.y * p.y,
          perUnit: 1,
        }
      : null;
  }
  const apex = meetingPoint(lines.map(([p], i) => [p, ways[i]!]));
  if (!apex) return null;
  const off = lines.map(([p, q]) => {
    const far = distance(p, apex) > distance(q, apex) ? p : q;
    const near = far === p ? q : p;
    return Math.abs(cross(subtract(far, apex), subtract(near, apex))) / distance(far, apex);
  });
  if (off.some((o) => o > onPencil)) return null;
  const middle = corners.reduce((sum, p) => ({ x: sum.x + p.x - apex.x, y: sum.y + p.y - apex.y }), {
    x: 0,
    y: 0,
  });
  const across = (p: Point) => {
    const d = subtract(p, apex);
    return Math.atan2(cross(middle, d), middle.x * d.x + middle.y * d.y);
  };
  const seen = corners.map(across);
  const reach = corners.map((p) => distance(p, apex));
  if (Math.max(...seen) - Math.min(...seen) > widestPencil || Math.min(...reach) < stripWidth) return null;
  return {
    across,
    off: (p, ruling) => distance(p, apex) * Math.sin(across(p) - ruling),
    onward: (p) => distance(p, apex),
    perUnit: reach.reduce((sum, r) => sum + r, 0) / reach.length,
  };
}

/** The point nearest to all lines, least squares. */
function meetingPoint(lines: readonly (readonly [Point, Point])[]): Point | null {
  let [xx, xy, yy, x, y] = [0, 0, 0, 0, 0];
  for (const [p, way] of lines) {
    const n = { x: -way.y, y: way.x };
    const off = n.x * p.x + n.y * p.y;
    xx += n.x * n.x;
    xy += n.x * n.y;
    yy += n.y * n.y;
    x += n.x * off;
    y += n.y * off;
  }
  const det = xx * yy - xy * xy;
  return Math.abs(det) < 1e-12 ? null : { x: (yy * x - xy * y) / det, y: (xx * y - xy * x) / det };
}

/**
 * Places of the rulings across the sheet in equal steps, half a step from its ends: each ruling bends for the strip
 * about it, so that nothing of the arc falls to the creases at the ends.
 */
function rulingsOf(drafts: readonly Draft[], sheet: LaidSheet, pencil: Pencil): number[] {
  const places = [...sheet.motion.keys()].flatMap((f) =>
    drafts[f]!.flat.map((p) => pencil.across(placeIn(sheet, f)(p))),
  );
  const [least, most] = [Math.min(...places), Math.max(...places)];
  const steps = Math.min(mostStrips, Math.max(2, Math.ceil(((most - least) * pencil.perUnit) / stripWidth)));
  return Array.from({ length: steps }, (_, k) => least + ((most - least) * (k + 0.5)) / steps);
}

/** Corners where rulings cross sides, also in faces beyond; those that lie there already are found. */
function putCorners(
  drafts: readonly Draft[],
  sheet: LaidSheet,
  pencil: Pencil,
  rulings: readonly number[],
  onRuling: readonly Set<number>[],
  firstNew: number,
): number {
  let next = firstNew;
  const faceAt = facesAtSides(drafts);
  for (const [k, ruling] of rulings.entries()) {
    const on = onRuling[k]!;
    const offOf = (f: number, i: number) => pencil.off(placeIn(sheet, f)(drafts[f]!.flat[i]!), ruling);
    for (const f of sheet.motion.keys())
      drafts[f]!.vertices.forEach((v, i) => {
        if (Math.abs(offOf(f, i)) < throughCorner) on.add(v);
      });
    for (const f of sheet.motion.keys()) {
      const { vertices } = drafts[f]!;
      for (let i = 0; i < vertices.length; i++) {
        const j = (i + 1) % vertices.length;
        const [v, w] = [vertices[i]!, vertices[j]!];
        if (on.has(v) || on.has(w)) continue;
        const [p, q] = [offOf(f, i), offOf(f, j)];
        if (p * q >= 0) continue;
        const other = faceAt.get(sideKey(w, v));
        faceAt.delete(sideKey(v, w));
        insert(drafts[f]!, v, w, p / (p - q), next);
        faceAt.set(sideKey(v, next), f).set(sideKey(next, w), f);
        if (other !== undefined) {
          faceAt.delete(sideKey(w, v));
          insert(drafts[other]!, w, v, q / (q - p), next);
          faceAt.set(sideKey(w, next), other).set(sideKey(next, v), other);
        }
        on.add(next);
        next++;
      }
    }
  }
  return next;
}

/** Puts a corner on the side from v to w, at a part of its length. */
function insert(
  { vertices, flat, drawn, sideIds, seamIds }: Draft,
  v: number,
  w: number,
  t: number,
  corner: number,
) {
  const i = vertices.findIndex((own, k) => own === v && vertices[(k + 1) % vertices.length] === w);
  const j = (i + 1) % vertices.length;
  const [p, q] = [lerp(flat[i]!, flat[j]!, t), lerp(drawn[i]!, drawn[j]!, t)];
  vertices.splice(i + 1, 0, corner);
  flat.splice(i + 1, 0, p);
  drawn.splice(i + 1, 0, q);
  sideIds.splice(i + 1, 0, sideIds[i]!);
  seamIds.splice(i + 1, 0, seamIds[i]!);
}

/** A ring of corner numbers divided wherever a ruling runs through its inside. */
function divided(
  draft: Draft,
  ring: readonly number[],
  on: ReadonlySet<number>,
  place: (p: Point) => Point,
  pencil: Pencil,
): number[][] {
  const points = ring.map((i) => draft.flat[i]!);
  const met = ring
    .flatMap((i, k) => (on.has(draft.vertices[i]!) ? [k] : []))
    .sort((a, b) => pencil.onward(place(points[a]!)) - pencil.onward(place(points[b]!)));
  for (let m = 0; m + 1 < met.length; m++) {
    const [a, b] = [Math.min(met[m]!, met[m + 1]!), Math.max(met[m]!, met[m + 1]!)];
    const beside = b - a === 1 || (a === 0 && b === ring.length - 1);
    if (beside || !isInside(lerp(points[a]!, points[b]!, 0.5), points)) continue;
    const halves = [ring.slice(a, b + 1), [...ring.slice(b), ...ring.slice(0, a + 1)]];
    return halves.flatMap((half) => divided(draft, half, on, place, pencil));
  }
  return [[...ring]];
}

function stripOf(draft: Draft, ring: readonly number[], strip: RuledStrip): Sheet {
  const n = draft.vertices.length;
  const drawnSide = (k: number) => (ring[k]! + 1) % n === ring[(k + 1) % ring.length];
  return {
    piece: draft.face.piece,
    face: draft.face.face,
    bends: true,
    strip,
    vertices: ring.map((i) => draft.vertices[i]!),
    flat: ring.map((i) => draft.flat[i]!),
    drawn: ring.map((i) => draft.drawn[i]!),
    sideIds: ring.map((i, k) => (drawnSide(k) ? draft.sideIds[i]! : '')),
    seamIds: ring.map((i, k) => (drawnSide(k) ? draft.seamIds[i]! : null)),
  };
}

function asFace({ face, vertices, flat, drawn, sideIds, seamIds }: Draft): Sheet {
  return { ...face, vertices, flat, drawn, sideIds, seamIds };
}
