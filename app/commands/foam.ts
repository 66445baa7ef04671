/** Bend angles and how seams are cut. */
import type { Decisions, FoamDecisions, SeamPreparation } from '../../src/model';
import type { Rad } from '../../src/units';
import { change, command, refuse, withDocument } from './command';
import { withEntries } from './reading';
import { selectedBends, selectedSeams } from './selection';

const foam = (d: Decisions, part: Partial<FoamDecisions>): Decisions => ({
  ...d,
  foam: { ...d.foam, ...part },
});

const bendReason = 'Select folds or seams first.';

/** Bend angle (radians, + convex from outside) of the selected folds and seams, or of those given; null: not set. */
export const setBend = command<{
  readonly angle: Rad | null;
  readonly ids?: readonly string[];
  readonly merge?: string;
}>({
  id: 'setBend',
  label: () => 'Set the bend',
  enabled: (s) => (selectedBends(s).length > 0 ? true : bendReason),
  run: (s, { angle, ids = selectedBends(s), merge }) => {
    if (ids.length === 0) return refuse(bendReason);
    return change(
      angle === null ? 'Unset bend' : 'Set bend',
      (d) => foam(d, { bends: withEntries(d.foam.bends, ids, angle) }),
      merge === undefined ? {} : { merge },
    );
  },
});

export type BendRole = keyof FoamDecisions['roleBends'];

/** Bend angle of all mountain folds, valley folds, folds of unknown direction, or seams without their own. */
export const setRoleBend = command<{
  readonly role: BendRole;
  readonly angle: Rad | null;
  readonly merge?: string;
}>({
  id: 'setRoleBend',
  label: () => 'Set the bend of a kind',
  enabled: withDocument,
  run: (_s, { role, angle, merge }) =>
    change(
      role === 'seam' ? 'Set bend of seams' : 'Set bend of folds',
      (d) => foam(d, { roleBends: { ...d.foam.roleBends, [role]: angle } }),
      merge === undefined ? {} : { merge },
    ),
});

/** How the selected seams (or those given, by id) are cut; null: as all. */
export const setPreparation = command<{
  readonly preparation: SeamPreparation | null;
  readonly seams?: readonly string[];
}>({
  id: 'setPreparation',
  label: () => 'Cut of these seams',
  enabled: (s) => (selectedSeams(s).length > 0 ? true : 'Select a seam first.'),
  run: (s, { preparation, seams = selectedSeams(s).map((x) => x.id) }) => {
    if (seams.length === 0) return refuse('Select a seam first.');
    return change('Set seam cut', (d) =>
      foam(d, { preparationOf: withEntries(d.foam.preparationOf, seams, preparation) }),
    );
  },
});

/** One cut for all seams; single exceptions are dropped. */
export const setPreparationForAll = command<{ readonly preparation: SeamPreparation }>({
  id: 'setPreparationForAll',
  label: () => 'Cut of all seams',
  enabled: withDocument,
  run: (_s, { preparation }) =>
    change('Set cut of all seams', (d) => foam(d, { preparation, preparationOf: {} })),
});
