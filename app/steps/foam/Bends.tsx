import { useShallow } from 'zustand/react/shallow';
import type { BendSource, FoamResult, Pattern, Seams } from '../../../src/model';
import { type BendRole, runCommand, selectedBends } from '../../commands';
import { useSession } from '../../document';
import { AngleField, angleText } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { nameFolds } from '../names';
import { Part } from '../Sheet';
import { ShowButton, showOnBench } from '../ShowButton';
import { endMerge, useDecisions } from '../useWork';
import { bendInForce, countBends, nameFoamRows } from './foamRows';

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
  const folds = pattern.pieces.flatMap((piece) => piece.folds).filter((fold) => !fold.plain);
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
  const inForce = foam && selected.length === 1 ? bendInForce(foam, selected[0] ?? '') : null;
  const offered = inForce
    ? `${angleText(inForce.bend)} ${sourceWords[inForce.from]}`
    : selected.length > 1
      ? 'each its own'
      : null;
  return (
    <Part title="Bend angles">
      {foam ? <BendSources foam={foam} typed={Object.keys(bends)} /> : null}
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
          placeholder={angles.size > 1 ? 'several' : (offered ?? 'not set')}
          hint={
            common === null
              ? 'What you type goes before the shell and before the angle of its kind.'
              : 'Typed by you. Empty it to take the shell’s, or that of its kind.'
          }
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

/** Where a bend in force is from, after its angle. */
const sourceWords: Readonly<Record<BendSource, string>> = {
  typed: 'as typed',
  shell: 'by the shell',
  file: 'by the file',
  kind: 'by its kind',
};

/** Where the bends in force are from, and typed ones given back. */
function BendSources({ foam, typed }: { readonly foam: FoamResult; readonly typed: readonly string[] }) {
  const counts = countBends(foam);
  const said = [
    counts.shell > 0 ? `${counts.shell} from the folded shell` : '',
    counts.typed > 0 ? `${counts.typed} typed` : '',
    counts.file > 0 ? `${counts.file} given by the file` : '',
    counts.kind > 0 ? `${counts.kind} by their kind` : '',
    counts.unset > 0 ? `${counts.unset} not set` : '',
  ].filter((part) => part !== '');
  if (said.length === 0) return null;
  return (
    <div className="row">
      <span aria-live="polite">Bends: {said.join(', ')}.</span>
      {typed.length > 0 ? (
        <button type="button" onClick={() => runCommand('setBend', { angle: null, ids: typed })}>
          Give typed ones back
        </button>
      ) : null}
    </div>
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
