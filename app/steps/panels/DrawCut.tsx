import { PenLine, Scissors, X } from 'lucide-react';
import type { Point } from '../../../src/math';
import type { Piece } from '../../../src/model';
import { inwardsFrom, nearestOnOutline, outlineLength, outlinePoint } from '../../../src/panels';
import { formatLength, type Mm } from '../../../src/units';
import { runCommand } from '../../commands';
import { goToBench, setTool, useSession } from '../../document';
import { Choice, LengthField, Toggle } from '../../ui/fields';
import { Part } from '../Sheet';
import { useShown, useUnit } from '../useWork';
import { CutPreview } from './CutPreview';
import { PlainButton } from './PlainButton';

/** A line drawn on a panel: on the bench by clicks, or by places on its outline typed here. */
export function DrawCut() {
  const drawing = useSession((s) => s.drawing);
  const tool = useSession((s) => s.tool);
  const selection = useSession((s) => s.selection);
  const { pattern } = useShown();
  const { way, curved, points } = drawing;
  const id = drawing.panel ?? selection.find((x) => pattern?.pieces.some((p) => p.id === x)) ?? null;
  const panel = pattern?.pieces.find((p) => p.id === id) ?? null;
  return (
    <Part title="Draw a cut">
      <p className="hint">
        Click where the cut begins on the outline of a panel, then on to where it ends. The cut becomes a seam
        with matching marks on both sides; the shell keeps its shape.
      </p>
      <Choice
        legend="What is cut"
        value={way}
        options={[
          { value: 'across', label: 'Across the panel' },
          { value: 'slit', label: 'Slit' },
          { value: 'dart', label: 'Relief dart' },
        ]}
        onChange={(chosen) => runCommand('chooseLine', { way: chosen })}
      />
      {way === 'slit' ? (
        <p className="hint">
          A slit ends inside the panel. On a curved panel it opens as wide as the curve asks for: that width
          is what a dart takes away.
        </p>
      ) : null}
      {way === 'dart' ? <DartWidth width={drawing.width} /> : null}
      <Choice
        legend="Line"
        value={curved ? 'curve' : 'line'}
        options={[
          { value: 'line', label: 'Straight from point to point' },
          { value: 'curve', label: 'Smooth curve' },
        ]}
        onChange={(chosen) => runCommand('chooseLine', { curved: chosen === 'curve' })}
      />
      <div className="buttons">
        <button type="button" aria-pressed={tool === 'draw'} onClick={drawOnBench}>
          <PenLine aria-hidden="true" size={16} /> Draw on the bench
        </button>
      </div>
      {panel ? (
        <Places panel={panel} points={points} slit={way !== 'across'} />
      ) : (
        <p className="hint">To type the places instead, select a panel first.</p>
      )}
      <div aria-live="polite">
        <CutPreview />
      </div>
      <div className="buttons" aria-live="polite">
        <PlainButton command="cutDrawn" icon={Scissors} />
        <PlainButton command="dropLine" icon={X} />
      </div>
    </Part>
  );
}

const drawOnBench = () => {
  setTool('draw');
  goToBench();
};

/** How wide a dart is to be that is not placed yet. */
function DartWidth({ width }: { readonly width: Mm | null }) {
  const unit = useUnit();
  return (
    <>
      <p className="hint">
        Begin at its mouth on the outline, end at its tip. A wedge is cut out; both of its sides are glued to
        each other, with matching marks.
      </p>
      <Toggle
        label="As wide as the panel asks for"
        checked={width === null}
        hint="The width that lets the panel lie flat without strain. A flat panel asks for none."
        onChange={(asked) => runCommand('chooseLine', { width: asked ? null : usualDart })}
      />
      {width === null ? null : (
        <LengthField
          label="Width at the mouth, in foam"
          unit={unit}
          fine
          min={0.5}
          max={100}
          value={width}
          hint="Wider than the panel asks for pulls the panel in, and so curves it more."
          onCommit={(w) => runCommand('chooseLine', { width: w })}
        />
      )}
    </>
  );
}

/** A first width to change from; common practice, no source. */
const usualDart: Mm = 6;

interface PlacesProps {
  readonly panel: Piece;
  readonly points: readonly Point[];
  readonly slit: boolean;
}

/** Start and end by their way along the outline; of a slit, start and depth. */
function Places({ panel, points, slit }: PlacesProps) {
  const unit = useUnit();
  const length = outlineLength(panel);
  const first = points[0];
  const last = points.length > 1 ? points.at(-1) : undefined;
  const placeOf = (p: Point | undefined) => (p ? (nearestOnOutline(panel, p, 0)?.along ?? null) : null);
  const start = placeOf(first);
  const end = placeOf(last);
  const depth = first && last ? Math.hypot(last.x - first.x, last.y - first.y) : null;
  const lay = (all: readonly Point[]) => runCommand('layLine', { panel: panel.id, points: all });
  const around = `The outline is ${formatLength(length, unit)} long, at the size of the drawing, counted from its first corner against the clock.`;
  return (
    <>
      <LengthField
        label={`Begin on the outline of ${panel.name} at`}
        unit={unit}
        fine
        min={0}
        max={length}
        value={start}
        hint={around}
        onCommit={(s) => lay([outlinePoint(panel, s), ...points.slice(1)])}
      />
      {slit ? (
        <LengthField
          label="Depth, straight inwards"
          unit={unit}
          fine
          min={1}
          max={length}
          value={depth}
          disabled={start === null}
          onCommit={(d) => start !== null && first && lay([first, inwardsFrom(panel, start, d)])}
        />
      ) : (
        <LengthField
          label="End on the outline at"
          unit={unit}
          fine
          min={0}
          max={length}
          value={end}
          disabled={!first}
          onCommit={(s) => first && lay([first, ...points.slice(1, -1), outlinePoint(panel, s)])}
        />
      )}
    </>
  );
}
