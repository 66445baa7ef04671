/**
 * A pattern with its faces divided along chords: the same pieces and the same shape, with more faces, and folds of no
 * bend where the chords run. Folds and edges that a chord ends on are divided there, on both sides of a seam.
 */
import { distance, lerp, nearestAlong, type Point, polylineLength, ringArea } from '../math';
import {
  drawnFoldId,
  type Face,
  type FaceSide,
  type Fold,
  type Pattern,
  type Piece,
  partId,
  type Seams,
  slitRestId,
} from '../model';
import { type Chord, type Contact, inside, offSegment } from './crossing';
import { divideLines, divideSides, ringAlong } from './divideLines';
import { divideSeams } from './divideSeams';
import { type HoleWay, type Site, wayThrough } from './holeWay';
import { alongLine, joinPlaces, partsOfLine } from './lines';
import { carriedBy } from './meanValue';
import { seen } from './place';
import type { Surface } from './surface';
import { samePlace } from './tolerance';

export interface Refined {
  readonly pattern: Pattern;
  readonly seams: Seams;
  /** Folds of the chords that are to be cut, in the order of the line. */
  readonly drawn: readonly string[];
}

/** A line through one face, told on the lines of the pattern. */
export interface DrawnChord {
  readonly face: string;
  readonly from: Site;
  readonly to: Site;
  readonly inner: readonly Point[];
  readonly tip: number | null;
  /** Where it goes through a hole of its face: number of the hole, both places, points of `inner` before it. */
  readonly through: HoleWay | null;
}

/**
 * @returns `'hole'` when a chord goes through holes of its face in a way that divides nothing
 * @param corners of the faces where the panel lies, which the chords' points are told in
 * @param edit id of the edit, for the ids of what comes to be
 */
export function refine(
  pattern: Pattern,
  seams: Seams,
  surface: Surface,
  corners: ReadonlyMap<number, readonly Point[]>,
  chords: readonly Chord[],
  edit: string,
): Refined | 'hole' {
  const lines = linesOf(pattern);
  const faceOf = new Map(pattern.pieces.flatMap((p) => p.faces.map((f) => [f.id, { f, p }] as const)));
  let tangled = false;
  const drawn = chords.map((chord): DrawnChord => {
    const face = surface.faces[chord.face]!;
    const from = siteOf(surface, lines, chord.face, chord.from);
    const to = siteOf(surface, lines, chord.face, chord.to);
    const home = (p: Point) => seen(carriedBy(corners.get(chord.face)!, face.flat, p), face.over);
    const inner = chord.inner.map(home);
    const ends = [from, to].map(({ line, at }) => alongLine(lines.get(line)!, at));
    const through = wayThrough(faceOf.get(face.face)!, [ends[0]!, ...inner, ends[1]!], chord.tip);
    if (through === 'hole') tangled = true;
    return {
      ...{ face: face.face, from, to, inner, tip: chord.tip },
      through: through === 'hole' ? null : through,
    };
  });
  return tangled ? 'hole' : divideAlong(pattern, seams, drawn, edit);
}

/** The same for chords that are told on the lines of the pattern. */
export function divideAlong(
  pattern: Pattern,
  seams: Seams,
  drawn: readonly DrawnChord[],
  edit: string,
): Refined {
  const lines = linesOf(pattern);
  const places = new Map<string, number[]>();
  const mark = ({ line, at }: Site) => places.set(line, [...(places.get(line) ?? []), at]);
  for (const { from, to, through } of drawn) {
    mark(from);
    mark(to);
    if (!through) continue;
    mark(through.enter);
    mark(through.leave);
  }
  for (const seam of seams.seams) acrossSeam(seam, lines, places);
  const cuts = new Map<string, readonly number[]>();
  for (const [line, all] of places) {
    const length = polylineLength(lines.get(line)!);
    const own = joinPlaces(all).filter((s) => s > samePlace && s < length - samePlace);
    if (own.length > 0) cuts.set(line, own);
  }
  const pointAt = ({ line, at }: Site): Point => {
    const points = lines.get(line)!;
    const length = polylineLength(points);
    const stops = [0, ...(cuts.get(line) ?? []), length];
    const s = stops.reduce((best, x) => (Math.abs(x - at) < Math.abs(best - at) ? x : best), 0);
    return s === length ? points.at(-1)! : alongLine(points, s);
  };
  const byFace = new Map<string, { chord: DrawnChord; k: number }[]>();
  drawn.forEach((chord, k) => {
    byFace.set(chord.face, [...(byFace.get(chord.face) ?? []), { chord, k }]);
  });
  const names: string[] = [];
  const pieces = pattern.pieces.map((piece): Piece => {
    const touched =
      piece.faces.some((f) => byFace.has(f.id)) ||
      [...piece.outline, ...piece.holes.flat(), ...piece.folds].some((l) => cuts.has(l.id));
    if (!touched) return piece;
    return refinePiece(piece, cuts, byFace, pointAt, edit, names);
  });
  const part = (id: string, near: Point): string => {
    const own = cuts.get(id);
    if (!own) return id;
    const parts = partsOfLine(lines.get(id)!, own);
    const off = parts.map((p) => offLine(near, p));
    return partId(id, edit, off.indexOf(Math.min(...off)));
  };
  return {
    pattern: {
      ...pattern,
      pieces,
      labels: pattern.labels.map((l) => (cuts.has(l.edge) ? { ...l, edge: part(l.edge, l.at) } : l)),
    },
    seams: divideSeams(seams, lines, cuts, edit),
    drawn: names.sort((a, b) => chordNumber(a) - chordNumber(b)),
  };
}

const chordNumber = (id: string): number => Number(id.slice(id.lastIndexOf('/') + 1));

const offLine = (p: Point, line: readonly Point[]): number =>
  Math.min(...line.slice(1).map((b, i) => offSegment(p, line[i]!, b)));

export function linesOf(pattern: Pattern): ReadonlyMap<string, readonly Point[]> {
  return new Map(
    pattern.pieces.flatMap((p) =>
      [...p.outline, ...p.holes.flat(), ...p.folds].map((line) => [line.id, line.points] as const),
    ),
  );
}

/** The place on a fold or edge where a chord ends. */
function siteOf(
  surface: Surface,
  lines: ReadonlyMap<string, readonly Point[]>,
  f: number,
  { corner, t }: Contact,
): Site {
  const { flat, over } = surface.faces[f]!;
  const p = seen(lerp(flat[corner]!, flat[(corner + 1) % flat.length]!, t), over);
  const { side } = surface.chains[surface.chainOf[surface.start[f]! + corner]!]!;
  return { line: side, at: nearestAlong(lines.get(side)!, p) };
}

/** Places on one side of a seam are places on the other too, by their part of the way. */
function acrossSeam(
  seam: Seams['seams'][number],
  lines: ReadonlyMap<string, readonly Point[]>,
  places: Map<string, number[]>,
): void {
  const range = (edge: string, part: readonly [number, number] | undefined) =>
    part ?? ([0, polylineLength(lines.get(edge) ?? [])] as const);
  if (!lines.has(seam.a.edge) || !lines.has(seam.b.edge)) return;
  const a = range(seam.a.edge, seam.partA);
  const b = range(seam.b.edge, seam.partB);
  const carry = (
    from: string,
    to: string,
    [f0, f1]: readonly [number, number],
    [t0, t1]: readonly [number, number],
    only: number,
  ) => {
    for (const at of (places.get(from) ?? []).slice(0, only)) {
      const part = (at - f0) / (f1 - f0);
      if (at < f0 + samePlace || at > f1 - samePlace) continue;
      const there = t0 + (seam.direction === 'opposed' ? 1 - part : part) * (t1 - t0);
      places.set(to, [...(places.get(to) ?? []), there]);
    }
  };
  const [onA, onB] = [places.get(seam.a.edge)?.length ?? 0, places.get(seam.b.edge)?.length ?? 0];
  carry(seam.a.edge, seam.b.edge, a, b, onA);
  if (seam.a.edge !== seam.b.edge || seam.partA) carry(seam.b.edge, seam.a.edge, b, a, onB);
}

interface OpenFace {
  readonly id: string;
  readonly sides: readonly FaceSide[];
}

function refinePiece(
  piece: Piece,
  cuts: ReadonlyMap<string, readonly number[]>,
  byFace: ReadonlyMap<string, readonly { readonly chord: DrawnChord; readonly k: number }[]>,
  pointAt: (site: Site) => Point,
  edit: string,
  names: string[],
): Piece {
  const { outline, holes, folds, points } = divideLines(piece, cuts, edit);
  const ringOf = (sides: readonly FaceSide[]) => ringAlong(sides, points);
  const startOf = ({ id, forward }: FaceSide): Point =>
    forward ? points.get(id)![0]! : points.get(id)!.at(-1)!;
  const newFolds: Fold[] = [];
  const faces = piece.faces.flatMap((face): Face[] => {
    const sides = divideSides(face.sides, cuts, edit);
    const chords = byFace.get(face.id) ?? [];
    if (chords.length === 0 && sides.length === face.sides.length) return [face];
    let open: OpenFace[] = [{ id: face.id, sides }];
    chords.forEach(({ chord, k }) => {
      const [p, q] = [pointAt(chord.from), pointAt(chord.to)];
      const next = chord.through?.before === 0 ? pointAt(chord.through.enter) : (chord.inner[0] ?? q);
      const middle = lerp(p, next, 0.5);
      const index = ({ sides: own }: OpenFace, at: Point) =>
        own.findIndex((s) => distance(startOf(s), at) <= samePlace);
      const home =
        open.find((o) => index(o, p) >= 0 && index(o, q) >= 0 && inside(ringOf(o.sides), middle)) ?? null;
      const [i, j] = home ? [index(home, p), index(home, q)] : [0, 0];
      if (!home || i === j) return;
      const start = startOf(home.sides[i]!);
      const end = startOf(home.sides[j]!);
      const whole = [start, ...chord.inner, end];
      const stops =
        chord.tip === null ? [whole] : [whole.slice(0, chord.tip + 2), whole.slice(chord.tip + 1)];
      const { through } = chord;
      if (through) {
        const [enter, leave] = [pointAt(through.enter), pointAt(through.leave)];
        stops.splice(
          0,
          1,
          [...whole.slice(0, through.before + 1), enter],
          [leave, ...whole.slice(through.after + 1)],
        );
      }
      const ids = stops.map((_, n) => {
        if (n === 0) return drawnFoldId(edit, k);
        return through ? drawnFoldId(edit, k + 0.5) : slitRestId(edit);
      });
      names.push(...(through ? ids : ids.slice(0, 1)));
      stops.forEach((line, n) => {
        points.set(ids[n]!, line);
        newFolds.push({
          ...{ id: ids[n]!, points: line, role: 'unknown', givenBend: 0, plain: true },
          ...{ left: face.id, right: face.id },
        });
      });
      // Of a chord through a hole, the rim of the hole comes between its two halves.
      const there = ids.map((id): FaceSide => ({ kind: 'fold', id, forward: true }));
      const back = [...ids].reverse().map((id): FaceSide => ({ kind: 'fold', id, forward: false }));
      const n = home.sides.length;
      const between = (from: number, to: number) =>
        Array.from({ length: (to - from + n) % n }, (_, x) => home.sides[(from + x) % n]!);
      // From start to end along the chord, then on round the ring to the start: the part on its left.
      const left = { id: home.id, sides: [...there, ...between(j, i)] };
      const right = { id: home.id, sides: [...back, ...between(i, j)] };
      if (chord.through) {
        const { enter, leave } = chord.through;
        const rim = holes.find((l) => l.some((e) => distance(e.points[0]!, pointAt(enter)) <= samePlace));
        const stop = (p: Point) => (rim ?? []).findIndex((e) => distance(e.points[0]!, p) <= samePlace);
        const [h, g] = [stop(pointAt(enter)), stop(pointAt(leave))];
        if (!rim || h < 0 || g < 0 || h === g) return;
        const part = (from: number, to: number): FaceSide[] =>
          Array.from({ length: (to - from + rim.length) % rim.length }, (_, x) => ({
            kind: 'edge',
            id: rim[(from + x) % rim.length]!.id,
            forward: true,
          }));
        // A hole runs clockwise: on from where it is entered lies what is left of the chord.
        left.sides.splice(1, 0, ...part(h, g));
        right.sides.splice(1, 0, ...part(g, h));
      }
      const areas = [left, right].map((o) => ringArea(ringOf(o.sides)));
      const other = partId(home.id, edit, k);
      const parts =
        areas[0]! >= areas[1]! ? [left, { ...right, id: other }] : [{ ...left, id: other }, right];
      open = open.flatMap((o) => (o === home ? parts : [o]));
    });
    return open.map(({ id, sides: own }): Face => {
      const polygon = ringOf(own);
      const holesIn = face.holes.filter((h) => open.length === 1 || inside(polygon, h[0]!));
      return { id, polygon, sides: own, holes: holesIn };
    });
  });
  return {
    ...piece,
    outline,
    holes,
    folds: [...folds, ...newFolds].map((fold) => beside(fold, faces)),
    faces,
    tabs: piece.tabs.filter((tab) => !cuts.has(tab.edge)),
  };
}

/** A fold with the faces that it lies between now. */
export function beside(fold: Fold, faces: readonly Face[]): Fold {
  const on = (forward: boolean) =>
    faces.find((f) => f.sides.some((s) => s.kind === 'fold' && s.id === fold.id && s.forward === forward));
  const left = on(true)?.id ?? fold.left;
  const right = on(false)?.id ?? fold.right;
  return left === fold.left && right === fold.right ? fold : { ...fold, left, right };
}
