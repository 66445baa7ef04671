import type { Pattern } from '../../../src/model';
import { TextField } from '../../ui/fields';
import { Folded, TableHead } from '../../ui/parts';
import { counted } from '../names';
import { QuantityField } from '../QuantityField';
import { ShowButton } from '../ShowButton';
import { decidePart, useDecisions } from '../useWork';

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
        <TableHead columns={['Piece', 'Name', 'Cut']} last="Show" />
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
                <QuantityField
                  id={piece.id}
                  name={piece.name}
                  what="piece"
                  value={marks.quantities[piece.id] ?? 1}
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
