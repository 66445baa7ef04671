/** What the selected ids are. One index per pattern and per seam list, so that asking on every render stays cheap. */
import type { Edge, Fold, Pattern, Piece, Seam, Seams, Tab } from '../../src/model';
import { type Session, shownIn } from '../document';

interface PatternIndex {
  readonly edges: ReadonlyMap<string, { readonly edge: Edge; readonly piece: Piece }>;
  readonly folds: ReadonlyMap<string, { readonly fold: Fold; readonly piece: Piece }>;
  readonly tabs: ReadonlyMap<string, { readonly tab: Tab; readonly piece: Piece }>;
  readonly pieces: ReadonlyMap<string, Piece>;
}

interface SeamIndex {
  readonly byId: ReadonlyMap<string, Seam>;
  readonly byEdge: ReadonlyMap<string, readonly Seam[]>;
}

const patterns = new WeakMap<Pattern, PatternIndex>();
const seamLists = new WeakMap<Seams, SeamIndex>();
const noPattern: PatternIndex = { edges: new Map(), folds: new Map(), tabs: new Map(), pieces: new Map() };
const noSeams: SeamIndex = { byId: new Map(), byEdge: new Map() };

/** Edges, folds, tabs and pieces of the pattern by id. */
export function indexOf(pattern: Pattern | null): PatternIndex {
  if (!pattern) return noPattern;
  let index = patterns.get(pattern);
  if (!index) {
    const pieces = pattern.pieces;
    index = {
      edges: new Map(
        pieces.flatMap((piece) =>
          [piece.outline, ...piece.holes].flat().map((edge) => [edge.id, { edge, piece }] as const),
        ),
      ),
      folds: new Map(
        pieces.flatMap((piece) => piece.folds.map((fold) => [fold.id, { fold, piece }] as const)),
      ),
      tabs: new Map(pieces.flatMap((piece) => piece.tabs.map((tab) => [tab.id, { tab, piece }] as const))),
      pieces: new Map(pieces.map((piece) => [piece.id, piece] as const)),
    };
    patterns.set(pattern, index);
  }
  return index;
}

/** Seams by their own id and by the edges they join. */
export function seamIndexOf(seams: Seams | null): SeamIndex {
  if (!seams) return noSeams;
  let index = seamLists.get(seams);
  if (!index) {
    const byEdge = new Map<string, Seam[]>();
    for (const seam of seams.seams)
      for (const { edge } of [seam.a, seam.b]) byEdge.set(edge, [...(byEdge.get(edge) ?? []), seam]);
    index = {
      byId: new Map(seams.seams.map((s) => [s.id, s] as const)),
      byEdge,
    };
    seamLists.set(seams, index);
  }
  return index;
}

/** Selected edges, in the order they were selected. */
export function selectedEdges(s: Session): readonly string[] {
  const { edges } = indexOf(shownIn(s).pattern);
  return s.selection.filter((id) => edges.has(id));
}

export function selectedFolds(s: Session): readonly string[] {
  const { folds } = indexOf(shownIn(s).pattern);
  return s.selection.filter((id) => folds.has(id));
}

export function selectedTabs(s: Session): readonly string[] {
  const { tabs } = indexOf(shownIn(s).pattern);
  return s.selection.filter((id) => tabs.has(id));
}

export function selectedPieces(s: Session): readonly string[] {
  const { pieces } = indexOf(shownIn(s).pattern);
  return s.selection.filter((id) => pieces.has(id));
}

/** Selected drawing lines. */
export function selectedLines(s: Session): readonly string[] {
  const roles = shownIn(s).pattern?.roleOfLine ?? {};
  return s.selection.filter((id) => Object.hasOwn(roles, id));
}

/** Seams selected themselves or through one of their edges, each once. */
export function selectedSeams(s: Session): readonly Seam[] {
  const { byId, byEdge } = seamIndexOf(shownIn(s).seams);
  const found = s.selection.flatMap((id) => byId.get(id) ?? byEdge.get(id) ?? []);
  return [...new Set(found)];
}

/** Selected folds and seams: everything that can be given a bend angle. */
export function selectedBends(s: Session): readonly string[] {
  return [...selectedFolds(s), ...selectedSeams(s).map((x) => x.id)];
}
