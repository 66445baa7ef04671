/**
 * Sheets of foam that a build takes, thickness by thickness: those that panels are laid on, else reckoned from the area
 * and the share of waste. Square metres, since that is what prices speak of.
 */
import type { BuildDecisions, NeedRow, Panel, Sheet, StockSheet } from '../model';
import type { Mm } from '../units';
import { perSquareMetre, shown } from './figures';

/** What one thickness of foam is cut to. */
export interface FoamWanted {
  readonly thickness: Mm;
  /** All copies of all panels together, by the name of the foam, m². */
  readonly areas: ReadonlyMap<string, number>;
}

/**
 * One row for each thickness.
 *
 * @param laid sheets that are fit to be cut from; null: nothing is laid out
 * @param stock sheets that the person has listed
 */
export function foamRows(
  wanted: readonly FoamWanted[],
  laid: readonly Sheet[] | null,
  stock: readonly StockSheet[],
  decisions: BuildDecisions,
): NeedRow[] {
  return wanted.map(({ thickness, areas }): NeedRow => {
    const own = laid?.filter((s) => s.thickness === thickness) ?? [];
    const area = [...areas.values()].reduce((sum, a) => sum + a, 0);
    const parts =
      own.length > 0
        ? [boughtSheets(own, area, decisions.rates.sheetPrice)]
        : [...areas].map(([material, part]) =>
            reckonedSheets(
              part,
              stock.filter((s) => s.thickness === thickness && s.material === material),
              decisions,
            ),
          );
    return {
      label: `Foam, ${shown(thickness)} mm`,
      unit: 'sheets',
      formula: parts.map((p) => p.formula).join('; '),
      amount: parts.reduce((sum, p) => sum + p.amount, 0),
      total: parts.reduce((sum, p) => sum + p.total, 0),
    };
  });
}

/** All copies of the panels that have a template, by thickness and foam. */
export function foamWanted(
  rows: readonly { readonly panel: string; readonly area: number; readonly copies: number }[],
  panels: readonly Panel[],
): FoamWanted[] {
  const byId = new Map(panels.map((p) => [p.id, p] as const));
  const found = new Map<Mm, Map<string, number>>();
  for (const { panel, area, copies } of rows) {
    const { thickness, material = '' } = byId.get(panel)!;
    const areas = found.get(thickness) ?? new Map<string, number>();
    found.set(thickness, areas.set(material, (areas.get(material) ?? 0) + (area * copies) / perSquareMetre));
  }
  return [...found].sort(([a], [b]) => a - b).map(([thickness, areas]) => ({ thickness, areas }));
}

interface Bought {
  readonly formula: string;
  readonly amount: number;
  readonly total: number;
}

/** Sheets as they were laid out: each at its own price, or at the usual one; offcuts are there already. */
function boughtSheets(laid: readonly Sheet[], area: number, usual: number): Bought {
  const bought = laid.filter((s) => !s.outline);
  const byPrice = new Map<number, number>();
  for (const s of bought) byPrice.set(s.price ?? usual, (byPrice.get(s.price ?? usual) ?? 0) + 1);
  const offcuts = laid.length - bought.length;
  const terms = [...byPrice].map(
    ([price, n]) => `${n} ${n === 1 ? 'sheet' : 'sheets'} × ${shown(price)} each`,
  );
  if (offcuts > 0) terms.push(`${offcuts} offcut${offcuts === 1 ? '' : 's'} at hand`);
  return {
    formula: `laid out for ${shown(area)} m²: ${terms.join(' + ')}`,
    amount: bought.length,
    total: [...byPrice].reduce((sum, [price, n]) => sum + n * price, 0),
  };
}

/** As many as the area asks for: the listed whole sheets in their order, or sheets as Build buys them where none is listed. */
function reckonedSheets(
  area: number,
  stock: readonly StockSheet[],
  { sheet, rates }: BuildDecisions,
): Bought {
  const wanted = area / (1 - rates.waste);
  const need = `${shown(area)} m² ÷ (1 − ${shown(rates.waste)} waste)`;
  const whole = stock.flatMap(({ shape, count, price }) =>
    shape.kind === 'rectangle'
      ? [{ size: (shape.width * shape.height) / perSquareMetre, count, price: price ?? rates.sheetPrice }]
      : [],
  );
  if (whole.length === 0) {
    const size = (sheet.width * sheet.height) / perSquareMetre;
    const amount = sheetsFor(wanted, size);
    return {
      formula: `${need} ÷ ${shown(size)} m² a sheet, rounded up × ${shown(rates.sheetPrice)} each`,
      amount,
      total: amount * rates.sheetPrice,
    };
  }
  let left = wanted;
  let amount = 0;
  let total = 0;
  const terms: string[] = [];
  for (const { size, count, price } of whole) {
    const n = Math.min(count, sheetsFor(Math.max(0, left), size));
    if (n === 0) continue;
    left -= n * size;
    amount += n;
    total += n * price;
    terms.push(`${n} of ${shown(size)} m² × ${shown(price)} each`);
  }
  const missing = left > slack ? `, ${shown(left)} m² more than your sheets hold` : '';
  return {
    formula: `${need} = ${shown(wanted)} m²: ${terms.join(' + ') || 'no sheet'}${missing}`,
    amount,
    total,
  };
}

/** Rounding in areas, m²: a thousandth of a square millimetre calls for no further sheet. */
const slack = 1e-9;

const sheetsFor = (area: number, size: number): number => Math.ceil((area - slack) / size);
