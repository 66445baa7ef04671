import { Check, FileUp, Plus, Shapes, Undo2, X } from 'lucide-react';
import { useState } from 'react';
import type { FacePoint } from '../../../src/model';
import { runCommand } from '../../commands';
import { useSession } from '../../document';
import { Choice } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { counted } from '../names';
import { useResults } from '../useWork';
import { importStencil } from './importStencil';
import { FaceSpot } from './OutlineFields';
import { PlainButton } from './PlainButton';

/** Lines drawn on the shell or the bench as the border of a layer or a stencil, and shapes from files. */
export function DrawOutline() {
  const draft = useSession((s) => s.outline);
  const { pattern } = useResults();
  const first = pattern?.pieces[0]?.faces[0]?.id ?? null;
  const drawing = draft !== null && draft.places === null;
  return (
    <Folded
      title="Draw on the shell"
      value={drawing ? counted(draft.points.length, 'corner') : ''}
      open={drawing}
    >
      <p className="hint">
        Draw the border of a layer, or a shape to paint: click its corners on the shell or on the bench. A
        shape from an SVG file becomes a stencil.
      </p>
      <div className="buttons">
        <button
          type="button"
          aria-pressed={drawing}
          onClick={() =>
            drawing ? runCommand('dropOutline') : runCommand('startOutline', { as: 'layer', places: null })
          }
        >
          <Shapes aria-hidden="true" size={16} /> Draw an outline
        </button>
        <button type="button" disabled={first === null} onClick={() => void importStencil()}>
          <FileUp aria-hidden="true" size={16} /> Stencil from an SVG file…
        </button>
      </div>
      {drawing ? (
        <>
          <Choice
            legend="It becomes"
            value={draft.as}
            options={[
              { value: 'layer', label: 'a raised layer' },
              { value: 'stencil', label: 'a stencil' },
            ]}
            onChange={(as) => runCommand('chooseOutline', { as })}
          />
          <Choice
            legend="Line"
            value={draft.curved ? 'curve' : 'line'}
            options={[
              { value: 'line', label: 'Straight' },
              { value: 'curve', label: 'Smooth curve' },
            ]}
            onChange={(chosen) => runCommand('chooseOutline', { curved: chosen === 'curve' })}
          />
          <Choice
            legend="At seams"
            value={draft.within}
            options={[
              { value: 'shell', label: 'it goes on' },
              { value: 'panel', label: 'it ends' },
            ]}
            onChange={(within) => runCommand('chooseOutline', { within })}
          />
          <p className="hint" aria-live="polite">
            {draft.points.length === 0
              ? 'No corner yet.'
              : `${counted(draft.points.length, 'corner')} so far.`}
          </p>
          {first ? <TypedCorner first={first} /> : null}
          <div className="buttons">
            <PlainButton command="keepOutline" icon={Check} />
            <PlainButton command="outlineBack" icon={Undo2} />
            <PlainButton command="dropOutline" icon={X} />
          </div>
        </>
      ) : null}
    </Folded>
  );
}

/** A corner by its face and the way across and up it. */
function TypedCorner({ first }: { readonly first: string }) {
  const [at, setAt] = useState<FacePoint>({ face: first, x: 0.5, y: 0.5 });
  return (
    <Folded title="A corner from lists" value="">
      <FaceSpot at={at} onChange={setAt} />
      <div className="buttons">
        <button type="button" onClick={() => runCommand('layOutline', { point: at })}>
          <Plus aria-hidden="true" size={16} /> Lay this corner
        </button>
      </div>
    </Folded>
  );
}
