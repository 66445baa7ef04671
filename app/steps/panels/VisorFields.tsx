import type { VisorPart } from '../../../src/model';
import { useSession } from '../../document';
import { Choice } from '../../ui/fields';
import { type OfOpening, OpeningField, put, Side, Size } from './partFields';
import { selectedRim } from './rim';

/** What a visor covers, how far it reaches, and where the eyes are. */
export function VisorFields({ part, openings }: OfOpening<VisorPart>) {
  const selection = useSession((s) => s.selection);
  const rim = selectedRim(selection, openings);
  return (
    <>
      <OpeningField
        edges={part.edges}
        openings={openings}
        onChange={(edges) => put({ ...part, edges, rim: 'whole' })}
      />
      <Choice
        legend="It covers"
        value={part.rim}
        options={[
          { value: 'whole', label: 'all of the opening' },
          { value: 'part', label: 'a part of its rim' },
        ]}
        onChange={(chosen) => {
          const all = openings.find((o) => o.edges.some((e) => part.edges.includes(e)));
          if (chosen === 'whole') put({ ...part, rim: 'whole', edges: all?.edges ?? part.edges });
          else put({ ...part, rim: 'part', ...(rim.length > 0 ? { edges: rim } : {}) });
        }}
      />
      {part.rim === 'part' ? (
        <div className="buttons">
          <button type="button" disabled={rim.length === 0} onClick={() => put({ ...part, edges: rim })}>
            Take the selected edges
          </button>
          {rim.length === 0 ? (
            <p className="hint">Select open edges along the rim, on the bench or the shell.</p>
          ) : null}
        </div>
      ) : null}
      <Side part={part} />
      <Size
        label="Margin"
        value={part.margin}
        min={0}
        max={200}
        hint="How far it reaches over the shell round the opening."
        change={(margin) => ({ ...part, margin })}
      />
      <Size
        label="Eyes below the brow"
        min={0}
        max={200}
        value={part.eyes}
        hint="Down the face from the brow line of the Size step to the pupils. Empty: no eye line is marked."
        change={(eyes) => ({ ...part, eyes })}
        without={() => ({ ...part, eyes: null })}
      />
    </>
  );
}
