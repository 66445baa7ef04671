import { X } from 'lucide-react';
import { useMemo } from 'react';
import { type Dart, dartsOf } from '../../../src/panels';
import { formatLength } from '../../../src/units';
import { runCommand } from '../../commands';
import { LengthField, Toggle } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { counted } from '../names';
import { ShowButton } from '../ShowButton';
import { endMerge, useResults, useUnit } from '../useWork';

/** Every dart and slit with its width in foam; those placed by hand can be made wider or narrower. */
export function Darts() {
  const { foam, recut } = useResults();
  const darts = useMemo(() => (foam && recut ? dartsOf(foam.panels, recut.seams) : []), [foam, recut]);
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

function DartRow({ dart, panel }: { readonly dart: Dart; readonly panel: string }) {
  const unit = useUnit();
  const { edit, asked } = dart;
  const width = formatLength(dart.width, unit, { decimals: 1 });
  const length = formatLength(dart.length, unit, { decimals: 0 });
  return (
    <li>
      <div className="row">
        <span>
          Seam {dart.number} in {panel}: {width} wide, {length} long
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
