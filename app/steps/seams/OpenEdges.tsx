import type { OpenEdge } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { runCommand } from '../../commands';
import { useSession } from '../../document';
import { Toggle } from '../../ui/fields';
import { Folded, TableHead } from '../../ui/parts';
import { counted, type NamedEdge } from '../names';
import { ShowButton } from '../ShowButton';
import { useUnit } from '../useWork';
import { AmbiguousEdges } from './AmbiguousEdges';
import { groupOpen } from './openRows';

const whyWords: Readonly<Record<OpenEdge['why'], string>> = {
  'no-evidence': 'nothing fits',
  'number-alone': 'number has no answer',
  'number-repeated': 'number stands at several edges',
  border: 'border',
};

interface OpenEdgesProps {
  readonly open: readonly OpenEdge[];
  readonly edges: ReadonlyMap<string, NamedEdge>;
}

/** Edges that no seam uses, each with the choice to leave it open for good. */
export function OpenEdges({ open, edges }: OpenEdgesProps) {
  const selection = useSession((s) => s.selection);
  const { ambiguous, lonely, borders } = groupOpen(open);
  const undecided = [...ambiguous, ...lonely];
  const selected = open.filter((edge) => selection.includes(edge.edge));
  const borderOf = (list: readonly OpenEdge[]) =>
    runCommand('markBorder', { edges: list.map((e) => e.edge) });
  if (open.length === 0) return <p className="hint">Every edge has a mate.</p>;
  return (
    <>
      <p className="hint">
        A border stays open: the neck, the face, the eyes. Tick the edges that are meant to, so that the
        others stand out.
      </p>
      <div className="buttons">
        {selected.length > 0 ? (
          <button type="button" onClick={() => borderOf(selected)}>
            Mark {counted(selected.length, 'selected edge')} as border
          </button>
        ) : null}
        {undecided.length > 0 ? (
          <button type="button" onClick={() => borderOf(undecided)}>
            Mark all {undecided.length} as borders
          </button>
        ) : null}
      </div>
      {ambiguous.length > 0 ? (
        <Folded
          title="Several mates fit"
          value={counted(ambiguous.length, 'edge')}
          open={ambiguous.length <= 40}
        >
          <p className="hint">
            Look at a candidate to see it joined on the bench, press it to glue. The percentages say how much
            speaks for each.
          </p>
          <AmbiguousEdges list={ambiguous} edges={edges} />
        </Folded>
      ) : null}
      {lonely.length > 0 ? (
        <Folded title="No mate found" value={counted(lonely.length, 'edge')} open={lonely.length <= 40}>
          <EdgeRows list={lonely} edges={edges} />
        </Folded>
      ) : null}
      {borders.length > 0 ? (
        <Folded title="Borders" value={counted(borders.length, 'edge')}>
          <EdgeRows list={borders} edges={edges} />
        </Folded>
      ) : null}
    </>
  );
}

function EdgeRows({
  list,
  edges,
}: {
  readonly list: readonly OpenEdge[];
  readonly edges: OpenEdgesProps['edges'];
}) {
  const unit = useUnit();
  return (
    <table className="table">
      <TableHead columns={['Edge', 'Length', 'Why', 'Border']} figures={['Length']} last="Show" />
      <tbody>
        {list.map((open) => {
          const edge = edges.get(open.edge);
          const name = edge?.name ?? '?';
          const mates = open.candidates.map((id) => edges.get(id)?.name ?? '?');
          return (
            <tr key={open.edge}>
              <th scope="row">{name}</th>
              <td className="number">{edge ? formatLength(edge.length, unit) : ''}</td>
              <td>
                {whyWords[open.why]}
                {open.label ? ` (${open.label})` : ''}
                {mates.length > 0 ? (
                  <small className="hint">
                    could be {mates.slice(0, 4).join(', ')}
                    {mates.length > 4 ? ' …' : ''}
                  </small>
                ) : null}
              </td>
              <td>
                <Toggle
                  label={`Edge ${name} is a border`}
                  labelHidden
                  checked={open.why === 'border'}
                  onChange={(on) => runCommand(on ? 'markBorder' : 'unmarkBorder', { edges: [open.edge] })}
                />
              </td>
              <td>
                <ShowButton
                  ids={[open.edge, ...open.candidates]}
                  what={`edge ${name} and what could be its mate`}
                />
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
