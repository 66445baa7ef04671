/** One panel as a piece of the new pattern: outline, folds and faces from its faces laid flat. */
import { alongMovedSide, type Point, ringArea } from '../math';
import {
  cutEdgeId,
  type Edge,
  type Face,
  type FaceSide,
  type Fold,
  joinedFoldId,
  type Pattern,
  type Piece,
  type Tab,
} from '../model';
import type { Rad } from '../units';
import type { FlatPanel } from './flat';
import type { PanelPart } from './parts';
import { faceMotion, lineAlong, seen } from './place';
import { type Chain, cornersOf, type Surface } from './surface';
import { traceLoops } from './trace';

/** What drafting looks up in the pattern. */
export interface PatternIndex {
  readonly edges: ReadonlyMap<string, Edge>;
  readonly folds: ReadonlyMap<string, Fold>;
  readonly faces: ReadonlyMap<string, Face>;
  readonly pieces: ReadonlyMap<string, Piece>;
  /** Chains on each edge of the pattern. */
  readonly chainsOn: ReadonlyMap<string, readonly number[]>;
}

export function indexPattern(pattern: Pattern, surface: Surface): PatternIndex {
  const chainsOn = new Map<string, number[]>();
  surface.chains.forEach((c, i) => {
    chainsOn.set(c.side, [...(chainsOn.get(c.side) ?? []), i]);
  });
  return {
    edges: new Map(
      pattern.pieces.flatMap((p) => [...p.outline, ...p.holes.flat()].map((e) => [e.id, e] as const)),
    ),
    folds: new Map(pattern.pieces.flatMap((p) => p.folds.map((f) => [f.id, f] as const))),
    faces: new Map(pattern.pieces.flatMap((p) => p.faces.map((f) => [f.id, f] as const))),
    pieces: new Map(pattern.pieces.map((p) => [p.id, p])),
    chainsOn,
  };
}

export interface Draft {
  readonly piece: Piece;
  /** Edge of the new piece on each chain of its outline. */
  readonly edgeOf: ReadonlyMap<number, string>;
}

export function draftPanel(
  surface: Surface,
  index: PatternIndex,
  part: PanelPart,
  flat: FlatPanel,
  cut: readonly boolean[],
  bendOf: (id: string) => Rad | null,
): Draft {
  const edgeOf = new Map<number, string>();
  const loops = traceLoops(surface, part.faces, cut)
    .map((loop) => edgesOf(surface, index, flat, loop, edgeOf))
    .map((loop) => ({ loop, area: ringArea(ringOf(loop)) }))
    .sort((p, q) => q.area - p.area);
  const folds = foldsOf(surface, index, part, flat, cut, bendOf);
  const extra = extras(surface, index, part, flat);
  const outline = loops[0]!.loop;
  const kept = new Set(loops.flatMap(({ loop }) => loop.map((e) => e.id)));
  return {
    edgeOf,
    piece: {
      id: part.id,
      name: part.name,
      outline,
      holes: [...loops.slice(1).map(({ loop }) => loop), ...extra.holes],
      folds: [...folds.folds, ...extra.folds],
      faces: part.faces.map((f) =>
        faceOf(surface, f, edgeOf, folds.idOf, cut, flat, extra.faceHoles, loops, folds),
      ),
      tabs: part.pieces.flatMap((id) =>
        index.pieces.get(id)!.tabs.flatMap((tab) => tabOf(tab, kept, surface, index, flat)),
      ),
    },
  };
}

export const ringOf = (loop: readonly Edge[]): Point[] => loop.flatMap((e) => e.points.slice(0, -1));

/** The edges of one loop: chains that lie on one edge of the drawing stay one edge where all of it is left. */
function edgesOf(
  surface: Surface,
  index: PatternIndex,
  flat: FlatPanel,
  loop: readonly number[],
  edgeOf: Map<number, string>,
): Edge[] {
  const groups: number[][] = [];
  const start = loop.findIndex(
    (c, i) => surface.chains[c]!.side !== surface.chains[loop[(i + loop.length - 1) % loop.length]!]!.side,
  );
  const turned = start > 0 ? [...loop.slice(start), ...loop.slice(0, start)] : loop;
  for (const c of turned) {
    const last = groups.at(-1);
    if (
      last &&
      surface.chains[last[0]!]!.side === surface.chains[c]!.side &&
      isEdge(index, surface.chains[c]!)
    )
      last.push(c);
    else groups.push([c]);
  }
  return groups.flatMap((group) => {
    const { side } = surface.chains[group[0]!]!;
    const drawn = index.edges.get(side);
    const chains = group.map((c) => surface.chains[c]!);
    if (drawn && group.length === index.chainsOn.get(side)!.length) {
      for (const c of group) edgeOf.set(c, side);
      return [
        {
          id: side,
          points: lineAlong(surface, flat, chains, drawn.points),
          curved: drawn.curved,
          ...(drawn.flat ? { flat: drawn.flat } : {}),
        },
      ];
    }
    return group.map((c): Edge => {
      const chain = surface.chains[c]!;
      const fold = index.folds.get(side);
      const hinge = chain.hinge >= 0 ? surface.hinges[chain.hinge]! : null;
      const id =
        fold && hinge
          ? cutEdgeId(side, hinge.a === c ? 'l' : 'r')
          : `${side}/${index.chainsOn.get(side)!.indexOf(c)}`;
      edgeOf.set(c, id);
      const points = lineAlong(surface, flat, [chain], fold ? fold.points : null);
      return { id, points, curved: points.length > 2 };
    });
  });
}

const isEdge = (index: PatternIndex, chain: Chain) => index.edges.has(chain.side);

interface FoldDrafts {
  readonly folds: readonly Fold[];
  /** Fold of the new piece on each hinge that is whole. */
  readonly idOf: ReadonlyMap<number, string>;
  readonly pointsOf: ReadonlyMap<string, readonly Point[]>;
}

function foldsOf(
  surface: Surface,
  index: PatternIndex,
  part: PanelPart,
  flat: FlatPanel,
  cut: readonly boolean[],
  bendOf: (id: string) => Rad | null,
): FoldDrafts {
  const inside = new Set(part.faces);
  const idOf = new Map<number, string>();
  const folds: Fold[] = [];
  surface.hinges.forEach((hinge, h) => {
    const a = surface.chains[hinge.a]!;
    const b = surface.chains[hinge.b]!;
    if (cut[h] || !inside.has(a.face) || !inside.has(b.face)) return;
    const left = surface.faces[a.face]!;
    const right = surface.faces[b.face]!;
    const drawn = index.folds.get(hinge.id);
    const id = drawn ? drawn.id : joinedFoldId(hinge.id);
    idOf.set(h, id);
    const source = drawn ?? index.edges.get(a.side);
    const whole = drawn || index.chainsOn.get(a.side)!.length === 1;
    const points = lineAlong(surface, flat, [a], whole && source ? source.points : null);
    const common = { id, points, left: left.face, right: right.face };
    if (drawn) folds.push({ ...drawn, ...common, role: seenRole(drawn.role, left.over) });
    else {
      const bend = bendOf(hinge.id);
      const role = bend === null || Math.abs(bend) < 1e-3 ? 'unknown' : bend > 0 ? 'mountain' : 'valley';
      const flat = index.edges.get(a.side)?.flat;
      folds.push({ ...common, role, ...(flat ? { flat } : {}) });
    }
  });
  return { folds, idOf, pointsOf: new Map(folds.map((f) => [f.id, f.points])) };
}

/** A mountain of a piece drawn from inside is a valley from outside. */
const seenRole = (role: Fold['role'], over: boolean): Fold['role'] =>
  !over || role === 'unknown' ? role : role === 'mountain' ? 'valley' : 'mountain';

function faceOf(
  surface: Surface,
  f: number,
  edgeOf: ReadonlyMap<number, string>,
  foldIdOf: ReadonlyMap<number, string>,
  cut: readonly boolean[],
  flat: FlatPanel,
  faceHoles: ReadonlyMap<string, readonly (readonly Point[])[]>,
  loops: readonly { readonly loop: readonly Edge[] }[],
  folds: FoldDrafts,
): Face {
  const { face } = surface.faces[f]!;
  const sides: FaceSide[] = [];
  const polygon: Point[] = [];
  const n = surface.faces[f]!.vertices.length;
  let previous = '';
  for (let i = 0; i < n; ) {
    const c = surface.chainOf[surface.start[f]! + i]!;
    const chain = surface.chains[c]!;
    const whole = chain.hinge >= 0 && !cut[chain.hinge];
    if (whole) {
      const id = foldIdOf.get(chain.hinge)!;
      const forward = surface.hinges[chain.hinge]!.a === c;
      sides.push({ kind: 'fold', id, forward });
      const points = folds.pointsOf.get(id)!;
      polygon.push(...(forward ? points : [...points].reverse()).slice(0, -1));
    } else {
      const id = edgeOf.get(c)!;
      if (id !== previous) {
        sides.push({ kind: 'edge', id, forward: true });
        const edge = loops.flatMap(({ loop }) => loop).find((e) => e.id === id)!;
        polygon.push(...edge.points.slice(0, -1));
      }
      previous = id;
    }
    i += chain.count;
  }
  return {
    id: face,
    polygon: polygon.length >= 3 ? polygon : [...flat.corners.get(f)!],
    sides,
    holes: faceHoles.get(face) ?? [],
  };
}

/** Holes inside faces, and folds that end inside one. */
function extras(surface: Surface, index: PatternIndex, part: PanelPart, flat: FlatPanel) {
  const holes: Edge[][] = [];
  const folds: Fold[] = [];
  const faceHoles = new Map<string, Point[][]>();
  for (const f of part.faces) {
    const { face, piece } = surface.faces[f]!;
    const drawn = index.faces.get(face)!;
    const at = faceMotion(surface, flat, f);
    const { over } = surface.faces[f]!;
    const turned = <T>(ring: readonly T[]): T[] => (over ? [...ring].reverse() : [...ring]);
    if (drawn.holes.length > 0) {
      faceHoles.set(
        face,
        drawn.holes.map((ring) => turned(ring.map(at))),
      );
      const onHole = (p: Point) =>
        drawn.holes.some((ring) => ring.some((q) => Math.hypot(p.x - q.x, p.y - q.y) < 1e-6));
      for (const hole of index.pieces.get(piece)!.holes)
        if (hole.every((e) => onHole(e.points[0]!)))
          holes.push(turned(hole).map((e) => ({ ...e, points: turned(e.points.map(at)) })));
    }
    for (const fold of index.pieces.get(piece)!.folds)
      if (fold.left === face && fold.right === face) folds.push({ ...fold, points: fold.points.map(at) });
  }
  return { holes, folds, faceHoles };
}

function tabOf(
  tab: Tab,
  kept: ReadonlySet<string>,
  surface: Surface,
  index: PatternIndex,
  flat: FlatPanel,
): Tab[] {
  const chains = (index.chainsOn.get(tab.edge) ?? []).map((c) => surface.chains[c]!);
  const first = chains[0];
  const last = chains.at(-1);
  if (!kept.has(tab.edge) || !first || !last || !flat.corners.has(first.face)) return [];
  const { flat: was, over } = surface.faces[first.face]!;
  const now = flat.corners.get(first.face)!;
  const i = first.first;
  const j = cornersOf(surface, last).at(-1)!;
  const side = { a: was[i]!, b: was[j]!, newA: now[i]!, newB: now[j]! };
  return [{ ...tab, polygon: tab.polygon.map((p) => alongMovedSide(seen(p, over), side)) }];
}
