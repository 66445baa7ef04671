/** Where the head sits in the shell: the brow plane. */
import type { BrowDecision, Decisions } from '../../src/model';
import { change, command, refuse, withDocument } from './command';

const brow = (d: Decisions, value: BrowDecision): Decisions => ({ ...d, fit: { ...d.fit, brow: value } });

/** A plane that leans more would cut through crown and neck rather than go round a head. */
const steepest = Math.PI / 3;

/**
 * Sets the brow plane by hand; what is left out stays as it is. `at`: part of the shell's height, 0 lowest to 1
 * highest; `tilt`: radians, + higher in front, at most 60° either way. A drag gives `merge` to be one undo step.
 */
export const setBrow = command<Partial<BrowDecision> & { readonly merge?: string }>({
  id: 'setBrow',
  label: () => 'Set the brow plane',
  enabled: withDocument,
  run: (_s, { at, tilt, merge }) => {
    if (at !== undefined && at !== null && !(at >= 0 && at <= 1))
      return refuse('The brow plane lies between the lowest and the highest point of the shell.');
    if (tilt !== undefined && tilt !== null && !(Math.abs(tilt) <= steepest))
      return refuse('The brow plane leans 60° at most.');
    return change(
      at === undefined ? 'Tilt the brow plane' : 'Move the brow plane',
      (d) =>
        brow(d, {
          at: at === undefined ? d.fit.brow.at : at,
          tilt: tilt === undefined ? d.fit.brow.tilt : tilt,
        }),
      merge === undefined ? {} : { merge },
    );
  },
});

/** Back to the proposed brow plane. */
export const proposeBrow = command({
  id: 'proposeBrow',
  label: () => 'Use the proposed brow plane',
  enabled: (s) => {
    if (!s.document) return 'Open a pattern first.';
    const { at, tilt } = s.document.decisions.fit.brow;
    return at !== null || tilt !== null ? true : 'The brow plane is the proposed one.';
  },
  run: () => change('Use the proposed brow plane', (d) => brow(d, { at: null, tilt: null })),
});
