import { X } from 'lucide-react';
import type { PanelEdit, Recut } from '../../../src/model';
import { runCommand } from '../../commands';
import { Folded } from '../../ui/parts';
import { counted } from '../names';
import { useResults } from '../useWork';
import { editRows } from './editRows';

/** Every edit in order, each with its way out. */
export function Edits({
  edits,
  recut,
}: {
  readonly edits: readonly PanelEdit[];
  readonly recut: Recut | null;
}) {
  const { foam } = useResults();
  const rows = editRows(edits, recut, foam?.stuckEdits);
  if (edits.length === 0) return null;
  const stuck = rows.filter((row) => row.stuck).length;
  return (
    <Folded
      title="What was done"
      value={`${counted(rows.length, 'edit')}${stuck > 0 ? `, ${stuck} not possible now` : ''}`}
    >
      <ol className="rows rows-tight">
        {rows.map((row, i) => (
          <li key={row.id} className="row">
            <span>
              {i + 1}. {row.words}
              {row.stuck ? ' (not possible now)' : ''}
            </span>
            <button
              type="button"
              className="icon-button"
              title="Take this edit out"
              aria-label={`Take edit ${i + 1} out: ${row.words}`}
              onClick={() => runCommand('takeOutEdit', { edit: row.id })}
            >
              <X aria-hidden="true" size={16} />
            </button>
          </li>
        ))}
      </ol>
    </Folded>
  );
}
