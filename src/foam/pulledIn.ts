/**
 * The shell folded anew with darts that a person gave a width: glued shut, such a dart pulls its panel in. The panel is
 * laid flat, the dart opened as `openDarts` opens it, and the shell folded with the faces that this changes.
 */
import { cross, distance3, dot, type Point, type Point3, rotate, subtract } from '../math';
import type { Seams } from '../model';
import { flattenPatches, foldedAgain, type ShellSide, shellSides, trianglesOf } from '../shell';
import type { Mm, Rad } from '../units';
import { dartTurn } from './openDarts';
import type { FoamSurface } from './surface';

export interface PulledIn {
  readonly places: readonly Point3[];
  /** Farthest that a corner of the shell moves. */
  readonly most: Mm;
}

/** A side of a dart on the flat panel. */
interface FlatSide {
  readonly face: number;
  readonly corner: number;
  readonly from: number;
  readonly to: number;
}

/**
 * Faces of panels with such darts may bend, by themselves they could not follow. Panels are cut as they are without it;
 * this is what comes of gluing them.
 * @param scale of the finished panels against the places: widths are of finished foam
 * @returns null when no dart on the shell has a width of its own, or all are too wide to be opened
 */
export function pulledByDarts(
  { pattern, shell, places }: FoamSurface,
  seams: Seams,
  scale: number,
): PulledIn | null {
  const darts = new Map<string, { width: Mm; piece: string; edges: Set<string> }>();
  for (const { a, b, dart } of seams.seams) {
    if (!dart || dart.width === null || a.piece !== b.piece) continue;
    const { edges } = darts.get(dart.edit) ?? { edges: new Set<string>() };
    for (const { edge } of [a, b]) edges.add(edge);
    darts.set(dart.edit, { width: dart.width / scale, piece: a.piece, edges });
  }
  if (darts.size === 0) return null;
  const sides = shellSides(shell, pattern, seams);
  const flats: (readonly Point[])[] = shell.faces.map((patch) => flattenPatches([patch], places).flats[0]!);
  const soft = new Set<number>();
  let opened = false;
  for (const piece of new Set([...darts.values()].map((d) => d.piece))) {
    const own = shell.faces.flatMap((patch, f) => (patch.piece === piece ? [f] : []));
    const laid = flattenPatches(
      own.map((f) => shell.faces[f]!),
      places,
    ).flats.map((ring) => [...ring]);
    const ringOf = new Map(own.map((f, k) => [f, laid[k]!] as const));
    const turned = new Set<number>();
    for (const dart of darts.values())
      if (dart.piece === piece && openOne(sides, ringOf, dart, turned)) opened = true;
    for (const f of turned) flats[f] = ringOf.get(f)!;
    for (const f of own) soft.add(f);
  }
  if (!opened) return null;
  const pair = (v: number, w: number) => `${Math.min(v, w)} ${Math.max(v, w)}`;
  const joined = new Set(
    shell.faces.flatMap(({ vertices: r }) => r.map((v, i) => pair(v, r[(i + 1) % r.length]!))),
  );
  const faces = shell.faces.flatMap(({ vertices }, f) => {
    const flat = flats[f]!;
    const cut = soft.has(f) ? trianglesOf(flat) : [];
    const inner = new Set(
      cut
        .flatMap((t) => t.map((i, k) => [i, t[(k + 1) % 3]!] as const))
        .flatMap(([i, j]) => ((i + 1) % flat.length === j ? [] : [pair(vertices[i]!, vertices[j]!)])),
    );
    // Corners that another side joins already cannot be joined again: such a face stays whole.
    const may = cut.length > 0 && ![...inner].some((key) => joined.has(key));
    if (may) for (const key of inner) joined.add(key);
    const parts = may ? cut : [vertices.map((_, i) => i)];
    return parts.map((part) => ({
      vertices: part.map((i) => vertices[i]!),
      flat: part.map((i) => flat[i]!),
    }));
  });
  const next = foldedAgain(faces, places);
  return { places: next, most: Math.max(...next.map((p, v) => distance3(p, places[v]!))) };
}

function openOne(
  sides: readonly ShellSide[],
  rings: ReadonlyMap<number, Point[]>,
  { width, edges }: { readonly width: Mm; readonly edges: ReadonlySet<string> },
  turned: Set<number>,
): boolean {
  const own: FlatSide[] = sides.filter((s) => s.edge !== null && edges.has(s.edge) && rings.has(s.face));
  const at = (face: number, corner: number): Point => {
    const ring = rings.get(face)!;
    return ring[corner % ring.length]!;
  };
  const ends = new Map<number, number>();
  for (const { from, to } of own) for (const v of [from, to]) ends.set(v, (ends.get(v) ?? 0) + 1);
  // Inner corners of the dart have four sides, its tip and its mouth two; the outline goes on at the mouth alone.
  const outer = [...ends].flatMap(([v, count]) => (count === 2 ? [v] : []));
  const goesOn = (v: number) =>
    sides.some(
      (s) => s.edge !== null && !edges.has(s.edge) && rings.has(s.face) && (s.from === v || s.to === v),
    );
  const [tips, mouths] = [outer.filter((v) => !goesOn(v)), outer.filter(goesOn)];
  if (tips.length !== 1 || mouths.length !== 1) return false;
  const [tip, mouth] = [tips[0]!, mouths[0]!];
  const cornersAt = (v: number): { out: Point; back: Point } | null => {
    const out = own.find((s) => s.from === v);
    const back = own.find((s) => s.to === v);
    return out && back ? { out: at(out.face, out.corner), back: at(back.face, back.corner + 1) } : null;
  };
  const [t, m] = [cornersAt(tip), cornersAt(mouth)];
  if (!t || !m) return false;
  // The side that runs to the mouth has its material on the left, the one that runs back to the tip as well.
  const [a, b] = [subtract(m.back, t.out), subtract(m.out, t.out)];
  const open: Rad = Math.atan2(cross(b, a), dot(b, a));
  const turn = dartTurn(width, (Math.hypot(a.x, a.y) + Math.hypot(b.x, b.y)) / 2, open);
  if (turn === null) return false;
  const order = outward(own, tip);
  for (const s of own) {
    const outwards = order.get(s.to)! > order.get(s.from)!;
    // Each corner but the tip, once from each side of the dart.
    const corner = outwards ? (s.corner + 1) % rings.get(s.face)!.length : s.corner;
    const by = outwards ? turn / 2 : -turn / 2;
    for (const [face, i] of acrossFolds(sides, rings, s.face, corner)) {
      const ring = rings.get(face)!;
      const r = rotate(subtract(ring[i]!, t.out), by);
      ring[i] = { x: t.out.x + r.x, y: t.out.y + r.y };
      turned.add(face);
    }
  }
  return true;
}

/** The corners of faces that are one corner of the flat panel with this one: round it over folds, not over cuts. */
function acrossFolds(
  sides: readonly ShellSide[],
  rings: ReadonlyMap<number, Point[]>,
  face: number,
  corner: number,
): [number, number][] {
  const found: [number, number][] = [[face, corner]];
  for (const [f, i] of found) {
    const n = rings.get(f)!.length;
    for (const side of sides) {
      if (side.face !== f || side.edge !== null) continue;
      const starts = side.corner === i;
      if (!starts && (side.corner + 1) % n !== i) continue;
      const twin = sides.find(
        (s) =>
          s.edge === null && s.from === side.to && s.to === side.from && rings.has(s.face) && s.face !== f,
      );
      if (!twin) continue;
      const there = starts ? (twin.corner + 1) % rings.get(twin.face)!.length : twin.corner;
      if (!found.some(([g, k]) => g === twin.face && k === there)) found.push([twin.face, there]);
    }
  }
  return found;
}

/** How many stretches each corner of the dart is from its tip. */
function outward(own: readonly FlatSide[], tip: number): Map<number, number> {
  const order = new Map([[tip, 0]]);
  const queue = [tip];
  for (const v of queue)
    for (const { from, to } of own) {
      const next = from === v ? to : to === v ? from : null;
      if (next === null || order.has(next)) continue;
      order.set(next, order.get(v)! + 1);
      queue.push(next);
    }
  return order;
}
