import type { FitStep } from '../../../src/model';
import { Choice, LengthField, NumberField, type ShownUnit } from '../../ui/fields';
import { Figures, Folded } from '../../ui/parts';
import { StandsForChoice, ThicknessField } from '../foamChoices';
import { NextStep } from '../NextStep';
import { Part, Sheet } from '../Sheet';
import { TryOnBand } from '../TryOnBand';
import { decidePart, endMerge, useDecisions, useResults, useUnit } from '../useWork';
import { BrowPart } from './BrowPart';
import { HeadPart } from './HeadPart';
import { KnownMeasures } from './KnownMeasures';
import { fitFigures } from './sizeFigures';
import { Wearing } from './Wearing';
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
          { value: 'head', label: 'the wearer’s head', hint: 'One scale, from the girth.' },
          {
            value: 'measures',
            label: 'the head in three measures',
            hint: 'Length, breadth and height each get their own scale; the pieces are unfolded again.',
          },
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
      {result?.shell ? <Wearing shell={result.shell} /> : null}
      {fit.how === 'head' || fit.how === 'measures' ? (
        <>
          <HeadPart />
          <BrowPart />
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
      {fit.how === 'head' || fit.how === 'measures' ? <TryOnBand /> : null}
      <KnownMeasures />
    </Sheet>
  );
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
