import { polylineLength } from '../../../src/math';
import type { Drawing, LineRole, Pattern } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { runCommand } from '../../commands';
import { useSession } from '../../document';
import { SelectField } from '../../ui/fields';
import { counted } from '../names';
import { Part } from '../Sheet';
import { useDecisions, useUnit } from '../useWork';
import { roleOptions } from './roles';

interface SelectedLinesProps {
  readonly drawing: Drawing;
  readonly pattern: Pattern;
}

/** The role of single lines, where they differ from their group. */
export function SelectedLines({ drawing, pattern }: SelectedLinesProps) {
  const selection = useSession((s) => s.selection);
  const unit = useUnit();
  const { reading } = useDecisions();
  const lines = drawing.lines.filter((line) => selection.includes(line.id));
  const first = lines[0];
  if (!first) return null;
  const roles = new Set(lines.map((line) => pattern.roleOfLine[line.id] ?? 'ignore'));
  const [role] = roles;
  const own = lines.filter((line) => line.id in reading.lineRoles);
  const chord = polylineLength([first.start, ...first.segments.map((segment) => segment.to)]);
  return (
    <Part title={lines.length === 1 ? 'Selected line' : `Selected: ${counted(lines.length, 'line')}`}>
      {lines.length === 1 ? (
        <p className="hint">
          {first.segments.some((s) => s.kind === 'cubic') ? 'Curved line, corner to corner' : 'Line'}{' '}
          {formatLength(chord, unit)}
          {first.elementId ? `, named “${first.elementId}” in the file` : ''}
        </p>
      ) : null}
      <SelectField<LineRole | ''>
        label="Role of the selected lines"
        labelHidden
        value={roles.size === 1 && role ? role : ''}
        options={
          roles.size === 1
            ? roleOptions
            : [{ value: '', label: 'Several roles', disabled: true }, ...roleOptions]
        }
        onChange={(chosen) => {
          if (chosen !== '') runCommand('setLineRole', { lines: lines.map((line) => line.id), role: chosen });
        }}
      />
      {own.length > 0 ? (
        <button
          type="button"
          className="quiet"
          onClick={() => runCommand('setLineRole', { lines: own.map((line) => line.id), role: null })}
        >
          Back to the role of {own.length === 1 ? 'its group' : 'their groups'}
        </button>
      ) : null}
    </Part>
  );
}
