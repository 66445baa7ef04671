/**
 * The scale at which the pattern fits its wearer, with its working.
 *
 * With G the pattern's girth as drawn, s the scale, and the foam reaching a beyond the paper and b within it, an upright
 * convex section has the girths outside = s G + 2πa and inside = s G − 2πb (Steiner's formula). Wanted inside = head +
 * 2π × (padding + clearance), so s = (wanted + 2πb) / G. Lengths of the drawing scale, the foam does not.
 */
import { boxOf } from '../math';
import {
  type Fit,
  type FitDecisions,
  type FitStep,
  type FoamDecisions,
  foamDepths,
  type Pattern,
} from '../model';
import type { Mm } from '../units';
import { headContext } from './context';
import { type MeasuredGirth, measureGirth } from './girth';
import { fitIssues } from './issues';

/** Fits the pattern. Where something is missing the scale is 1 and an issue says what is missing. */
export function fitPattern(pattern: Pattern, fit: FitDecisions, foam: FoamDecisions): Fit {
  const measured = measureGirth(pattern, fit.girth);
  const { outside, inside } = foamDepths(foam);
  const ease = fit.padding + fit.clearance;
  const wanted = fit.head === null ? null : fit.head + 2 * Math.PI * ease;
  const scale = scaleOf(fit, measured.girth, wanted, inside);
  const paper = measured.girth === null ? null : (scale ?? 1) * measured.girth;
  const insideGirth = paper === null ? null : paper - 2 * Math.PI * inside;
  const outsideGirth = paper === null ? null : paper + 2 * Math.PI * outside;
  return {
    scale: scale ?? 1,
    shell: null,
    reshaped: null,
    patternGirth: measured.girth,
    insideGirthWanted: wanted,
    insideGirth,
    outsideGirth,
    largestPiece: largestPiece(pattern, scale ?? 1),
    steps: [
      ...scaleSteps(fit, measured, wanted, inside, scale),
      ...girthSteps(insideGirth, outsideGirth, foamDepths(foam)),
    ],
    context: fit.head === null ? null : headContext(fit.head),
    issues: fitIssues({ fit, measured, scale, insideGirth, depthInside: inside }),
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

const mm = (label: string, formula: string, value: Mm): FitStep => ({ label, formula, value, unit: 'mm' });
const ratio = (label: string, formula: string, value: number): FitStep => ({
  label,
  formula,
  value,
  unit: 'ratio',
});

/** The lines of the working that lead to the scale. */
function scaleSteps(
  fit: FitDecisions,
  measured: MeasuredGirth,
  wanted: Mm | null,
  inside: Mm,
  scale: number | null,
): FitStep[] {
  const pattern = measured.girth === null ? [] : [mm('Pattern girth', measured.how, measured.girth)];
  switch (fit.how) {
    case 'head':
    case 'measures': {
      if (fit.head === null || wanted === null) return pattern;
      const steps = [
        mm('Head girth', headEntry[fit.headEnteredAs], fit.head),
        mm('Ease', 'padding + clearance', fit.padding + fit.clearance),
        mm('Inside girth wanted', 'head girth + 2π × ease', wanted),
        mm('Foam inside the paper', 'thickness × share within the paper', inside),
        mm('Paper girth wanted', 'inside girth wanted + 2π × foam inside', wanted + 2 * Math.PI * inside),
        ...pattern,
      ];
      if (scale !== null) steps.push(ratio('Scale', 'paper girth wanted ÷ pattern girth', scale));
      return steps;
    }
    case 'known': {
      const { have, want } = fit.known;
      if (have === null || want === null) return pattern;
      const steps = [mm('Length on the pattern', 'as measured', have), mm('Length wanted', 'as typed', want)];
      if (scale !== null) steps.push(ratio('Scale', 'length wanted ÷ length on the pattern', scale));
      return [...steps, ...pattern];
    }
    case 'percent':
      return scale === null ? pattern : [ratio('Scale', 'as typed', scale), ...pattern];
  }
}

const headEntry = {
  tape: 'as measured',
  eu: 'EU hat size in cm',
  us: 'US hat size × π in inches',
} as const;

/** What comes out: the girths of the finished shell. */
function girthSteps(
  insideGirth: Mm | null,
  outsideGirth: Mm | null,
  depths: { readonly outside: Mm; readonly inside: Mm },
): FitStep[] {
  if (insideGirth === null || outsideGirth === null) return [];
  return [
    mm(
      'Inside girth',
      depths.inside === 0 ? 'scale × pattern girth' : 'scale × pattern girth − 2π × foam inside',
      insideGirth,
    ),
    mm(
      'Outside girth',
      depths.outside === 0 ? 'scale × pattern girth' : 'scale × pattern girth + 2π × foam outside',
      outsideGirth,
    ),
  ];
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
