import { useShallow } from 'zustand/react/shallow';
import type { Piece } from '../../../src/model';
import { selectedFaces } from '../../commands';
import { select, useSession } from '../../document';
import { Folded } from '../../ui/parts';
import { counted } from '../names';
import { useShown } from '../useWork';

/** Every panel with its faces, to be selected by keyboard: a panel as a whole, or face by face. */
export function FaceList() {
  const { pattern } = useShown();
  const selected = useSession(useShallow(selectedFaces));
  if (!pattern) return null;
  const chosen = new Set(selected);
  const put = (faces: readonly string[], on: boolean) => {
    const gone = new Set(faces);
    const rest = selected.filter((f) => !gone.has(f));
    select(on ? [...rest, ...faces] : rest, 'replace');
  };
  return (
    <Folded title="Faces from a list" value={counted(chosen.size, 'face')}>
      <ul className="rows rows-tight" aria-label="Faces by panel">
        {pattern.pieces.map((piece) => (
          <PanelFaces key={piece.id} piece={piece} chosen={chosen} onPut={put} />
        ))}
      </ul>
    </Folded>
  );
}

interface PanelProps {
  readonly piece: Piece;
  readonly chosen: ReadonlySet<string>;
  readonly onPut: (faces: readonly string[], on: boolean) => void;
}

function PanelFaces({ piece, chosen, onPut }: PanelProps) {
  const faces = piece.faces.map((f) => f.id);
  const on = faces.filter((f) => chosen.has(f)).length;
  return (
    <li>
      <label>
        <input
          type="checkbox"
          checked={on === faces.length}
          ref={(box) => {
            if (box) box.indeterminate = on > 0 && on < faces.length;
          }}
          onChange={(e) => onPut(faces, e.target.checked)}
        />{' '}
        {piece.name}: all {counted(faces.length, 'face')}
      </label>
      {faces.length > 1 ? (
        <fieldset className="buttons" aria-label={`Faces of ${piece.name}`}>
          {faces.map((face, i) => (
            <label key={face}>
              <input
                type="checkbox"
                aria-label={`Face ${i + 1} of ${piece.name}`}
                checked={chosen.has(face)}
                onChange={(e) => onPut([face], e.target.checked)}
              />{' '}
              {i + 1}
            </label>
          ))}
        </fieldset>
      ) : null}
    </li>
  );
}
