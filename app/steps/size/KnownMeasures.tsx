import { X } from 'lucide-react';
import type { KnownResult } from '../../../src/model';
import { degrees, formatLength } from '../../../src/units';
import { runCommand } from '../../commands';
import { Toggle } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { counted, nameEdges, nameFolds } from '../names';
import { ShowButton } from '../ShowButton';
import { useDecisions, useResults, useUnit } from '../useWork';
import { KnownDistanceForm } from './KnownDistanceForm';
import { KnownGirthForm } from './KnownGirthForm';

/** Degrees as a known bend is shown. */
const angle = (rad: number) => `${Math.round(degrees(rad) * 10) / 10}°`;

/** What the person knows of the folded shell: it holds what the flat lengths leave free. */
export function KnownMeasures() {
  const { shell: choice } = useDecisions();
  const { pattern, shell } = useResults();
  const unit = useUnit();
  const edges = nameEdges(pattern);
  const folds = nameFolds(pattern);
  const known = shell?.known ?? [];
  const ofKind = (kind: KnownResult['kind']) => known.filter((k) => k.kind === kind);
  const length = (mm: number) => formatLength(mm, unit);
  const outcome = (result: KnownResult | undefined, write: (v: number) => string) =>
    result === undefined
      ? ''
      : Number.isNaN(result.got)
        ? 'the shell has no such place'
        : `folds up to ${write(result.got)}, ${write(Math.abs(result.got - result.wanted))} off`;
  const endName = ({ edge, end }: { edge: string; end: 'start' | 'end' }) =>
    `${end} of ${edges.get(edge)?.name ?? '?'}`;
  const count = choice.distances.length + choice.girths.length + ofKind('bend').length;
  const rows = [
    ...choice.distances.map((d, index) => ({
      key: `distance ${d.from.edge} ${d.from.end} ${d.to.edge} ${d.to.end}`,
      what: `From ${endName(d.from)} to ${endName(d.to)}: ${length(d.length)}`,
      got: outcome(ofKind('distance')[index], length),
      ids: [d.from.edge, d.to.edge],
      forget: () => runCommand('forgetKnown', { kind: 'distance', index }),
    })),
    ...choice.girths.map((g, index) => ({
      key: `girth ${g.at} ${g.tilt}`,
      what: `Girth at ${Math.round(g.at * 1000) / 10} %, tilt ${angle(g.tilt)}: ${length(g.girth)}`,
      got: outcome(ofKind('girth')[index], length),
      ids: [],
      forget: () => runCommand('forgetKnown', { kind: 'girth', index }),
    })),
    ...ofKind('bend').map((result) => ({
      key: `bend ${result.ids.join(' ')}`,
      what: `Bend of ${folds.get(result.ids[0] ?? '') ?? 'a seam'}: ${angle(result.wanted)}, typed in Foam`,
      got: outcome(result, angle),
      ids: result.ids,
      forget: () => runCommand('setBend', { angle: null, ids: result.ids }),
    })),
  ];
  return (
    <Folded
      title="What you know of the shell"
      value={`${count === 0 ? 'nothing yet' : counted(count, 'measure')}${shell ? `, ${freeWords(shell.flexes)}` : ''}`}
    >
      <div className="stack">
        <p className="hint">
          Flat lengths alone can leave a shell free to flex. A distance across an opening, a girth, or a bend
          that you know holds it. All are measured at the drawing’s own size, before scaling.
        </p>
        {rows.length > 0 ? (
          <ul className="rows" aria-label="Known measures">
            {rows.map((row) => (
              <li key={row.key} className="row">
                <span>
                  {row.what}
                  {row.got ? <small className="hint">{row.got}</small> : null}
                </span>
                <span className="row-end">
                  {row.ids.length > 0 ? <ShowButton ids={row.ids} what={row.what} /> : null}
                  <button
                    type="button"
                    className="icon-button"
                    aria-label={`Forget: ${row.what}`}
                    title="Forget"
                    onClick={row.forget}
                  >
                    <X aria-hidden="true" size={16} />
                  </button>
                </span>
              </li>
            ))}
          </ul>
        ) : null}
        <KnownDistanceForm edges={edges} />
        <KnownGirthForm />
        <Toggle
          label="Keep both sides mirror images"
          hint="Where the flat pattern has two like sides, the shell keeps them alike."
          checked={choice.symmetry}
          onChange={(on) => runCommand('keepSymmetry', { on })}
        />
        <Toggle
          label="Fold the pattern up"
          hint="Off: bends are typed, and the girth is measured on the drawing."
          checked={choice.foldUp}
          onChange={(on) => runCommand('foldUp', { on })}
        />
      </div>
    </Folded>
  );
}

const freeWords = (flexes: number): string =>
  flexes === 0 ? 'no free motion' : counted(flexes, 'free motion');
