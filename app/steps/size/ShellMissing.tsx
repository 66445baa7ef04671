import { runCommand } from '../../commands';
import { useSession } from '../../document';
import { DoubtfulShell } from '../DoubtfulShell';
import { useDecisions, useResults } from '../useWork';

/** Why the shell does not measure the girth, and what would change that. */
export function ShellMissing() {
  const { shell: choice } = useDecisions();
  const { shell } = useResults();
  const busy = useSession((s) => s.stale);
  if (!choice.foldUp)
    return (
      <div className="ask">
        <p>The pattern is not folded up, so there is no shell to measure.</p>
        <button type="button" onClick={() => runCommand('foldUp', { on: true })}>
          Fold it up
        </button>
      </div>
    );
  if (busy) return <p className="waiting">The girth is measured as soon as the pattern is folded up.</p>;
  if (shell?.quality === 'doubtful' && !choice.trustDoubtful) return <DoubtfulShell use="its girth" />;
  return (
    <p className="hint">
      There is no shell to measure{shell ? ' a brow on' : ': pair seams, or measure by hand'}.
    </p>
  );
}
