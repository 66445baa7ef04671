import { type AllowedTurns, type Panel, placementKey } from '../../../src/model';
import { NumberField, SelectField, Toggle } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { ShowButton } from '../ShowButton';
import { decidePart, endMerge, useDecisions } from '../useWork';
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
      <table className="table">
        <thead>
          <tr>
            <th scope="col">Panel</th>
            <th scope="col">Cut</th>
            <th scope="col">Turns</th>
            <th scope="col">Over</th>
            <th scope="col">
              <span className="unseen">Show</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {panels.map((panel) => (
            <tr key={panel.id}>
              <th scope="row">{panel.name}</th>
              <td>
                <NumberField
                  label={`Quantity of panel ${panel.name}`}
                  labelHidden
                  kind="count"
                  by={1}
                  min={1}
                  max={99}
                  value={marks.quantities[panel.id] ?? panel.quantity}
                  onCommit={(quantity, live) =>
                    decidePart(
                      'marks',
                      `Quantity of ${panel.name}`,
                      (old) => ({ ...old, quantities: { ...old.quantities, [panel.id]: quantity } }),
                      { key: `marks.quantity.${panel.id}`, live },
                    )
                  }
                  onSettle={endMerge}
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
                  checked={sheets.turnOverOf[panel.id] ?? sheets.facesAlike}
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
