import { type AllowedTurns, type Panel, placementKey } from '../../../src/model';
import { isBevelled } from '../../../src/nest';
import { SelectField, Toggle } from '../../ui/fields';
import { Folded, TableHead } from '../../ui/parts';
import { QuantityField } from '../QuantityField';
import { ShowButton } from '../ShowButton';
import { decidePart, useDecisions } from '../useWork';
import { turnOptions, turnWords } from './LyingRules';

/** Exceptions for single panels: how many, how they may be turned, whether they may be turned over. */
export function PanelRules({ panels }: { readonly panels: readonly Panel[] }) {
  const { sheets, marks } = useDecisions();
  const own = panels.filter((p) => sheets.turnsOf[p.id] || sheets.turnOverOf[p.id] !== undefined).length;
  const total = panels.reduce((n, p) => n + p.quantity * (p.mirrored ? 2 : 1), 0);
  return (
    <Folded
      title="Single panels"
      value={`${total} to cut${own > 0 ? `, ${own} with rules of their own` : ''}`}
    >
      {panels.some(isBevelled) ? (
        <p className="hint">
          Over: may be turned over. Panels with bevelled edges never are: their bevels would lean the wrong
          way.
        </p>
      ) : null}
      <table className="table">
        <TableHead columns={['Panel', 'Cut', 'Turns', 'Over']} last="Show" />
        <tbody>
          {panels.map((panel) => (
            <tr key={panel.id}>
              <th scope="row">{panel.name}</th>
              <td>
                <QuantityField
                  id={panel.id}
                  name={panel.name}
                  what="panel"
                  value={marks.quantities[panel.id] ?? panel.quantity}
                />
              </td>
              <td>
                <SelectField<AllowedTurns | 'all'>
                  label={`Turns of panel ${panel.name}`}
                  labelHidden
                  value={sheets.turnsOf[panel.id] ?? 'all'}
                  options={[{ value: 'all', label: `as all (${turnWords[sheets.turns]})` }, ...turnOptions]}
                  onChange={(turns) =>
                    decidePart('sheets', `Turns of ${panel.name}`, (old) => {
                      const turnsOf: Record<string, AllowedTurns> = { ...old.turnsOf };
                      if (turns === 'all') delete turnsOf[panel.id];
                      else turnsOf[panel.id] = turns;
                      return { ...old, turnsOf };
                    })
                  }
                />
              </td>
              <td>
                <Toggle
                  label={`Panel ${panel.name} may be turned over`}
                  labelHidden
                  disabled={isBevelled(panel)}
                  checked={!isBevelled(panel) && (sheets.turnOverOf[panel.id] ?? sheets.facesAlike)}
                  onChange={(over) =>
                    decidePart('sheets', `Turning over ${panel.name}`, (old) => {
                      const turnOverOf: Record<string, boolean> = { ...old.turnOverOf };
                      if (over === old.facesAlike) delete turnOverOf[panel.id];
                      else turnOverOf[panel.id] = over;
                      return { ...old, turnOverOf };
                    })
                  }
                />
              </td>
              <td>
                <ShowButton ids={[placementKey({ panel: panel.id, copy: 0 })]} what={`panel ${panel.name}`} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </Folded>
  );
}
