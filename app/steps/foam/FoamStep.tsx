import { formatAngle, formatLength } from '../../../src/units';
import { Choice } from '../../ui/fields';
import { CautionNote, Figures, Folded } from '../../ui/parts';
import { DoubtfulShell } from '../DoubtfulShell';
import { DecidedLength, DecidedNumber } from '../decided';
import { StandsForChoice, ThicknessField } from '../foamChoices';
import { NextStep } from '../NextStep';
import { Part, Sheet } from '../Sheet';
import { decidePart, useDecisions, useShown, useUnit } from '../useWork';
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
          <DecidedLength
            label="Kerf, the width the cutter takes away"
            decimals={2}
            fine
            min={0}
            max={10}
            part="foam"
            name="kerf"
            undo="Kerf"
            hint="0 for a knife. Cut a test strip to measure it for a hot wire or a laser."
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
          <DecidedNumber
            label="Neutral ratio K"
            kind="ratio"
            by={0.05}
            min={0}
            max={1}
            part="foam"
            name="neutralRatio"
            undo="Neutral ratio"
            hint="How deep, from the inside, the layer lies that keeps its length in a bend. 0.5 unless measured."
          />
          <DecidedLength
            label="Inside radius of a bend"
            fine
            min={0}
            max={200}
            part="foam"
            name="bendRadius"
            undo="Bend radius"
            hint="Counts for panels made without the folded shell; with it, folds are creases."
          />
          <DecidedNumber
            label="Sharp corners are cut blunt beyond this many shifts"
            kind="ratio"
            by={0.5}
            min={1}
            max={20}
            part="foam"
            name="mitreLimit"
            undo="Corner limit"
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
