import type { Pattern } from '../../../src/model';
import { NumberField, TextField } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { counted } from '../names';
import { ShowButton } from '../ShowButton';
import { decidePart, endMerge, useDecisions } from '../useWork';

/** Names and quantities, piece by piece. */
export function PieceTable({ pattern }: { readonly pattern: Pattern }) {
  const { marks } = useDecisions();
  const total = pattern.pieces.reduce((n, piece) => n + (marks.quantities[piece.id] ?? 1), 0);
  return (
    <Folded
      title="Names and quantities"
      value={`${counted(pattern.pieces.length, 'piece')}, ${total} to cut`}
    >
      <table className="table">
        <thead>
          <tr>
            <th scope="col">Piece</th>
            <th scope="col">Name</th>
            <th scope="col">Cut</th>
            <th scope="col">
              <span className="unseen">Show</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {pattern.pieces.map((piece) => (
            <tr key={piece.id}>
              <th scope="row">{piece.name}</th>
              <td>
                <TextField
                  label={`Name of piece ${piece.name}`}
                  labelHidden
                  maxLength={40}
                  placeholder={piece.name}
                  value={marks.pieceNames[piece.id] ?? ''}
                  onCommit={(name) =>
                    decidePart(
                      'marks',
                      name ? `Name ${piece.name} “${name}”` : `Name of ${piece.name} as read`,
                      (old) => {
                        const pieceNames: Record<string, string> = { ...old.pieceNames };
                        if (name) pieceNames[piece.id] = name;
                        else delete pieceNames[piece.id];
                        return { ...old, pieceNames };
                      },
                    )
                  }
                />
              </td>
              <td>
                <NumberField
                  label={`Quantity of piece ${piece.name}`}
                  labelHidden
                  kind="count"
                  by={1}
                  min={1}
                  max={99}
                  value={marks.quantities[piece.id] ?? 1}
                  onCommit={(quantity, live) =>
                    decidePart(
                      'marks',
                      `Quantity of ${piece.name}`,
                      (old) => ({ ...old, quantities: { ...old.quantities, [piece.id]: quantity } }),
                      { key: `marks.quantity.${piece.id}`, live },
                    )
                  }
                  onSettle={endMerge}
                />
              </td>
              <td>
                <ShowButton ids={[piece.id]} what={`piece ${piece.name}`} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </Folded>
  );
}
