/** The shell made ready to be shown: faces with their tints, lines by id, names. Built once per folded shell. */
import type { Pattern, Seams, Shell } from '../../src/model';
import { type Opening, openingsOf, type ShellSide, shellSides } from '../../src/shell';
import { type Folding, foldingOf } from './folding';

export interface ShellModel {
  readonly shell: Shell;
  readonly sides: readonly ShellSide[];
  readonly folding: Folding;
  /** Number of the tint of each face, by its piece; pieces that meet at a seam have different ones where possible. */
  readonly tintOf: readonly number[];
  readonly openings: readonly Opening[];
  sidesOf(face: number): readonly ShellSide[];
  /** The lines that an id stands for: a fold, a seam, an edge (of a seam or open) or a run of seams. */
  linesOf(id: string): readonly ShellSide[];
  /** The faces of a piece, or the face itself. */
  facesOf(id: string): readonly number[];
  /** What an id is, in words: "Seam 12", "Mountain fold of piece B". */
  nameOf(id: string): string;
  /** The opening that an open side lies on. */
  openingAt(side: ShellSide): Opening | null;
}

export const tintCount = 6;

/** `pattern` and `seams` are those that the shell was folded from. */
export function shellModel(shell: Shell, pattern: Pattern, seams: Seams): ShellModel {
  const sides = shellSides(shell, pattern, seams);
  const byFace = grouped(sides, (s) => [s.face]);
  const byId = grouped(
    sides.filter((s) => s.kind !== 'ruling'),
    (s) => (s.edge === null || s.edge === s.id ? [s.id] : [s.id, s.edge]),
  );
  for (const run of seams.runs)
    byId.set(
      run.id,
      run.seams.flatMap((id) => byId.get(id) ?? []),
    );
  const faces = grouped(
    shell.faces.map((f, i) => ({ ...f, i })),
    (f) => [f.piece, f.face],
  );
  const openings = openingsOf(shell);
  const openingOf = new Map(
    openings.flatMap((o) => o.vertices.map((v, i) => [`${v} ${o.vertices[(i + 1) % o.vertices.length]}`, o])),
  );
  return {
    shell,
    sides,
    folding: foldingOf(shell, sides),
    tintOf: tintsOf(shell, sides),
    openings,
    sidesOf: (face) => byFace.get(face) ?? [],
    linesOf: (id) => byId.get(id) ?? [],
    facesOf: (id) => (faces.get(id) ?? []).map((f) => f.i),
    nameOf: namesOf(pattern, seams),
    openingAt: (side) =>
      openingOf.get(`${side.to} ${side.from}`) ?? openingOf.get(`${side.from} ${side.to}`) ?? null,
  };
}

function grouped<T, K>(list: readonly T[], keysOf: (item: T) => readonly K[]): Map<K, T[]> {
  const groups = new Map<K, T[]>();
  for (const item of list)
    for (const key of keysOf(item)) {
      const group = groups.get(key);
      if (group) group.push(item);
      else groups.set(key, [item]);
    }
  return groups;
}

/** Greedy colouring: each piece in reading order takes the tint that fewest of its neighbours have. */
function tintsOf(shell: Shell, sides: readonly ShellSide[]): number[] {
  const pieceOf = (side: ShellSide) => shell.faces[side.face]!.piece;
  const across = grouped(
    sides.filter((s) => s.kind === 'seam'),
    (s) => [s.id],
  );
  const neighbours = new Map<string, Set<string>>();
  for (const pair of across.values())
    for (const a of pair)
      for (const b of pair) {
        const [p, q] = [pieceOf(a), pieceOf(b)];
        if (p !== q) neighbours.set(p, (neighbours.get(p) ?? new Set()).add(q));
      }
  const tint = new Map<string, number>();
  for (const { piece } of shell.faces) {
    if (tint.has(piece)) continue;
    const taken = Array.from({ length: tintCount }, () => 0);
    for (const q of neighbours.get(piece) ?? []) if (tint.has(q)) taken[tint.get(q)!]! += 1;
    // Equal ones are taken in turn, so that a shell of few pieces uses several tints.
    const start = tint.size % tintCount;
    let best = start;
    for (let k = 0; k < tintCount; k++) {
      const candidate = (start + k) % tintCount;
      if (taken[candidate]! < taken[best]!) best = candidate;
    }
    tint.set(piece, best);
  }
  return shell.faces.map((f) => tint.get(f.piece)!);
}

const foldWords = { mountain: 'Mountain fold', valley: 'Valley fold', unknown: 'Fold' } as const;

function namesOf(pattern: Pattern, seams: Seams): (id: string) => string {
  const names = new Map<string, string>();
  for (const piece of pattern.pieces) {
    names.set(piece.id, `Piece ${piece.name}`);
    for (const face of piece.faces) names.set(face.id, `Piece ${piece.name}`);
    for (const fold of piece.folds) names.set(fold.id, `${foldWords[fold.role]} of piece ${piece.name}`);
    for (const edge of [piece.outline, ...piece.holes].flat())
      names.set(edge.id, `Open edge of piece ${piece.name}`);
  }
  const printed = new Map(seams.runs.flatMap((run) => run.seams.map((id) => [id, run.number] as const)));
  for (const seam of seams.seams) {
    const name = `Seam ${printed.get(seam.id) ?? seam.number}`;
    for (const id of [seam.id, seam.a.edge, seam.b.edge]) names.set(id, name);
  }
  for (const run of seams.runs) names.set(run.id, `Seam ${run.number}`);
  return (id) => names.get(id) ?? '';
}
