import { MapPin } from 'lucide-react';
import { boxOf } from '../../../src/math';
import type { FacePoint, LayerPart, ShellOutline, StencilPart } from '../../../src/model';
import { runCommand } from '../../commands';
import { useSession } from '../../document';
import { AngleField, Choice, NumberField, SelectField } from '../../ui/fields';
import { counted } from '../names';
import { endMerge, useResults } from '../useWork';
import { put, Size } from './partFields';

interface Props {
  readonly part: LayerPart | StencilPart;
  readonly outline: ShellOutline;
}

/** The border of a part: a line that was drawn, or a shape with its place, turn and size. */
export function OutlineFields({ part, outline }: Props) {
  const place = (next: ShellOutline, live: string | null = null) => put({ ...part, outline: next }, live);
  return (
    <>
      {outline.kind === 'drawn' ? (
        <>
          <p className="hint">Drawn with {counted(outline.points.length, 'corner')}.</p>
          <Choice
            legend="Line"
            value={outline.curved ? 'curve' : 'line'}
            options={[
              { value: 'line', label: 'Straight' },
              { value: 'curve', label: 'Smooth curve' },
            ]}
            onChange={(chosen) => place({ ...outline, curved: chosen === 'curve' })}
          />
        </>
      ) : (
        <ShapeFields part={part} outline={outline} place={place} />
      )}
      <Choice
        legend="At seams"
        value={outline.within}
        options={[
          { value: 'shell', label: 'it goes on' },
          { value: 'panel', label: 'it ends' },
        ]}
        onChange={(within) => place({ ...outline, within })}
      />
    </>
  );
}

interface ShapeProps {
  readonly part: LayerPart | StencilPart;
  readonly outline: Extract<ShellOutline, { kind: 'shape' }>;
  readonly place: (next: ShellOutline, live?: string | null) => void;
}

function ShapeFields({ part, outline, place }: ShapeProps) {
  const placing = useSession((s) => s.outline?.places === part.id);
  const box = boxOf(outline.rings.flat());
  const ratio = (box.maxY - box.minY) / (box.maxX - box.minX);
  return (
    <>
      <Size
        label="Width of the shape"
        value={outline.width}
        max={1000}
        change={(width) => ({ ...part, outline: { ...outline, width } })}
      />
      <p className="hint">It is {(outline.width * ratio).toFixed(1)} mm tall.</p>
      <AngleField
        label="Turned to the left by"
        value={outline.turn}
        min={-2 * Math.PI}
        max={2 * Math.PI}
        onCommit={(turn, live) => place({ ...outline, turn }, live ? 'turn' : null)}
        onSettle={endMerge}
      />
      <div className="buttons">
        <button
          type="button"
          aria-pressed={placing}
          onClick={() => runCommand('startOutline', { as: 'stencil', places: part.id })}
        >
          <MapPin aria-hidden="true" size={16} /> Place it by a click
        </button>
      </div>
      <FaceSpot at={outline.at} onChange={(at, live) => place({ ...outline, at }, live ?? null)} />
    </>
  );
}

/** A place on a face, chosen from lists: what a click says otherwise. */
export function FaceSpot({
  at,
  onChange,
}: {
  readonly at: FacePoint;
  readonly onChange: (at: FacePoint, live?: string) => void;
}) {
  const { pattern } = useResults();
  const pieces = pattern?.pieces ?? [];
  const piece = pieces.find((p) => p.faces.some((f) => f.id === at.face));
  const percent = (axis: 'x' | 'y', label: string) => (
    <NumberField
      label={label}
      kind="percent"
      by={0.05}
      min={0}
      max={1}
      value={at[axis]}
      onCommit={(value, live) => onChange({ ...at, [axis]: value }, live ? axis : undefined)}
      onSettle={endMerge}
    />
  );
  return (
    <>
      <SelectField
        label="On piece"
        value={piece?.id ?? ''}
        options={[
          ...(piece ? [] : [{ value: '', label: 'a piece that is gone' }]),
          ...pieces.map((p) => ({ value: p.id, label: p.name })),
        ]}
        onChange={(id) => {
          const face = pieces.find((p) => p.id === id)?.faces[0];
          if (face) onChange({ face: face.id, x: 0.5, y: 0.5 });
        }}
      />
      {piece && piece.faces.length > 1 ? (
        <SelectField
          label={`Face of ${piece.name}`}
          value={at.face}
          options={piece.faces.map((f, i) => ({ value: f.id, label: `Face ${i + 1}` }))}
          onChange={(face) => onChange({ face, x: 0.5, y: 0.5 })}
        />
      ) : null}
      {percent('x', 'Across the face')}
      {percent('y', 'Up the face')}
    </>
  );
}
