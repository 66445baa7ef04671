import { ArrowRight } from 'lucide-react';
import { stepLabels } from '../commands';
import { type StepName, setStep, stepNames } from '../document';

/** The main action of the first four steps. */
export function NextStep({ after }: { readonly after: StepName }) {
  const next = stepNames[stepNames.indexOf(after) + 1];
  if (!next) return null;
  return (
    <button type="button" className="main-action" onClick={() => setStep(next)}>
      Next: {stepLabels[next]} <ArrowRight aria-hidden="true" size={16} />
    </button>
  );
}
