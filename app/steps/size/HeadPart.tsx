import { formatHatSize, formatLength, ukHatNote } from '../../../src/units';
import { Choice, DraftField, lengthStep, lengthText, nextStep, SlidingLengthField } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { Part } from '../Sheet';
import { decidePart, endMerge, useDecisions, useUnit } from '../useWork';
import { HeadMeasures } from './HeadMeasures';
import { readHead } from './readHead';

/** Longest padding and clearance on the sliders; more can be typed. */
const slideTo = 30;

/** The wearer's head, and the room round it. */
export function HeadPart() {
  const { fit } = useDecisions();
  const unit = useUnit();
  const as = fit.headEnteredAs;
  const shown =
    fit.head === null ? '' : as === 'tape' ? lengthText(fit.head, unit) : formatHatSize(fit.head, as);
  return (
    <Part title="Head">
      <Choice
        legend="Measured as"
        value={as}
        options={[
          { value: 'tape', label: 'tape' },
          { value: 'eu', label: 'EU hat size' },
          { value: 'us', label: 'US hat size' },
        ]}
        onChange={(headEnteredAs) => decidePart('fit', 'How the head is given', { headEnteredAs })}
      />
      <DraftField
        label={as === 'tape' ? 'Head girth' : as === 'eu' ? 'EU hat size' : 'US hat size'}
        shown={shown}
        {...(as === 'tape' ? { suffix: unit } : {})}
        placeholder={as === 'us' ? '7 1/4' : as === 'eu' ? '58' : unit === 'mm' ? '58 cm' : '22 7/8'}
        hint={
          as === 'tape'
            ? 'Tape round the head above the brows and over the widest place at the back, hair as worn.'
            : fit.head === null
              ? 'A tape is surer: makers’ sizes vary.'
              : `That is ${formatLength(fit.head, 'mm')} (${formatLength(fit.head, 'in')}) by tape.`
        }
        read={(text) => readHead(text, as, unit)}
        step={(direction, large) =>
          fit.head === null ? null : nextStep(fit.head, direction, lengthStep(unit, false), large)
        }
        onCommit={(head, live) => decidePart('fit', 'Head girth', { head }, { key: 'fit.head', live })}
        onClear={() => decidePart('fit', 'Head girth', { head: null })}
        onSettle={endMerge}
      />
      {fit.how === 'measures' ? <HeadMeasures /> : null}
      <SlidingLengthField
        label="Padding"
        unit={unit}
        min={0}
        max={slideTo}
        value={fit.padding}
        hint="Thickness of the padding when worn."
        onCommit={(padding, live) => decidePart('fit', 'Padding', { padding }, { key: 'fit.padding', live })}
        onSettle={endMerge}
      />
      <SlidingLengthField
        label="Clearance"
        unit={unit}
        min={0}
        max={slideTo}
        value={fit.clearance}
        hint="Room left between padding and head."
        onCommit={(clearance, live) =>
          decidePart('fit', 'Clearance', { clearance }, { key: 'fit.clearance', live })
        }
        onSettle={endMerge}
      />
      <Folded title="UK hat sizes" value="take the tape">
        <p className="hint">{ukHatNote}</p>
      </Folded>
    </Part>
  );
}
