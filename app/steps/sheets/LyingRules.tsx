import type { AllowedTurns, SheetDecisions } from '../../../src/model';
import { Choice, Toggle } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { DecidedLength, DecidedNumber } from '../decided';
import { Part } from '../Sheet';
import { decidePart, useDecisions } from '../useWork';

export const turnWords: Readonly<Record<AllowedTurns, string>> = {
  free: 'Any way',
  quarter: 'By 90°',
  half: 'By 180°',
  fixed: 'As drawn',
};

export const turnOptions = (Object.keys(turnWords) as AllowedTurns[]).map((value) => ({
  value,
  label: turnWords[value],
}));

const set = (label: string, change: Partial<SheetDecisions>, live = false) =>
  decidePart('sheets', label, change, { key: `sheets.${Object.keys(change).join()}`, live });

/** How panels may lie on a sheet. */
export function LyingRules() {
  const { sheets } = useDecisions();
  return (
    <Part title="How panels may lie">
      <DecidedLength
        label="Between panels"
        fine
        min={0}
        max={100}
        part="sheets"
        name="gap"
        undo="Room between panels"
        hint="Free foam between two panels; the kerf comes on top."
      />
      <DecidedLength
        label="To the rim of a sheet"
        fine
        min={0}
        max={200}
        part="sheets"
        name="margin"
        undo="Room to the rim"
      />
      <Choice<AllowedTurns>
        legend="Turns"
        value={sheets.turns}
        options={turnOptions}
        onChange={(turns) => set('Turns on sheets', { turns })}
      />
      <Toggle
        label="Both faces of the foam are equally good"
        hint="Panels may then be turned over. Those with bevelled edges never are: their bevels would lean the wrong way."
        checked={sheets.facesAlike}
        onChange={(facesAlike) => set(facesAlike ? 'Both faces alike' : 'One good face', { facesAlike })}
      />
    </Part>
  );
}

/** When a search ends by itself. */
export function Searching() {
  const { sheets } = useDecisions();
  const enough = sheets.enough < 1 ? ` or ${Math.round(sheets.enough * 100)} % filled` : '';
  return (
    <Folded title="How long to search" value={`${sheets.seconds} s${enough}`}>
      <DecidedNumber
        label="Seconds"
        kind="count"
        by={5}
        min={1}
        max={3600}
        part="sheets"
        name="seconds"
        undo="Time of the search"
        hint="The first layout is there at once; you can stop at any time."
      />
      <DecidedNumber
        label="Good enough when filled to"
        kind="percent"
        by={0.01}
        min={0.1}
        max={1}
        part="sheets"
        name="enough"
        undo="Good enough"
        hint="The search ends as soon as the sheets are filled so far. 100 %: never."
      />
      <DecidedNumber
        label="Start of the search"
        kind="count"
        by={1}
        min={0}
        max={9999}
        part="sheets"
        name="seed"
        undo="Start of the search"
        hint="Another number starts another way and may end better."
      />
    </Folded>
  );
}
