import { LengthField } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { decidePart, endMerge, useDecisions, useUnit } from '../useWork';

/** The side of the printed check square. */
const square = 100;
/** A square further off than this was not printed at 100 %, which the print dialog mends better than a correction. */
const mostOff = 20;

const percent = (measured: number) => `${Math.round((square / measured) * 10000) / 100} %`;

/** What a printed check square measured, to take a printer's own error out. */
export function CheckSquare() {
  const { pages } = useDecisions();
  const unit = useUnit();
  const { measured } = pages;
  const set = (axis: 'x' | 'y', value: number, live: boolean) =>
    decidePart(
      'pages',
      'Measured check square',
      (old) => ({ ...old, measured: { x: square, y: square, ...old.measured, [axis]: value } }),
      { key: `pages.measured.${axis}`, live },
    );
  return (
    <Folded
      title="Printer’s error"
      value={measured ? `× ${percent(measured.x)} across, × ${percent(measured.y)} up` : 'not measured'}
    >
      <p className="hint">
        Print one page at 100 %, measure its {square} mm check square, and type what the ruler says. Further
        pages are corrected.
      </p>
      <div className="pairs">
        <LengthField
          label="Across"
          unit={unit}
          decimals={unit === 'mm' ? 2 : 3}
          fine
          min={square - mostOff}
          max={square + mostOff}
          value={measured?.x ?? null}
          placeholder={unit === 'mm' ? '100' : '3.937'}
          onCommit={(value, live) => set('x', value, live)}
          onSettle={endMerge}
        />
        <LengthField
          label="Up"
          unit={unit}
          decimals={unit === 'mm' ? 2 : 3}
          fine
          min={square - mostOff}
          max={square + mostOff}
          value={measured?.y ?? null}
          placeholder={unit === 'mm' ? '100' : '3.937'}
          onCommit={(value, live) => set('y', value, live)}
          onSettle={endMerge}
        />
      </div>
      {measured ? (
        <button
          type="button"
          className="quiet"
          onClick={() => decidePart('pages', 'No correction', { measured: null })}
        >
          No correction
        </button>
      ) : null}
    </Folded>
  );
}
