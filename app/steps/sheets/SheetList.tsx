import { Archive, Download, Printer } from 'lucide-react';
import { useShallow } from 'zustand/react/shallow';
import type { SheetPlan } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { describeCommand, runCommand } from '../../commands';
import { useSession } from '../../document';
import { CutChoices } from '../pages/CutFiles';
import { Part } from '../Sheet';
import { useUnit } from '../useWork';
import { foamWords } from './sheetRows';

/** Every sheet with its files. */
export function SheetList({ plan, searching }: { readonly plan: SheetPlan; readonly searching: boolean }) {
  const unit = useUnit();
  const able = useSession(useShallow((s) => describeCommand('exportSheets', s)));
  const busy = useSession((s) => s.progress !== null) || searching;
  const size = (mm: number, bare: boolean) =>
    formatLength(mm, unit, { bare, decimals: unit === 'mm' ? 0 : 1 });
  return (
    <Part title="Cut files">
      <ul className="rows">
        {plan.sheets.map((sheet, k) => (
          <li key={sheet.name} className="sheet-row">
            <p>
              <strong>{sheet.name}</strong>{' '}
              {foamWords({ thickness: sheet.thickness, material: sheet.material ?? '' }, unit)},{' '}
              {size(sheet.width, true)} × {size(sheet.height, false)}
              {sheet.outline ? ' offcut' : ''}, {sheet.placements.length}{' '}
              {sheet.placements.length === 1 ? 'panel' : 'panels'}, {Math.round((sheet.density ?? 0) * 100)} %
              filled
            </p>
            <div className="buttons">
              {(['svg', 'dxf'] as const).map((as) => (
                <button
                  key={as}
                  type="button"
                  disabled={!able.enabled || busy}
                  aria-label={`${sheet.name} as ${as.toUpperCase()}`}
                  onClick={() => runCommand('exportSheet', { as, sheet: k })}
                >
                  <Download aria-hidden="true" size={16} /> {as.toUpperCase()}
                </button>
              ))}
            </div>
          </li>
        ))}
      </ul>
      <div className="buttons">
        <button type="button" disabled={!able.enabled || busy} onClick={() => runCommand('exportSheets')}>
          <Archive aria-hidden="true" size={16} /> All sheets in one archive
        </button>
        <button type="button" disabled={!able.enabled || busy} onClick={() => runCommand('exportSheetPages')}>
          <Printer aria-hidden="true" size={16} /> Sheets as pages (PDF)
        </button>
      </div>
      {able.reason && !searching ? <p className="hint">{able.reason}</p> : null}
      <CutChoices />
    </Part>
  );
}
