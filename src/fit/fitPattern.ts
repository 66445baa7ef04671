/**
 * The scale at which the pattern fits its wearer, with its working.
 *
 * Wanted inside girth = head + 2π × (padding + clearance), Steiner's formula for a convex section. With a folded shell
 * the pattern's girth is its brow section, and the scale is solved so that the inside of the finished shell has the
 * girth wanted there. Without one, or with a girth measured by hand: with G the pattern's girth as drawn, s the scale,
 * and the foam reaching a beyond the paper and b within it, an upright convex section has the girths outside =
 * s G + 2πa and inside = s G − 2πb, so s = (wanted + 2πb) / G. Lengths of the drawing scale, the foam does not.
 */
import type { Issue } from '../base';
import { boxOf } from '../math';
import {
  type Fit,
  type FitDecisions,
  type FoamDecisions,
  foamDepths,
  type Pattern,
  panelDepths,
  type Shell,
  type ShellPatch,
} from '../model';
import type { Mm } from '../units';
import { headContext } from './context';
import { measureGirth } from './girth';
import { fitIssues, thicknessIssues } from './issues';
import { type FitOnShell, fitOnShell } from './onShell';
import { girthSteps, mm, scaleSteps, shellSteps, threeSteps } from './steps';

/**
 * Fits the pattern. Where something is missing the scale is 1 and an issue says what is missing.
 * @param shell the pattern folded up, where it may be trusted: its brow is measured unless a girth was by hand
 * @param panelOf the panel that a face of the shell is part of, for panels of their own thickness
 */
export function fitPattern(
  pattern: Pattern,
  fit: FitDecisions,
  foam: FoamDecisions,
  shell: Shell | null = null,
  panelOf: (face: ShellPatch) => string = (face) => face.piece,
): Fit {
  const depths = foamDepths(foam);
  const ease = fit.padding + fit.clearance;
  const wanted = fit.head === null ? null : fit.head + 2 * Math.PI * ease;
  const measured = measureGirth(pattern, fit.girth);
  const byHand = scaleOf(fit, measured.girth, wanted, depths.inside);
  const folded = shell
    ? fitOnShell(pattern, shell, fit, { ...depths, ...insides(shell, foam, panelOf) }, wanted, byHand)
    : null;
  const onShell = folded?.on ?? null;
  const found = folded?.issues ?? [];
  if (onShell && !onShell.byHand) return fromShell(pattern, fit, foam, wanted, onShell, found);
  const scale = byHand;
  const paper = measured.girth === null ? null : (scale ?? 1) * measured.girth;
  const insideGirth = paper === null ? null : paper - 2 * Math.PI * depths.inside;
  const outsideGirth = paper === null ? null : paper + 2 * Math.PI * depths.outside;
  return {
    scale: scale ?? 1,
    shell: onShell?.fit ?? null,
    reshaped: null,
    patternGirth: measured.girth,
    insideGirthWanted: wanted,
    insideGirth,
    outsideGirth,
    largestPiece: largestPiece(pattern, scale ?? 1),
    steps: [
      ...scaleSteps(fit, measured, wanted, depths.inside, scale),
      ...girthSteps(insideGirth, outsideGirth, depths),
      ...(onShell ? shellSteps(onShell) : []),
    ],
    context: fit.head === null ? null : headContext(fit.head),
    issues: [
      ...fitIssues({
        fit,
        measured,
        scale,
        insideGirth,
        depthInside: depths.inside,
        onShell: onShell !== null,
      }),
      ...found,
      ...thicknessIssues(foam),
    ],
  };
}

/** The depth inside of every face where panels differ in it; nothing where all are alike. */
function insides(
  shell: Shell,
  foam: FoamDecisions,
  panelOf: (face: ShellPatch) => string,
): { readonly insideOf?: readonly Mm[] } {
  const insideOf = shell.faces.map((face) => panelDepths(panelOf(face), foam).inside);
  return insideOf.every((depth) => depth === foamDepths(foam).inside) ? {} : { insideOf };
}

/** The fit whose girths are all measured on the shell. */
function fromShell(
  pattern: Pattern,
  fit: FitDecisions,
  foam: FoamDecisions,
  wanted: Mm | null,
  folded: FitOnShell,
  found: readonly Issue[],
): Fit {
  const { scale, girths, reshaped } = folded;
  const girth = folded.fit.brow.tautGirth;
  const measured = { girth, how: 'tape round the shell at the brow', unknown: [], repeated: [] };
  const depths = foamDepths(foam);
  return {
    scale: scale ?? 1,
    shell: folded.fit,
    reshaped,
    patternGirth: girth,
    insideGirthWanted: wanted,
    insideGirth: girths.inside,
    outsideGirth: girths.outside,
    largestPiece: reshaped ? largestPiece(reshaped, 1) : largestPiece(pattern, scale ?? 1),
    steps: [
      ...(folded.three
        ? [mm('Pattern girth', measured.how, girth), ...threeSteps(fit, folded.three)]
        : scaleSteps(fit, measured, wanted, depths.inside, scale, true)),
      ...shellSteps(folded),
    ],
    context: fit.head === null ? null : headContext(fit.head),
    issues: [
      ...fitIssues({
        fit,
        measured,
        scale,
        insideGirth: girths.inside,
        depthInside: depths.inside,
        onShell: true,
      }),
      ...found,
    ],
  };
}

/** Null: what it takes is missing. */
function scaleOf(fit: FitDecisions, girth: Mm | null, wanted: Mm | null, inside: Mm): number | null {
  const sound = (scale: number) => (scale > 0 && Number.isFinite(scale) ? scale : null);
  switch (fit.how) {
    case 'head':
    case 'measures':
      return girth === null || wanted === null ? null : sound((wanted + 2 * Math.PI * inside) / girth);
    case 'known':
      return fit.known.have === null || fit.known.want === null
        ? null
        : sound(fit.known.want / fit.known.have);
    case 'percent':
      return sound(fit.percent);
  }
}

/** Extents of the piece with the largest box, on the flat, scaled. */
function largestPiece(pattern: Pattern, scale: number): Fit['largestPiece'] {
  let largest = { width: 0, height: 0 };
  for (const piece of pattern.pieces) {
    const box = boxOf(piece.outline.flatMap((edge) => edge.points));
    const width = (box.maxX - box.minX) * scale;
    const height = (box.maxY - box.minY) * scale;
    if (width * height > largest.width * largest.height) largest = { width, height };
  }
  return largest;
}
