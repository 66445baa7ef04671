/** The lines of the working that a fit shows. */
import type { FitDecisions, FitStep } from '../model';
import type { Mm } from '../units';
import type { MeasuredGirth } from './girth';
import type { FitOnShell } from './onShell';

export const mm = (label: string, formula: string, value: Mm): FitStep => ({
  label,
  formula,
  value,
  unit: 'mm',
});
export const ratio = (label: string, formula: string, value: number): FitStep => ({
  label,
  formula,
  value,
  unit: 'ratio',
});

/**
 * The lines of the working that lead to the scale.
 * @param solved the scale was solved on the shell, not by the formula
 */
export function scaleSteps(
  fit: FitDecisions,
  measured: MeasuredGirth,
  wanted: Mm | null,
  inside: Mm,
  scale: number | null,
  solved = false,
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
        ...(solved
          ? []
          : [
              mm(
                'Paper girth wanted',
                'inside girth wanted + 2π × foam inside',
                wanted + 2 * Math.PI * inside,
              ),
            ]),
        ...pattern,
      ];
      if (scale === null) return steps;
      const how = solved
        ? 'solved: at it the inside of the shell has the girth wanted'
        : 'paper girth wanted ÷ pattern girth';
      return [...steps, ratio('Scale', how, scale)];
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
export function girthSteps(
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

/** The girths of the finished shell, measured on its surfaces; beside those of the formula where there are both. */
export function shellSteps({ fit, girths, byHand }: FitOnShell): FitStep[] {
  const where = byHand ? ' on the shell' : '';
  const tape = (face: string) => `tape round the ${face} of the finished shell at the brow`;
  return [
    ...(byHand
      ? [mm('Pattern girth on the shell', 'tape round the shell at the brow', fit.brow.tautGirth)]
      : []),
    ...(girths.inside === null ? [] : [mm(`Inside girth${where}`, tape('inside'), girths.inside)]),
    ...(girths.outside === null ? [] : [mm(`Outside girth${where}`, tape('outside'), girths.outside)]),
  ];
}

/** The lines of the working of three scales. */
export function threeSteps(fit: FitDecisions, { measures, wanted, got, scales }: Three): FitStep[] {
  const from = (given: boolean) => (given ? 'as measured' : 'from published ratios, see the findings');
  const { given } = measures;
  const ease = fit.padding + fit.clearance;
  return [
    mm('Head girth', given.girth ? headEntry[fit.headEnteredAs] : from(false), measures.girth),
    mm('Head length', from(given.length), measures.length),
    mm('Head breadth', from(given.breadth), measures.breadth),
    mm('Head height above the brow', from(given.height), measures.height),
    mm('Ease', 'padding + clearance', ease),
    ...(wanted.girth === null
      ? []
      : [
          mm('Inside girth wanted', 'head girth + 2π × ease, in place of what nobody measured', wanted.girth),
        ]),
    ...(wanted.length === null ? [] : [mm('Inside length wanted', 'head length + 2 × ease', wanted.length)]),
    ...(wanted.breadth === null
      ? []
      : [mm('Inside breadth wanted', 'head breadth + 2 × ease', wanted.breadth)]),
    mm('Inside height wanted', 'head height above the brow + ease at the crown', wanted.height),
    ratio('Scale of length', 'solved on the inside of the shell', scales.length),
    ratio('Scale of breadth', 'solved on the inside of the shell', scales.breadth),
    ratio(
      'Scale of height',
      got.height === null
        ? 'mean of the other two, the shell is open above'
        : 'solved on the inside of the shell',
      scales.height,
    ),
    ratio(
      'Scale',
      'mean of the three: the cube root of their product',
      Math.cbrt(scales.length * scales.breadth * scales.height),
    ),
    mm('Inside length', 'measured at the brow of the finished inside', got.length),
    mm('Inside breadth', 'measured at the brow of the finished inside', got.breadth),
    ...(got.height === null
      ? []
      : [mm('Inside height', 'highest dome above the brow that stays inside', got.height)]),
  ];
}

type Three = NonNullable<FitOnShell['three']>;
