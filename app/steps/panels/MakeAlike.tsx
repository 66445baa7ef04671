import { FlipHorizontal2 } from 'lucide-react';
import { useMemo, useState } from 'react';
import { formatLength } from '../../../src/units';
import { nearPairs, runCommand } from '../../commands';
import { useSession } from '../../document';
import { counted } from '../names';
import { useResults, useUnit } from '../useWork';
import { WithinField } from './WithinField';

/** A first tolerance to change from, mm; common practice, no source. */
const usual = 2;

/** Panels that are nearly mirror images become exactly that. */
export function MakeAlike() {
  const [within, setWithin] = useState(usual);
  const results = useSession((s) => s.results);
  const document = useSession((s) => s.document);
  const selection = useSession((s) => s.selection);
  const step = useSession((s) => s.step);
  const { foam } = useResults();
  const unit = useUnit();
  const pairs = useMemo(
    () => nearPairs({ results, document, selection, step }, within),
    [results, document, selection, step, within],
  );
  const made =
    foam?.issues.filter((i) => i.code === 'panels-made-alike' || i.code === 'alike-seam-apart') ?? [];
  const names = new Map(foam?.panels.map((p) => [p.id, p.name]));
  const off = Math.max(0, ...pairs.map((p) => p.off));
  return (
    <>
      <WithinField
        label="Nearly mirror images within"
        max={20}
        value={within}
        hint="Panels that differ by no more can be made exact mirror images: the mean of both."
        onCommit={setWithin}
      />
      <p aria-live="polite">
        {pairs.length === 0
          ? 'No panels are nearly mirror images without being exactly that.'
          : `${counted(pairs.length, 'pair')} (${pairs
              .slice(0, 4)
              .map((p) => `${names.get(p.kept)} and ${names.get(p.twin)}`)
              .join(
                ', ',
              )}${pairs.length > 4 ? ' …' : ''}), up to ${formatLength(off, unit, { decimals: 2 })} apart: each corner would move by half of that.`}
      </p>
      <div className="buttons">
        <button
          type="button"
          disabled={pairs.length === 0}
          onClick={() => runCommand('makePairsAlike', { within })}
        >
          <FlipHorizontal2 aria-hidden="true" size={16} />{' '}
          {pairs.length === 1 ? 'Make this pair symmetric' : 'Make all these symmetric'}
        </button>
      </div>
      {made.length > 0 ? (
        <ul className="rows rows-tight" aria-label="Made symmetric">
          {made.map((i) => (
            <li key={i.message}>
              {i.message} {i.remedy === '' ? null : <span className="soft">{i.remedy}</span>}
            </li>
          ))}
        </ul>
      ) : null}
    </>
  );
}
