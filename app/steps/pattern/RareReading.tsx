import { formatLength } from '../../../src/units';
import { pickFiles } from '../../commands';
import { addFiles, useSession } from '../../document';
import { LengthField } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { counted } from '../names';
import { decidePart, endMerge, useDecisions, useUnit } from '../useWork';

/** What is rarely changed: when line ends meet, and which files the pattern consists of. */
export function RareReading() {
  const { reading } = useDecisions();
  const unit = useUnit();
  const sources = useSession((s) => s.document?.sources);
  return (
    <>
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
      <Folded title="Files" value={counted(sources?.length ?? 0, 'file')}>
        <ul>
          {sources?.map((source, i) => (
            <li key={`${source.name} ${i.toString()}`}>{source.name}</li>
          ))}
        </ul>
        <button
          type="button"
          onClick={() => void pickFiles().then((files) => (files.length > 0 ? addFiles(files) : false))}
        >
          Add pages to this pattern…
        </button>
      </Folded>
    </>
  );
}
