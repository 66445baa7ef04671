/**
 * What a build takes, line by line, each with its arithmetic. Metres and square metres here, since that is what labels
 * and prices speak of. Amounts are what is used up, but for foam, which is bought in whole sheets.
 */
import type { BuildNeeds, BuildRates, BuildStep, NeedRow } from '../model';
import { cutList } from './cutList';
import { perMetre, perSquareMetre, shown } from './figures';
import { foamRows, foamWanted } from './foamBought';
import type { BuildInput } from './planBuild';

export function buildNeeds(
  input: Omit<BuildInput, 'marked' | 'shell'>,
  steps: readonly BuildStep[],
): BuildNeeds {
  const { foam, decisions, sheets, stock, pages, padding } = input;
  const { rates } = decisions;
  const groups = cutList(input.listed ?? foam);
  const counted = (card: boolean) =>
    groups
      .filter((g) => (g.card ?? false) === card)
      .flatMap((g) => g.rows.map((r) => ({ ...r, copies: r.quantity + r.mirrored })));
  const rows = counted(false);
  const stencils = counted(true).reduce((sum, r) => sum + r.area * r.copies, 0) / perSquareMetre;
  const area = rows.reduce((sum, r) => sum + r.area * r.copies, 0) / perSquareMetre;
  const edge = rows.reduce((sum, r) => sum + r.edge * r.copies, 0) / perMetre;
  const runs = steps.flatMap((s) => s.runs);
  const seam = runs.reduce((sum, r) => sum + (r.lengthA + r.lengthB) / 2, 0) / perMetre;
  const bevelled = bevelledLength(foam) / perMetre;
  const seamFaces = foam.rows.reduce(
    (sum, r) => sum + ((r.lengthA + r.lengthB) * thicknessOf(foam)) / Math.cos(r.bevel),
    0,
  );
  // Extra parts are glued by a whole face.
  const extras = new Set(foam.panels.flatMap((p) => (p.extra && p.extra.kind !== 'stencil' ? [p.id] : [])));
  const wholeFaces = rows.reduce((sum, r) => sum + (extras.has(r.panel) ? 2 * r.area * r.copies : 0), 0);
  const glued = (seamFaces + wholeFaces) / perSquareMetre;
  const materials = foamRows(foamWanted(rows, foam.panels), sheets?.sheets ?? null, stock ?? [], decisions);
  const litres = glued / rates.adhesiveCoverage;
  materials.push(
    {
      label: 'Contact adhesive',
      formula: `both faces of every seam${extras.size > 0 ? ' and extra part' : ''} ${shown(glued)} m² ÷ ${shown(rates.adhesiveCoverage)} m² a litre × ${shown(rates.adhesivePrice)} a litre`,
      amount: litres,
      unit: 'litres',
      total: litres * rates.adhesivePrice,
    },
    coats('Sealer', area, rates.sealerCoats, rates.sealerCoverage, rates.sealerPrice),
    coats('Paint', area, rates.paintCoats, rates.paintCoverage, rates.paintPrice),
  );
  if (stencils > 0)
    materials.push({
      label: 'Card or film for stencils',
      formula: `${shown(stencils)} m²; what is at hand does`,
      amount: stencils,
      unit: 'm²',
      total: 0,
    });
  if (padding > 0) {
    const padded = area * rates.padShare;
    materials.push({
      label: `Padding, ${shown(padding)} mm`,
      formula: `${shown(area)} m² × ${shown(rates.padShare)} padded × ${shown(rates.padPrice)} a m²`,
      amount: padded,
      unit: 'm²',
      total: padded * rates.padPrice,
    });
  }
  const tape = seam * rates.tapePerSeam;
  materials.push({
    label: 'Tape',
    formula: `${shown(seam)} m of seam × ${shown(rates.tapePerSeam)} × ${shown(rates.tapePrice)} a metre`,
    amount: tape,
    unit: 'm',
    total: tape * rates.tapePrice,
  });
  const work = workRows(rates, { pages, edge, bevelled, seam, area });
  const minutes = work.reduce((sum, r) => sum + r.total, 0);
  return {
    materials,
    work,
    cost: materials.reduce((sum, r) => sum + r.total, 0),
    minutes,
    days: minutes / 60 / rates.dayHours,
  };
}

interface Sizes {
  readonly pages: number;
  readonly edge: number;
  readonly bevelled: number;
  readonly seam: number;
  readonly area: number;
}

function workRows(rates: BuildRates, { pages, edge, bevelled, seam, area }: Sizes): NeedRow[] {
  const row = (label: string, amount: number, what: string, minutes: number): NeedRow => ({
    label,
    formula: `${shown(amount)} ${what} × ${shown(minutes)} min`,
    amount: amount * minutes,
    unit: 'minutes',
    total: amount * minutes,
  });
  return [
    row('Joining pages', pages, 'pages', rates.pageTime),
    row('Tracing and cutting', edge, 'm of edge', rates.cutTime),
    row('Bevelling', bevelled, 'm of bevelled edge', rates.bevelTime),
    row('Gluing', seam, 'm of seam', rates.glueTime),
    row('Filling and sanding seams', seam, 'm of seam', rates.smoothTime),
    row('Shaping and sealing by heat', area, 'm²', rates.heatTime),
    row('Sealing and painting', rates.sealerCoats + rates.paintCoats, 'coats', rates.coatTime),
    row('Padding and straps', 1, 'fitting-out', rates.fitOutTime),
  ];
}

function coats(label: string, area: number, count: number, coverage: number, price: number): NeedRow {
  const litres = (area * count) / coverage;
  return {
    label,
    formula: `${shown(area)} m² × ${count} coats ÷ ${shown(coverage)} m² a litre × ${shown(price)} a litre`,
    amount: litres,
    unit: 'litres',
    total: litres * price,
  };
}

/** Bevels smaller than this are left to the glue, rad: about a degree. */
const leastBevel = Math.PI / 180;

/** Length of all edges, on every copy, that are cut at a slant. */
function bevelledLength({ panels }: BuildInput['foam']): number {
  return panels.reduce((sum, panel) => {
    const copies = panel.quantity * (panel.mirrored ? 2 : 1);
    const own = panel.loops
      .flat()
      .filter((e) => Math.abs(e.bevel) >= leastBevel)
      .reduce((length, { points }) => {
        for (let i = 1; i < points.length; i++)
          length += Math.hypot(points[i]!.x - points[i - 1]!.x, points[i]!.y - points[i - 1]!.y);
        return length;
      }, 0);
    return sum + own * copies;
  }, 0);
}

const thicknessOf = ({ panels }: BuildInput['foam']): number => panels[0]?.thickness ?? 0;
