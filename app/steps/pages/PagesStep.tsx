import { Printer } from 'lucide-react';
import { useShallow } from 'zustand/react/shallow';
import { blocksSight, isMapPage } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { describeCommand, runCommand } from '../../commands';
import { useSession } from '../../document';
import { CautionNote, Figures } from '../../ui/parts';
import { Part, Sheet } from '../Sheet';
import { TryOnBand } from '../TryOnBand';
import { useDecisions, useShown, useUnit } from '../useWork';
import { CutFiles } from './CutFiles';
import { Marks } from './Marks';
import { PageGallery } from './PageGallery';
import { Paper } from './Paper';
import { PieceTable } from './PieceTable';
import { PrinterCheck } from './PrinterCheck';

/** Pages to print at true scale. */
export function PagesStep() {
  const { pages: plan, pattern, foam } = useShown();
  const sight = foam !== null && blocksSight(foam);
  const { pages } = useDecisions();
  const unit = useUnit();
  const pdf = useSession(useShallow((s) => describeCommand('exportPdf', s)));
  const busy = useSession((s) => s.progress !== null);
  const maps = plan?.pages.filter(isMapPage).length ?? 0;
  return (
    <Sheet
      title="Pages"
      about="Print the panels at true scale, tape the pages together by their marks, cut, and trace."
      actions={
        <>
          <button
            type="button"
            className="main-action"
            disabled={!pdf.enabled || busy}
            onClick={() => runCommand('exportPdf')}
          >
            <Printer aria-hidden="true" size={16} /> Print pages…
          </button>
          {pdf.reason ? <p className="hint">{pdf.reason}</p> : null}
        </>
      }
    >
      {plan ? (
        <Figures
          label="Pages"
          items={[
            {
              label: 'Pages',
              value: plan.pages.length - maps,
              ...(maps > 0 ? { note: `and ${maps} map page${maps > 1 ? 's' : ''}` } : {}),
            },
            {
              label: 'Sheets of paper',
              value: plan.pages.length,
              note: pages.paper === 'own' ? 'own size' : pages.paper,
            },
            {
              label: 'Whole layout',
              value: `${formatLength(plan.extent.width, unit, { bare: true, decimals: unit === 'mm' ? 0 : 1 })} × ${formatLength(plan.extent.height, unit, { decimals: unit === 'mm' ? 0 : 1 })}`,
            },
          ]}
        />
      ) : (
        <p className="waiting">The pages follow from the panels.</p>
      )}
      {plan && plan.pages.length > 0 ? <PageGallery plan={plan} /> : null}
      <CutFiles />
      <TryOnBand />
      <Paper />
      <PrinterCheck />
      <Marks />
      {pattern ? (
        <Part title="Panels">
          <PieceTable pattern={pattern} />
        </Part>
      ) : null}
      <CautionNote
        topics={['costume', 'adhesive', 'dust', 'heat', 'wearing', ...(sight ? (['sight'] as const) : [])]}
      />
    </Sheet>
  );
}
