/** What the person knows about the folded shell, and whether it is folded up at all. */
import type { Decisions, ShellDecisions } from '../../src/model';
import { change, command, refuse, withDocument } from './command';

const shell = (d: Decisions, part: Partial<ShellDecisions>): Decisions => ({
  ...d,
  shell: { ...d.shell, ...part },
});

export const foldUp = command<{ readonly on: boolean }>({
  id: 'foldUp',
  label: () => 'Fold the pattern up',
  enabled: withDocument,
  run: (_s, { on }) =>
    change(on ? 'Fold the pattern up' : 'Leave the pattern flat', (d) => shell(d, { foldUp: on })),
});

export const keepSymmetry = command<{ readonly on: boolean }>({
  id: 'keepSymmetry',
  label: () => 'Keep both sides mirror images',
  enabled: withDocument,
  run: (_s, { on }) =>
    change(on ? 'Keep both sides mirror images' : 'Let both sides differ', (d) => shell(d, { symmetry: on })),
});

type KnownDistance = ShellDecisions['distances'][number];
type KnownGirth = ShellDecisions['girths'][number];

const sameEnd = (p: KnownDistance['from'], q: KnownDistance['from']) => p.edge === q.edge && p.end === q.end;

/** The same two places, whichever was named first. */
const samePlaces = (p: KnownDistance, q: KnownDistance): boolean =>
  (sameEnd(p.from, q.from) && sameEnd(p.to, q.to)) || (sameEnd(p.from, q.to) && sameEnd(p.to, q.from));

/** A straight distance between two ends of edges on the folded shell, mm at the drawing's size. Replaces one there. */
export const knowDistance = command<KnownDistance>({
  id: 'knowDistance',
  label: () => 'Say a distance on the shell',
  enabled: withDocument,
  run: (_s, given) => {
    if (!(given.length > 0 && Number.isFinite(given.length)))
      return refuse('A distance is longer than nothing.');
    if (sameEnd(given.from, given.to)) return refuse('A distance lies between two different places.');
    return change('Say a distance on the shell', (d) =>
      shell(d, { distances: [...d.shell.distances.filter((x) => !samePlaces(x, given)), given] }),
    );
  },
});

/** How far two heights or tilts may differ and still be one section: less than can be seen or typed. */
const sameSection = 1e-4;

/** The taut girth of the section at a height and tilt as for the brow, mm at the drawing's size. */
export const knowGirth = command<KnownGirth>({
  id: 'knowGirth',
  label: () => 'Say a girth of the shell',
  enabled: withDocument,
  run: (_s, given) => {
    if (!(given.girth > 0 && Number.isFinite(given.girth))) return refuse('A girth is longer than nothing.');
    if (!(given.at >= 0 && given.at <= 1))
      return refuse('The section lies between the lowest and the highest point of the shell.');
    const same = (x: KnownGirth) =>
      Math.abs(x.at - given.at) < sameSection && Math.abs(x.tilt - given.tilt) < sameSection;
    return change('Say a girth of the shell', (d) =>
      shell(d, { girths: [...d.shell.girths.filter((x) => !same(x)), given] }),
    );
  },
});

/** Forgets the distance, or the girth, at this place of its list. */
export const forgetKnown = command<{ readonly kind: 'distance' | 'girth'; readonly index: number }>({
  id: 'forgetKnown',
  label: () => 'Forget a measure of the shell',
  enabled: withDocument,
  run: (s, { kind, index }) => {
    const known = s.document?.decisions.shell;
    const list: readonly unknown[] = (kind === 'distance' ? known?.distances : known?.girths) ?? [];
    if (!(index in list)) return refuse('That measure is not there any more.');
    return change(kind === 'distance' ? 'Forget a distance' : 'Forget a girth', (d) =>
      kind === 'distance'
        ? shell(d, { distances: d.shell.distances.filter((_, i) => i !== index) })
        : shell(d, { girths: d.shell.girths.filter((_, i) => i !== index) }),
    );
  },
});
