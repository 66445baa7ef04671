/** Putting the panels together before anything is cut: a measurement, no step to undo. */
import { unreachable } from '../../src/base';
import { dryFit as fitPanels, type Session } from '../document';
import { command, effect, refuse } from './command';
import { setFoldPreparation, setPanelFoam, setPreparation } from './foam';
import { splitPanels } from './panels';

/** What can be done about a seam that gapes or presses, or about panels that run into each other. */
export type Mend =
  | { readonly kind: 'bevel'; readonly seams: readonly string[] }
  | { readonly kind: 'score'; readonly fold: string }
  | { readonly kind: 'split'; readonly fold: string }
  | { readonly kind: 'thinner'; readonly panels: readonly string[]; readonly thickness: number };

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

/** One remedy that the dry fit offers: the same change as by the command of its own step. */
export const mend = command<Mend>({
  id: 'mend',
  label: () => 'Mend what the dry fit found',
  enabled: (s) =>
    s.dryFit ? 'Choose a remedy in the list of the dry fit.' : 'Put the panels together first.',
  run(s, by) {
    switch (by.kind) {
      case 'bevel':
        return setPreparation.run(s, { preparation: 'bevel', seams: by.seams });
      case 'score':
        return setFoldPreparation.run(s, { preparation: 'scored', folds: [by.fold] });
      case 'split':
        return splitPanels.run(s, { folds: [by.fold] });
      case 'thinner':
        return setPanelFoam.run(s, { thickness: by.thickness, panels: by.panels });
      default:
        return unreachable(by);
    }
  },
});
