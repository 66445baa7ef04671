/** Words and rows of the Sheets step. Pure. */
import type { LaidPanel, Panel, SheetPlan, StockSheet } from '../../../src/model';
import { formatAngle, formatLength } from '../../../src/units';
import type { Nesting } from '../../document/session';

/** How things stand, as a sentence; `laid`: panels have places, even while those are still being checked. */
export function stateWords(plan: SheetPlan | null, nesting: Nesting | null, laid: boolean): string {
  if (nesting && nesting.ended === null) {
    const said = nesting.issues.map((i) => `${i.message} ${i.remedy}`).join(' ');
    if (said) return said;
    return nesting.plan
      ? 'Looking for a better layout. The bench shows the best one so far.'
      : 'Looking for the first layout …';
  }
  const dropped =
    nesting?.ended === 'changed' ? 'Something changed while the panels were nested: nest once more. ' : '';
  if (!plan) return laid ? 'Checking the sheets …' : `${dropped}Nothing is laid out yet.`;
  if (plan.changed.length > 0)
    return `${dropped}${plan.changed.length} panels changed since they were laid out. These sheets are out of date and not cut from: nest again.`;
  if (plan.left.length > 0)
    return `${dropped}${plan.left.length} panels are without a place. Add a sheet or a larger one, or allow more turns, then nest again.`;
  const wrong = plan.issues.find((i) => i.code === 'sheets-collide');
  if (wrong) return `${dropped}${wrong.message} Look for the hatched panels, move them, or nest again.`;
  return `${dropped}All panels lie free of each other, checked on their true outlines.`;
}

/** Where selected placements lie, as a sentence; `name`: of the first one's panel. */
export function placeWords(chosen: readonly LaidPanel[], name: string, unit: 'mm' | 'in'): string {
  const [first] = chosen;
  if (!first) return '';
  const locked = (list: readonly LaidPanel[]) => (list.every((p) => p.locked) ? 'locked' : 'free');
  if (chosen.length > 1) return `${chosen.length} panels selected, ${locked(chosen)}.`;
  const place = `${formatLength(first.x, unit)} from the left, ${formatLength(first.y, unit)} from below`;
  return `Panel ${name}: its middle ${place}, turned ${formatAngle(first.turn)}, ${locked(chosen)}.`;
}

export interface FoamKind {
  readonly thickness: number;
  readonly material: string;
}

/** Kinds of foam that panels are cut from, then those that only sheets are of. */
export function foamKinds(
  panels: readonly Panel[],
  stock: readonly StockSheet[],
): (FoamKind & { used: boolean })[] {
  const kinds = new Map<string, FoamKind & { used: boolean }>();
  const add = (thickness: number, material: string, used: boolean) => {
    const key = `${thickness} ${material}`;
    if (!kinds.has(key)) kinds.set(key, { thickness, material, used });
  };
  for (const p of panels) add(p.thickness, p.material ?? '', true);
  for (const s of stock) add(s.thickness, s.material, false);
  return [...kinds.values()].sort((a, b) => a.thickness - b.thickness);
}

export const foamWords = ({ thickness, material }: FoamKind, unit: 'mm' | 'in'): string =>
  `${formatLength(thickness, unit)}${material ? ` ${material}` : ''}`;

/** Sheets that are commonly sold. Common practice, no source. */
export const sheetPresets: readonly {
  readonly width: number;
  readonly height: number;
  readonly words: string;
}[] = [
  { width: 600, height: 900, words: '600 × 900 mm' },
  { width: 500, height: 1000, words: '500 × 1000 mm' },
  { width: 1000, height: 1000, words: '1 × 1 m' },
  { width: 1000, height: 1500, words: '1 × 1.5 m' },
  { width: 1000, height: 2000, words: '1 × 2 m' },
  { width: 300, height: 400, words: '300 × 400 mm (small laser)' },
  { width: 609.6, height: 609.6, words: '24 × 24 in (floor tile)' },
  { width: 609.6, height: 914.4, words: '24 × 36 in' },
  { width: 609.6, height: 1219.2, words: '24 × 48 in' },
  { width: 914.4, height: 1524, words: '36 × 60 in' },
];
