/** Thickness of the foam and the side that the paper stands for: decided once, shown in the Size and Foam steps. */
import { useState } from 'react';
import type { StandsFor } from '../../src/model';
import { formatLength } from '../../src/units';
import { Choice, LengthField, SelectField } from '../ui/fields';
import { decidePart, endMerge, useDecisions, useUnit } from './useWork';

/** Sheets that are commonly sold, mm. Common practice, no source. */
export const usualThicknesses: readonly number[] = [2, 3, 5, 6, 8, 10, 12];

export function ThicknessField() {
  const { foam } = useDecisions();
  const unit = useUnit();
  const [own, setOwn] = useState(false);
  const usual = usualThicknesses.includes(foam.thickness) && !own;
  return (
    <>
      <SelectField
        label="Foam thickness"
        value={usual ? String(foam.thickness) : 'own'}
        options={[
          ...usualThicknesses.map((t) => ({
            value: String(t),
            label: unit === 'mm' ? `${t} mm` : `${t} mm (${formatLength(t, 'in')})`,
          })),
          { value: 'own', label: 'Another thickness' },
        ]}
        onChange={(value) => {
          setOwn(value === 'own');
          if (value !== 'own') decidePart('foam', `${value} mm foam`, { thickness: Number(value) });
        }}
      />
      {usual ? null : (
        <LengthField
          label="Thickness of the sheet"
          unit={unit}
          fine
          min={0.2}
          max={100}
          value={foam.thickness}
          onCommit={(thickness, live) =>
            decidePart('foam', 'Foam thickness', { thickness }, { key: 'foam.thickness', live })
          }
          onSettle={endMerge}
        />
      )}
    </>
  );
}

const standsForWords: Readonly<Record<StandsFor, string>> = {
  outside: 'outside',
  middle: 'middle',
  inside: 'inside',
};

export function StandsForChoice() {
  const { foam } = useDecisions();
  return (
    <div className="with-sketch">
      <Choice<StandsFor>
        legend="The paper stands for the foam’s"
        value={foam.standsFor}
        options={(['outside', 'middle', 'inside'] as const).map((value) => ({
          value,
          label: standsForWords[value],
        }))}
        onChange={(standsFor) =>
          decidePart('foam', `Paper stands for the ${standsForWords[standsFor]}`, { standsFor })
        }
      />
      <SideSketch side={foam.standsFor} />
    </div>
  );
}

/** A bent strip of foam with the paper drawn as a dashed line where it is taken to be. */
function SideSketch({ side }: { readonly side: StandsFor }) {
  const radius = { outside: 46, middle: 39, inside: 32 }[side];
  return (
    <svg className="side-sketch" viewBox="0 0 108 56" width="108" height="56" aria-hidden="true">
      <path d="M8 54a46 46 0 0 1 92 0h-14a32 32 0 0 0-64 0z" className="sketch-foam" />
      <path d={`M${54 - radius} 54a${radius} ${radius} 0 0 1 ${2 * radius} 0`} className="sketch-paper" />
    </svg>
  );
}
