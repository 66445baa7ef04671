import { Link2 } from 'lucide-react';
import { useState } from 'react';
import type { OpenEdge } from '../../../src/model';
import { areUnequal } from '../../../src/seams';
import { formatLength } from '../../../src/units';
import { freeStretch, runCommand } from '../../commands';
import { select } from '../../document';
import { Choice, SelectField } from '../../ui/fields';
import type { NamedEdge } from '../names';
import { useDecisions, useUnit } from '../useWork';
import { matesFor } from './seamRows';

interface PairFormProps {
  readonly open: readonly OpenEdge[];
  readonly edges: ReadonlyMap<string, NamedEdge>;
}

/** Pairing without a pointer: two lists of open edges, likely mates first. */
export function PairForm({ open, edges }: PairFormProps) {
  const unit = useUnit();
  const { made } = useDecisions().seams;
  const [first, setFirst] = useState('');
  const [second, setSecond] = useState('');
  const [where, setWhere] = useState<'all' | 'start' | 'end'>('all');
  const [direction, setDirection] = useState<'opposed' | 'along'>('opposed');
  const free = open.flatMap((o) => edges.get(o.edge) ?? []);
  const a = free.find((edge) => edge.edge === first) ?? null;
  const candidates = open.find((o) => o.edge === first)?.candidates ?? [];
  const mates = a ? matesFor(a, free, candidates) : [];
  const b = mates.find((edge) => edge.edge === second) ?? null;
  const option = (edge: NamedEdge) => ({
    value: edge.edge,
    label: `${edge.name}, ${formatLength(edge.length, unit)}${edge.label ? `, number ${edge.label}` : ''}`,
  });
  // A mate that is much shorter belongs to a part of the longer edge.
  const [short, long] = a && b && a.length > b.length ? [b, a] : [a, b];
  const partly = short !== null && long !== null && areUnequal(short.length, long.length);
  const stretch =
    partly && where !== 'all' ? freeStretch(made, long.edge, short.length / long.length, where) : null;
  if (free.length < 2) return <p className="hint">There are not two open edges to pair.</p>;
  return (
    <div className="stack">
      <p className="hint">
        On the bench: take the pair tool, click one edge, then its mate. Or choose both here. An edge that has
        a mate must be unpaired first.
      </p>
      <SelectField
        label="Edge"
        value={a ? first : ''}
        options={[{ value: '', label: 'Choose …' }, ...free.map(option)]}
        onChange={(edge) => {
          setFirst(edge);
          setSecond('');
          if (edge) select([edge]);
        }}
      />
      <SelectField
        label="Its mate"
        value={b ? second : ''}
        disabled={!a}
        options={[{ value: '', label: a ? 'Choose …' : 'Choose the first edge' }, ...mates.map(option)]}
        {...(a && b
          ? {
              hint: `Lengths differ by ${formatLength(Math.abs(a.length - b.length), unit, { decimals: 2 })}.`,
            }
          : {})}
        onChange={(edge) => {
          setSecond(edge);
          if (edge) select([first, edge]);
        }}
      />
      {partly ? (
        <>
          <Choice
            legend={`Glue ${short.name} to`}
            value={where}
            options={[
              { value: 'all', label: `all of ${long.name}` },
              { value: 'start', label: 'its right end' },
              { value: 'end', label: 'its left end' },
            ]}
            onChange={setWhere}
          />
          <p className="hint">
            Right and left as seen from inside the piece, beside what is glued there already.
          </p>
        </>
      ) : null}
      <Choice
        legend="The two sides run"
        value={direction}
        options={[
          { value: 'opposed', label: 'against each other' },
          { value: 'along', label: 'the same way' },
        ]}
        onChange={setDirection}
      />
      <button
        type="button"
        disabled={!a || !b}
        onClick={() => {
          if (!a || !b) return;
          const part = stretch ? (long === a ? { partA: stretch } : { partB: stretch }) : {};
          runCommand('pairEdges', { a: a.edge, b: b.edge, direction, ...part });
          setFirst('');
          setSecond('');
          setWhere('all');
        }}
      >
        <Link2 aria-hidden="true" size={16} /> Pair these edges
      </button>
    </div>
  );
}
