import { useState } from 'react';
import type { FitDecisions } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { runCommand } from '../../commands';
import { setTool, useSession } from '../../document';
import { Choice, LengthField } from '../../ui/fields';
import { counted } from '../names';
import { endMerge, useDecisions, useResults, useUnit } from '../useWork';

type Way = Exclude<FitDecisions['girth']['kind'], 'none'>;

/** The pattern's own girth where the head will sit, measured by the person on the drawing. */
export function GirthByHand() {
  const { fit } = useDecisions();
  const { fit: result } = useResults();
  const unit = useUnit();
  const tool = useSession((s) => s.tool);
  const [picked, setPicked] = useState<Way | null>(null);
  const { girth } = fit;
  const way =
    picked ??
    (girth.kind === 'none' ? (tool === 'chain' ? 'edges' : tool === 'tape' ? 'tape' : null) : girth.kind);
  return (
    <div className="stack">
      <Choice<Way | ''>
        legend="Girth at the brow, as drawn"
        value={way ?? ''}
        options={[
          { value: 'edges', label: 'along edges' },
          { value: 'tape', label: 'with a tape' },
          { value: 'typed', label: 'typed' },
        ]}
        onChange={(chosen) => {
          if (chosen === '') return;
          setPicked(chosen);
          if (chosen === 'edges') setTool('chain');
          if (chosen === 'tape') setTool('tape');
        }}
      />
      {way === 'edges' ? (
        <p className="hint">
          Take the chain tool and click, one after another, the edges that go round the head. Click one again
          to take it out; press Enter when the girth is complete.
        </p>
      ) : null}
      {way === 'tape' ? (
        <p className="hint">
          Take the tape tool and pull it across each piece at brow height. The parts are added up; press Enter
          when the girth is complete.
        </p>
      ) : null}
      {way === 'typed' ? (
        <LengthField
          label="Girth as drawn"
          unit={unit}
          min={1}
          value={girth.kind === 'typed' ? girth.length : null}
          onCommit={(length, live) =>
            runCommand('typeGirth', { length, ...(live ? { merge: 'fit.girth' } : {}) })
          }
          onClear={() => runCommand('clearGirth')}
          onSettle={endMerge}
        />
      ) : null}
      {girth.kind === 'none' ? (
        result?.patternGirth != null ? null : (
          <p className="ask" role="status">
            Not measured yet: without it the scale cannot be worked out.
          </p>
        )
      ) : (
        <p className="row" aria-live="polite">
          <span>
            {result?.patternGirth != null ? <strong>{formatLength(result.patternGirth, unit)}</strong> : null}{' '}
            {girth.kind === 'edges' ? `along ${counted(girth.edges.length, 'edge')}` : null}
            {girth.kind === 'tape' ? `in ${counted(girth.parts.length, 'part')} of tape` : null}
            {girth.kind === 'typed' ? 'as typed' : null}
          </span>
          <button
            type="button"
            className="quiet"
            onClick={() => {
              setPicked(null);
              runCommand('clearGirth');
            }}
          >
            Start over
          </button>
        </p>
      )}
    </div>
  );
}
