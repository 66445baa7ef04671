import { Unlink } from 'lucide-react';
import type { Seam } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { runCommand } from '../../commands';
import { useSession } from '../../document';
import { Choice } from '../../ui/fields';
import type { NamedEdge } from '../names';
import { Part } from '../Sheet';
import { useUnit } from '../useWork';
import type { RunRow } from './seamRows';

interface SelectedSeamsProps {
  readonly rows: readonly RunRow[];
  readonly edges: ReadonlyMap<string, NamedEdge>;
}

const evidenceSentences: Readonly<Record<Seam['evidence'], string>> = {
  person: 'Paired by you.',
  number: 'Paired by the number printed at both edges.',
  geometry: 'Found from lengths and corners.',
};

/** What can be done with the selected seam: unpair it, or settle which way its sides run. */
export function SelectedSeams({ rows, edges }: SelectedSeamsProps) {
  const selection = useSession((s) => s.selection);
  const unit = useUnit();
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
  const single = chosen.length === 1 ? first.seam : null;
  const title = numbers.length === 1 ? `Seam ${numbers[0]}` : `Seams ${numbers.join(', ')}`;
  const nameOf = (edge: string) => edges.get(edge)?.name ?? '?';
  return (
    <Part title={title}>
      {single ? (
        <>
          <p>
            Edge {nameOf(single.a.edge)} ({formatLength(single.lengthA, unit, { decimals: 2 })}) with edge{' '}
            {nameOf(single.b.edge)} ({formatLength(single.lengthB, unit, { decimals: 2 })}).{' '}
            <span className="soft">
              {evidenceSentences[single.evidence]} Confidence {Math.round(single.confidence * 100)} %.
            </span>
          </p>
          <Choice
            legend="The two sides run"
            value={single.direction}
            options={[
              { value: 'opposed', label: 'against each other' },
              { value: 'along', label: 'the same way' },
            ]}
            onChange={(direction) =>
              runCommand('pairEdges', { a: single.a.edge, b: single.b.edge, direction })
            }
          />
          {single.direction === 'along' && single.evidence !== 'person' ? (
            <div className="ask">
              <p>
                Seen from outside, the sides of a seam run against each other. Here they run the same way: one
                of the pieces may have been drawn from inside.
              </p>
              <button type="button" onClick={() => runCommand('confirmSeams', { seams: [single] })}>
                It is right, keep it
              </button>
            </div>
          ) : null}
        </>
      ) : (
        <p>
          {chosen.length} edge pairs are selected.{' '}
          <span className="soft">Pick one on the bench to see it alone.</span>
        </p>
      )}
      <button type="button" onClick={() => runCommand('unpair', { seams: chosen.map(({ seam }) => seam) })}>
        <Unlink aria-hidden="true" size={16} /> Unpair {title.toLowerCase()}
      </button>
    </Part>
  );
}
