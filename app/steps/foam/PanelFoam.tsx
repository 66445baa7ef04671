import { useShallow } from 'zustand/react/shallow';
import type { FoamResult } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { runCommand, selectedPieces } from '../../commands';
import { useSession } from '../../document';
import { LengthField, SelectField, TextField } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { usualThicknesses } from '../foamChoices';
import { decidePart, endMerge, useDecisions, useUnit } from '../useWork';
import { FlushChoice } from './Edges';

/** Foam of single panels: thickness and name, for the panels selected on the bench. */
export function PanelFoam({ foam: result }: { readonly foam: FoamResult }) {
  const { foam } = useDecisions();
  const unit = useUnit();
  const selected = useSession(useShallow(selectedPieces));
  const others = result.panels.filter((panel) => panel.thickness !== foam.thickness);
  const thicknesses = new Set(selected.map((id) => foam.thicknessOf[id] ?? null));
  const [only] = thicknesses;
  const own = thicknesses.size === 1 && typeof only === 'number' ? only : null;
  const materials = new Set(selected.map((id) => foam.materialOf[id] ?? ''));
  const [material] = materials;
  const words = others.length === 0 ? 'all alike' : `${others.length} of another thickness`;
  return (
    <Folded title="Foam of single panels" value={words}>
      <TextField
        label="Name of the foam"
        value={foam.material}
        onCommit={(name) => decidePart('foam', 'Name of the foam', { material: name })}
      />
      <FlushChoice />
      {selected.length === 0 ? (
        <p className="hint">Select panels on the bench to give them a thickness of their own.</p>
      ) : (
        <>
          <SelectField
            label={selected.length === 1 ? 'The selected panel' : `The ${selected.length} selected panels`}
            value={own === null ? 'all' : usualThicknesses.includes(own) ? String(own) : 'own'}
            options={[
              { value: 'all', label: `as all (${formatLength(foam.thickness, unit)})` },
              ...usualThicknesses.map((t) => ({ value: String(t), label: formatLength(t, unit) })),
              { value: 'own', label: 'Another thickness' },
            ]}
            onChange={(value) =>
              runCommand('setPanelFoam', {
                thickness: value === 'all' ? null : value === 'own' ? foam.thickness + 1 : Number(value),
                panels: selected,
              })
            }
          />
          {own !== null && !usualThicknesses.includes(own) ? (
            <LengthField
              label="Thickness of its sheet"
              unit={unit}
              fine
              min={0.2}
              max={100}
              value={own}
              onCommit={(thickness, live) =>
                runCommand('setPanelFoam', {
                  thickness,
                  panels: selected,
                  ...(live ? { merge: `panelFoam ${selected.join(' ')}` } : {}),
                })
              }
              onSettle={endMerge}
            />
          ) : null}
          <TextField
            label="Name of its foam"
            value={materials.size === 1 && material !== undefined ? material : ''}
            onCommit={(name) => runCommand('setPanelFoam', { material: name, panels: selected })}
          />
        </>
      )}
    </Folded>
  );
}
