import type { MarkDecisions } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { AngleField, LengthField, Toggle } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { decidePart, endMerge, useDecisions, useUnit } from '../useWork';

type Switch = 'notches' | 'numbers' | 'names' | 'bevels' | 'folds';

const switches: readonly { readonly key: Switch; readonly label: string; readonly word: string }[] = [
  { key: 'notches', label: 'Notches that meet on both sides of a seam', word: 'notches' },
  { key: 'numbers', label: 'Seam numbers', word: 'numbers' },
  { key: 'names', label: 'Names and quantities', word: 'names' },
  { key: 'bevels', label: 'Bevel angles', word: 'bevels' },
  { key: 'folds', label: 'Fold lines', word: 'folds' },
];

/** What is drawn on the panels besides their outline. */
export function Marks() {
  const { marks } = useDecisions();
  const unit = useUnit();
  const set = (label: string, change: Partial<MarkDecisions>, live = false) =>
    decidePart('marks', label, change, { key: `marks.${Object.keys(change).join()}`, live });
  const on = switches.filter((s) => marks[s.key]).map((s) => s.word);
  return (
    <Folded
      title="Marks on the panels"
      value={on.length === switches.length ? 'all' : on.join(', ') || 'none'}
    >
      {switches.map((s) => (
        <Toggle
          key={s.key}
          label={s.label}
          checked={marks[s.key]}
          onChange={(checked) => set(`${checked ? 'Print' : 'Leave out'} ${s.word}`, { [s.key]: checked })}
        />
      ))}
      <div className="pairs">
        <LengthField
          label="Letter height"
          unit={unit}
          fine
          min={1.5}
          max={30}
          value={marks.letterHeight}
          hint={`At least 3 mm${unit === 'in' ? ` (${formatLength(3, 'in')})` : ''} reads well.`}
          onCommit={(letterHeight, live) => set('Letter height', { letterHeight }, live)}
          onSettle={endMerge}
        />
        <AngleField
          label="Up on the drawing"
          value={marks.up}
          min={-Math.PI}
          max={Math.PI}
          placeholder="90, the page’s"
          hint="Against the clock from the right."
          onCommit={(up, live) => set('Up direction', { up }, live)}
          onClear={() => set('Up as on the page', { up: null })}
          onSettle={endMerge}
        />
      </div>
    </Folded>
  );
}
