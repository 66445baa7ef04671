import { isUnseenFold, type Pattern, type Seams, type Shell } from '../model';
import type { Rad } from '../units';
import { glueFaces } from './glue';

/**
 * What the sides of a folded shell's faces are on the pattern: folds, seams, edges that stay open. For pictures and
 * for pointing at things.
 */
export interface ShellSide {
  /** Index into `shell.faces`; the side runs from corner `corner` to the next one. */
  readonly face: number;
  readonly corner: number;
  /** Vertices of the shell, from and to. */
  readonly from: number;
  readonly to: number;
  /** `ruling`: between strips of one curved face, where the pattern as drawn has no line. */
  readonly kind: 'mountain' | 'valley' | 'flat' | 'seam' | 'open' | 'ruling';
  /** Fold id of a fold, seam id of a seam, edge id of an open edge, face id (or a fold id that nobody drew) of a ruling. */
  readonly id: string;
  /** Edge id of a seam's side, the same as `id` for an open edge; null for folds and rulings. */
  readonly edge: string | null;
  /** Bend of the fold or seam as a whole; null for open edges and rulings. */
  readonly bend: Rad | null;
}

/** A fold whose direction is not drawn counts as one from this bend on; below it nobody sees it. */
const visibleBend: Rad = (1.5 * Math.PI) / 180;

/**
 * Every side of every face, face by face in order. Folds keep their drawn direction; those without one get it from
 * their bend. `pattern` and `seams` are those that the shell was folded from: faces that are not in them are left out.
 */
export function shellSides(shell: Shell, pattern: Pattern, seams: Seams): ShellSide[] {
  const glued = glueFaces(pattern, seams);
  const ringOf = new Map(glued.faces.map((f) => [`${f.piece} ${f.face} ${f.part ?? 0}`, f] as const));
  const folds = new Set(pattern.pieces.flatMap((p) => p.folds.map((f) => f.id)));
  const sides: ShellSide[] = [];
  shell.faces.forEach(({ piece, face, part, vertices }, index) => {
    const ring = ringOf.get(`${piece} ${face} ${part ?? 0}`);
    if (!ring || ring.sideIds.length !== vertices.length) return;
    ring.sideIds.forEach((drawn, corner) => {
      const seam = ring.seamIds[corner] ?? undefined;
      const bend = shell.bends[seam ?? drawn] ?? null;
      const common = {
        face: index,
        corner,
        from: vertices[corner]!,
        to: vertices[(corner + 1) % vertices.length]!,
        bend,
      };
      if (drawn === '') sides.push({ ...common, kind: 'ruling', id: face, edge: null, bend: null });
      else if (folds.has(drawn) && isUnseenFold(drawn))
        sides.push({ ...common, kind: 'ruling', id: drawn, edge: null, bend: null });
      else if (folds.has(drawn)) {
        const sign =
          glued.foldSign.get(drawn) || (Math.abs(bend ?? 0) < visibleBend ? 0 : Math.sign(bend ?? 0));
        const kind = sign > 0 ? 'mountain' : sign < 0 ? 'valley' : 'flat';
        sides.push({ ...common, kind, id: drawn, edge: null });
      } else if (seam !== undefined) sides.push({ ...common, kind: 'seam', id: seam, edge: drawn });
      else sides.push({ ...common, kind: 'open', id: drawn, edge: drawn, bend: null });
    });
  });
  return sides;
}
