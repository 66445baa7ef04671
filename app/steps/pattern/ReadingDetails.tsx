import type { Pattern } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { LengthField, type ShownUnit } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { counted } from '../names';
import { ShowButton } from '../ShowButton';
import { decidePart, endMerge, useDecisions } from '../useWork';
import { unreadWords } from './roles';

interface ReadingDetailsProps {
  readonly pattern: Pattern;
  readonly unit: ShownUnit;
}

/** Lines that took part in nothing, and the rare setting that decides when line ends meet. */
export function ReadingDetails({ pattern, unit }: ReadingDetailsProps) {
  const { reading } = useDecisions();
  return (
    <>
      {pattern.unread.length > 0 ? (
        <Folded title="Lines not understood" value={counted(pattern.unread.length, 'line')} open>
          <ul className="rows">
            {pattern.unread.map((line, i) => (
              <li key={`${line.line} ${i.toString()}`} className="row">
                <span>
                  A line of {formatLength(line.length, unit)} {unreadWords[line.reason]}.
                </span>
                <ShowButton ids={[line.line]} what={`line ${i + 1} that was not understood`} />
              </li>
            ))}
          </ul>
        </Folded>
      ) : null}
      <Folded
        title="Join line ends"
        value={`within ${formatLength(reading.joinWithin, unit, { decimals: 3 })}`}
      >
        <LengthField
          label="Line ends this close are one point"
          unit={unit}
          decimals={3}
          fine
          min={0.001}
          max={5}
          value={reading.joinWithin}
          hint="Raise it when a hand-drawn pattern has small gaps at its corners."
          onCommit={(joinWithin, live) =>
            decidePart('reading', 'Join line ends', { joinWithin }, { key: 'reading.joinWithin', live })
          }
          onSettle={endMerge}
        />
      </Folded>
    </>
  );
}
