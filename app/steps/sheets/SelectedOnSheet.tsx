import { Lock, LockOpen, RotateCcw, RotateCw } from 'lucide-react';
import { useShallow } from 'zustand/react/shallow';
import { placementKey, type SheetPlan } from '../../../src/model';
import { describeCommand, runCommand, selectedPlacements } from '../../commands';
import { useSession } from '../../document';
import { AngleField, LengthField, SelectField } from '../../ui/fields';
import { Part } from '../Sheet';
import { endMerge, useShown, useUnit } from '../useWork';
import { placeWords } from './sheetRows';

/** Where the selected panels lie, to be moved, turned and locked by figures; said aloud as well whenever it changes. */
export function SelectedOnSheet({ plan }: { readonly plan: SheetPlan }) {
  const chosen = useSession(useShallow(selectedPlacements));
  const unit = useUnit();
  const { foam } = useShown();
  const keys = chosen.map(placementKey);
  const own = plan.sheets.flatMap((s) => s.placements).find((p) => keys.includes(placementKey(p.laid ?? p)));
  const name = foam?.panels.find((p) => p.id === own?.panel)?.name ?? '';
  return (
    <>
      <p className="unseen" role="status">
        {placeWords(chosen, name, unit)}
      </p>
      <ByFigures plan={plan} />
    </>
  );
}

function ByFigures({ plan }: { readonly plan: SheetPlan }) {
  const chosen = useSession(useShallow(selectedPlacements));
  const lock = useSession((s) => describeCommand('lockPanels', s).label);
  const unit = useUnit();
  const first = chosen[0];
  if (!first)
    return (
      <p className="hint">
        Select a panel on the bench to move, turn or lock it: drag it, or use the arrow keys, Q and E, and L.
      </p>
    );
  const keys = chosen.map(placementKey);
  const only = chosen.length === 1 ? first : null;
  const names = plan.sheets.flatMap((s) =>
    s.placements.filter((p) => keys.includes(placementKey(p.laid ?? p))).map((p) => p.panel),
  );
  const on = (sheet: string, copy: number) => `${sheet}#${copy}`;
  const move = (change: Parameters<typeof runCommand<'moveOnSheet'>>[1], live: boolean) =>
    runCommand('moveOnSheet', { ...change!, ...(live ? { merge: `move ${keys.join()}` } : {}) });
  const Icon = chosen.every((p) => p.locked) ? LockOpen : Lock;
  return (
    <Part title={only ? 'The selected panel' : `The ${names.length} selected panels`}>
      {only ? (
        <>
          <div className="row">
            <LengthField
              label="Middle, from the left"
              unit={unit}
              fine
              value={only.x}
              onCommit={(x, live) => move({ keys, to: { x } }, live)}
              onSettle={endMerge}
            />
            <LengthField
              label="Middle, from below"
              unit={unit}
              fine
              value={only.y}
              onCommit={(y, live) => move({ keys, to: { y } }, live)}
              onSettle={endMerge}
            />
          </div>
          <AngleField
            label="Turned"
            value={only.turn}
            onCommit={(turn, live) => move({ keys, turn }, live)}
            onSettle={endMerge}
          />
          <SelectField
            label="On"
            value={on(only.sheet, only.sheetCopy)}
            options={plan.sheets.map((s) => ({ value: on(s.stock ?? '', s.copy ?? 0), label: s.name }))}
            onChange={(value) => {
              const sheet = plan.sheets.find((s) => on(s.stock ?? '', s.copy ?? 0) === value);
              if (sheet)
                move({ keys, sheet: { sheet: sheet.stock ?? '', sheetCopy: sheet.copy ?? 0 } }, false);
            }}
          />
        </>
      ) : null}
      <div className="buttons">
        <button type="button" onClick={() => runCommand('lockPanels')}>
          <Icon aria-hidden="true" size={16} /> {lock}
        </button>
        <button type="button" onClick={() => runCommand('turnLeft')}>
          <RotateCcw aria-hidden="true" size={16} /> Turn left
        </button>
        <button type="button" onClick={() => runCommand('turnRight')}>
          <RotateCw aria-hidden="true" size={16} /> Turn right
        </button>
      </div>
      <p className="hint">
        {chosen.every((p) => p.locked)
          ? 'Locked: the next search leaves it where it is.'
          : 'Free: the next search may move it. What you move by hand is locked.'}
      </p>
    </Part>
  );
}
