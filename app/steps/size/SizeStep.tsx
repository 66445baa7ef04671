import type { Fit, FitStep } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { Choice, LengthField, NumberField, type ShownUnit } from '../../ui/fields';
import { type Figure, Figures, Folded } from '../../ui/parts';
import { StandsForChoice, ThicknessField } from '../foamChoices';
import { NextStep } from '../NextStep';
import { Part, Sheet } from '../Sheet';
import { decidePart, endMerge, useDecisions, useResults, useUnit } from '../useWork';
import { HeadPart } from './HeadPart';
import { PatternGirth } from './PatternGirth';
import { percentText, stepText } from './words';

/** How large the pattern has to be for its wearer. */
export function SizeStep() {
  const { fit: result } = useResults();
  const { fit } = useDecisions();
  const unit = useUnit();
  return (
    <Sheet
      title="Size"
      about="Scale the pattern so that the finished shell fits inside, foam and padding included."
      actions={<NextStep after="size" />}
    >
      <Choice
        legend="Size it by"
        layout="list"
        value={fit.how}
        options={[
          { value: 'head', label: 'the wearer’s head' },
          { value: 'known', label: 'a length on the pattern that I know' },
          { value: 'percent', label: 'a percentage' },
        ]}
        onChange={(how) => decidePart('fit', 'How to size', { how })}
      />
      {result ? (
        <Figures label="Size" items={fitFigures(result, unit)} />
      ) : (
        <p className="waiting">Waiting for the pattern.</p>
      )}
      {result?.context ? (
        <p className={result.context.unusual ? 'ask' : 'context'}>
          {result.context.sentence} <small className="soft">Source: {result.context.source}</small>
        </p>
      ) : null}
      {result && result.steps.length > 0 ? (
        <Folded title={`Why ${percentText(result.scale)}?`} value="the arithmetic">
          <ol className="arithmetic">
            {result.steps.map((step) => (
              <ArithmeticLine key={`${step.label} ${step.formula}`} step={step} unit={unit} />
            ))}
          </ol>
        </Folded>
      ) : null}
      {fit.how === 'head' ? (
        <>
          <HeadPart />
          <PatternGirth />
          <Part title="Foam">
            <ThicknessField />
            <StandsForChoice />
          </Part>
        </>
      ) : null}
      {fit.how === 'known' ? (
        <Part title="Known length">
          <LengthField
            label="As drawn on the pattern"
            unit={unit}
            min={0.1}
            value={fit.known.have}
            onCommit={(have, live) =>
              decidePart(
                'fit',
                'Length on the pattern',
                (old) => ({ ...old, known: { ...old.known, have } }),
                { key: 'fit.have', live },
              )
            }
            onClear={() =>
              decidePart('fit', 'Length on the pattern', (old) => ({
                ...old,
                known: { ...old.known, have: null },
              }))
            }
            onSettle={endMerge}
          />
          <LengthField
            label="It should become"
            unit={unit}
            min={0.1}
            value={fit.known.want}
            onCommit={(want, live) =>
              decidePart('fit', 'Length wanted', (old) => ({ ...old, known: { ...old.known, want } }), {
                key: 'fit.want',
                live,
              })
            }
            onClear={() =>
              decidePart('fit', 'Length wanted', (old) => ({ ...old, known: { ...old.known, want: null } }))
            }
            onSettle={endMerge}
          />
        </Part>
      ) : null}
      {fit.how === 'percent' ? (
        <Part title="Percentage">
          <NumberField
            label="Size of the pattern"
            kind="percent"
            by={0.01}
            min={0.05}
            max={20}
            value={fit.percent}
            hint="100 % is as drawn."
            onCommit={(percent, live) =>
              decidePart('fit', 'Percentage', { percent }, { key: 'fit.percent', live })
            }
            onSettle={endMerge}
          />
        </Part>
      ) : null}
    </Sheet>
  );
}

function fitFigures(fit: Fit, unit: ShownUnit): Figure[] {
  const girth = (label: string, value: number | null): Figure[] =>
    value === null ? [] : [{ label, value: formatLength(value, unit) }];
  const { width, height } = fit.largestPiece;
  return [
    { label: 'Scale', value: percentText(fit.scale) },
    ...girth('Pattern’s girth', fit.patternGirth),
    ...girth('Inside girth wanted', fit.insideGirthWanted),
    ...girth('Inside girth', fit.insideGirth),
    ...girth('Outside girth', fit.outsideGirth),
    {
      label: 'Largest piece',
      value: `${formatLength(width, unit, { bare: true })} × ${formatLength(height, unit)}`,
    },
  ];
}

function ArithmeticLine({ step, unit }: { readonly step: FitStep; readonly unit: ShownUnit }) {
  return (
    <li>
      <span>
        {step.label}
        {step.formula ? <small className="soft"> {step.formula}</small> : null}
      </span>
      <span className="number">{stepText(step, unit)}</span>
    </li>
  );
}
