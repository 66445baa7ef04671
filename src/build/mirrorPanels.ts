import type { FoamResult, Shell } from '../model';

/** Each panel's mirror image by index, itself in the middle; null when the shell is not mirror-symmetric throughout. */
export function mirrorPanels({ panels }: FoamResult, shell: Shell | null): readonly number[] | null {
  if (!shell?.symmetry) return null;
  const partner = new Map(shell.symmetry.pairs.flatMap(([a, b]) => [[a, b] as const, [b, a] as const]));
  const nameOf = (vertices: readonly number[]) => [...vertices].sort((a, b) => a - b).join(' ');
  const pieceAt = new Map(shell.faces.map((f) => [nameOf(f.vertices), f.piece] as const));
  const imageOf = new Map<string, string>();
  for (const face of shell.faces) {
    const image = pieceAt.get(nameOf(face.vertices.map((v) => partner.get(v) ?? -1)));
    if (image === undefined) return null;
    imageOf.set(face.piece, image);
  }
  const panelOf = new Map(panels.flatMap((p, i) => p.pieces.map((piece) => [piece, i] as const)));
  const found = panels.map((p, i) => (p.extra ? i : panelOf.get(imageOf.get(p.pieces[0] ?? '') ?? '')));
  // Pieces that were joined or split on one side alone have no image.
  return found.every((m, i): m is number => m !== undefined && found[m] === i) ? found : null;
}
