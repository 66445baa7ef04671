import { Plus } from 'lucide-react';
import { useMemo } from 'react';
import { useShallow } from 'zustand/react/shallow';
import { openingChoices, type PaddingRegion, paddingRegions } from '../../../src/extras';
import { point3 } from '../../../src/math';
import type { OpeningChoice } from '../../../src/model';
import {
  describeCommand,
  freeName,
  type NewPart,
  runCommand,
  selectedFaces,
  selectedSeams,
} from '../../commands';
import { useSession } from '../../document';
import { CautionNote } from '../../ui/parts';
import { counted } from '../names';
import { Part } from '../Sheet';
import { useDecisions, useResults, useUnit } from '../useWork';
import { DrawOutline } from './DrawOutline';
import { ExtraItem } from './ExtraItem';
import { extraRows, startingParts } from './extraRows';
import { FaceList } from './FaceList';
import { selectedRim } from './rim';

/** Openings of the shell at its final size; none without a shell. */
function useOpenings(): readonly OpeningChoice[] {
  const { recut, fit } = useResults();
  return useMemo(() => {
    if (!recut?.shell) return [];
    const { pattern, seams, shell } = recut;
    const scale = fit?.scale ?? 1;
    const places = shell.vertices.map((p) => point3(p.x * scale, p.y * scale, p.z * scale));
    return openingChoices(pattern, seams, shell, places);
  }, [recut, fit]);
}

/** Where the shell would be padded; none without a brow. */
function usePadding(): readonly PaddingRegion[] {
  const { recut, fit } = useResults();
  return useMemo(() => {
    const brow = fit?.shell?.insideBrow.plane;
    if (!recut?.shell || !brow) return [];
    const { scale } = fit;
    const places = recut.shell.vertices.map((p) => point3(p.x * scale, p.y * scale, p.z * scale));
    return paddingRegions(recut.shell, places, brow);
  }, [recut, fit]);
}

/** Parts beside the shell's own panels: added from what is selected, changed in place. */
export function Extras() {
  const { extras, fit } = useDecisions();
  const pads = usePadding();
  const { foam } = useResults();
  const unit = useUnit();
  const openings = useOpenings();
  const faces = useSession(useShallow(selectedFaces));
  const seams = useSession(useShallow((s) => selectedSeams(s).map((x) => x.id)));
  const picking = useSession(useShallow((s) => describeCommand('pickSingleFaces', s)));
  const isPicking = useSession((s) => s.pickingFaces);
  const selection = useSession((s) => s.selection);
  const rim = selectedRim(selection, openings);
  const { parts } = extras;
  const rows = extraRows(parts, foam, unit);
  const add = (part: NewPart) =>
    runCommand('addExtra', { part: { ...part, name: freeName(part.name, parts) } });
  const first = openings[0];
  return (
    <Part title="Extra parts">
      <p className="hint">
        Layers, bands, visors and trims that go on or in the shell. They are cut and marked like panels, and
        follow the shell’s size and foam.
      </p>
      <p className="hint" aria-live="polite">
        {faces.length > 0
          ? `${counted(faces.length, 'face')} selected for a layer.`
          : 'For a layer, select panels on the bench or on the shell, or pick single faces.'}
      </p>
      <div className="buttons">
        <button
          type="button"
          aria-pressed={isPicking}
          disabled={!picking.enabled}
          onClick={() => runCommand('pickSingleFaces')}
        >
          {picking.label}
        </button>
        <AddButton
          label="Raised layer"
          why={faces.length > 0 ? null : 'Select panels or faces first.'}
          onAdd={() => {
            add(startingParts.layer(faces));
            runCommand('pickSingleFaces', { on: false });
          }}
        />
        <AddButton
          label="Band"
          why={first ? null : 'A band needs an opening of the folded shell.'}
          onAdd={() => first && add(startingParts.band(first.edges))}
        />
        <AddButton
          label="Visor"
          why={first ? null : 'A visor needs an opening of the folded shell.'}
          onAdd={() => {
            // The opening in front is where a visor goes; edges that are selected say it better.
            const face = openings.find((o) => o.where === 'front') ?? first;
            if (rim.length > 0) add(startingParts.visor(rim, 'part'));
            else if (face) add(startingParts.visor(face.edges, 'whole'));
          }}
        />
        <AddButton
          label="Strip along seam"
          why={seams.length > 0 ? null : 'Select a seam first.'}
          onAdd={() => add(startingParts.seamStrip(seams))}
        />
        <AddButton
          label="Padding"
          why={
            pads.length === 0
              ? 'Padding needs a folded shell with a brow.'
              : fit.padding > 0
                ? null
                : 'Give the padding a thickness in the Size step.'
          }
          onAdd={() =>
            runCommand('addExtras', {
              label: 'Add padding',
              parts: pads.map((pad) => startingParts.padding(pad, fit.padding)),
            })
          }
        />
        <AddButton label="Disc or ring" why={null} onAdd={() => add(startingParts.disc())} />
        <AddButton label="Straight strip" why={null} onAdd={() => add(startingParts.bar())} />
      </div>
      <DrawOutline />
      <FaceList />
      {rows.length > 0 ? (
        <>
          <CautionNote topics={['blade', 'heat']} label="Cautions for extra parts" />
          <ol className="rows" aria-label="Extra parts">
            {rows.map((row) => (
              <li key={row.part.id}>
                <ExtraItem row={row} openings={openings} faces={faces} />
              </li>
            ))}
          </ol>
        </>
      ) : null}
    </Part>
  );
}

interface AddProps {
  readonly label: string;
  /** Why it can't be added now, or null. */
  readonly why: string | null;
  readonly onAdd: () => void;
}

function AddButton({ label, why, onAdd }: AddProps) {
  return (
    <button type="button" disabled={why !== null} title={why ?? `Add: ${label}`} onClick={onAdd}>
      <Plus aria-hidden="true" size={16} /> {label}
    </button>
  );
}
