import { formatAngle, formatLength } from '../../../src/units';
import { Choice, LengthField, NumberField } from '../../ui/fields';
import { CautionNote, Figures, Folded } from '../../ui/parts';
import { DoubtfulShell } from '../DoubtfulShell';
import { StandsForChoice, ThicknessField } from '../foamChoices';
import { NextStep } from '../NextStep';
import { Part, Sheet } from '../Sheet';
import { decidePart, endMerge, useDecisions, useShown, useUnit } from '../useWork';
import { Bends } from './Bends';
import { BendTest } from './BendTest';
import { DryFitPart } from './DryFitPart';
import { Edges } from './Edges';
import { FoamSeams } from './FoamSeams';
import { summariseFoam } from './foamRows';
import { PanelFoam } from './PanelFoam';

/** What thickness does to the panels: bevels, shifts, bends. */
export function FoamStep() {
  const { foam: result, pattern, seams } = useShown();
  const { foam } = useDecisions();
  const unit = useUnit();
  const summary = result ? summariseFoam(result) : null;
  return (
    <Sheet
      title="Foam"
      about="Allow for the thickness of the foam, so that the panels meet when they are glued."
      actions={<NextStep after="foam" />}
    >
      {result && summary ? (
        <Figures
          label="Panels in foam"
          items={[
            { label: 'Panels', value: result.panels.length },
            { label: 'Largest mismatch', value: formatLength(summary.worstMismatch, unit, { decimals: 2 }) },
            { label: 'Widest open wedge', value: formatLength(summary.widestWedge, unit, { decimals: 2 }) },
            { label: 'Steepest bevel', value: formatAngle(summary.steepestBevel) },
            {
              label: 'Bends not set',
              value: result.unsetBends.length,
              ...(result.unsetBends.length > 0 ? { note: 'count as flat', look: true } : {}),
            },
          ]}
        />
      ) : (
        <p className="waiting">The panels follow from the pattern and its seams.</p>
      )}
      <DoubtfulShell use="what it says about bends" />
      <Part title="Foam">
        <ThicknessField />
        <StandsForChoice />
        <Edges />
        {result ? <PanelFoam foam={result} /> : null}
        <Folded
          title="Cutting"
          value={`kerf ${formatLength(foam.kerf, unit, { decimals: 2 })}, traced on the ${foam.traced}`}
        >
          <LengthField
            label="Kerf, the width the cutter takes away"
            unit={unit}
            decimals={2}
            fine
            min={0}
            max={10}
            value={foam.kerf}
            hint="0 for a knife. Cut a test strip to measure it for a hot wire or a laser."
            onCommit={(kerf, live) => decidePart('foam', 'Kerf', { kerf }, { key: 'foam.kerf', live })}
            onSettle={endMerge}
          />
          <Choice
            legend="Face that is traced"
            value={foam.traced}
            options={[
              { value: 'outside', label: 'outside' },
              { value: 'inside', label: 'inside (mirrored)' },
            ]}
            onChange={(traced) => decidePart('foam', `Trace the ${traced}`, { traced })}
          />
        </Folded>
        <Folded
          title="Bends and corners"
          value={`K ${foam.neutralRatio}, radius ${formatLength(foam.bendRadius, unit)}`}
        >
          <NumberField
            label="Neutral ratio K"
            kind="ratio"
            by={0.05}
            min={0}
            max={1}
            value={foam.neutralRatio}
            hint="How deep, from the inside, the layer lies that keeps its length in a bend. 0.5 unless measured."
            onCommit={(neutralRatio, live) =>
              decidePart('foam', 'Neutral ratio', { neutralRatio }, { key: 'foam.neutralRatio', live })
            }
            onSettle={endMerge}
          />
          <LengthField
            label="Inside radius of a bend"
            unit={unit}
            fine
            min={0}
            max={200}
            value={foam.bendRadius}
            hint="Counts for panels made without the folded shell; with it, folds are creases."
            onCommit={(bendRadius, live) =>
              decidePart('foam', 'Bend radius', { bendRadius }, { key: 'foam.bendRadius', live })
            }
            onSettle={endMerge}
          />
          <NumberField
            label="Sharp corners are cut blunt beyond this many shifts"
            kind="ratio"
            by={0.5}
            min={1}
            max={20}
            value={foam.mitreLimit}
            onCommit={(mitreLimit, live) =>
              decidePart('foam', 'Corner limit', { mitreLimit }, { key: 'foam.mitreLimit', live })
            }
            onSettle={endMerge}
          />
        </Folded>
        <BendTest />
      </Part>
      {pattern ? <Bends pattern={pattern} seams={seams} foam={result} /> : null}
      {result ? <DryFitPart foam={result} seams={seams} /> : null}
      {result ? (
        <Part title="Seam list">
          <FoamSeams foam={result} seams={seams} />
        </Part>
      ) : null}
      <CautionNote topics={['blade', 'machine']} />
    </Sheet>
  );
}
