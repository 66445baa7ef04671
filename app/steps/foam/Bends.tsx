import { useShallow } from 'zustand/react/shallow';
import type { FoamResult, Pattern, Seams } from '../../../src/model';
import { type BendRole, runCommand, selectedBends } from '../../commands';
import { useSession } from '../../document';
import { AngleField } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { nameFolds } from '../names';
import { Part } from '../Sheet';
import { ShowButton, showOnBench } from '../ShowButton';
import { endMerge, useDecisions } from '../useWork';
import { nameFoamRows } from './foamRows';

/** No bend goes further than back on itself. */
const most = Math.PI;

interface BendsProps {
  readonly pattern: Pattern;
  readonly seams: Seams | null;
  readonly foam: FoamResult | null;
}

/** Bend angles: for whole kinds, for the selection, and what is not set. */
export function Bends({ pattern, seams, foam }: BendsProps) {
  const decisions = useDecisions();
  const selected = useSession(useShallow(selectedBends));
  const { bends, roleBends } = decisions.foam;
  const folds = pattern.pieces.flatMap((piece) => piece.folds);
  const count = (role: 'mountain' | 'valley' | 'unknown') =>
    folds.filter((fold) => fold.role === role).length;
  const kinds: readonly { readonly role: BendRole; readonly label: string; readonly n: number }[] = [
    { role: 'mountain', label: 'Mountain folds', n: count('mountain') },
    { role: 'valley', label: 'Valley folds', n: count('valley') },
    { role: 'unknown', label: 'Folds, direction unknown', n: count('unknown') },
    { role: 'seam', label: 'Seams', n: seams?.seams.length ?? 0 },
  ];
  const angles = new Set(selected.map((id) => bends[id] ?? null));
  const [only] = angles;
  const common = angles.size === 1 && only !== undefined ? only : null;
  return (
    <Part title="Bend angles">
      <p className="hint">
        How far from flat, in degrees: 90 is a square corner. Plus bulges outwards, minus is a groove seen
        from outside.
      </p>
      <div className="pairs">
        {kinds
          .filter((kind) => kind.n > 0)
          .map((kind) => (
            <AngleField
              key={kind.role}
              label={`${kind.label} (${kind.n})`}
              value={roleBends[kind.role]}
              min={-most}
              max={most}
              placeholder="not set"
              onCommit={(angle, live) =>
                runCommand('setRoleBend', {
                  role: kind.role,
                  angle,
                  ...(live ? { merge: `bend.${kind.role}` } : {}),
                })
              }
              onClear={() => runCommand('setRoleBend', { role: kind.role, angle: null })}
              onSettle={endMerge}
            />
          ))}
      </div>
      {selected.length > 0 ? (
        <AngleField
          label={selected.length === 1 ? 'The selected bend' : `The ${selected.length} selected bends`}
          value={common}
          min={-most}
          max={most}
          placeholder={angles.size > 1 ? 'several' : 'as its kind'}
          hint="Goes before the angle of its kind. Empty it to go back to that."
          onCommit={(angle, live) =>
            runCommand('setBend', {
              angle,
              ids: selected,
              ...(live ? { merge: `bend ${selected.join(' ')}` } : {}),
            })
          }
          onClear={() => runCommand('setBend', { angle: null, ids: selected })}
          onSettle={endMerge}
        />
      ) : (
        <p className="hint">Select folds or seams on the bench to give them their own angle.</p>
      )}
      {foam && foam.unsetBends.length > 0 ? <UnsetBends pattern={pattern} seams={seams} foam={foam} /> : null}
    </Part>
  );
}

function UnsetBends({
  pattern,
  seams,
  foam,
}: {
  readonly pattern: Pattern;
  readonly seams: Seams | null;
  readonly foam: FoamResult;
}) {
  const folds = nameFolds(pattern);
  const rows = new Map(nameFoamRows(foam, seams).map((row) => [row.seam, `seam ${row.name}`]));
  const unset = foam.unsetBends;
  return (
    <Folded title="Bends not set: they count as flat" value={String(unset.length)}>
      <button type="button" onClick={() => showOnBench(unset)}>
        Select all {unset.length}
      </button>
      <ul className="rows rows-tight">
        {unset.map((id) => {
          const name = folds.get(id) ?? rows.get(id) ?? 'a bend';
          return (
            <li key={id} className="row">
              <span>{name}</span>
              <ShowButton ids={[id]} what={name} />
            </li>
          );
        })}
      </ul>
    </Folded>
  );
}
