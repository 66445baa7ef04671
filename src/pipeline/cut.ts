import type { FoamSurface, FoldedBends } from '../foam';
import { point3 } from '../math';
import {
  cutSeamId,
  drawnBy,
  type Fit,
  type FoamDecisions,
  type FoamResult,
  joinedFoldId,
  type Pattern,
  type Recut,
  rootOf,
  type ShellDecisions,
  type ShellPatch,
  sourceLineId,
  wholeOf,
} from '../model';
import { placesWith } from '../panels';
import { bendsAt, unfoldAgain } from '../shell';

/** What the foam is made from: flat pieces, the factor on their lengths, what the folded shell says of bends, and that
 *  shell at its final size where it is sound or trusted. */
export interface Cut {
  readonly pattern: Pattern;
  readonly scale: number;
  readonly bends: FoldedBends | null;
  readonly surface: FoamSurface | null;
}

/**
 * The panels as they are cut: as laid out and scaled, or unfolded again from the reshaped shell, at their final size and
 * with that shell's bends. Bends of a doubtful shell are taken only on the person's word.
 */
export function cutOf(
  { pattern, seams, shell, added, panels }: Recut,
  fit: Fit,
  { trustDoubtful }: Pick<ShellDecisions, 'trustDoubtful'>,
): Cut {
  const fitted = fit.shell ? placesWith(fit.shell.surfaces.paper, added) : null;
  const edited = panels.some((p) => p.changed);
  const reshaped =
    edited && fit.reshaped && shell && fitted && fit.shell
      ? unfoldAgain(pattern, shell, fitted, Math.max(...Object.values(fit.shell.scales))).pattern
      : fit.reshaped;
  const flat = { pattern: reshaped ?? pattern, scale: reshaped ? 1 : fit.scale };
  if (!shell) return { ...flat, bends: null, surface: null };
  const bends = fit.reshaped && fitted ? bendsAt(pattern, seams, shell, fitted) : shell.bends;
  const taken = shell.quality === 'good' || trustDoubtful;
  const { scale } = fit;
  const places = fitted ?? shell.vertices.map((p) => point3(p.x * scale, p.y * scale, p.z * scale));
  return { ...flat, bends: { bends, taken }, surface: taken ? { pattern, shell, places } : null };
}

/** Typed bends and cuts count for whatever an edit made of their fold or seam, unless it has its own. */
export function foamFor(foam: FoamDecisions, { pattern, seams, panels }: Recut): FoamDecisions {
  if (!panels.some((p) => p.changed)) return foam;
  const ids = [...pattern.pieces.flatMap((p) => p.folds.map((f) => f.id)), ...seams.seams.map((s) => s.id)];
  const inherited = <T>(own: Readonly<Record<string, T>>): Readonly<Record<string, T>> => {
    const all: Record<string, T> = { ...own };
    for (const id of ids) {
      // A part of a divided line has what the nearest line that it is part of has.
      for (let at: string | null = sourceLineId(id); at !== null && all[id] === undefined; at = wholeOf(at)) {
        const decided = own[at] ?? own[cutSeamId(at)] ?? own[joinedFoldId(at)];
        if (decided !== undefined) all[id] = decided;
      }
    }
    return all;
  };
  return {
    ...foam,
    bends: inherited(foam.bends),
    preparationOf: inherited(foam.preparationOf),
    lapOver: inherited(foam.lapOver),
    foldPreparationOf: inherited(foam.foldPreparationOf),
  };
}

/** Typed bends under the ids of the pattern's own folds and seams: what folding up knows. */
export function bendsOfPattern(bends: FoamDecisions['bends']): FoamDecisions['bends'] {
  const ids = Object.keys(bends).filter((id) => drawnBy(id) === null);
  const sourceOf = (id: string) => rootOf(sourceLineId(id));
  if (ids.length === Object.keys(bends).length && ids.every((id) => sourceOf(id) === id)) return bends;
  const own = Object.fromEntries(ids.map((id) => [sourceOf(id), bends[id]!]));
  return {
    ...own,
    ...Object.fromEntries(ids.filter((id) => sourceOf(id) === id).map((id) => [id, bends[id]!])),
  };
}

/** The panel that a face of the pattern's shell is part of; faces that a drawn cut divides count with their piece. */
export function panelOfFace(panels: Recut['panels']): (face: ShellPatch) => string {
  const of = new Map(panels.flatMap(({ id, faces }) => faces.map((face) => [face, id] as const)));
  return ({ face, piece }) => of.get(face) ?? piece;
}

/** Panels with the pieces that they were made of. */
export function withOrigins(foam: FoamResult, { panels }: Recut): FoamResult {
  if (!panels.some((p) => p.changed)) return foam;
  const origins = new Map(panels.map((p) => [p.id, p.pieces]));
  return {
    ...foam,
    panels: foam.panels.map((panel) => ({ ...panel, pieces: origins.get(panel.id) ?? panel.pieces })),
  };
}
