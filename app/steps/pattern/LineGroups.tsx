import type { StyleGroup } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { roleLabels, runCommand } from '../../commands';
import { SelectField } from '../../ui/fields';
import { ShowButton } from '../ShowButton';
import { useUnit } from '../useWork';
import { roleOptions } from './roles';

/** Lines that share a look, each group with its role. */
export function LineGroups({ groups }: { readonly groups: readonly StyleGroup[] }) {
  const unit = useUnit();
  if (groups.length === 0) return <p className="hint">The drawing has no visible lines.</p>;
  return (
    <ul className="groups">
      {groups.map((group) => (
        <li key={group.key} className="group">
          <div className="group-look">
            <LineSample dash={group.dash} width={group.strokeWidth} />
            <span className="group-label">
              {group.stroke ? (
                <span className="swatch" style={{ background: group.stroke }} aria-hidden="true" />
              ) : null}
              {group.label}
            </span>
            <span className="hint">
              {group.count} × · {formatLength(group.totalLength, unit, { decimals: unit === 'mm' ? 0 : 1 })}
            </span>
            <ShowButton ids={[group.sampleLine]} what={`one line of “${group.label}”`} />
          </div>
          <SelectField
            label={`Role of ${group.label}`}
            labelHidden
            value={group.role}
            options={roleOptions}
            hint={
              group.role === group.proposed
                ? group.reason
                : `Proposed: ${roleLabels[group.proposed].toLowerCase()}. ${group.reason}`
            }
            onChange={(role) =>
              runCommand('setGroupRole', { group: group.key, role: role === group.proposed ? null : role })
            }
          />
        </li>
      ))}
    </ul>
  );
}

/** The look of a line, twice as large as life so that thin dashes can be told apart. */
function LineSample({ dash, width }: { readonly dash: readonly number[]; readonly width: number }) {
  const enlarge = 2;
  return (
    <svg className="line-sample" viewBox="0 0 56 12" width="56" height="12" aria-hidden="true">
      <line
        x1="1"
        x2="55"
        y1="6"
        y2="6"
        stroke="currentColor"
        strokeWidth={Math.min(6, Math.max(0.6, width * enlarge * 1.5))}
        strokeDasharray={dash.map((d) => Math.max(0.8, d * enlarge)).join(' ')}
      />
    </svg>
  );
}
