import { CheckCheck } from 'lucide-react';
import { useShallow } from 'zustand/react/shallow';
import { formatLength } from '../../../src/units';
import { describeCommand, isSure, runCommand } from '../../commands';
import { useSession } from '../../document';
import { Toggle } from '../../ui/fields';
import { Figures } from '../../ui/parts';
import { DoubtfulShell } from '../DoubtfulShell';
import { NextStep } from '../NextStep';
import { nameEdges } from '../names';
import { Part, Sheet } from '../Sheet';
import { decidePart, useDecisions, useResults, useUnit } from '../useWork';
import { HalfPattern } from './HalfPattern';
import { OpenEdges } from './OpenEdges';
import { PairForm } from './PairForm';
import { SeamTable } from './SeamTable';
import { SelectedSeams } from './SelectedSeams';
import { countSeams, lengthDoubt, runRows } from './seamRows';

/** Which edges are glued together. */
export function SeamsStep() {
  const { pattern, seams } = useResults();
  const decisions = useDecisions();
  const unit = useUnit();
  if (!pattern || !seams) {
    return (
      <Sheet title="Seams" about="Which edge is glued to which." actions={<NextStep after="seams" />}>
        <p className="waiting">The seams are found as soon as the pattern is read.</p>
      </Sheet>
    );
  }
  const edges = nameEdges(pattern);
  const rows = runRows(seams, edges);
  const counts = countSeams(seams);
  const sure = seams.seams.filter(isSure).length;
  return (
    <Sheet
      title="Seams"
      about="Which edge is glued to which. Pair what is open, or mark it as a border."
      actions={<NextStep after="seams" />}
    >
      <Figures
        label="Seams found"
        items={[
          { label: 'Paired', value: counts.paired, note: 'edge pairs' },
          {
            label: 'Open',
            value: counts.open,
            ...(counts.open > 0 ? { note: 'no mate found', look: true } : {}),
          },
          {
            label: 'Ambiguous',
            value: counts.ambiguous,
            ...(counts.ambiguous > 0 ? { note: 'several mates fit', look: true } : {}),
          },
          { label: 'Borders', value: counts.borders, note: 'stay open' },
          {
            label: 'Largest difference',
            value: formatLength(counts.largestDifference, unit, { decimals: 2 }),
            look: counts.largestDifference > lengthDoubt,
          },
        ]}
      />
      <DoubtfulShell use="what it says about bends and girth" />
      <SelectedSeams rows={rows} open={seams.open} edges={edges} />
      <Part title="Edges without a mate">
        <OpenEdges open={seams.open} edges={edges} />
      </Part>
      <Part title="Seams">
        {sure > 0 ? (
          <div className="buttons">
            <button type="button" onClick={() => runCommand('acceptSure')}>
              <CheckCheck aria-hidden="true" size={16} /> Accept all {sure} sure ones
            </button>
          </div>
        ) : null}
        <SeamTable rows={rows} />
      </Part>
      <Part title="Pair two edges">
        <PairForm open={seams.open} edges={edges} />
      </Part>
      <Part title="Evidence">
        <Toggle
          label="Pair by the printed numbers first"
          hint="Two edges with the same number are mates. Turn it off when the numbers mean something else."
          checked={decisions.seams.useNumbers}
          onChange={(useNumbers) =>
            decidePart('seams', useNumbers ? 'Use printed numbers' : 'Leave printed numbers aside', {
              useNumbers,
            })
          }
        />
        <FindRest />
      </Part>
      <HalfPattern />
    </Sheet>
  );
}

/** Whether edges without a number are paired by their shape; after a cancel, looking once more. */
function FindRest() {
  const { seams } = useDecisions();
  const again = useSession(useShallow((s) => describeCommand('findRest', s)));
  const idle = useSession((s) => s.progress === null);
  return (
    <>
      <Toggle
        label="Find the rest by shape"
        hint="Lengths, corners and how the pieces fold up tell which edges belong together. What is not clear stays open."
        checked={seams.findRest}
        onChange={(on) => runCommand(on ? 'findRest' : 'leaveRest')}
      />
      {seams.findRest && again.enabled && idle ? (
        <button type="button" onClick={() => runCommand('findRest')}>
          Look once more
        </button>
      ) : null}
    </>
  );
}
