/** Names for people of things that only have ids. Pure. */
import { polylineLength } from '../../src/math';
import type { Pattern } from '../../src/model';

export interface NamedEdge {
  readonly edge: string;
  readonly piece: string;
  readonly pieceName: string;
  /** "A 3": the piece's name and the edge's place along its outline, from 1; holes count on. */
  readonly name: string;
  /** As drawn, mm. */
  readonly length: number;
  /** Numbers printed beside it, or empty. */
  readonly label: string;
}

/** Every edge of the pattern by id, in reading order of the pieces and outline order within each. */
export function nameEdges(pattern: Pattern | null): ReadonlyMap<string, NamedEdge> {
  const names = new Map<string, NamedEdge>();
  if (!pattern) return names;
  const labels = new Map<string, string[]>();
  for (const label of pattern.labels) {
    const texts = labels.get(label.edge) ?? [];
    texts.push(label.text);
    labels.set(label.edge, texts);
  }
  for (const piece of pattern.pieces) {
    let place = 0;
    for (const edge of [piece.outline, ...piece.holes].flat()) {
      place += 1;
      names.set(edge.id, {
        edge: edge.id,
        piece: piece.id,
        pieceName: piece.name,
        name: `${piece.name} ${place}`,
        length: polylineLength(edge.points),
        label: (labels.get(edge.id) ?? []).join(', '),
      });
    }
  }
  return names;
}

/** Names of folds by id: "A fold 2". */
export function nameFolds(pattern: Pattern | null): ReadonlyMap<string, string> {
  const names = new Map<string, string>();
  for (const piece of pattern?.pieces ?? [])
    piece.folds.forEach((fold, i) => {
      names.set(fold.id, `${piece.name} fold ${i + 1}`);
    });
  return names;
}

/** "1 piece", "3 pieces". */
export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;
