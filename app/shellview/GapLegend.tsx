import { formatLength } from '../../src/units';
import { useUnit } from '../steps/useWork';
import { gapSizes } from './gapSizes';

/** What the lines of the dry fit mean, each drawn as on the shell. */
export function GapLegend() {
  const unit = useUnit();
  const from = (k: number) => formatLength(gapSizes[k]!.from, unit, { decimals: unit === 'mm' ? 1 : 2 });
  return (
    <ul className="gap-legend" aria-label="Lines of the dry fit">
      {gapSizes.map(({ name, words, width, dash }, k) => (
        <li key={name}>
          <Swatch width={width} dash={dash} />
          {words}: {k === 0 ? `${from(k)} or more` : `${from(k)} to ${from(k - 1)}`}
        </li>
      ))}
      <li>
        <Swatch width={4.5} dash={[]} bars />
        with bars: too tight; without: open
      </li>
    </ul>
  );
}

function Swatch({
  width,
  dash,
  bars = false,
}: {
  readonly width: number;
  readonly dash: readonly number[];
  readonly bars?: boolean;
}) {
  return (
    <svg className="gap-swatch" viewBox="0 0 40 14" width="40" height="14" aria-hidden="true">
      <line x1="2" y1="7" x2="38" y2="7" strokeWidth={width} strokeDasharray={dash.join(' ')} />
      {bars ? [8, 20, 32].map((x) => <line key={x} x1={x} y1="1" x2={x} y2="13" strokeWidth="2" />) : null}
    </svg>
  );
}
