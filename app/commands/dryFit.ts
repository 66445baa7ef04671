/** Putting the panels together before anything is cut: a measurement, no step to undo. */
import { dryFit as fitPanels, type Session } from '../document';
import { command, effect, refuse } from './command';

/** The dry fit, and whether it belongs to the panels that are there now. */
export function freshDryFit(s: Pick<Session, 'dryFit' | 'results'>) {
  const { dryFit, results } = s;
  return dryFit ? { made: dryFit.made, fresh: dryFit.of === results.foam } : null;
}

export const dryFit = command({
  id: 'dryFit',
  label: () => 'Put the panels together',
  enabled: (s) => {
    if (!s.document) return 'Open a pattern first.';
    if (s.results.foam?.panels.some((panel) => panel.body)) return true;
    return s.stale
      ? 'The pattern is still being folded up.'
      : 'There is no sound shell to put the panels on.';
  },
  run(s) {
    const able = this.enabled(s);
    return able === true ? effect(() => void fitPanels()) : refuse(able);
  },
});
