import { useState } from 'react';
import { formatLength } from '../../../src/units';
import { runCommand } from '../../commands';
import { AngleField, LengthField, NumberField } from '../../ui/fields';
import { useResults, useUnit } from '../useWork';
import { Formed } from './KnownDistanceForm';

/** A taut girth of a section, at the brow's height and tilt unless others are given. */
export function KnownGirthForm() {
  const brow = useResults().fit?.shell?.brow ?? null;
  const unit = useUnit();
  const [at, setAt] = useState<number | null>(null);
  const [tilt, setTilt] = useState<number | null>(null);
  const height = at ?? brow?.at ?? 0.5;
  const lean = tilt ?? brow?.tilt ?? 0;
  const atBrow = brow !== null && height === brow.at && lean === brow.tilt;
  return (
    <Formed title="Add a girth">
      <div className="pairs">
        <NumberField
          label="Height of the section"
          kind="percent"
          by={0.01}
          min={0}
          max={1}
          value={height}
          onCommit={setAt}
        />
        <AngleField
          label="Tilt of the section"
          min={-Math.PI / 3}
          max={Math.PI / 3}
          value={lean}
          onCommit={setTilt}
        />
      </div>
      <LengthField
        label="Girth there, tape pulled tight"
        unit={unit}
        min={1}
        value={null}
        hint={
          atBrow
            ? `Now ${formatLength(brow.tautGirth, unit)} at the brow. Press Enter to add it.`
            : 'Press Enter to add it.'
        }
        onCommit={(girth, live) => {
          if (!live) runCommand('knowGirth', { at: height, tilt: lean, girth });
        }}
      />
    </Formed>
  );
}
