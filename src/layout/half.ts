/**
 * One side of a mirror-symmetric pattern with its middle: enough to try a shell on in paper, with half the cutting.
 */
import type { Issue } from '../base';
import { dot3 } from '../math';
import type { MarkedPanels, Shell } from '../model';

/**
 * Leaves out every panel whose mirror image stays: of two that are each other's images the one on the wearer's right
 * (x ≥ 0) is kept. Panels of the middle stay, and so do panels without an image of their own.
 * @param shell where the panels lie and what mirrors what
 * @returns `marked` itself when nothing is left out; an issue says what was done, or why nothing could be
 */
export function keepHalf(
  marked: MarkedPanels,
  shell: Shell | null,
): { readonly marked: MarkedPanels; readonly issues: readonly Issue[] } {
  if (!shell) return { marked, issues: [whole('the pattern is not folded up')] };
  if (!shell.symmetry) return { marked, issues: [whole('the shell is not mirror-symmetric')] };
  const leftOut = piecesLeftOut(shell, shell.symmetry);
  const panels = marked.panels.filter(({ panel }) => !leftOut.has(panel.id));
  const gone = marked.panels.length - panels.length;
  if (gone === 0) return { marked, issues: [whole('no panel has a mirror image of its own')] };
  return { marked: { ...marked, panels }, issues: [halved(gone, panels.length)] };
}

/** Pieces whose mirror image is kept. */
function piecesLeftOut(shell: Shell, symmetry: NonNullable<Shell['symmetry']>): ReadonlySet<string> {
  const partner = new Map(symmetry.pairs.flatMap(([a, b]) => [[a, b] as const, [b, a] as const]));
  const nameOf = (vertices: readonly number[]) => [...vertices].sort((a, b) => a - b).join(' ');
  const faceAt = new Map(shell.faces.map((face) => [nameOf(face.vertices), face]));
  /** Images of each piece's faces; `null` stands for a face without an image. */
  const images = new Map<string, Set<string | null>>();
  /** Sum of how far right the corners of each piece lie. */
  const right = new Map<string, number>();
  const { normal, offset } = symmetry.plane;
  const towards = normal.x < 0 ? -1 : 1;
  for (const face of shell.faces) {
    const mirrored = face.vertices.map((v) => partner.get(v) ?? -1);
    const image = faceAt.get(nameOf(mirrored))?.piece ?? null;
    images.set(face.piece, (images.get(face.piece) ?? new Set()).add(image));
    const far = face.vertices.reduce((sum, v) => sum + dot3(shell.vertices[v]!, normal) - offset, 0);
    right.set(face.piece, (right.get(face.piece) ?? 0) + towards * far);
  }
  const imageOf = (piece: string): string | null => {
    const all = [...(images.get(piece) ?? [])];
    return all.length === 1 ? all[0]! : null;
  };
  const leftOut = new Set<string>();
  for (const piece of images.keys()) {
    const image = imageOf(piece);
    if (image === null || image === piece || imageOf(image) !== piece || leftOut.has(image)) continue;
    if (right.get(piece)! < right.get(image)!) leftOut.add(piece);
    else leftOut.add(image);
  }
  return leftOut;
}

const halved = (gone: number, kept: number): Issue => ({
  code: 'half-printed',
  severity: 'note',
  stage: 'layout',
  message: `Half only: ${kept} panels are printed, and ${gone === 1 ? 'one panel that is the mirror image of another is' : `${gone} panels that are mirror images of others are`} left out.`,
  remedy: 'Print all panels before cutting foam, or turn templates over for the other side.',
  place: {},
});

const whole = (why: string): Issue => ({
  code: 'half-not-possible',
  severity: 'warning',
  stage: 'layout',
  message: `Half only was asked for, but ${why}, so all panels are printed.`,
  remedy: 'Fold the pattern up with its mirror symmetry, or print all panels.',
  place: {},
});
