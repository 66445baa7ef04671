/** Bend angles and how seams are cut. */
import type { Decisions, FoamDecisions, FoldPreparation, SeamPreparation } from '../../src/model';
import type { Mm, Rad } from '../../src/units';
import { change, command, refuse, withDocument } from './command';
import { withEntries } from './reading';
import { selectedBends, selectedFolds, selectedPieces, selectedSeams } from './selection';

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
export const setPreparationForAll = command<{
  readonly preparation: FoamDecisions['preparation'];
}>({
  id: 'setPreparationForAll',
  label: () => 'Cut of all seams',
  enabled: withDocument,
  run: (_s, { preparation }) =>
    change('Set cut of all seams', (d) => foam(d, { preparation, preparationOf: {} })),
});

const lapReason = 'Select a seam first.';

/** Which side of the selected lapped seams (or of those given, by id) runs past. */
export const setLapOver = command<{ readonly over: 'a' | 'b'; readonly seams?: readonly string[] }>({
  id: 'setLapOver',
  label: () => 'Panel that runs past',
  enabled: (s) => (selectedSeams(s).length > 0 ? true : lapReason),
  run: (s, { over, seams = selectedSeams(s).map((x) => x.id) }) => {
    if (seams.length === 0) return refuse(lapReason);
    return change('Set panel that runs past', (d) =>
      foam(d, { lapOver: withEntries(d.foam.lapOver, seams, over === 'a' ? null : over) }),
    );
  },
});

const foldReason = 'Select a fold first.';

/** How the selected folds (or those given, by id) are made; null: as all. */
export const setFoldPreparation = command<{
  readonly preparation: FoldPreparation | null;
  readonly folds?: readonly string[];
}>({
  id: 'setFoldPreparation',
  label: () => 'Make of these folds',
  enabled: (s) => (selectedFolds(s).length > 0 ? true : foldReason),
  run: (s, { preparation, folds = selectedFolds(s) }) => {
    if (folds.length === 0) return refuse(foldReason);
    return change('Set make of folds', (d) =>
      foam(d, { foldPreparationOf: withEntries(d.foam.foldPreparationOf, folds, preparation) }),
    );
  },
});

/** One make for all folds; single exceptions are dropped. */
export const setFoldPreparationForAll = command<{
  readonly preparation: FoamDecisions['foldPreparation'];
}>({
  id: 'setFoldPreparationForAll',
  label: () => 'Make of all folds',
  enabled: withDocument,
  run: (_s, { preparation }) =>
    change('Set make of all folds', (d) => foam(d, { foldPreparation: preparation, foldPreparationOf: {} })),
});

const panelReason = 'Select a panel first.';

/** Thickness and name of the foam of the selected panels, or of those given; null: as all. */
export const setPanelFoam = command<{
  readonly thickness?: Mm | null;
  readonly material?: string | null;
  readonly panels?: readonly string[];
  readonly merge?: string;
}>({
  id: 'setPanelFoam',
  label: () => 'Foam of these panels',
  enabled: (s) => (selectedPieces(s).length > 0 ? true : panelReason),
  run: (s, { thickness, material, panels = selectedPieces(s), merge }) => {
    if (panels.length === 0) return refuse(panelReason);
    if (typeof thickness === 'number' && !(thickness > 0)) return refuse('Foam has some thickness.');
    return change(
      'Set foam of panels',
      (d) =>
        foam(d, {
          ...(thickness === undefined
            ? {}
            : { thicknessOf: withEntries(d.foam.thicknessOf, panels, thickness) }),
          ...(material === undefined
            ? {}
            : { materialOf: withEntries(d.foam.materialOf, panels, material === '' ? null : material) }),
        }),
      merge === undefined ? {} : { merge },
    );
  },
});
