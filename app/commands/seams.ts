/** Pairing edges by hand. */
import { polylineLength } from '../../src/math';
import type { Decisions, MadeSeam, Seam, SeamDecisions } from '../../src/model';
import { seamIdOf } from '../../src/seams';
import type { Session } from '../document';
import { type CommandAnswer, change, command, refuse } from './command';
import { asMade, withMade } from './madeSeams';
import { indexOf, selectedEdges, selectedSeams } from './selection';

export const seams = (d: Decisions, part: Partial<SeamDecisions>): Decisions => ({
  ...d,
  seams: { ...d.seams, ...part },
});

const pairReason = 'Select two edges that are glued together.';

/** The two edges given, or the two selected. Also what the pair tool runs. */
export const pairEdges = command<
  (Omit<MadeSeam, 'direction'> & { readonly direction?: MadeSeam['direction'] }) | undefined
>({
  id: 'pairEdges',
  label: () => 'Pair these edges',
  keys: ['g'],
  enabled: (s) => (selectedEdges(s).length === 2 ? true : pairReason),
  run: (s, args) => {
    const [a, b, ...more] = args ? [args.a, args.b] : selectedEdges(s);
    if (a === undefined || b === undefined || more.length > 0) return refuse(pairReason);
    if (a === b) return refuse('An edge can’t be glued to itself.');
    return pair({ ...args, a, b, direction: args?.direction ?? 'opposed' }, 'Pair two edges');
  },
});

/** The person's word for two edges: goes before whatever was glued there. */
export function pair(made: MadeSeam, label: string): CommandAnswer {
  const id = seamIdOf(made.a, made.b);
  const ends = [made.a, made.b];
  return change(
    label,
    (d) =>
      seams(d, {
        made: withMade(d.seams.made, [made]),
        rejected: d.seams.rejected.filter((r) => r !== id),
        borders: d.seams.borders.filter((e) => !ends.includes(e)),
      }),
    { select: [id] },
  );
}

/** A found seam as the person's word. */
export const asMadeIn = (s: Session, seam: Seam): MadeSeam =>
  asMade(seam, (edge) => {
    const points = indexOf(s.results.pattern).edges.get(edge)?.edge.points;
    return points && polylineLength(points);
  });

export const seamReason = 'Select a seam, or one of its edges.';

export const withSeam = (s: Session): true | string => (selectedSeams(s).length > 0 ? true : seamReason);

/** Takes the selected seams (or those given) apart; they are not proposed again. */
export const unpair = command<{ readonly seams?: readonly Seam[] } | undefined>({
  id: 'unpair',
  label: (s) => (selectedSeams(s).length > 1 ? 'Take these seams apart' : 'Take this seam apart'),
  keys: ['Delete', 'Backspace'],
  enabled: withSeam,
  run: (s, args) => {
    const apart = args?.seams ?? selectedSeams(s);
    if (apart.length === 0) return refuse(seamReason);
    const ids = apart.map((x) => x.id);
    return change(
      apart.length > 1 ? 'Take seams apart' : 'Take a seam apart',
      (d) =>
        seams(d, {
          made: d.seams.made.filter((m) => !ids.includes(seamIdOf(m.a, m.b))),
          rejected: [...new Set([...d.seams.rejected, ...ids])],
        }),
      { select: apart.flatMap((x) => [x.a.edge, x.b.edge]) },
    );
  },
});

/** For a piece that was drawn from inside: start meets start instead of end. */
export const turnSeam = command({
  id: 'turnSeam',
  label: () => 'Turn one side round',
  enabled: (s) => (selectedSeams(s).length === 1 ? true : 'Select one seam.'),
  run: (s) => {
    const [seam, ...more] = selectedSeams(s);
    if (!seam || more.length > 0) return refuse('Select one seam.');
    const direction = seam.direction === 'opposed' ? 'along' : 'opposed';
    return pair({ ...asMadeIn(s, seam), direction }, 'Turn a seam round');
  },
});

const edgeReason = 'Select edges first.';

/** The selected edges (or those given) stay open: neck, face, eyes. Their seams are taken apart. */
export const markBorder = command<{ readonly edges?: readonly string[] } | undefined>({
  id: 'markBorder',
  label: (s) => (selectedEdges(s).length > 1 ? 'These edges stay open' : 'This edge stays open'),
  keys: ['b'],
  enabled: (s) => (selectedEdges(s).length > 0 ? true : edgeReason),
  run: (s, args) => {
    const edges = args?.edges ?? selectedEdges(s);
    if (edges.length === 0) return refuse(edgeReason);
    return change(edges.length > 1 ? 'Edges stay open' : 'Edge stays open', (d) =>
      seams(d, {
        made: d.seams.made.filter((m) => !edges.includes(m.a) && !edges.includes(m.b)),
        borders: [...new Set([...d.seams.borders, ...edges])],
      }),
    );
  },
});

export const unmarkBorder = command<{ readonly edges?: readonly string[] } | undefined>({
  id: 'unmarkBorder',
  label: (s) => (selectedEdges(s).length > 1 ? 'These edges may be glued' : 'This edge may be glued'),
  enabled: (s) => {
    const borders = s.document?.decisions.seams.borders ?? [];
    return selectedEdges(s).some((e) => borders.includes(e)) ? true : 'Select an edge that stays open.';
  },
  run: (s, args) => {
    const edges = args?.edges ?? selectedEdges(s);
    if (edges.length === 0) return refuse(edgeReason);
    return change('Edge may be glued', (d) =>
      seams(d, { borders: d.seams.borders.filter((e) => !edges.includes(e)) }),
    );
  },
});
