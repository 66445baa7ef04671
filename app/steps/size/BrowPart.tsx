import type { ShellFit } from '../../../src/model';
import { describeCommand, runCommand } from '../../commands';
import { useSession } from '../../document';
import { AngleField, NumberField } from '../../ui/fields';
import { Figures, Folded } from '../../ui/parts';
import { Part } from '../Sheet';
import { endMerge, useDecisions, useResults, useUnit } from '../useWork';
import { GirthByHand } from './GirthByHand';
import { ShellMissing } from './ShellMissing';
import { browFigures } from './sizeFigures';

/** Steepest tilt of the brow plane, as its command allows. */
const steepest = Math.PI / 3;

/** Where the head sits in the pattern: measured on the folded shell, or by hand. */
export function BrowPart() {
  const { fit } = useDecisions();
  const { fit: result } = useResults();
  const byHand = fit.girth.kind !== 'none';
  const onShell = result?.shell ?? null;
  return (
    <Part title="Pattern’s girth">
      {byHand ? <GirthByHand /> : onShell ? <BrowOnShell shell={onShell} /> : <ShellMissing />}
      {byHand && onShell ? (
        <button type="button" onClick={() => runCommand('clearGirth')}>
          Measure it on the shell instead
        </button>
      ) : null}
      {byHand ? null : onShell ? (
        <Folded title="Measure by hand" value="instead of the shell">
          <GirthByHand />
        </Folded>
      ) : (
        <GirthByHand />
      )}
    </Part>
  );
}

function BrowOnShell({ shell }: { readonly shell: ShellFit }) {
  const unit = useUnit();
  const { brow } = shell;
  const again = useSession((s) => describeCommand('proposeBrow', s).enabled);
  return (
    <>
      <Figures label="Brow of the shell" items={browFigures(shell, unit)} />
      <div className="pairs">
        <NumberField
          label="Height of the brow"
          kind="percent"
          by={0.01}
          min={0}
          max={1}
          value={brow.at}
          onCommit={(at, live) => runCommand('setBrow', { at, ...(live ? { merge: 'brow.at' } : {}) })}
          onSettle={endMerge}
        />
        <AngleField
          label="Tilt of the brow"
          min={-steepest}
          max={steepest}
          value={brow.tilt}
          onCommit={(tilt, live) => runCommand('setBrow', { tilt, ...(live ? { merge: 'brow.tilt' } : {}) })}
          onSettle={endMerge}
        />
      </div>
      <p className="hint">
        The head sits here: 0 % is the lowest point of the shell, 100 % the highest; a tilt above 0 is higher
        in front. {brow.proposed ? 'Proposed from the shell.' : 'Set by you.'}
      </p>
      {again ? (
        <button type="button" onClick={() => runCommand('proposeBrow')}>
          Propose again
        </button>
      ) : null}
    </>
  );
}
