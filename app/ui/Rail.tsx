import { Check, CircleDashed, CircleQuestionMark, type LucideIcon, TriangleAlert } from 'lucide-react';
import { useMemo } from 'react';
import { defaultDecisions } from '../../src/model';
import { runCommand, stepLabels } from '../commands';
import { type StepName, stepNames, useSession } from '../document';
import { type StepMark, stepMarks } from '../steps';
import { useNarrow } from './useNarrow';

const icons: Readonly<Record<StepMark['state'], LucideIcon>> = {
  done: Check,
  look: TriangleAlert,
  ask: CircleQuestionMark,
  waiting: CircleDashed,
};

/** The steps in the order of the work, each with its state. Any can be opened at any time. */
export function Rail({ onChoose }: { readonly onChoose: (step: StepName) => void }) {
  const current = useSession((s) => s.step);
  const narrow = useNarrow();
  const results = useSession((s) => s.results);
  const decisions = useSession((s) => s.document?.decisions ?? defaultDecisions);
  const marks = useMemo(() => stepMarks(results, decisions), [results, decisions]);
  return (
    <nav className="rail" aria-label="Steps">
      <ol>
        {stepNames.map((step, i) => {
          const mark = marks[step];
          const Icon = icons[mark.state];
          return (
            <li key={step}>
              <button
                type="button"
                className="rail-step"
                data-state={mark.state}
                aria-labelledby={`rail-${step}`}
                aria-describedby={`rail-${step}-state`}
                aria-current={step === current ? 'step' : undefined}
                onClick={() => {
                  runCommand('goToStep', { step });
                  onChoose(step);
                }}
              >
                <span className="rail-number" aria-hidden="true">
                  {i + 1}
                </span>
                <span className="rail-name" id={`rail-${step}`}>
                  {stepLabels[step]}
                </span>
                <span className="rail-state" id={`rail-${step}-state`}>
                  <Icon aria-hidden="true" size={13} />
                  <span className="rail-word">{narrow ? mark.short : mark.word}</span>
                </span>
              </button>
            </li>
          );
        })}
      </ol>
    </nav>
  );
}
