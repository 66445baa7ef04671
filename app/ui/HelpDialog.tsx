import { type LineKind, lineLooks } from '../../src/model';
import { type Command, commands, keyLabel } from '../commands';
import { session, setSingleKeys, useSession } from '../document';
import { Toggle } from './fields';
import { CautionNote, Dialog } from './parts';

const shownLines: readonly LineKind[] = [
  'cut',
  'border',
  'mountain',
  'valley',
  'softBend',
  'scored',
  'placement',
  'notch',
];

/** Keys, what the lines mean, and all cautions. */
export function HelpDialog({ onClose }: { readonly onClose: () => void }) {
  const now = session.getState();
  const singleKeys = useSession((s) => s.singleKeys);
  const withKeys = (Object.values(commands) as unknown as Command[]).filter(
    (c) => c.keys && c.keys.length > 0,
  );
  return (
    <Dialog title="Keys, lines and cautions" wide onClose={onClose}>
      <div className="help">
        <section className="help-part">
          <h3>Keys</h3>
          <dl className="keys">
            {withKeys.map((c) => (
              <div key={c.id}>
                <dt>{c.label({ ...now, canUndo: null, canRedo: null })}</dt>
                <dd className="keys-of">
                  {(c.keys ?? []).map((key) => (
                    <kbd key={key}>{keyLabel(key)}</kbd>
                  ))}
                </dd>
              </div>
            ))}
          </dl>
          <Toggle
            label="Single keys such as V and 0 run commands"
            checked={singleKeys}
            onChange={setSingleKeys}
          />
          <p className="hint">
            On the bench: hold the space bar or the middle button to move it, turn the wheel to zoom. When the
            bench has the focus, the arrow keys move it, full stop and comma go from edge to edge, and Enter
            takes the edge for the tool in hand.
          </p>
          <p className="hint">
            In a number field: type a length with any unit (58 cm, 22 7/8 in), the arrow keys step it, Escape
            brings the old one back.
          </p>
        </section>
        <section className="help-part">
          <h3>Lines</h3>
          <ul className="legend">
            {shownLines.map((kind) => (
              <li key={kind}>
                <svg viewBox="0 0 40 6" width="120" height="18" aria-hidden="true">
                  <LineSample kind={kind} />
                </svg>
                {lineLooks[kind].label}
              </li>
            ))}
          </ul>
        </section>
        <section className="help-part">
          <h3>Cautions</h3>
          <CautionNote
            topics={['costume', 'adhesive', 'dust', 'heat', 'blade', 'machine', 'wearing', 'sight', 'paint']}
          />
        </section>
      </div>
    </Dialog>
  );
}

/** A kind of line in millimetres, as it is printed; ticks where the kind has them. */
function LineSample({ kind }: { readonly kind: LineKind }) {
  const look = lineLooks[kind];
  const along = lineLooks[kind === 'notch' ? 'cut' : kind];
  return (
    <g stroke="currentColor">
      <line
        x1="1"
        x2="39"
        y1="3"
        y2="3"
        strokeWidth={along.width}
        strokeDasharray={along.dash.join(' ') || undefined}
      />
      {kind === 'border'
        ? [8, 20, 32].map((x) => <line key={x} x1={x} x2={x} y1="1.5" y2="4.5" strokeWidth={look.width} />)
        : null}
      {kind === 'notch'
        ? [14, 17].map((x) => <line key={x} x1={x} x2={x} y1="3" y2="5.5" strokeWidth={look.width} />)
        : null}
    </g>
  );
}
