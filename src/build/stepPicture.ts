/** The shell so far, with the seams of one step lit, seen from where most of them show. */
import type { FoamResult, Pattern, Seams, Shell, ShellPictureStroke } from '../model';
import { pictureOf, type ShellSide, shellSides, type ViewDirection } from '../shell';

export interface StepPicture {
  readonly width: number;
  readonly height: number;
  readonly strokes: readonly (ShellPictureStroke & { readonly lit: boolean })[];
}

/** Draws the panels of a step. */
export type StepDrawer = (present: readonly string[], seams: readonly string[]) => StepPicture;

/** Half-left and half-right, from front and back, a little and far above, and from below. */
const views: readonly ViewDirection[] = [
  [1 / 6, 1 / 9],
  [-1 / 6, 1 / 9],
  [5 / 6, 1 / 9],
  [-5 / 6, 1 / 9],
  [1 / 6, 1 / 3],
  [5 / 6, 1 / 3],
  [1 / 6, -1 / 4],
].map(([azimuth, elevation]) => ({ azimuth: azimuth! * Math.PI, elevation: elevation! * Math.PI }));

/** A drawer that has looked at the whole shell once. Panels that share a piece are shown together. */
export function stepDrawer(shell: Shell, pattern: Pattern, seams: Seams, foam: FoamResult): StepDrawer {
  const all = shellSides(shell, pattern, seams);
  const piecesOf = new Map(foam.panels.map((p) => [p.id, p.pieces] as const));
  return (present, lit) => {
    const pieces = new Set(present.flatMap((p) => piecesOf.get(p) ?? []));
    const kept = shell.faces.flatMap((f, i) => (pieces.has(f.piece) ? [i] : []));
    const newIndex = new Map(kept.map((face, i) => [face, i] as const));
    const part: Shell = { ...shell, faces: kept.map((i) => shell.faces[i]!) };
    const sides = opened(
      all.flatMap((side) => {
        const face = newIndex.get(side.face);
        return face === undefined ? [] : [{ ...side, face }];
      }),
    );
    const shining = new Set(lit);
    let best: StepPicture = { width: 0, height: 0, strokes: [] };
    let most = -1;
    for (const view of views) {
      const picture = pictureOf(part, sides, view);
      const strokes = picture.strokes.map((s) => ({ ...s, lit: shining.has(s.id) }));
      const length = strokes
        .filter((s) => s.lit)
        .reduce((sum, s) => sum + Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y), 0);
      if (length > most + 1e-6) {
        most = length;
        best = { width: picture.width, height: picture.height, strokes };
      }
    }
    return best;
  };
}

/** Seams whose other side is not there yet are open edges. */
function opened(sides: readonly ShellSide[]): ShellSide[] {
  const keyOf = (s: ShellSide) => `${s.id} ${Math.min(s.from, s.to)} ${Math.max(s.from, s.to)}`;
  const count = new Map<string, number>();
  for (const s of sides) count.set(keyOf(s), (count.get(keyOf(s)) ?? 0) + 1);
  return sides.map((s) => (s.kind === 'seam' && count.get(keyOf(s)) === 1 ? { ...s, kind: 'open' } : s));
}
