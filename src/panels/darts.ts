/**
 * Darts and slits of panels: seams with both sides on one panel. How wide each opens where the panel lies flat.
 */
import { cross, distance, type Point, polylineLength, subtract } from '../math';
import { type Piece, type Seams, sourceLineId } from '../model';
import type { Mm } from '../units';
import { cornersOf, type Surface } from './surface';

/** A dart of a finished panel, or of a panel as it is laid out. */
export interface Dart {
  /** Of its seam run. */
  readonly id: string;
  readonly number: number;
  readonly panel: string;
  readonly seams: readonly string[];
  readonly edges: readonly string[];
  /** Width of its mouth, + open, − where the panel would lie on itself. */
  readonly mouth: Mm;
  /** Farthest that both sides are apart. */
  readonly width: Mm;
  readonly length: Mm;
  /** The edit that placed it by hand; null for one that a cut or a join left. */
  readonly edit: string | null;
  /** As it was asked for; null: as wide as the panel opens. */
  readonly asked: Mm | null;
}

interface EdgeLine {
  readonly id: string;
  readonly points: readonly Point[];
}

/** Loops of edges of one panel, outline first. */
export interface PanelLoops {
  readonly id: string;
  readonly loops: readonly (readonly EdgeLine[])[];
}

export const loopsOfPiece = (piece: Piece): PanelLoops => ({
  id: piece.id,
  loops: [piece.outline, ...piece.holes],
});

/**
 * Darts and slits in the order of their numbers. A run glued to its own panel counts where its two sides meet at a tip;
 * a seam that closes a ring has none, and a slit that does not open is not found on finished panels.
 */
export function dartsOf(
  panels: readonly PanelLoops[],
  { seams, runs }: Pick<Seams, 'seams' | 'runs'>,
): Dart[] {
  const seamOf = new Map(seams.map((s) => [s.id, s]));
  const home = new Map<string, { panel: PanelLoops; loop: readonly EdgeLine[]; k: number }>();
  for (const panel of panels)
    for (const loop of panel.loops) loop.forEach((e, k) => void home.set(e.id, { panel, loop, k }));
  return runs.flatMap((run): Dart[] => {
    const own = run.seams.flatMap((id) => seamOf.get(id) ?? []);
    const pairs = own.flatMap((s) => {
      const [a, b] = [home.get(s.a.edge), home.get(s.b.edge)];
      return a && b && a.loop === b.loop ? [{ s, a, b }] : [];
    });
    if (pairs.length === 0 || pairs.length !== own.length) return [];
    // Along the outline one side of the tip follows the other.
    const follows = ({ a, b }: (typeof pairs)[number], by: 1 | -1) =>
      (a.k + by + a.loop.length) % a.loop.length === b.k && a.k !== b.k;
    const tip = pairs.find((p) => follows(p, 1)) ?? pairs.find((p) => follows(p, -1));
    if (!tip) return [];
    // A slit that does not open has no edges left on the traced outline.
    if (pairs.some(({ a, b }) => a.loop[a.k]!.points.length < 2 || b.loop[b.k]!.points.length < 2)) return [];
    const inFirst = follows(tip, 1);
    const { loop, panel } = tip.a;
    const sides = pairs.map(({ s }) => (inFirst ? [s.a.edge, s.b.edge] : [s.b.edge, s.a.edge]));
    const line = (id: string) => loop[home.get(id)!.k]!.points;
    // From the tip outwards.
    const steps = sides
      .map(([p, q]) => ({ p: line(p!), q: line(q!), k: home.get(q!)!.k }))
      .sort((x, y) => {
        const start = home.get((inFirst ? tip.s.b : tip.s.a).edge)!.k;
        const n = loop.length;
        return ((x.k - start + n) % n) - ((y.k - start + n) % n);
      });
    let width = 0;
    let length = 0;
    let mouth = 0;
    for (const { p, q } of steps) {
      const [start, end] = [p[0], q.at(-1)];
      const at = q[0];
      if (!start || !end || !at) continue;
      const apart = distance(start, end);
      width = Math.max(width, apart);
      const t = steps[0]!.q[0]!;
      mouth = apart * (cross(subtract(start, t), subtract(end, t)) < 0 ? -1 : 1);
      length += polylineLength(q);
    }
    const dart = own.find((s) => s.dart)?.dart ?? null;
    return [
      {
        id: run.id,
        number: run.number,
        panel: panel.id,
        seams: own.map((s) => s.id),
        edges: own.flatMap((s) => [s.a.edge, s.b.edge]),
        mouth,
        width,
        length,
        edit: dart?.edit ?? null,
        asked: dart?.width ?? null,
      },
    ];
  });
}

/** A dart of a panel that is only tried. */
export interface TriedDart {
  /** Folds and seams that stay open. */
  readonly lines: readonly string[];
  readonly width: Mm;
  readonly length: Mm;
}

/** Cut hinges with both sides in one panel, as they lie flat: those that hang together are one dart. */
export function dartsWithin(
  surface: Surface,
  faces: readonly number[],
  cut: readonly boolean[],
  corners: ReadonlyMap<number, readonly Point[]>,
): TriedDart[] {
  const inside = new Set(faces);
  const open = surface.hinges.flatMap((hinge, h) => {
    const [a, b] = [surface.chains[hinge.a]!, surface.chains[hinge.b]!];
    if (!cut[h] || !inside.has(a.face) || !inside.has(b.face)) return [];
    const here = cornersOf(surface, a);
    const there = cornersOf(surface, b).reverse();
    const [p, q] = [corners.get(a.face)!, corners.get(b.face)!];
    const ring = surface.faces[a.face]!.vertices;
    let [width, length] = [0, 0];
    here.forEach((i, k) => {
      width = Math.max(width, distance(p[i]!, q[there[k]!]!));
      if (k > 0) length += distance(p[i]!, p[here[k - 1]!]!);
    });
    return [{ id: hinge.id, width, length, ends: [ring[here[0]!]!, ring[here.at(-1)!]!] }];
  });
  const groups: (typeof open)[] = [];
  const done = new Set<number>();
  open.forEach((first, i) => {
    if (done.has(i)) return;
    done.add(i);
    const group = [first];
    for (const one of group)
      open.forEach((other, j) => {
        if (done.has(j) || !other.ends.some((v) => one.ends.includes(v))) return;
        done.add(j);
        group.push(other);
      });
    groups.push(group);
  });
  return groups.map((group) => ({
    lines: group.map((g) => sourceLineId(g.id)),
    width: Math.max(...group.map((g) => g.width)),
    length: group.reduce((sum, g) => sum + g.length, 0),
  }));
}
