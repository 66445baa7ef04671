import { Check } from 'lucide-react';
import { useEffect } from 'react';
import type { OpenEdge } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { runCommand } from '../../commands';
import { showLikely } from '../../document';
import type { NamedEdge } from '../names';
import { ShowButton } from '../ShowButton';
import { useUnit } from '../useWork';
import { likelyMates, scoreText } from './openRows';

interface AmbiguousEdgesProps {
  readonly list: readonly OpenEdge[];
  readonly edges: ReadonlyMap<string, NamedEdge>;
}

/** More candidates than these are no choice any more; the list of two edges has them all. */
const mostShown = 6;

/**
 * Edges that could belong to several mates. Each candidate is a button: looked at (pointer or focus) it is joined to
 * the edge on the bench, pressed it becomes the mate.
 */
export function AmbiguousEdges({ list, edges }: AmbiguousEdgesProps) {
  const unit = useUnit();
  useEffect(() => () => showLikely(null), []);
  return (
    <ul className="rows likely">
      {list.map((open) => {
        const name = edges.get(open.edge)?.name ?? '?';
        const mates = likelyMates(open, edges);
        const length = edges.get(open.edge)?.length;
        return (
          <li key={open.edge}>
            <div className="row">
              <span>
                <strong>Edge {name}</strong>
                {length === undefined ? null : ` ${formatLength(length, unit)}`}
                {open.label ? `, number ${open.label}` : ''}
              </span>
              <span className="row-end">
                <button
                  type="button"
                  className="quiet"
                  aria-label={`Edge ${name} is a border`}
                  onClick={() => runCommand('markBorder', { edges: [open.edge] })}
                >
                  Border
                </button>
                <ShowButton ids={[open.edge, ...open.candidates]} what={`edge ${name} and its candidates`} />
              </span>
            </div>
            <ul className="likely-mates" aria-label={`Could be the mate of edge ${name}`}>
              {mates.slice(0, mostShown).map((mate) => {
                const look = () => showLikely({ from: open.edge, to: mate.edge });
                const away = () => showLikely(null);
                return (
                  <li key={mate.edge}>
                    <button
                      type="button"
                      className="likely-mate"
                      aria-label={`Glue edge ${name} to ${mate.name}: score ${scoreText(mate.score)}, lengths differ by ${formatLength(mate.difference, unit, { decimals: 2 })}`}
                      onPointerEnter={look}
                      onPointerLeave={away}
                      onFocus={look}
                      onBlur={away}
                      onClick={() => runCommand('giveMate', { edge: open.edge, mate: mate.edge })}
                    >
                      <Check aria-hidden="true" size={14} />
                      <span>{mate.name}</span>
                      <span className="number">{scoreText(mate.score)}</span>
                      <span className="number soft">
                        ± {formatLength(mate.difference, unit, { decimals: 2 })}
                      </span>
                    </button>
                  </li>
                );
              })}
            </ul>
            {mates.length > mostShown ? (
              <p className="hint">and {mates.length - mostShown} more, under “Pair two edges”</p>
            ) : null}
          </li>
        );
      })}
    </ul>
  );
}
