import type { FitStep } from '../../../src/model';
import { formatLength } from '../../../src/units';
import type { ShownUnit } from '../../ui/fields';

/** A scale for people: "97.3 %". */
export function percentText(scale: number): string {
  return `${Math.round(scale * 1000) / 10} %`;
}

/** The value of one line of the working: a length in the person's unit, or a ratio to four places. */
export function stepText(step: FitStep, unit: ShownUnit): string {
  return step.unit === 'mm'
    ? formatLength(step.value, unit, { decimals: unit === 'mm' ? 1 : 2 })
    : String(Math.round(step.value * 10000) / 10000);
}
