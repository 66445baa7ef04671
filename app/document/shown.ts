/** Which pieces a step works on: those of the pattern, or the panels that they were cut and joined into. */
import type { Results } from '../../src/model';
import type { Session, StepName } from './session';

const ofPanels: ReadonlySet<StepName> = new Set(['panels', 'foam', 'sheets', 'pages', 'build']);
const kept = new WeakMap<Results, Results>();

/** The results as a step sees them: from Panels on, pattern, seams and shell are those of the panels. */
export function shownResults(step: StepName, results: Results): Results {
  const { recut } = results;
  if (!recut || !ofPanels.has(step)) return results;
  let shown = kept.get(results);
  if (!shown) {
    shown = { ...results, pattern: recut.pattern, seams: recut.seams, shell: recut.pulled ?? recut.shell };
    kept.set(results, shown);
  }
  return shown;
}

export const shownIn = (session: Pick<Session, 'step' | 'results'>): Results =>
  shownResults(session.step, session.results);
