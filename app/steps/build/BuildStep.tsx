import { Archive, Printer } from 'lucide-react';
import { useMemo } from 'react';
import { useShallow } from 'zustand/react/shallow';
import { stepDrawer } from '../../../src/build';
import { blocksSight } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { describeCommand, runCommand } from '../../commands';
import { useSession } from '../../document';
import { CautionNote, Figures, TableHead } from '../../ui/parts';
import { Part, Sheet } from '../Sheet';
import { useDecisions, useResults, useUnit } from '../useWork';
import { Needs } from './Needs';
import { StepList } from './StepList';
import { Troupe } from './Troupe';

/** What is glued when, and what it takes. */
export function BuildStep() {
  const { build, foam, recut } = useResults();
  const decisions = useDecisions();
  const unit = useUnit();
  const pdf = useSession(useShallow((s) => describeCommand('exportBuild', s)));
  const all = useSession(useShallow((s) => describeCommand('exportArchive', s)));
  const busy = useSession((s) => s.progress !== null);
  const draw = useMemo(() => (foam ? stepDrawer(recut, foam) : null), [recut, foam]);
  const nameOf = useMemo(() => {
    const names = new Map((foam?.panels ?? []).map((p) => [p.id, p.name] as const));
    return (id: string) => names.get(id) ?? id;
  }, [foam]);
  const { currency } = decisions.build;
  return (
    <Sheet
      title="Build"
      about="Glue the panels in this order: small parts first, both sides in turn, rings last."
      actions={
        <>
          <button
            type="button"
            className="main-action"
            disabled={!pdf.enabled || busy}
            onClick={() => runCommand('exportBuild')}
          >
            <Printer aria-hidden="true" size={16} /> Print build sheet…
          </button>
          {pdf.reason ? <p className="hint">{pdf.reason}</p> : null}
          <button type="button" disabled={!all.enabled || busy} onClick={() => runCommand('exportArchive')}>
            <Archive aria-hidden="true" size={16} /> All files in one archive
          </button>
        </>
      }
    >
      {build && foam ? (
        <>
          <Figures
            label="Build"
            items={[
              {
                label: 'Steps',
                value: build.steps.length,
                note: `${build.steps.filter((s) => s.done).length} done`,
              },
              { label: 'Material', value: `${currency} ${build.needs.cost.toFixed(2)}` },
              {
                label: 'Work',
                value: `${(Math.round(build.needs.days * 2) / 2).toString()} days`,
                note: `${Math.round(build.needs.minutes / 60)} hours`,
              },
            ]}
          />
          <StepList steps={build.steps} nameOf={nameOf} draw={draw} />
          <Part title="Cut list">
            {build.cutList.map((group) => (
              <table key={group.thickness} className="table">
                <caption>
                  {group.card ? 'Stencils, of card or film' : `${formatLength(group.thickness, unit)} foam`}
                </caption>
                <TableHead columns={['Panel', 'Pieces', 'Area', 'Edge']} />
                <tbody>
                  {group.rows.map((row) => (
                    <tr key={row.panel}>
                      <th scope="row">{row.name}</th>
                      <td>
                        {row.mirrored > 0 ? `${row.quantity} + ${row.mirrored} mirrored` : row.quantity}
                      </td>
                      <td>{(row.area / 100).toFixed(0)} cm²</td>
                      <td>{formatLength(row.edge, unit, { decimals: unit === 'mm' ? 0 : 1 })}</td>
                    </tr>
                  ))}
                </tbody>
              </table>
            ))}
          </Part>
          <Needs needs={build.needs} />
          <Troupe />
          <CautionNote
            topics={[
              ...(['blade', 'dust', 'adhesive', 'heat', 'wearing', 'costume'] as const),
              ...(blocksSight(foam) ? (['sight'] as const) : []),
              ...(build.steps.some((s) => s.kind === 'paint') ? (['paint'] as const) : []),
            ]}
          />
        </>
      ) : (
        <p className="waiting">The order follows from the panels and their seams.</p>
      )}
    </Sheet>
  );
}
