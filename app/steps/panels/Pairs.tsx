import { runCommand } from '../../commands';
import { Toggle } from '../../ui/fields';
import { counted } from '../names';
import { Part } from '../Sheet';
import { endMerge, useDecisions, useResults } from '../useWork';
import { MakeAlike } from './MakeAlike';
import { WithinField } from './WithinField';

/** Usual tolerance: what a knife and a drawing leave, common practice, no source. */
const usualWithin = 0.3;

/** One template for two panels that are mirror images of each other. */
export function Pairs() {
  const { pairWithin } = useDecisions().panels;
  const { marked } = useResults();
  const on = pairWithin > 0;
  const pairs = marked?.panels.filter((p) => p.panel.mirrored).length ?? 0;
  return (
    <Part title="Mirror pairs">
      <Toggle
        label="Draw mirror pairs once"
        checked={on}
        hint="Of two panels that are mirror images one template is drawn, “cut 1 + 1 mirrored”: turn it over for the second. Pages, files and the cut list follow; sheets of foam hold both."
        onChange={(yes) => runCommand('pairPanels', { within: yes ? usualWithin : 0 })}
      />
      {on ? (
        <>
          <WithinField
            label="Mirror images within"
            max={5}
            value={pairWithin}
            hint="How far corners of the one may lie from the other’s."
            onCommit={(within, live) =>
              runCommand('pairPanels', { within, ...(live ? { merge: 'panels.pairs' } : {}) })
            }
            onSettle={endMerge}
          />
          <p aria-live="polite">{pairs === 0 ? 'No pairs are found.' : `${counted(pairs, 'pair')} found.`}</p>
        </>
      ) : null}
      <MakeAlike />
    </Part>
  );
}
