import { runCommand } from '../commands';
import { useDecisions, useResults } from './useWork';

/** A shell that folds up doubtfully is only used on the person's word. */
export function DoubtfulShell({ use }: { readonly use: string }) {
  const { shell } = useResults();
  const { trustDoubtful } = useDecisions().shell;
  if (shell?.quality !== 'doubtful') return null;
  const trouble = shell.issues.find((issue) => issue.severity === 'error' || issue.severity === 'warning');
  return (
    <div className="ask" role="status">
      <p>
        {trustDoubtful
          ? `The shell folds up doubtfully; ${use} is taken all the same, on your word.`
          : `The shell folds up doubtfully, so ${use} is not taken.`}
        {trouble ? ` ${trouble.message}` : ''} The findings say where to look.
      </p>
      <button type="button" onClick={() => runCommand('trustDoubtful', { trust: !trustDoubtful })}>
        {trustDoubtful ? 'Do not take it' : 'Take it anyway'}
      </button>
    </div>
  );
}
