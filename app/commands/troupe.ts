/** The table of a troupe: who wears the pattern too, and how large their heads are. */
import type { Decisions, Wearer } from '../../src/model';
import { change, command, refuse, withDocument } from './command';

const withWearers = (
  decisions: Decisions,
  make: (wearers: readonly Wearer[]) => readonly Wearer[],
): Decisions => ({ ...decisions, troupe: { ...decisions.troupe, wearers: make(decisions.troupe.wearers) } });

/** The first number that no wearer's id has yet. */
function freshId(wearers: readonly Wearer[]): string {
  const taken = new Set(wearers.map((w) => w.id));
  let n = wearers.length + 1;
  while (taken.has(`w${n}`)) n++;
  return `w${n}`;
}

/** A further row; measures follow. */
export const addWearer = command({
  id: 'addWearer',
  label: () => 'Add a wearer',
  enabled: withDocument,
  run: () =>
    change('Add a wearer', (d) =>
      withWearers(d, (wearers) => [
        ...wearers,
        {
          id: freshId(wearers),
          name: `Wearer ${wearers.length + 1}`,
          girth: null,
          length: null,
          breadth: null,
          height: null,
        },
      ]),
    ),
});

export const changeWearer = command<{
  readonly id: string;
  readonly change: Partial<Omit<Wearer, 'id'>>;
  readonly live?: boolean;
}>({
  id: 'changeWearer',
  label: () => 'Change a wearer',
  enabled: withDocument,
  run: (_, args) =>
    change(
      'Change a wearer',
      (d) => withWearers(d, (all) => all.map((w) => (w.id === args.id ? { ...w, ...args.change } : w))),
      args.live ? { merge: `troupe.${args.id}.${Object.keys(args.change).join()}` } : {},
    ),
});

export const removeWearer = command<{ readonly id: string }>({
  id: 'removeWearer',
  label: () => 'Take a wearer out',
  enabled: withDocument,
  run: (_, { id }) =>
    change('Take a wearer out', (d) => withWearers(d, (all) => all.filter((w) => w.id !== id))),
});

/** Adds the wearers of a table; rows of the same name take the place of those that are there. */
export const importWearers = command<{ readonly wearers: readonly Omit<Wearer, 'id'>[] }>({
  id: 'importWearers',
  label: () => 'Import a table of wearers',
  enabled: withDocument,
  run: (_, { wearers }) =>
    wearers.length === 0
      ? refuse('The table holds no wearer.')
      : change('Import wearers', (d) =>
          withWearers(d, (all) => {
            const nameOf = (w: { readonly name: string }) => w.name.trim().toLowerCase();
            let made: readonly Wearer[] = all;
            for (const wearer of wearers) {
              const same =
                wearer.name.trim() === '' ? undefined : made.find((w) => nameOf(w) === nameOf(wearer));
              made = same
                ? made.map((w) => (w === same ? { ...wearer, id: same.id } : w))
                : [...made, { ...wearer, id: freshId(made) }];
            }
            return made;
          }),
        ),
});
