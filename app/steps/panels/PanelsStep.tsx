import { Merge, Scissors, Undo2 } from 'lucide-react';
import { formatLength } from '../../../src/units';
import { runCommand } from '../../commands';
import { Toggle } from '../../ui/fields';
import { Figures } from '../../ui/parts';
import { NextStep } from '../NextStep';
import { Part, Sheet } from '../Sheet';
import { useDecisions, useResults, useUnit } from '../useWork';
import { Darts } from './Darts';
import { DrawCut } from './DrawCut';
import { Edits } from './Edits';
import { Extras } from './Extras';
import { panelFigures } from './editRows';
import { JoinPreview } from './JoinPreview';
import { Pairs } from './Pairs';
import { PlainButton } from './PlainButton';
import { Proposals } from './Proposals';

/** From paper pieces to panels of foam: split, join. */
export function PanelsStep() {
  const { recut } = useResults();
  const { panels } = useDecisions();
  const unit = useUnit();
  const figures = recut ? panelFigures(recut) : null;
  return (
    <Sheet
      title="Panels"
      about="Cut pieces apart where foam can’t follow, and join small ones into larger panels."
      actions={<NextStep after="panels" />}
    >
      {figures ? (
        <Figures
          label="Pieces and panels"
          items={[
            { label: 'Paper pieces', value: figures.pieces },
            { label: 'Foam panels', value: figures.panels },
            ...(figures.misfit > 0.005
              ? [
                  {
                    label: 'Foam gives by up to',
                    value: formatLength(figures.misfit, unit, { decimals: 2 }),
                    note: 'along an edge of a joined panel',
                  },
                ]
              : []),
          ]}
        />
      ) : (
        <p className="waiting">The panels follow from the pattern and its seams.</p>
      )}
      <Proposals />
      <Part title="Split and join by hand">
        <p className="hint">
          Select a fold and split, or select a seam (or two panels) and join. With Shift, or “Select several”
          above the bench, you select more than one; folds that follow each other from outline to outline cut
          a panel in two, others make a slit.
        </p>
        <div className="buttons">
          <PlainButton command="splitPanels" icon={Scissors} />
          <PlainButton command="joinPanels" icon={Merge} />
        </div>
        <div aria-live="polite">
          <JoinPreview />
        </div>
      </Part>
      <DrawCut />
      <Darts />
      <Part title="Outlines">
        <Toggle
          label="Smooth gently bent seams"
          checked={panels.smooth}
          hint="Corners under 15° along a seam become a curve, the same on both sides; sharp corners stay. The Foam step shows it."
          onChange={(smooth) => runCommand('smoothOutlines', { smooth })}
        />
      </Part>
      <Extras />
      <Pairs />
      <Edits edits={panels.edits} recut={recut} />
      {panels.edits.length > 0 ? (
        <div className="buttons">
          <PlainButton command="takeOutAllEdits" icon={Undo2} />
        </div>
      ) : null}
    </Sheet>
  );
}
