import { Check, Plus, Trash2, Undo2, X } from 'lucide-react';
import { distance, type Point } from '../../../src/math';
import { formatLength } from '../../../src/units';
import { runCommand } from '../../commands';
import { type OffcutDraft, useSession } from '../../document';
import { LengthField } from '../../ui/fields';
import { TableHead } from '../../ui/parts';
import { PlainButton } from '../panels/PlainButton';
import { Part } from '../Sheet';
import { useUnit } from '../useWork';
import { foamWords } from './sheetRows';

/** The offcut that is being drawn: its corners as the rulers of the bench count them, to be typed as well. */
export function DrawOffcut() {
  const draft = useSession((s) => s.offcut);
  return draft ? <Corners draft={draft} /> : null;
}

const reach = 4000;

function Corners({ draft }: { readonly draft: OffcutDraft }) {
  const unit = useUnit();
  const { points, pen } = draft;
  const lay = (all: readonly Point[], at: Point = pen) =>
    void runCommand('layCorners', { points: all, pen: at });
  const across = (label: string, at: Point, put: (p: Point) => void) => (
    <LengthField
      label={label}
      labelHidden
      unit={unit}
      fine
      min={-reach}
      max={reach}
      value={at.x}
      onCommit={(x) => put({ ...at, x })}
    />
  );
  const down = (label: string, at: Point, put: (p: Point) => void) => (
    <LengthField
      label={label}
      labelHidden
      unit={unit}
      fine
      min={-reach}
      max={reach}
      value={at.y === 0 ? 0 : -at.y}
      onCommit={(y) => put({ ...at, y: -y })}
    />
  );
  return (
    <Part title={`Offcut of ${foamWords(draft, unit)} foam`}>
      <p className="hint">
        Click its corners on the bench one after another, at true size. At the keyboard the arrow keys move
        the pen there by 1 mm, with Shift by 10, and Enter lays a corner. Or type the corners here, as the
        rulers count them.
      </p>
      <table className="table">
        <TableHead columns={['Corner', 'Across', 'Down', 'Side on']} last="Take out" />
        <tbody>
          {points.map((p, i) => {
            const put = (q: Point) => lay(points.map((old, k) => (k === i ? q : old)));
            const next = points[(i + 1) % points.length]!;
            return (
              <tr key={i}>
                <th scope="row">{i + 1}</th>
                <td>{across(`Corner ${i + 1}, across`, p, put)}</td>
                <td>{down(`Corner ${i + 1}, down`, p, put)}</td>
                <td>{points.length > 1 ? formatLength(distance(p, next), unit) : null}</td>
                <td>
                  <button
                    type="button"
                    aria-label={`Take corner ${i + 1} out`}
                    onClick={() => lay(points.filter((_, k) => k !== i))}
                  >
                    <Trash2 aria-hidden="true" size={16} />
                  </button>
                </td>
              </tr>
            );
          })}
          <tr>
            <th scope="row">Next</th>
            <td>{across('Next corner, across', pen, (p) => lay(points, p))}</td>
            <td>{down('Next corner, down', pen, (p) => lay(points, p))}</td>
            <td />
            <td>
              <button
                type="button"
                aria-label="Lay the next corner"
                title="Lay the next corner"
                disabled={points.some((p) => distance(p, pen) === 0)}
                onClick={() => lay([...points, pen])}
              >
                <Plus aria-hidden="true" size={16} />
              </button>
            </td>
          </tr>
        </tbody>
      </table>
      <div className="buttons" aria-live="polite">
        <PlainButton command="keepOffcut" icon={Check} />
        <button
          type="button"
          disabled={points.length === 0}
          onClick={() => lay(points.slice(0, -1), points.at(-1))}
        >
          <Undo2 aria-hidden="true" size={16} /> Take the last corner back
        </button>
        <PlainButton command="dropOffcut" icon={X} />
      </div>
    </Part>
  );
}
