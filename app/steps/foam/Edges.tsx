import { useShallow } from 'zustand/react/shallow';
import type { FoldPreparation, StandsFor } from '../../../src/model';
import { runCommand, selectedFolds } from '../../commands';
import { useSession } from '../../document';
import { AngleField, Choice, NumberField, SelectField } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { decidePart, endMerge, useDecisions } from '../useWork';

/** How edges of seams are cut and folds are made: for all, by rules that can be changed, and for the selection. */
export function Edges() {
  const { foam } = useDecisions();
  const folds = useSession(useShallow(selectedFolds));
  const kinds = new Set(folds.map((id) => foam.foldPreparationOf[id] ?? 'all'));
  const [only] = kinds;
  const byRule = foam.preparation === 'rules' || foam.foldPreparation === 'rules';
  return (
    <>
      <Choice
        legend="Seam edges are cut"
        layout="list"
        value={foam.preparation}
        options={[
          { value: 'bevel', label: 'on a bevel', hint: 'Half the bend on each side; the faces meet.' },
          { value: 'square', label: 'square', hint: 'Easier to cut; a wedge stays open on one side.' },
          {
            value: 'flush',
            label: 'square, flush',
            hint: 'They meet at mid foam: half the wedge stays open, the other skin is squeezed. For mild bends.',
          },
          {
            value: 'lapped',
            label: 'lapped',
            hint: 'Near square corners one panel runs past the other; elsewhere a bevel.',
          },
          {
            value: 'rules',
            label: 'as their bend proposes',
            hint: 'Flush where mild, bevelled where sharper.',
          },
        ]}
        onChange={(preparation) => runCommand('setPreparationForAll', { preparation })}
      />
      <Choice
        legend="Folds inside a panel are made"
        layout="list"
        value={foam.foldPreparation}
        options={[
          { value: 'soft', label: 'as a soft bend', hint: 'No cut; the foam is bent by hand or with heat.' },
          {
            value: 'scored',
            label: 'scored',
            hint: 'A V-groove on the closing side; its width is given with the panel.',
          },
          { value: 'rules', label: 'as their bend proposes', hint: 'Scored where sharp, soft where mild.' },
        ]}
        onChange={(preparation) => runCommand('setFoldPreparationForAll', { preparation })}
      />
      {folds.length > 0 ? (
        <SelectField<FoldPreparation | 'all' | 'several'>
          label={folds.length === 1 ? 'The selected fold' : `The ${folds.length} selected folds`}
          value={kinds.size === 1 && only !== undefined ? only : 'several'}
          options={[
            ...(kinds.size > 1 ? [{ value: 'several' as const, label: 'several' }] : []),
            { value: 'all', label: 'as all folds' },
            { value: 'soft', label: 'soft bend' },
            { value: 'scored', label: 'scored' },
          ]}
          onChange={(value) => {
            if (value !== 'several')
              runCommand('setFoldPreparation', { preparation: value === 'all' ? null : value, folds });
          }}
        />
      ) : null}
      <Folded title="Rules for edges" value={byRule ? 'in use' : 'not in use'}>
        <p className="hint">Common practice, no source: change them to what your foam does.</p>
        <AngleField
          label="Seams are flush below"
          value={foam.flushBelow}
          min={0}
          max={Math.PI}
          onCommit={(flushBelow, live) =>
            decidePart('foam', 'Rule for flush seams', { flushBelow }, { key: 'foam.flushBelow', live })
          }
          onSettle={endMerge}
        />
        <AngleField
          label="Folds are scored from"
          value={foam.scoreFrom}
          min={0}
          max={Math.PI}
          onCommit={(scoreFrom, live) =>
            decidePart('foam', 'Rule for scored folds', { scoreFrom }, { key: 'foam.scoreFrom', live })
          }
          onSettle={endMerge}
        />
        <NumberField
          label="Depth of a groove, as a part of the thickness"
          kind="ratio"
          by={0.05}
          min={0.05}
          max={0.95}
          value={foam.scoreDepth}
          onCommit={(scoreDepth, live) =>
            decidePart('foam', 'Depth of grooves', { scoreDepth }, { key: 'foam.scoreDepth', live })
          }
          onSettle={endMerge}
        />
      </Folded>
    </>
  );
}

const sides: readonly StandsFor[] = ['outside', 'middle', 'inside'];

/** Where panels of different thickness meet in one plane. */
export function FlushChoice() {
  const { foam } = useDecisions();
  return (
    <Choice<StandsFor>
      legend="Panels of different thickness meet flush"
      value={foam.flush}
      options={sides.map((value) => ({ value, label: value }))}
      onChange={(flush) => decidePart('foam', `Flush ${flush}`, { flush })}
    />
  );
}
