import { Trash2 } from 'lucide-react';
import type { BandPart, ExtraPart, LayerPart, OpeningChoice } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { runCommand } from '../../commands';
import { Choice, NumberField, SelectField, TextField } from '../../ui/fields';
import { CautionNote, Folded } from '../../ui/parts';
import { usualThicknesses } from '../foamChoices';
import { counted } from '../names';
import { showOnBench } from '../ShowButton';
import { endMerge, useDecisions, useUnit } from '../useWork';
import { ExtraPicture } from './ExtraPicture';
import { type ExtraRow, kindWords } from './extraRows';
import { OutlineFields } from './OutlineFields';
import { type OfOpening, OpeningField, put, Side, Size } from './partFields';
import { StencilFields } from './StencilFields';
import { VisorFields } from './VisorFields';

interface ItemProps {
  readonly row: ExtraRow;
  readonly openings: readonly OpeningChoice[];
  /** Faces that are selected now. */
  readonly faces: readonly string[];
}

/** One extra part: what it is, how large it came out, its figures to change. */
export function ExtraItem({ row, openings, faces }: ItemProps) {
  const { part, panels, stuck, size } = row;
  const value = stuck ? 'can’t be made now' : size;
  return (
    <Folded title={part.name} value={value}>
      <p className="hint">
        {kindWords[part.kind]}
        {stuck ? ': it can’t be made now.' : ''}
      </p>
      <Said findings={row.findings} />
      {part.kind === 'visor' ? <CautionNote topics={['sight']} label={`Caution for ${part.name}`} /> : null}
      <ExtraPicture panels={panels} name={part.name} />
      <TextField
        label="Name"
        value={part.name}
        maxLength={40}
        onCommit={(name) => name !== '' && put({ ...part, name })}
      />
      <OwnFields part={part} openings={openings} faces={faces} />
      <Thickness part={part} />
      <button type="button" onClick={() => runCommand('takeOutExtra', { part: part.id })}>
        <Trash2 aria-hidden="true" size={16} /> Take {part.name} out
      </button>
    </Folded>
  );
}

/** What the program says of the part, with what to do. */
function Said({ findings }: { readonly findings: ExtraRow['findings'] }) {
  if (findings.length === 0) return null;
  return (
    <ul className="rows rows-tight" aria-live="polite">
      {findings.map((f) => (
        <li key={f.code + f.message}>
          {f.message} <span className="soft">{f.remedy}</span>
        </li>
      ))}
    </ul>
  );
}

function Count({ part }: { readonly part: Extract<ExtraPart, { quantity: number }> }) {
  return (
    <NumberField
      label="How many"
      kind="count"
      by={1}
      min={1}
      max={999}
      value={part.quantity}
      onCommit={(quantity, live) => put({ ...part, quantity }, live ? 'quantity' : null)}
      onSettle={endMerge}
    />
  );
}

function OwnFields({
  part,
  openings,
  faces,
}: {
  readonly part: ExtraPart;
  readonly openings: readonly OpeningChoice[];
  readonly faces: readonly string[];
}) {
  switch (part.kind) {
    case 'band':
      return <BandFields part={part} openings={openings} />;
    case 'seamStrip':
      return (
        <>
          <Side part={part} />
          <Size label="Width" value={part.width} max={500} change={(width) => ({ ...part, width })} />
        </>
      );
    case 'layer':
      return <LayerFields part={part} faces={faces} />;
    case 'stencil':
      return <StencilFields part={part} />;
    case 'visor':
      return <VisorFields part={part} openings={openings} />;
    case 'disc':
      return (
        <>
          <Size label="Diameter" value={part.diameter} change={(diameter) => ({ ...part, diameter })} />
          <Size
            label="Hole"
            value={part.inner}
            min={0}
            hint="0 for a full disc."
            change={(inner) => ({ ...part, inner })}
          />
          <Count part={part} />
        </>
      );
    case 'bar':
      return (
        <>
          <Size label="Length" value={part.length} change={(length) => ({ ...part, length })} />
          <Size label="Width" value={part.width} change={(width) => ({ ...part, width })} />
          <Count part={part} />
        </>
      );
  }
}

function BandFields({ part, openings }: OfOpening<BandPart>) {
  return (
    <>
      <OpeningField edges={part.edges} openings={openings} onChange={(edges) => put({ ...part, edges })} />
      <Side part={part} />
      <Choice
        legend="Shape"
        value={part.shape}
        layout="list"
        options={[
          { value: 'straight', label: 'Straight', hint: 'A plain strip, as long as the rim.' },
          {
            value: 'fitted',
            label: 'Fitted',
            hint: 'Curved as the shell beside the rim, so that it lies on it.',
          },
        ]}
        onChange={(shape) => put({ ...part, shape })}
      />
      <Size label="Width" value={part.width} max={500} change={(width) => ({ ...part, width })} />
      <Size
        label="Overlap of the ends"
        value={part.overlap}
        min={0}
        max={300}
        hint="0: the ends butt. Skive overlapping ends thin, so that they do not make a step."
        change={(overlap) => ({ ...part, overlap })}
      />
    </>
  );
}

function LayerFields({ part, faces }: { readonly part: LayerPart; readonly faces: readonly string[] }) {
  return (
    <>
      {part.outline ? (
        <OutlineFields part={part} outline={part.outline} />
      ) : (
        <>
          <p className="hint">{counted(part.faces.length, 'face')} of the shell.</p>
          <div className="buttons">
            <button type="button" onClick={() => showOnBench(part.faces)}>
              Show its faces
            </button>
            <button type="button" disabled={faces.length === 0} onClick={() => put({ ...part, faces })}>
              Take the selected faces instead
            </button>
          </div>
        </>
      )}
      <Side part={part} />
      <Size
        label="Margin"
        value={part.margin}
        min={0}
        max={200}
        hint="How far its edge stays within the faces or the outline."
        change={(margin) => ({ ...part, margin })}
      />
    </>
  );
}

function Thickness({ part }: { readonly part: ExtraPart }) {
  const { foam } = useDecisions();
  const unit = useUnit();
  const own = part.thickness;
  const listed = own === null || usualThicknesses.includes(own);
  return (
    <>
      <SelectField
        label="Foam"
        value={own === null ? 'shell' : listed ? String(own) : 'own'}
        options={[
          { value: 'shell', label: `as the shell (${formatLength(foam.thickness, unit)})` },
          ...usualThicknesses.map((t) => ({ value: String(t), label: formatLength(t, unit) })),
          { value: 'own', label: 'Another thickness' },
        ]}
        onChange={(value) =>
          put({
            ...part,
            thickness: value === 'shell' ? null : value === 'own' ? foam.thickness + 1 : Number(value),
          })
        }
      />
      {listed ? null : (
        <Size
          label="Thickness of its sheet"
          fine
          min={0.2}
          max={100}
          value={own}
          change={(thickness) => ({ ...part, thickness })}
        />
      )}
    </>
  );
}
