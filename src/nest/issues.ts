/** What nesting has to say to the maker. */
import type { Issue } from '../base';
import type { Mm } from '../units';
import { nestOverlap } from './check';
import { faultSentences } from './faultWords';
import type { NestPanel, NestSheet, PlacedPanel } from './types';

/** Panels for which no sheet had room, one issue for all. */
export function doesNotFit(
  panels: readonly NestPanel[],
  left: readonly string[],
  noSheets: boolean,
): Issue[] {
  if (left.length === 0) return [];
  const ids = [...new Set(left)];
  const { thickness, material } = panels[0]!;
  const foam = `${thickness} mm ${material ? `${material} ` : ''}foam`;
  return [
    noSheets
      ? {
          code: 'nest-no-sheet',
          severity: 'error',
          stage: 'sheets',
          message: `There is no sheet of ${foam} for ${left.length} panels.`,
          remedy: 'Add a sheet of this foam.',
          place: { ids },
        }
      : {
          code: 'nest-no-room',
          severity: 'error',
          stage: 'sheets',
          message: `${left.length} panels of ${foam} find no room on the sheets given.`,
          remedy: 'Add a sheet, choose a larger one, allow more turns, or split the panel.',
          place: { ids },
        },
  ];
}

/** Locked panels that collide with each other or stick out of their sheet. */
export function lockedFault(
  panels: readonly NestPanel[],
  sheets: readonly NestSheet[],
  placed: readonly PlacedPanel[],
  gap: Mm,
  margin: Mm,
): Issue[] {
  const locked = placed.filter((p) => p.locked);
  if (locked.length === 0) return [];
  const faults = nestOverlap(panels, sheets, locked, [], gap, margin).filter(
    (f) => f.kind !== 'missing' && f.kind !== 'twice',
  );
  if (faults.length === 0) return [];
  const names = new Set(faults.flatMap((f) => f.panels));
  const ids = [...new Set(locked.filter((p) => names.has(`${p.panel}#${p.copy}`)).map((p) => p.panel))];
  return [
    {
      code: 'nest-locked-collide',
      severity: 'error',
      stage: 'sheets',
      message: `Locked panels are in each other's way. ${faultSentences(
        faults.map(({ kind, panels: copies }) => ({ kind, copies })),
        panels,
      )}`,
      remedy: 'Move or unlock one of them.',
      place: { ids },
    },
  ];
}
