import { ArrowDown, ArrowUp } from 'lucide-react';
import { useState } from 'react';
import { reachLine, runLine, type StepDrawer, stepTitle } from '../../../src/build';
import type { BuildDecisions, BuildStep } from '../../../src/model';
import { Toggle } from '../../ui/fields';
import { Part } from '../Sheet';
import { decidePart, useUnit } from '../useWork';
import { StepFigure } from './StepFigure';

interface StepListProps {
  readonly steps: readonly BuildStep[];
  readonly nameOf: (panel: string) => string;
  readonly draw: StepDrawer | null;
}

/** The steps to tick off; the one that is opened shows its picture and its seams. At first the next one to do. */
export function StepList({ steps, nameOf, draw }: StepListProps) {
  const unit = useUnit();
  const [opened, setOpened] = useState<string | null>(null);
  const next = steps.find((s) => !s.done)?.id ?? null;
  const shown = opened ?? next;
  const ids = steps.map((s) => s.id);
  const tick = (step: BuildStep, done: boolean) => {
    setOpened(null);
    decidePart('build', done ? 'Step done' : 'Step not done', (old) => ({
      ...old,
      done: done ? [...old.done, step.id] : old.done.filter((id) => id !== step.id),
    }));
  };
  const move = (index: number, by: 1 | -1) =>
    decidePart('build', 'Move step', (old): BuildDecisions => {
      const order = [...ids];
      const [moved] = order.splice(index, 1);
      order.splice(index + by, 0, moved!);
      return { ...old, order };
    });
  return (
    <Part title="Steps">
      <ol className="build-steps">
        {steps.map((step, i) => (
          <li key={step.id} data-done={step.done}>
            <Toggle
              label={`${i + 1}. ${stepTitle(step, nameOf)}`}
              checked={step.done}
              onChange={(done) => tick(step, done)}
            />
            {shown === step.id ? (
              <div className="build-step-open">
                {draw ? <StepFigure step={step} draw={draw} nameOf={nameOf} /> : null}
                <ul>
                  {step.runs.map((run) => (
                    <li key={run.seams[0]}>{runLine(run, nameOf, unit)}</li>
                  ))}
                  {step.blind ? <li>{reachLine(step, unit)}</li> : null}
                </ul>
                <div className="buttons">
                  <button type="button" className="quiet" disabled={i === 0} onClick={() => move(i, -1)}>
                    <ArrowUp aria-hidden="true" size={16} /> Earlier
                  </button>
                  <button
                    type="button"
                    className="quiet"
                    disabled={i === steps.length - 1}
                    onClick={() => move(i, 1)}
                  >
                    <ArrowDown aria-hidden="true" size={16} /> Later
                  </button>
                </div>
              </div>
            ) : (
              <button
                type="button"
                className="quiet"
                aria-label={`Show step ${i + 1}`}
                onClick={() => setOpened(step.id)}
              >
                Show
              </button>
            )}
          </li>
        ))}
      </ol>
      <button
        type="button"
        className="quiet"
        onClick={() => decidePart('build', 'Computed order', { order: [] })}
      >
        Back to the computed order
      </button>
    </Part>
  );
}
