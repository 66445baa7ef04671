/** Making panels that are nearly mirror images exactly that. */
import type { AlikeEdit } from '../../src/model';
import { type MirrorPair, nearMirrorPairs } from '../../src/panels';
import type { Mm } from '../../src/units';
import type { Session } from '../document';
import { change, command, refuse } from './command';
import { withEdit } from './panels';
import { selectedPieces } from './selection';

/** Pairs of finished panels that are nearly mirror images and not made alike yet; of the selected panels, if two are. */
export function nearPairs(
  s: Pick<Session, 'results' | 'document' | 'selection' | 'step'>,
  within: Mm,
): readonly MirrorPair[] {
  const { foam } = s.results;
  if (!foam || !s.document) return [];
  const done = new Set(
    s.document.decisions.panels.edits.flatMap((e) => (e.kind === 'alike' ? [...e.panels] : [])),
  );
  const chosen = selectedPieces(s as Session);
  const panels = foam.panels.filter((p) => !done.has(p.id) && (chosen.length !== 2 || chosen.includes(p.id)));
  return nearMirrorPairs({ panels }, within).filter((p) => p.off > exact);
}

/** Below this, mm, two panels are the same but for rounding. */
const exact = 1e-6;

/** Near mirror images become exact ones: the mean of both. */
export const makePairsAlike = command<{ readonly within: Mm }>({
  id: 'makePairsAlike',
  label: () => 'Make symmetric',
  enabled: (s) => (s.step === 'panels' ? true : 'Panels are made symmetric in the Panels step.'),
  run: (s, { within }) => {
    const pairs = nearPairs(s, within);
    if (pairs.length === 0)
      return refuse(`No two panels are nearly mirror images within ${within} mm without being exactly that.`);
    return change(pairs.length === 1 ? 'Make a pair symmetric' : 'Make pairs symmetric', (d) =>
      pairs.reduce(
        (all, p) =>
          withEdit(all, (id): AlikeEdit => ({ kind: 'alike', id, panels: [p.kept, p.twin], within })),
        d,
      ),
    );
  },
});
