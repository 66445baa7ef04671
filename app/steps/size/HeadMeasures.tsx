import type { FitDecisions } from '../../../src/model';
import { LengthField } from '../../ui/fields';
import { decidePart, endMerge, useDecisions, useUnit } from '../useWork';

type Measure = keyof FitDecisions['measures'];

/** No head has a diameter outside these, mm; the fit itself says when a value is unusual. */
const range: Readonly<Record<Measure, readonly [number, number]>> = {
  length: [60, 400],
  breadth: [50, 350],
  height: [40, 300],
};

const fields: readonly { readonly measure: Measure; readonly label: string; readonly hint: string }[] = [
  {
    measure: 'length',
    label: 'Head length',
    hint: 'Calliper from between the brows to the farthest place at the back. Without one: head between wall and a book, measure to the brow.',
  },
  {
    measure: 'breadth',
    label: 'Head breadth',
    hint: 'Calliper across the widest place above the ears, or two books upright at the sides.',
  },
  {
    measure: 'height',
    label: 'Brow to crown',
    hint: 'A book level on the crown, a ruler beside the head: from the brow line up to the book.',
  },
];

/** Length, breadth and height of the head; each may be left out. */
export function HeadMeasures() {
  const { fit } = useDecisions();
  const unit = useUnit();
  return (
    <>
      {fields.map(({ measure, label, hint }) => {
        const set = (value: number | null) => (old: FitDecisions) => ({
          ...old,
          measures: { ...old.measures, [measure]: value },
        });
        return (
          <LengthField
            key={measure}
            label={label}
            unit={unit}
            min={range[measure][0]}
            max={range[measure][1]}
            value={fit.measures[measure]}
            placeholder="from the girth"
            hint={hint}
            onCommit={(value, live) => decidePart('fit', label, set(value), { key: `fit.${measure}`, live })}
            onClear={() => decidePart('fit', label, set(null))}
            onSettle={endMerge}
          />
        );
      })}
    </>
  );
}
