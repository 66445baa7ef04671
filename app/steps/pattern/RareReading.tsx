import { formatLength } from '../../../src/units';
import { pickFiles } from '../../commands';
import { addFiles, useSession } from '../../document';
import { Folded } from '../../ui/parts';
import { DecidedLength } from '../decided';
import { counted } from '../names';
import { useDecisions, useUnit } from '../useWork';

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
        <DecidedLength
          label="Line ends this close are one point"
          decimals={3}
          fine
          min={0.001}
          max={5}
          part="reading"
          name="joinWithin"
          undo="Join line ends"
          hint="Raise it when a hand-drawn pattern has small gaps at its corners."
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
