/** What is done with seams that the program found: the rest looked for, found ones accepted, exchanged, taken apart. */
import type { Decisions, Seam } from '../../src/model';
import { computeAgain, type Session } from '../document';
import { change, command, effect, refuse, withDocument } from './command';
import { withMade } from './madeSeams';
import { asMadeIn, pair, seamReason, seams, withSeam } from './seams';
import { indexOf, selectedSeams } from './selection';

/**
 * A seam found by shape at least this sure is taken without a look by "accept all sure ones". Weighed beliefs of seams
 * that folding up did not contradict lie above it; those that only folding up brought together lie below.
 */
export const sureFrom = 0.9;

/** Found by the program, and can become the person's word. */
export const isAcceptable = (seam: Seam): boolean => seam.evidence !== 'person';

/** Found by shape, sure, and not the person's yet. */
export const isSure = (seam: Seam): boolean =>
  seam.evidence === 'geometry' && seam.confidence >= sureFrom && isAcceptable(seam);

/**
 * With a seam on a part of an edge go the others on that edge: they were found together, and one alone would leave the
 * rest of the edge without its mates.
 */
function withNeighbours(s: Session, chosen: readonly Seam[]): readonly Seam[] {
  const divided = new Set(
    chosen.flatMap((x) => [...(x.partA ? [x.a.edge] : []), ...(x.partB ? [x.b.edge] : [])]),
  );
  const beside = (s.results.seams?.seams ?? []).filter(
    (x) =>
      isAcceptable(x) &&
      ((x.partA !== undefined && divided.has(x.a.edge)) || (x.partB !== undefined && divided.has(x.b.edge))),
  );
  return [...new Map([...chosen, ...beside].map((x) => [x.id, x])).values()];
}

const accepted = (s: Session, found: readonly Seam[]) => (d: Decisions) =>
  seams(d, {
    made: withMade(
      d.seams.made,
      found.map((x) => asMadeIn(s, x)),
    ),
  });

/** Makes found seams the person's own word, so that no later reading changes them. */
export const confirmSeams = command<{ readonly seams?: readonly Seam[] } | undefined>({
  id: 'confirmSeams',
  label: (s) => (selectedSeams(s).length > 1 ? 'Accept these seams' : 'Accept this seam'),
  keys: ['y'],
  enabled: withSeam,
  run: (s, args) => {
    const given = args?.seams ?? selectedSeams(s);
    if (given.length === 0) return refuse(seamReason);
    const found = withNeighbours(s, given.filter(isAcceptable));
    if (found.length === 0) return refuse('These seams are yours already.');
    return change(found.length > 1 ? 'Accept seams' : 'Accept a seam', accepted(s, found));
  },
});

/** Every seam that was found by shape and is sure becomes the person's word. */
export const acceptSure = command({
  id: 'acceptSure',
  label: () => 'Accept all sure seams',
  enabled: (s) => {
    if (!s.document) return 'Open a pattern first.';
    return s.results.seams?.seams.some(isSure) ? true : 'No sure seam waits to be accepted.';
  },
  run: (s) => {
    const found = withNeighbours(s, (s.results.seams?.seams ?? []).filter(isSure));
    if (found.length === 0) return refuse('No sure seam waits to be accepted.');
    return change(`Accept ${found.length} sure seams`, accepted(s, found));
  },
});

/**
 * Gives an edge this mate in place of what it has or could have; both become free of their earlier seams.
 */
export const giveMate = command<{
  readonly edge: string;
  readonly mate: string;
  readonly direction?: 'opposed' | 'along';
}>({
  id: 'giveMate',
  label: () => 'Give the edge another mate',
  enabled: withDocument,
  run: (s, { edge, mate, direction }) => {
    if (edge === mate) return refuse('An edge can’t be glued to itself.');
    const { edges } = indexOf(s.results.pattern);
    if (!edges.has(edge) || !edges.has(mate)) return refuse('That edge is not in the pattern any more.');
    return pair({ a: edge, b: mate, direction: direction ?? 'opposed' }, 'Give an edge its mate');
  },
});

/** Pairs what carries no number by its shape; after a cancel, looks again. */
export const findRest = command({
  id: 'findRest',
  label: () => 'Find the rest by shape',
  keys: ['Shift+g'],
  enabled: (s) => {
    if (!s.document) return 'Open a pattern first.';
    const { findRest: on } = s.document.decisions.seams;
    return on && !s.stale ? 'The rest has been looked for.' : true;
  },
  run: (s) =>
    s.document?.decisions.seams.findRest
      ? effect(computeAgain)
      : change('Find the rest by shape', (d) => seams(d, { findRest: true })),
});

/** Only printed numbers and the person's word count. */
export const leaveRest = command({
  id: 'leaveRest',
  label: () => 'Leave the rest open',
  enabled: (s) => {
    if (!s.document) return 'Open a pattern first.';
    return s.document.decisions.seams.findRest ? true : 'The rest is left open.';
  },
  run: () => change('Leave the rest open', (d) => seams(d, { findRest: false })),
});
