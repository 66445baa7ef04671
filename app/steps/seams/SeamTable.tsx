import { Fragment, useState } from 'react';
import { formatLength } from '../../../src/units';
import { hover, select, useSession } from '../../document';
import { SelectField } from '../../ui/fields';
import { showOnBench } from '../ShowButton';
import { useUnit } from '../useWork';
import { filterRows, lengthDoubt, lookBelow, type RowFilter, type RunRow, reasonsOf } from './seamRows';

const evidenceWords: Readonly<Record<RunRow['evidence'], string>> = {
  person: 'you',
  number: 'number',
  geometry: 'shape',
  several: 'several',
};

/** All seams by number; a row and its seam on the bench are selected together. */
export function SeamTable({ rows }: { readonly rows: readonly RunRow[] }) {
  const [filter, setFilter] = useState<RowFilter>('all');
  const selection = useSession((s) => s.selection);
  const unit = useUnit();
  const shown = filterRows(rows, filter);
  const isOn = (row: RunRow) =>
    selection.includes(row.id) ||
    row.seams.some(
      (seam) =>
        selection.includes(seam.id) || selection.includes(seam.a.edge) || selection.includes(seam.b.edge),
    );
  return (
    <>
      <SelectField<RowFilter>
        label="Show"
        value={filter}
        options={[
          { value: 'all', label: `All seams (${rows.length})` },
          {
            value: 'look',
            label: `To look at (${filterRows(rows, 'look').length})`,
          },
          { value: 'lengths', label: `Found by shape (${filterRows(rows, 'lengths').length})` },
          { value: 'number', label: `Found by number (${filterRows(rows, 'number').length})` },
          { value: 'mine', label: `Paired by hand (${filterRows(rows, 'mine').length})` },
        ]}
        onChange={setFilter}
      />
      {shown.length === 0 ? (
        <p className="hint">No seams to list.</p>
      ) : (
        <table className="table">
          <caption className="unseen">Seams with their lengths, {unit}</caption>
          <thead>
            <tr>
              <th scope="col">Seam</th>
              <th scope="col">Pieces</th>
              <th scope="col" className="number">
                Lengths, {unit}
              </th>
              <th scope="col" className="number">
                Differ
              </th>
              <th scope="col">From</th>
            </tr>
          </thead>
          <tbody>
            {shown.map((row) => {
              const ids = row.seams.map((seam) => seam.id);
              const on = isOn(row);
              return (
                <Fragment key={row.id}>
                  <tr
                    data-on={on || undefined}
                    onPointerEnter={() => hover(ids[0] ?? null)}
                    onPointerLeave={() => hover(null)}
                  >
                    <th scope="row">
                      <button
                        type="button"
                        className="row-button"
                        aria-pressed={on}
                        aria-label={`Seam ${row.number}`}
                        onClick={() => (on ? select([]) : showOnBench(ids))}
                      >
                        {row.number}
                      </button>
                    </th>
                    <td>{row.pieces}</td>
                    <td className="number">
                      {formatLength(row.lengthA, unit, { bare: true })} ·{' '}
                      {formatLength(row.lengthB, unit, { bare: true })}
                    </td>
                    <td className="number" data-look={row.difference > lengthDoubt || undefined}>
                      {formatLength(row.difference, unit, { bare: true, decimals: 2 })}
                    </td>
                    <td>
                      {evidenceWords[row.evidence]}
                      {row.evidence === 'geometry' || row.confidence < lookBelow ? (
                        <small className={`sure ${row.confidence < lookBelow ? 'look-word' : 'soft'}`}>
                          {' '}
                          {Math.round(row.confidence * 100)} %
                        </small>
                      ) : null}
                      {row.along ? <small className="look-word"> same way</small> : null}
                    </td>
                  </tr>
                  {filter === 'all' || reasonsOf(row).length === 0 ? null : (
                    <tr className="row-reason">
                      <td />
                      <td colSpan={4}>
                        <small className="hint">{reasonsOf(row).join(' ')}</small>
                      </td>
                    </tr>
                  )}
                </Fragment>
              );
            })}
          </tbody>
        </table>
      )}
    </>
  );
}
