import { X } from 'lucide-react';
import { useMemo } from 'react';
import { type Dart, dartsOf, loopsOfPiece } from '../../../src/panels';
import { formatLength } from '../../../src/units';
import { runCommand } from '../../commands';
import { LengthField, Toggle } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { counted } from '../names';
import { ShowButton } from '../ShowButton';
import { endMerge, useResults, useUnit } from '../useWork';

/** `closed`: it does not open, so that no edge of it is left on the finished outline. */
type ShownDart = Dart & { readonly closed?: true };

/** Every dart and slit with its width in foam; those placed by hand can be made wider or narrower. */
export function Darts() {
  const { foam, recut, fit } = useResults();
  const darts = useMemo(() => {
    if (!foam || !recut) return [];
    const finished = new Map(dartsOf(foam.panels, recut.seams).map((d) => [d.id, d]));
    const scale = fit?.scale ?? 1;
    return dartsOf(recut.pattern.pieces.map(loopsOfPiece), recut.seams).map(
      (d): ShownDart =>
        finished.get(d.id) ?? { ...d, length: d.length * scale, width: 0, mouth: 0, closed: true },
    );
  }, [foam, recut, fit]);
  if (darts.length === 0) return null;
  const names = new Map(foam?.panels.map((p) => [p.id, p.name]));
  return (
    <Folded title="Darts and slits" value={counted(darts.length, 'dart')}>
      <ul className="rows rows-tight" aria-label="Darts and slits">
        {darts.map((dart) => (
          <DartRow key={dart.id} dart={dart} panel={names.get(dart.panel) ?? dart.panel} />
        ))}
      </ul>
    </Folded>
  );
}

function DartRow({ dart, panel }: { readonly dart: ShownDart; readonly panel: string }) {
  const unit = useUnit();
  const { edit, asked } = dart;
  const width = formatLength(dart.width, unit, { decimals: 1 });
  const length = formatLength(dart.length, unit, { decimals: 0 });
  return (
    <li>
      <div className="row">
        <span>
          Seam {dart.number} in {panel}: {width} wide, {length} long
          {dart.closed
            ? '; it does not open, so the template shows no wedge: cut it along the marked line, or place a relief dart with a width'
            : ''}
          {dart.mouth < -0.05 ? '; it would lie on itself: split the panel there' : ''}
        </span>
        <ShowButton ids={dart.edges} what={`the dart of seam ${dart.number} in ${panel}`} />
        {edit === null ? null : (
          <button
            type="button"
            className="icon-button"
            title="Take this dart out"
            aria-label={`Take the dart of seam ${dart.number} out`}
            onClick={() => runCommand('takeOutEdit', { edit })}
          >
            <X aria-hidden="true" size={16} />
          </button>
        )}
      </div>
      {edit === null ? null : (
        <>
          <Toggle
            label={`Seam ${dart.number} as wide as the panel asks for`}
            checked={asked === null}
            onChange={(own) =>
              runCommand('setDartWidth', { edit, width: own ? null : Math.max(0.5, dart.width) })
            }
          />
          {asked === null ? null : (
            <LengthField
              label={`Width of the dart of seam ${dart.number}`}
              unit={unit}
              fine
              min={0.5}
              max={100}
              value={asked}
              onCommit={(w, live) =>
                runCommand('setDartWidth', { edit, width: w, ...(live ? { merge: `dart.${edit}` } : {}) })
              }
              onSettle={endMerge}
            />
          )}
        </>
      )}
    </li>
  );
}
