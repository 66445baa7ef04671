/** Which faces hang together as panels, and what each panel is called. */
import { DisjointSets, ringArea } from '../math';
import type { Pattern, Piece } from '../model';
import { cutSeamId } from '../model';
import type { Surface } from './surface';

export interface PanelPart {
  readonly id: string;
  readonly name: string;
  /** Face numbers, ascending. */
  readonly faces: readonly number[];
  /** Piece ids in the pattern's order. */
  readonly pieces: readonly string[];
  /** The face that stays where it is drawn. */
  readonly lead: number;
  /** The piece as it was, in every respect. */
  readonly untouched: Piece | null;
}

/** Panels in the order of their first face; pieces without a usable face follow as they are. */
export function partsOf(pattern: Pattern, surface: Surface, cut: readonly boolean[]): PanelPart[] {
  const together = new DisjointSets(surface.faces.length);
  /** Pairs of faces whose hinge is not what it was drawn as. */
  const changed: (readonly [number, number])[] = [];
  surface.hinges.forEach((hinge, h) => {
    const f = surface.chains[hinge.a]!.face;
    const g = surface.chains[hinge.b]!.face;
    if (!cut[h]) together.join(f, g);
    if (cut[h] !== (hinge.kind === 'seam')) changed.push([f, g]);
  });
  const facesOf = new Map<string, number[]>();
  surface.faces.forEach((face, f) => {
    facesOf.set(face.piece, [...(facesOf.get(face.piece) ?? []), f]);
  });
  // Faces of a piece that cannot be edited (see `frozenPieces`) stay together whatever joins them.
  for (const piece of frozenPieces(pattern, surface)) {
    const [first, ...rest] = facesOf.get(piece) ?? [];
    for (const f of rest) together.join(first!, f);
  }
  const members = new Map<number, number[]>();
  surface.faces.forEach((_, f) => {
    const r = together.find(f);
    members.set(r, [...(members.get(r) ?? []), f]);
  });
  const area = surface.faces.map((face) => Math.abs(ringArea(face.flat)));
  const largest = (faces: readonly number[]) =>
    faces.reduce((best, f) => (area[f]! > area[best]! * (1 + 1e-9) ? f : best), faces[0]!);
  const leadOf = new Map([...facesOf].map(([piece, faces]) => [piece, largest(faces)]));
  const sizeOf = new Map(
    [...facesOf].map(([piece, faces]) => [piece, faces.reduce((sum, f) => sum + area[f]!, 0)]),
  );
  const pieceOf = new Map(pattern.pieces.map((p) => [p.id, p]));
  const names = new Set(pattern.pieces.map((p) => p.name));
  const parts = [...members.values()].map((faces): PanelPart => {
    const touched = new Set(faces.map((f) => surface.faces[f]!.piece));
    const pieces = pattern.pieces.map((p) => p.id).filter((id) => touched.has(id));
    const own = pieces.filter((id) => faces.includes(leadOf.get(id)!));
    const head = own.reduce<string | null>(
      (best, id) => (best === null || sizeOf.get(id)! > sizeOf.get(best)! ? id : best),
      null,
    );
    const lead = head === null ? largest(faces) : leadOf.get(head)!;
    const only = pieces.length === 1 ? pieceOf.get(pieces[0]!)! : null;
    const inside = new Set(faces);
    const asDrawn =
      only &&
      faces.length === facesOf.get(only.id)!.length &&
      !changed.some(([f, g]) => inside.has(f) && inside.has(g));
    const base = pieceOf.get(head ?? surface.faces[lead]!.piece)!.name;
    return {
      id: head ?? cutSeamId(surface.faces[lead]!.face),
      name: head === null ? nextName(base, names) : base,
      faces,
      pieces,
      lead,
      untouched: asDrawn ? only : null,
    };
  });
  const there = new Set(surface.faces.map((f) => f.piece));
  const bare = pattern.pieces.filter((p) => !there.has(p.id));
  return [
    ...parts,
    ...bare.map((piece) => ({
      id: piece.id,
      name: piece.name,
      faces: [],
      pieces: [piece.id],
      lead: -1,
      untouched: piece,
    })),
  ];
}

/** Pieces with a face that is no polygon: they stay as they are. */
export function frozenPieces(pattern: Pattern, surface: Surface): string[] {
  const usable = new Map<string, Set<string>>();
  for (const f of surface.faces) usable.set(f.piece, (usable.get(f.piece) ?? new Set<string>()).add(f.face));
  return pattern.pieces
    .filter((p) => usable.has(p.id) && usable.get(p.id)!.size < p.faces.length)
    .map((p) => p.id);
}

function nextName(base: string, taken: Set<string>): string {
  for (let n = 2; ; n++) {
    const name = `${base}.${n}`;
    if (taken.has(name)) continue;
    taken.add(name);
    return name;
  }
}
