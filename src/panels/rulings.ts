/**
 * Faces that bend between curved edges, divided along the rulings that the shell was folded with: every flat strip
 * becomes a face, every ruling a fold that is neither cut nor printed. Lines can then be drawn across and seams joined
 * as between flat faces, and nothing about the shell changes. Edges are divided where rulings end, on both sides of
 * their seams.
 */
import { nearestAlong, type Point, polylineLength, ringArea } from '../math';
import {
  type Face,
  type FaceSide,
  type Fold,
  type Pattern,
  type Piece,
  partId,
  rulingFoldId,
  type Seams,
} from '../model';
import { type GluedFace, shortestSeam } from '../shell';
import type { Mm } from '../units';
import { inside } from './crossing';
import { divideLines, divideSides, ringAlong } from './divideLines';
import { divideSeams } from './divideSeams';
import { alongLine, joinPlaces } from './lines';
import { beside, linesOf } from './refine';
import type { Surface } from './surface';
import { samePlace } from './tolerance';

/** Bent faces that have ends of rulings in common, across seams and folds: divided together or not at all. */
export interface BentGroup {
  /** The same whatever is edited. */
  readonly id: string;
  readonly faces: ReadonlySet<string>;
  /** Rulings end between the corners of the drawing; edits of such faces would lose the shell. */
  readonly ruled: boolean;
}

/** @param surface of the pattern as drawn */
export function bentGroups({ glued }: Surface, seams: Seams): BentGroup[] {
  const bent = [...new Set(glued.faces.flatMap((f) => (f.part === undefined ? [] : [f.face])))];
  const known = new Set(glued.whole.flatMap((f) => f.vertices));
  const linesOn = new Map(bent.map((face) => [face, new Set<string>()]));
  const ruled = new Set<string>();
  for (const { face, sideIds, vertices } of glued.faces) {
    for (const id of sideIds) if (id !== '') linesOn.get(face)?.add(id);
    if (linesOn.has(face) && vertices.some((v) => !known.has(v))) ruled.add(face);
  }
  const root = new Map(bent.map((f) => [f, f]));
  const find = (f: string): string => (root.get(f) === f ? f : find(root.get(f)!));
  const home = new Map<string, string>();
  for (const [face, ids] of linesOn)
    for (const id of ids) {
      const first = home.get(id);
      if (first === undefined) home.set(id, face);
      else root.set(find(face), find(first));
    }
  for (const { a, b } of seams.seams) {
    const [f, g] = [home.get(a.edge), home.get(b.edge)];
    if (f !== undefined && g !== undefined) root.set(find(f), find(g));
  }
  const groups = new Map<string, string[]>();
  for (const f of bent) groups.set(find(f), [...(groups.get(find(f)) ?? []), f]);
  return [...groups.values()].map((faces, k) => ({
    id: `bent${k}`,
    faces: new Set(faces),
    ruled: faces.some((f) => ruled.has(f)),
  }));
}

/** @returns null where a hole without a seam lies across rulings, so that no strip holds it */
export function divideBent(
  pattern: Pattern,
  seams: Seams,
  { glued }: Surface,
  group: BentGroup,
): { readonly pattern: Pattern; readonly seams: Seams } | null {
  const lines = linesOf(pattern);
  const faces = withoutSlivers(glued.faces, group);
  const cuts = cutsOf(faces, seams, lines, group);
  const over = new Set(glued.turnedOver);
  const strips = new Map<string, GluedFace[]>();
  for (const f of faces) if (group.faces.has(f.face)) strips.set(f.face, [...(strips.get(f.face) ?? []), f]);
  let whole = true;
  const pieces = pattern.pieces.map((piece): Piece => {
    const touched =
      piece.faces.some((f) => group.faces.has(f.id)) ||
      [...piece.outline, ...piece.holes.flat(), ...piece.folds].some((l) => cuts.has(l.id));
    if (!touched) return piece;
    const made = dividePiece(piece, { lines, cuts, strips, group: group.id, over: over.has(piece.id) });
    if (!made) whole = false;
    return made ?? piece;
  });
  if (!whole) return null;
  return {
    pattern: {
      ...pattern,
      pieces,
      labels: pattern.labels.map((label) => {
        const own = cuts.get(label.edge);
        if (!own) return label;
        const at = nearestAlong(lines.get(label.edge)!, label.at);
        return { ...label, edge: partId(label.edge, group.id, own.filter((s) => s < at).length) };
      }),
    },
    seams: divideSeams(seams, lines, cuts, group.id),
  };
}

/**
 * Corners of curves beside the end of a ruling are left out: an edge between them would be shorter than any seam drawn.
 * Strips are flat, so their corners lie as they did.
 */
function withoutSlivers(faces: readonly GluedFace[], group: BentGroup): GluedFace[] {
  const own = faces.filter((f) => group.faces.has(f.face));
  const kept = new Set<number>();
  for (const { vertices, sideIds } of own)
    sideIds.forEach((id, i) => {
      const n = vertices.length;
      if (id === '') kept.add(vertices[i]!).add(vertices[(i + 1) % n]!);
      else if (id !== sideIds[(i + 1) % n]) kept.add(vertices[(i + 1) % n]!);
    });
  const passed = new Set<number>();
  for (const { vertices, sideIds, drawn } of own)
    for (const [i, id] of sideIds.entries()) {
      const j = (i + 1) % drawn.length;
      if (id === '' || [i, j].some((k) => passed.has(vertices[k]!))) continue;
      if (Math.hypot(drawn[i]!.x - drawn[j]!.x, drawn[i]!.y - drawn[j]!.y) > sliver) continue;
      const free = [i, j].find((k) => !kept.has(vertices[k]!));
      if (free !== undefined) passed.add(vertices[free]!);
    }
  if (passed.size === 0) return [...faces];
  return faces.map((face) => {
    const left = face.vertices.flatMap((v, i) => (passed.has(v) ? [] : [i]));
    if (left.length === face.vertices.length) return face;
    const at = <T>(list: readonly T[]): T[] => left.map((i) => list[i]!);
    return {
      ...face,
      ...{ vertices: at(face.vertices), flat: at(face.flat), drawn: at(face.drawn) },
      ...{ sideIds: at(face.sideIds), seamIds: at(face.seamIds) },
    };
  });
}

/** A little more than the shortest seam: chords are shorter than their curves, and the two sides of a seam differ. */
const sliver: Mm = 1.2 * shortestSeam;

/** Where the lines of the strips, and the other sides of their seams, have corners between their ends. */
function cutsOf(
  faces: readonly GluedFace[],
  seams: Seams,
  lines: ReadonlyMap<string, readonly Point[]>,
  group: BentGroup,
): Map<string, readonly number[]> {
  const own = new Set(
    faces.flatMap((f) => (group.faces.has(f.face) ? f.sideIds.filter((id) => id !== '') : [])),
  );
  const sewn = new Set(seams.seams.flatMap((s) => (own.has(s.a.edge) || own.has(s.b.edge) ? [s.id] : [])));
  const places = new Map<string, number[]>();
  for (const { sideIds, seamIds, drawn } of faces)
    sideIds.forEach((id, i) => {
      const line = lines.get(id);
      if (!line || !(own.has(id) || sewn.has(seamIds[i] ?? ''))) return;
      for (const p of [drawn[i]!, drawn[(i + 1) % drawn.length]!])
        places.set(id, [...(places.get(id) ?? []), nearestAlong(line, p)]);
    });
  const cuts = new Map<string, readonly number[]>();
  for (const [id, all] of places) {
    const length = polylineLength(lines.get(id)!);
    const inner = joinPlaces(all).filter((s) => s > samePlace && s < length - samePlace);
    if (inner.length > 0) cuts.set(id, inner);
  }
  return cuts;
}

interface Cutting {
  readonly lines: ReadonlyMap<string, readonly Point[]>;
  readonly cuts: ReadonlyMap<string, readonly number[]>;
  /** By face. */
  readonly strips: ReadonlyMap<string, readonly GluedFace[]>;
  readonly group: string;
  /** Strips are seen from the other side than the piece is drawn from. */
  readonly over: boolean;
}

function dividePiece(piece: Piece, cutting: Cutting): Piece | null {
  const { cuts, strips, group } = cutting;
  const { outline, holes, folds, points } = divideLines(piece, cuts, group, { flat: true });
  const kinds = new Map<string, FaceSide['kind']>(piece.folds.map((f) => [f.id, 'fold']));
  const rulings: Fold[] = [];
  const ringOf = (sides: readonly FaceSide[]) => ringAlong(sides, points);
  let lost = false;
  const faces = piece.faces.flatMap((face): Face[] => {
    const own = strips.get(face.id);
    if (!own) {
      const sides = divideSides(face.sides, cuts, group);
      return [sides.length === face.sides.length ? face : { ...face, sides, polygon: ringOf(sides) }];
    }
    const made = own.map((strip) => sidesOf(strip, face.id, cutting, kinds, points, rulings));
    const polygons = made.map(ringOf);
    const areas = polygons.map(ringArea);
    const largest = areas.indexOf(Math.max(...areas));
    const homes = face.holes.map((hole) => polygons.findIndex((ring) => hole.every((p) => inside(ring, p))));
    const bordering = (hole: readonly Point[]) =>
      polygons.some((ring) => ring.some((p) => Math.hypot(p.x - hole[0]!.x, p.y - hole[0]!.y) <= samePlace));
    if (homes.some((home, h) => home < 0 && !bordering(face.holes[h]!))) lost = true;
    return made.map(
      (sides, k): Face => ({
        ...{ id: k === largest ? face.id : partId(face.id, group, k), polygon: polygons[k]!, sides },
        holes: face.holes.filter((_, h) => homes[h] === k),
      }),
    );
  });
  if (lost) return null;
  return {
    ...piece,
    outline,
    holes,
    folds: [...folds, ...rulings].map((fold) => beside(fold, faces)),
    faces,
    tabs: piece.tabs.filter((tab) => !cuts.has(tab.edge)),
  };
}

/** The sides of a strip as they run round it on the drawing; rulings that are new are added to the list and the lines. */
function sidesOf(
  { drawn, sideIds, vertices }: GluedFace,
  face: string,
  { lines, cuts, group, over }: Cutting,
  kinds: ReadonlyMap<string, FaceSide['kind']>,
  points: Map<string, readonly Point[]>,
  rulings: Fold[],
): FaceSide[] {
  const n = drawn.length;
  const sides = sideIds.map((line, i): FaceSide[] => {
    const j = (i + 1) % n;
    const [from, to] = over ? [j, i] : [i, j];
    const [p, q] = [drawn[from]!, drawn[to]!];
    if (line === '') {
      const low = vertices[from]! < vertices[to]!;
      const [a, b] = low ? [from, to] : [to, from];
      const id = rulingFoldId(face, `${vertices[a]!}-${vertices[b]!}`);
      if (!points.has(id)) {
        const ends = [drawn[a]!, drawn[b]!];
        points.set(id, ends);
        rulings.push({
          ...{ id, points: ends, role: 'unknown', givenBend: 0, plain: true, left: face, right: face },
        });
      }
      return [{ kind: 'fold', id, forward: low }];
    }
    const kind = kinds.get(line) ?? 'edge';
    const own = cuts.get(line);
    const whole = lines.get(line)!;
    if (!own) return [{ kind, id: line, forward: near(whole[0]!, p, q) }];
    const stops = [0, ...own, polylineLength(whole)].map((s) => alongLine(whole, s));
    // Of a line that ends where it begins, both ends are one corner: the way of one stretch counts.
    const at = (r: Point) => {
      const off = stops.map((s) => Math.hypot(s.x - r.x, s.y - r.y));
      const least = Math.min(...off);
      return off.flatMap((o, k) => (o <= least + samePlace ? [k] : []));
    };
    let best = { a: 0, b: 0, steps: Number.POSITIVE_INFINITY };
    for (const a of at(p))
      for (const b of at(q))
        if (a !== b && Math.abs(a - b) < best.steps) best = { a, b, steps: Math.abs(a - b) };
    const [a, b] = [Math.min(best.a, best.b), Math.max(best.a, best.b)];
    const forward = best.a < best.b;
    const parts = Array.from(
      { length: b - a },
      (_, k): FaceSide => ({
        ...{ kind, id: partId(line, group, a + k), forward },
      }),
    );
    return forward ? parts : parts.reverse();
  });
  return (over ? sides.reverse() : sides).flat();
}

/** Whether a point is nearer to the first than to the second. */
const near = (p: Point, first: Point, second: Point): boolean =>
  Math.hypot(p.x - first.x, p.y - first.y) <= Math.hypot(p.x - second.x, p.y - second.y);
