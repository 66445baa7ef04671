import { polylineLength } from '../../../src/math';
import type { Pattern } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { runCommand } from '../../commands';
import { Toggle } from '../../ui/fields';
import { Folded } from '../../ui/parts';
import { counted, nameEdges } from '../names';
import { Part } from '../Sheet';
import { ShowButton } from '../ShowButton';
import { decidePart, useDecisions, useUnit } from '../useWork';

/** Glue tabs: off for foam, or kept one by one. */
export function Tabs({ pattern }: { readonly pattern: Pattern }) {
  const unit = useUnit();
  const { reading } = useDecisions();
  const edges = nameEdges(pattern);
  const tabs = pattern.pieces.flatMap((piece) => piece.tabs.map((tab) => ({ piece, tab })));
  return (
    <Part title="Glue tabs">
      <Toggle
        label="Take glue tabs off"
        hint="Foam is glued edge to edge and needs none."
        checked={reading.stripTabs}
        onChange={(stripTabs) =>
          decidePart('reading', stripTabs ? 'Take tabs off' : 'Leave tabs on', { stripTabs })
        }
      />
      {tabs.length > 0 ? (
        <Folded title="Tabs found" value={counted(tabs.length, 'tab')}>
          <table className="table">
            <thead>
              <tr>
                <th scope="col">On edge</th>
                <th scope="col" className="number">
                  Along
                </th>
                <th scope="col">Keep</th>
                <th scope="col">
                  <span className="unseen">Show</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {tabs.map(({ piece, tab }) => {
                const edge = edges.get(tab.edge);
                const name = edge?.name ?? piece.name;
                const along = edge?.length ?? polylineLength(tab.polygon.slice(0, 2));
                const keep = reading.keptTabs.includes(tab.id);
                return (
                  <tr key={tab.id}>
                    <th scope="row">{name}</th>
                    <td className="number">{formatLength(along, unit)}</td>
                    <td>
                      <Toggle
                        label={`Keep the tab on edge ${name}`}
                        labelHidden
                        checked={keep}
                        disabled={!reading.stripTabs}
                        onChange={(on) => runCommand(on ? 'keepTabs' : 'stripTabs', { tabs: [tab.id] })}
                      />
                    </td>
                    <td>
                      <ShowButton ids={[tab.id]} what={`the tab on edge ${name}`} />
                    </td>
                  </tr>
                );
              })}
            </tbody>
          </table>
        </Folded>
      ) : (
        <p className="hint">None were found.</p>
      )}
    </Part>
  );
}
