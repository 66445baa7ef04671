import { FileDown } from 'lucide-react';
import { useState } from 'react';
import { neutralRatioFrom, sidesFor, squeezeFrom, testStrip } from '../../../src/extras';
import { formatLength } from '../../../src/units';
import { describeCommand, runCommand } from '../../commands';
import { session } from '../../document';
import { LengthField } from '../../ui/fields';
import { CautionNote, Folded } from '../../ui/parts';
import { decidePart, useDecisions, useUnit } from '../useWork';

/** A strip and a corner of the maker's own foam, bent and measured: gives K and the squeeze. */
export function BendTest() {
  const { foam } = useDecisions();
  const unit = useUnit();
  const [refusal, setRefusal] = useState<string | null>(null);
  const { sides, wedge } = foam.bendTest;
  const done = sides !== null || wedge !== null;
  const value = done
    ? `K ${round(foam.neutralRatio)}, squeeze ${formatLength(foam.squeeze, unit)}`
    : 'not done';
  const length = (mm: number) => formatLength(mm, unit, { decimals: unit === 'mm' ? 1 : 2 });
  return (
    <Folded title="Bend test" value={value}>
      <p className="hint">
        Foams differ in how they bend. Print the test, cut and bend it from your foam, and type what you
        measure.
      </p>
      <CautionNote topics={['blade', 'heat']} label="Cautions for the bend test" />
      <button
        type="button"
        title={describeCommand('exportBendTest', session.getState()).label}
        onClick={() => runCommand('exportBendTest')}
      >
        <FileDown aria-hidden="true" size={16} /> Print the bend test
      </button>
      <LengthField
        label="Both outer sides of the strip"
        unit={unit}
        decimals={unit === 'mm' ? 1 : 3}
        fine
        min={50}
        max={400}
        value={sides}
        hint={`A strip of ${length(testStrip.length)}, bent to 90°. K 0.5 would give ${length(sidesFor(0.5, foam))}.`}
        onCommit={(measured) => {
          const found = neutralRatioFrom(measured, foam);
          setRefusal(found.ok ? null : (found.issues[0]?.message ?? null));
          if (found.ok)
            decidePart('foam', 'K from the bend test', {
              neutralRatio: round(found.value),
              bendTest: { sides: measured, wedge },
            });
        }}
      />
      <LengthField
        label="Open wedge of the square corner"
        unit={unit}
        decimals={unit === 'mm' ? 1 : 3}
        fine
        min={0}
        max={100}
        value={wedge}
        hint={`Foam that is not squeezed leaves ${length(foam.thickness * Math.SQRT2)}. Square seams are cut longer by what yours gives.`}
        onCommit={(measured) => {
          const found = squeezeFrom(measured, foam);
          setRefusal(found.ok ? null : (found.issues[0]?.message ?? null));
          if (found.ok)
            decidePart('foam', 'Squeeze from the bend test', {
              squeeze: Math.round(found.value * 100) / 100,
              bendTest: { sides, wedge: measured },
            });
        }}
      />
      <p role="status">{refusal}</p>
      {done ? (
        <button
          type="button"
          onClick={() =>
            decidePart('foam', 'Forget the bend test', {
              neutralRatio: 0.5,
              squeeze: 0,
              bendTest: { sides: null, wedge: null },
            })
          }
        >
          Forget the bend test: K 0.5, no squeeze
        </button>
      ) : null}
    </Folded>
  );
}

const round = (ratio: number): number => Math.round(ratio * 1000) / 1000;
