/** Half patterns: the other half is the mirror image of what is drawn, glued to it along a rim. */
import { drawnHalfId, type ProposedRim, proposeRim } from '../../src/panels';
import { focusOn, type Session, select } from '../document';
import { change, command, effect, refuse, withDocument } from './command';
import { panels } from './panels';
import { selectedEdges } from './selection';

const rimReason =
  'Select the edges where both halves meet first: with Shift, or “Select several” above the bench, you select more than one.';

/** Edges of the drawn half that are selected. */
const chosenRim = (s: Session): readonly string[] => [...new Set(selectedEdges(s).map(drawnHalfId))];

/** Usual tolerance for pairs drawn once; common practice, no source. */
const usualWithin = 0.3;

/** The other half is the mirror image of what is drawn; the selected edges (or those given) are the rim between both. */
export const completeHalf = command<{ readonly rim?: readonly string[] } | undefined>({
  id: 'completeHalf',
  label: () => 'The other half is its mirror image',
  enabled: (s) => {
    if (s.step !== 'seams') return 'Half patterns are completed in the Seams step.';
    return chosenRim(s).length > 0 ? true : rimReason;
  },
  run: (s, args) => {
    const rim = args?.rim ?? chosenRim(s);
    if (rim.length === 0) return refuse(rimReason);
    return change(
      'Complete the half by its mirror image',
      (d) => {
        const whole = { ...d, seams: { ...d.seams, half: { rim } } };
        // What comes in mirror pairs is drawn once, unless the person has said otherwise.
        return d.panels.pairWithin > 0 ? whole : panels(whole, { pairWithin: usualWithin });
      },
      { select: [] },
    );
  },
});

/** The pattern is all there is. */
export const dropHalf = command({
  id: 'dropHalf',
  label: () => 'Take the mirror image away',
  enabled: (s) => (s.document?.decisions.seams.half ? true : 'The pattern has no mirror image.'),
  run: () =>
    change('Take the mirror image away', (d) => ({ ...d, seams: { ...d.seams, half: null } }), {
      select: [],
    }),
});

/** The rim that the folded half shows: open edges in one plane; null when there is none. */
function rimOf({ results: { shell, pattern, seams } }: Session): ProposedRim | null {
  return shell && pattern && seams ? proposeRim(shell, pattern, seams) : null;
}

/** Selects the open edges that lie in one plane, to be looked at and changed before they are taken as the rim. */
export const proposeHalfRim = command({
  id: 'proposeHalfRim',
  label: () => 'Propose the rim',
  enabled: withDocument,
  run: (s) => {
    if (s.document?.decisions.seams.half) return refuse('The pattern has its mirror image already.');
    if (!s.results.shell) return refuse('The half is not folded up yet: select its rim by hand.');
    const rim = rimOf(s);
    if (!rim)
      return refuse(
        'No open edges lie in one plane with the half on one side of it: select the rim by hand.',
      );
    const ends = new Map(
      s.results.pattern?.pieces.flatMap((p) => p.outline.map((e) => [e.id, e.points] as const)),
    );
    return effect(() => {
      select(rim.edges, 'replace');
      focusOn(
        rim.edges.flatMap((id) => ends.get(id) ?? []),
        rim.edges,
      );
    });
  },
});
