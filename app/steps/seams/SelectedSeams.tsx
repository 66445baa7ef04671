import { Check, Unlink } from 'lucide-react';
import type { OpenEdge, Seam } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { asMade, isAcceptable, runCommand } from '../../commands';
import { showLikely, useSession } from '../../document';
import { Choice, SelectField } from '../../ui/fields';
import type { NamedEdge } from '../names';
import { Part } from '../Sheet';
import { useUnit } from '../useWork';
import { matesFor, type RunRow } from './seamRows';

interface SelectedSeamsProps {
  readonly rows: readonly RunRow[];
  readonly open: readonly OpenEdge[];
  readonly edges: ReadonlyMap<string, NamedEdge>;
}

const evidenceSentences: Readonly<Record<Seam['evidence'], string>> = {
  person: 'Paired by you.',
  number: 'Paired by the number printed at both edges.',
  geometry: 'Found from lengths and corners.',
};

/** What can be done with the selected seams: accept, take apart, exchange a mate, settle which way the sides run. */
export function SelectedSeams({ rows, open, edges }: SelectedSeamsProps) {
  const selection = useSession((s) => s.selection);
  const chosen = rows.flatMap((row) =>
    row.seams
      .filter(
        (seam) =>
          selection.includes(row.id) ||
          selection.includes(seam.id) ||
          selection.includes(seam.a.edge) ||
          selection.includes(seam.b.edge),
      )
      .map((seam) => ({ row, seam })),
  );
  const first = chosen[0];
  if (!first) return null;
  const numbers = [...new Set(chosen.map(({ row }) => row.number))];
  const title = numbers.length === 1 ? `Seam ${numbers[0]}` : `Seams ${numbers.join(', ')}`;
  const seams = chosen.map(({ seam }) => seam);
  const acceptable = seams.filter(isAcceptable);
  return (
    <Part title={title}>
      {chosen.length === 1 ? (
        <OneSeam key={first.seam.id} seam={first.seam} open={open} edges={edges} />
      ) : (
        <p>
          {chosen.length} edge pairs are selected.{' '}
          <span className="soft">Pick one on the bench to see it alone.</span>
        </p>
      )}
      <div className="buttons">
        {acceptable.length > 0 ? (
          <button type="button" onClick={() => runCommand('confirmSeams', { seams: acceptable })}>
            <Check aria-hidden="true" size={16} /> Accept {title.toLowerCase()}
          </button>
        ) : null}
        <button type="button" onClick={() => runCommand('unpair', { seams })}>
          <Unlink aria-hidden="true" size={16} /> Unpair {title.toLowerCase()}
        </button>
      </div>
    </Part>
  );
}

function OneSeam({ seam, open, edges }: Omit<SelectedSeamsProps, 'rows'> & { readonly seam: Seam }) {
  const unit = useUnit();
  const nameOf = (edge: string) => edges.get(edge)?.name ?? '?';
  const length = (mm: number) => formatLength(mm, unit, { decimals: 2 });
  return (
    <>
      <p>
        Edge {nameOf(seam.a.edge)} ({length(seam.lengthA)}) with edge {nameOf(seam.b.edge)} (
        {length(seam.lengthB)}), {length(Math.abs(seam.lengthA - seam.lengthB))} apart.
      </p>
      <p className="soft">
        {seam.reason ?? evidenceSentences[seam.evidence]}
        {seam.evidence === 'person' ? null : ` Confidence ${Math.round(seam.confidence * 100)} %.`}
      </p>
      <Choice
        legend="The two sides run"
        value={seam.direction}
        options={[
          { value: 'opposed', label: 'against each other' },
          { value: 'along', label: 'the same way' },
        ]}
        onChange={(direction) =>
          runCommand('pairEdges', { ...asMade(seam, (edge) => edges.get(edge)?.length), direction })
        }
      />
      {seam.direction === 'along' && seam.evidence !== 'person' ? (
        <div className="ask">
          <p>
            Seen from outside, the sides of a seam run against each other. Here they run the same way: one of
            the pieces may have been drawn from inside. Accept it when it is right.
          </p>
        </div>
      ) : null}
      {[seam.a.edge, seam.b.edge].map((edge) => (
        <OtherMate
          key={edge}
          edge={edge}
          mate={edge === seam.a.edge ? seam.b.edge : seam.a.edge}
          open={open}
          edges={edges}
        />
      ))}
    </>
  );
}

/** Mates on offer for an exchange: enough to hold every edge of a like length. */
const mostOffered = 12;

/** Another mate for one side. Any edge may be taken; one that has a mate leaves it. */
function OtherMate({
  edge,
  mate,
  open,
  edges,
}: {
  readonly edge: string;
  readonly mate: string;
  readonly open: readonly OpenEdge[];
  readonly edges: ReadonlyMap<string, NamedEdge>;
}) {
  const unit = useUnit();
  const own = edges.get(edge);
  if (!own) return null;
  const free = new Set(open.filter((o) => o.why !== 'border').map((o) => o.edge));
  const offered = matesFor(own, [...edges.values()], [...free].filter(isNear(own, edges)))
    .filter((e) => e.edge !== mate)
    .slice(0, mostOffered);
  return (
    <SelectField
      label={`Glue ${own.name} to another edge`}
      value=""
      options={[
        { value: '', label: `as it is: ${edges.get(mate)?.name ?? '?'}` },
        ...offered.map((e) => ({
          value: e.edge,
          label: `${e.name}, ${formatLength(e.length, unit, { decimals: 2 })}${free.has(e.edge) ? ', open' : ''}`,
        })),
      ]}
      onChange={(other) => {
        showLikely(null);
        if (other) runCommand('giveMate', { edge, mate: other });
      }}
    />
  );
}

/** An open edge goes before the others only when its length could be right: within a twentieth. */
const isNear = (own: NamedEdge, edges: ReadonlyMap<string, NamedEdge>) => (id: string) => {
  const other = edges.get(id);
  return other !== undefined && Math.abs(other.length - own.length) <= own.length / 20;
};
