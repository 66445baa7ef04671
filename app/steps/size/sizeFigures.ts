/** The Size step's results as figures and sentences. Pure. */
import type { Clearances, Fit, GoesOn, ShellFit } from '../../../src/model';
import { formatLength } from '../../../src/units';
import type { ShownUnit } from '../../ui/fields';
import type { Figure } from '../../ui/parts';
import { percentText } from './words';

/** Scales are shown to a tenth of a percent; nearer together they are one. */
const oneScale = 5e-4;

function scaleFigures(fit: Fit): Figure[] {
  const scales = fit.shell?.scales;
  if (!scales) return [{ label: 'Scale', value: percentText(fit.scale) }];
  const { length, breadth, height } = scales;
  if (Math.max(length, breadth, height) - Math.min(length, breadth, height) < oneScale)
    return [{ label: 'Scale', value: percentText(fit.scale) }];
  return [
    { label: 'Scale along the length', value: percentText(length) },
    { label: 'Scale along the breadth', value: percentText(breadth) },
    { label: 'Scale along the height', value: percentText(height) },
  ];
}

export function fitFigures(fit: Fit, unit: ShownUnit): Figure[] {
  const girth = (label: string, value: number | null): Figure[] =>
    value === null ? [] : [{ label, value: formatLength(value, unit) }];
  const whole = { decimals: unit === 'mm' ? 0 : 1 };
  const bare = (mm: number) => formatLength(mm, unit, { bare: true, ...whole });
  const outside = fit.shell?.outsideExtent;
  const { width, height } = fit.largestPiece;
  return [
    ...scaleFigures(fit),
    ...girth('Pattern’s girth', fit.patternGirth),
    ...girth('Inside girth wanted', fit.insideGirthWanted),
    ...girth('Inside girth', fit.insideGirth),
    ...girth('Outside girth', fit.outsideGirth),
    ...(outside
      ? [
          {
            label: 'Finished outside',
            value: `${bare(outside.y)} × ${bare(outside.x)} × ${formatLength(outside.z, unit, whole)}`,
            note: 'long, wide, high',
          },
        ]
      : []),
    {
      label: 'Largest piece',
      value: `${formatLength(width, unit, { bare: true })} × ${formatLength(height, unit)}`,
    },
  ];
}

/** Room between head and foam at each place; where there is none it says so. */
export function clearanceFigures(room: Clearances, unit: ShownUnit): Figure[] {
  const one = (label: string, mm: number): Figure => ({
    label,
    value: formatLength(mm, unit),
    ...(mm < 0 ? { note: 'head in the foam', look: true } : {}),
  });
  return [
    one('Room in front', room.front),
    one('Room behind', room.back),
    one('Room on the left', room.left),
    one('Room on the right', room.right),
    room.crown === null
      ? { label: 'Room at the crown', value: 'open above' }
      : one('Room at the crown', room.crown),
    one('Smallest room', room.smallest.room),
  ];
}

/** Whether the head passes, in one sentence. */
export function goesOnSentence(goes: GoesOn, unit: ShownUnit): string {
  const opening = formatLength(goes.opening, unit);
  const needed = formatLength(goes.needed, unit);
  return goes.passes
    ? `It goes on: the opening below the brow is ${opening} round inside, and the head with its ease needs ${needed}.`
    : `It does not go on: the opening below the brow is ${opening} round inside, ${formatLength(goes.short, unit)} less than the ${needed} that the head with its ease needs.`;
}

/** The brow section as measured on the pattern's own shell. */
export function browFigures({ brow }: ShellFit, unit: ShownUnit): Figure[] {
  return [
    { label: 'Girth at the brow', value: formatLength(brow.tautGirth, unit), note: 'tape pulled tight' },
    { label: 'Along the surface', value: formatLength(brow.loop.girth, unit) },
    {
      label: 'Front to back, side to side',
      value: `${formatLength(brow.length, unit, { bare: true })} × ${formatLength(brow.breadth, unit)}`,
    },
  ];
}
