import type { BuildNeeds, BuildRates, NeedRow } from '../../../src/model';
import { LengthField, NumberField, TextField } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { Part } from '../Sheet';
import { decidePart, endMerge, useDecisions, useUnit } from '../useWork';

const rates: readonly { readonly key: keyof BuildRates; readonly label: string }[] = [
  { key: 'sheetPrice', label: 'Sheet of foam' },
  { key: 'adhesivePrice', label: 'Litre of adhesive' },
  { key: 'sealerPrice', label: 'Litre of sealer' },
  { key: 'paintPrice', label: 'Litre of paint' },
  { key: 'padPrice', label: 'Square metre of padding' },
  { key: 'tapePrice', label: 'Metre of tape' },
];
const uses: typeof rates = [
  { key: 'waste', label: 'Part of the foam lost' },
  { key: 'adhesiveCoverage', label: 'Adhesive, m² a litre' },
  { key: 'sealerCoats', label: 'Coats of sealer' },
  { key: 'sealerCoverage', label: 'Sealer, m² a litre' },
  { key: 'paintCoats', label: 'Coats of paint' },
  { key: 'paintCoverage', label: 'Paint, m² a litre' },
  { key: 'padShare', label: 'Part of the inside padded' },
  { key: 'tapePerSeam', label: 'Metres of tape a metre of seam' },
];
const times: typeof rates = [
  { key: 'pageTime', label: 'Joining a page' },
  { key: 'cutTime', label: 'Cutting a metre' },
  { key: 'bevelTime', label: 'Bevelling a metre' },
  { key: 'glueTime', label: 'Gluing a metre' },
  { key: 'smoothTime', label: 'Filling and sanding a metre' },
  { key: 'heatTime', label: 'Shaping by heat, a square metre' },
  { key: 'coatTime', label: 'A coat' },
  { key: 'fitOutTime', label: 'Padding and straps' },
];
/** Counted or used as a divisor: at least this. */
const least: Partial<Record<keyof BuildRates, number>> = {
  adhesiveCoverage: 0.1,
  sealerCoverage: 0.1,
  paintCoverage: 0.1,
  dayHours: 0.5,
};
const most: Partial<Record<keyof BuildRates, number>> = { waste: 0.95, padShare: 1, dayHours: 24 };
const whole: ReadonlySet<keyof BuildRates> = new Set(['sealerCoats', 'paintCoats']);

const amount = (row: NeedRow): string =>
  row.unit === 'sheets'
    ? `${row.amount} ${row.amount === 1 ? 'sheet' : 'sheets'}`
    : `${row.amount.toFixed(2)} ${row.unit}`;

/** Material and time with their arithmetic, and the prices and paces behind them. */
export function Needs({ needs }: { readonly needs: BuildNeeds }) {
  const { build } = useDecisions();
  const unit = useUnit();
  const set = (key: keyof BuildRates, value: number, live: boolean) =>
    decidePart('build', 'Prices and paces', (old) => ({ ...old, rates: { ...old.rates, [key]: value } }), {
      key: `build.${key}`,
      live,
    });
  const fields = (list: typeof rates) => (
    <div className="pairs">
      {list.map(({ key, label }) => (
        <NumberField
          key={key}
          label={label}
          kind="ratio"
          by={whole.has(key) ? 1 : 0.1}
          value={build.rates[key]}
          min={least[key] ?? 0}
          max={most[key] ?? 10000}
          onCommit={(value, live) => set(key, whole.has(key) ? Math.round(value) : value, live)}
          onSettle={endMerge}
        />
      ))}
    </div>
  );
  return (
    <Part title="What it takes">
      <table className="table">
        <caption>Material</caption>
        <tbody>
          {needs.materials.map((row) => (
            <tr key={row.label}>
              <th scope="row">
                {row.label}
                <span className="hint"> {row.formula}</span>
              </th>
              <td>{amount(row)}</td>
              <td>
                {build.currency} {row.total.toFixed(2)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <table className="table">
        <caption>Work</caption>
        <tbody>
          {needs.work.map((row) => (
            <tr key={row.label}>
              <th scope="row">
                {row.label}
                <span className="hint"> {row.formula}</span>
              </th>
              <td>{Math.round(row.total)} min</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="hint">
        Prices and paces are examples to start from: type your own. Drying times come on top.
      </p>
      <Folded title="Prices" value={`in ${build.currency || 'no currency'}`}>
        <TextField
          label="Currency"
          value={build.currency}
          onCommit={(currency) => decidePart('build', 'Currency', { currency: currency.slice(0, 8) })}
        />
        {fields(rates)}
        <div className="pairs">
          {(['width', 'height'] as const).map((side) => (
            <LengthField
              key={side}
              label={side === 'width' ? 'Width of a sheet' : 'Length of a sheet'}
              unit={unit}
              min={50}
              max={5000}
              value={build.sheet[side]}
              onCommit={(value, live) =>
                decidePart(
                  'build',
                  'Size of a sheet',
                  (old) => ({ ...old, sheet: { ...old.sheet, [side]: value } }),
                  {
                    key: `build.sheet.${side}`,
                    live,
                  },
                )
              }
              onSettle={endMerge}
            />
          ))}
        </div>
      </Folded>
      <Folded title="Use of material" value={`${build.rates.paintCoats} coats of paint`}>
        {fields(uses)}
      </Folded>
      <Folded title="Minutes of work" value={`${build.rates.dayHours} hours a day`}>
        {fields([...times, { key: 'dayHours', label: 'Working hours a day' }])}
      </Folded>
    </Part>
  );
}
