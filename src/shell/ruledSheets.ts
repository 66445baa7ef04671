import { distance, lerp, type Point } from '../math';
import type { Mm } from '../units';
import { isInside } from './holeFaces';
import {
  type Draft,
  facesAtSides,
  type LaidSheet,
  placeIn,
  type Sheet,
  sheetsOf,
  sideKey,
} from './laidSheets';
import { type Pencil, pencilOf } from './pencil';
import type { RuledStrip } from './stripRows';

/**
 * Sheets between straight creases, cut along their rulings. A straight line along which a bent sheet is creased is one
 * of its rulings, and two such lines give all of them: the lines through one apex, or parallel ones (a cone or a
 * cylinder; the plainest sheet between two lines). Sheets that meet along a curved seam and lie side by side when flat
 * are one sheet that was cut apart: their rulings run on across the seam. Strips between rulings are flat, so such a
 * seam bends nowhere.
 */
/**
 * A ruling that passes a corner this near runs through it, mm. No more: flat strips let no ruling bend that is crooked
 * by as little as a tenth of a degree where a seam crosses it.
 */
const throughCorner: Mm = 1e-3;
/** Strips are so wide at most, mm: a sleeve of 38 mm radius then bends by 20° at a ruling. */
const stripWidth: Mm = 14;
/** A sheet gets no more strips. */
const mostStrips = 40;
/** A ruling meets a curve no farther from where it meets the chord than this, mm; beyond it is another place. */
const besideChord: Mm = 5;

/** Points of each edge by id, as drawn. */
type Lines = ReadonlyMap<string, { readonly points: readonly Point[] }>;

/**
 * @param plain folds that only part one flat face in two
 * @returns the faces, those of ruled sheets cut into strips
 */
export function cutAlongRulings(
  faces: readonly Sheet[],
  vertexCount: number,
  lines: Lines,
  plain: ReadonlySet<string> = new Set(),
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
    const pencil = pencilOf(drafts, sheet, plain);
    if (!pencil) continue;
    const rulings = rulingsOf(drafts, sheet, pencil);
    const onRuling = rulings.map(() => new Set<number>());
    next = putCorners(drafts, lines, sheet, pencil, rulings, onRuling, next);
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
  lines: Lines,
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
    /** Puts the corner on the drawn line where the ruling crosses it between two corners. */
    const put = (f: number, v: number, w: number, chordPart: number) => {
      const draft = drafts[f]!;
      const place = sheet.motion.has(f) ? placeIn(sheet, f) : null;
      const off = (p: Point) => (place ? pencil.off(place(p), ruling) : Number.NaN);
      insert(draft, v, w, chordPart, next, (chord, id) =>
        crossing(draft, lines.get(id)?.points ?? [], off, chord),
      );
    };
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
        put(f, v, w, p / (p - q));
        faceAt.set(sideKey(v, next), f).set(sideKey(next, w), f);
        if (other !== undefined) {
          faceAt.delete(sideKey(w, v));
          put(other, w, v, q / (q - p));
          faceAt.set(sideKey(w, next), other).set(sideKey(next, v), other);
        }
        on.add(next);
        next++;
      }
    }
  }
  return next;
}

/** Where a line meets a ruling next to a place on its chord, flat; the place itself where it is straight. */
function crossing(
  { flat, drawn }: Draft,
  line: readonly Point[],
  off: (p: Point) => Mm,
  chord: Point,
): Point {
  const over = flat.some((p, i) => p.x !== drawn[i]!.x);
  const points = over ? line.map((p) => ({ x: -p.x, y: p.y })) : line;
  let best = chord;
  let nearest = besideChord;
  for (let i = 1; line.length > 2 && i < points.length; i++) {
    const [a, b] = [off(points[i - 1]!), off(points[i]!)];
    if (a * b > 0 || a === b) continue;
    const at = lerp(points[i - 1]!, points[i]!, a / (a - b));
    if (distance(at, chord) >= nearest) continue;
    best = at;
    nearest = distance(at, chord);
  }
  return best;
}

/** Puts a corner on the side from v to w, `moved` from the place at a part of its length. */
function insert(
  { vertices, flat, drawn, sideIds, seamIds }: Draft,
  v: number,
  w: number,
  t: number,
  corner: number,
  moved: (chord: Point, sideId: string) => Point,
) {
  const i = vertices.findIndex((own, k) => own === v && vertices[(k + 1) % vertices.length] === w);
  const j = (i + 1) % vertices.length;
  const p = moved(lerp(flat[i]!, flat[j]!, t), sideIds[i]!);
  const over = flat.some((own, k) => own.x !== drawn[k]!.x);
  const q = over ? { x: -p.x, y: p.y } : p;
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
