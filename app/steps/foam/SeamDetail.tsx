import { useState } from 'react';
import type { DryFit, DryFitSeam, GapRange } from '../../../src/model';
import { modelWords } from './dryFitRows';

const depthRows = [
  ['Outside', 'outside'],
  ['Half way', 'middle'],
  ['Inside', 'inside'],
] as const;
const columns = ['min', 'mean', 'max'] as const;

/** All figures of one seam: three depths, both ways of bending, another K. Made when it is opened. */
export function SeamDetail({
  name,
  seam,
  fit,
  length,
}: {
  readonly name: string;
  readonly seam: DryFitSeam;
  readonly fit: DryFit;
  readonly length: (mm: number) => string;
}) {
  const [open, setOpen] = useState(false);
  const signed = (range: GapRange, which: (typeof columns)[number]) =>
    `${range[which] > 0 ? '+' : ''}${length(range[which])}`;
  return (
    <details className="gap-detail" onToggle={(e) => setOpen(e.currentTarget.open)}>
      <summary aria-label={`Figures of seam ${name}`}>Figures</summary>
      {open ? (
        <>
          <table className="table table-dense">
            <caption className="hint">
              + open, − too tight. The worse way is shown: {modelWords[seam.model]}.
            </caption>
            <thead>
              <tr>
                <th scope="col">Depth</th>
                {columns.map((which) => (
                  <th key={which} scope="col" className="number">
                    {which === 'min' ? 'Least' : which === 'mean' ? 'Mean' : 'Most'}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {depthRows.map(([words, depth]) => (
                <tr key={depth}>
                  <th scope="row">
                    {words}
                    {seam.touches.length === 1 && seam.touches[0] === depth ? ', meant to touch' : ''}
                  </th>
                  {columns.map((which) => (
                    <td key={which} className="number">
                      {signed(seam[depth], which)}
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
          <ul className="hint">
            {(['rigid', 'mitre'] as const).map((model) => (
              <li key={model}>
                At most with {modelWords[model]}: {length(seam.worstBy[model])}
              </li>
            ))}
            {fit.otherNeutral.map(({ neutralRatio }, k) => (
              <li key={neutralRatio}>
                At most if K is {Math.round(neutralRatio * 100) / 100}: {length(seam.worstOther[k] ?? 0)}
              </li>
            ))}
          </ul>
        </>
      ) : null}
    </details>
  );
}
