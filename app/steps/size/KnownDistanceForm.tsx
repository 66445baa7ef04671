import { useState } from 'react';
import { useShallow } from 'zustand/react/shallow';
import type { EdgeEnd } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { runCommand, selectedEdges } from '../../commands';
import { select, useSession } from '../../document';
import { Choice, LengthField, SelectField } from '../../ui/fields';
import type { NamedEdge } from '../names';
import { useResults, useUnit } from '../useWork';
import { distanceOnShell } from './shellPlaces';

const ends = [
  { value: 'start', label: 'at its start' },
  { value: 'end', label: 'at its end' },
] as const;

/** A distance between two corners: two edges (selected on the bench, or chosen here), an end of each, a length. */
export function KnownDistanceForm({ edges }: { readonly edges: ReadonlyMap<string, NamedEdge> }) {
  const { pattern, shell } = useResults();
  const unit = useUnit();
  const selected = useSession(useShallow(selectedEdges));
  const [fromEnd, setFromEnd] = useState<EdgeEnd['end']>('start');
  const [toEnd, setToEnd] = useState<EdgeEnd['end']>('end');
  const [first = '', second = ''] = selected;
  const options = [
    { value: '', label: 'Choose …' },
    ...[...edges.values()].map((e) => ({
      value: e.edge,
      label: `${e.name}, ${formatLength(e.length, unit)}`,
    })),
  ];
  const from: EdgeEnd = { edge: first, end: fromEnd };
  const to: EdgeEnd = { edge: second || first, end: toEnd };
  const ready = first !== '' && (from.edge !== to.edge || from.end !== to.end);
  const now = ready && pattern && shell ? distanceOnShell(pattern, shell, from, to) : null;
  return (
    <Formed title="Add a distance">
      <p className="hint">Select two edges on the bench, or choose them here.</p>
      <SelectField
        label="From the edge"
        value={first}
        options={options}
        onChange={(edge) => select([edge, second].filter((id) => id !== ''))}
      />
      <Choice legend="From" legendHidden value={fromEnd} options={ends} onChange={setFromEnd} />
      <SelectField
        label="To the edge"
        value={second}
        disabled={first === ''}
        options={options}
        onChange={(edge) => select([first, edge].filter((id) => id !== ''))}
      />
      <Choice legend="To" legendHidden value={toEnd} options={ends} onChange={setToEnd} />
      <LengthField
        label="Straight distance"
        unit={unit}
        min={0.1}
        value={null}
        disabled={!ready}
        placeholder={now === null ? '' : formatLength(now, unit, { bare: true })}
        hint={
          now === null ? 'Press Enter to add it.' : `Now ${formatLength(now, unit)}. Press Enter to add it.`
        }
        onCommit={(length, live) => {
          if (!live) runCommand('knowDistance', { from, to, length });
        }}
      />
    </Formed>
  );
}

/** A small form within the folded part. */
export function Formed({ title, children }: { readonly title: string; readonly children: React.ReactNode }) {
  return (
    <fieldset className="formed stack">
      <legend className="field-label">{title}</legend>
      {children}
    </fieldset>
  );
}
