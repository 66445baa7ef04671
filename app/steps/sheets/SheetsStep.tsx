import { Layers, Square } from 'lucide-react';
import { useShallow } from 'zustand/react/shallow';
import type { SheetPlan } from '../../../src/model';
import { describeCommand, runCommand, shownSheets } from '../../commands';
import { useSession } from '../../document';
import { CautionNote, Figures } from '../../ui/parts';
import { Sheet } from '../Sheet';
import { useShown } from '../useWork';
import { DrawOffcut } from './DrawOffcut';
import { LyingRules, Searching } from './LyingRules';
import { PanelRules } from './PanelRules';
import { SelectedOnSheet } from './SelectedOnSheet';
import { SheetList } from './SheetList';
import { Stock } from './Stock';
import { stateWords } from './sheetRows';

/** Panels on sheets of foam. */
export function SheetsStep() {
  const { foam } = useShown();
  const plan = useSession(shownSheets);
  const nesting = useSession((s) => s.nesting);
  const nest = useSession(useShallow((s) => describeCommand('nestPanels', s)));
  const laid = useSession((s) => s.document?.decisions.sheets.laid != null);
  const searching = nesting !== null && nesting.ended === null;
  return (
    <Sheet
      title="Sheets"
      about="Lay the panels on sheets of foam with little waste, and make files for a cutter. For paper patterns go on to Pages."
      actions={
        <>
          {searching ? (
            <progress className="bar" value={nesting.fraction} max={1} aria-label="Time of the search" />
          ) : null}
          {/* One button all the time, never `disabled`: who pressed it keeps the focus. */}
          <button
            type="button"
            className="main-action"
            aria-disabled={!searching && !nest.enabled}
            onClick={() => runCommand(searching ? 'stopNesting' : 'nestPanels')}
          >
            {searching ? <Square aria-hidden="true" size={16} /> : <Layers aria-hidden="true" size={16} />}{' '}
            {searching ? 'Stop and take this' : nest.label}
          </button>
          {!searching && nest.reason ? <p className="hint">{nest.reason}</p> : null}
        </>
      }
    >
      <DrawOffcut />
      {plan ? <SheetFigures plan={plan} /> : null}
      <p className="hint" role="status">
        {stateWords(plan, nesting, laid)}
      </p>
      {plan && !searching ? <SelectedOnSheet plan={plan} /> : null}
      {plan ? <SheetList plan={plan} searching={searching} /> : null}
      {foam ? <Stock panels={foam.panels} /> : <p className="waiting">The sheets follow from the panels.</p>}
      <LyingRules />
      {foam ? <PanelRules panels={foam.panels} /> : null}
      <Searching />
      <CautionNote topics={['blade', 'machine']} />
    </Sheet>
  );
}

function SheetFigures({ plan }: { readonly plan: SheetPlan }) {
  const placed = plan.sheets.reduce((n, s) => n + s.placements.length, 0);
  return (
    <Figures
      label="Sheets"
      items={[
        { label: 'Sheets', value: plan.sheets.length },
        {
          label: 'Filled',
          value: `${(plan.density * 100).toFixed(1)} %`,
          note: 'up to where the last one is used',
        },
        {
          label: 'Panels',
          value: placed,
          ...(plan.left.length > 0
            ? { note: `${plan.left.length} without a place`, look: true }
            : { note: 'all have a place' }),
        },
      ]}
    />
  );
}
