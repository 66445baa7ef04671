import { Archive, Download, Save } from 'lucide-react';
import { useShallow } from 'zustand/react/shallow';
import type { CuttingDecisions } from '../../../src/model';
import { formatLength } from '../../../src/units';
import { type CommandId, describeCommand, runCommand } from '../../commands';
import { useSession } from '../../document';
import { Choice } from '../../ui/fields';
import { CautionNote, Folded } from '../../ui/parts';
import { DecidedLength } from '../decided';
import { Part } from '../Sheet';
import { decidePart, useDecisions, useUnit } from '../useWork';

const files: readonly {
  readonly command: Extract<CommandId, 'exportSvg' | 'exportDxf' | 'exportArchive' | 'exportProject'>;
  readonly label: string;
  readonly Icon: typeof Download;
}[] = [
  { command: 'exportSvg', label: 'Panels as SVG', Icon: Download },
  { command: 'exportDxf', label: 'Panels as DXF', Icon: Download },
  { command: 'exportArchive', label: 'All files in one archive', Icon: Archive },
  { command: 'exportProject', label: 'Save project', Icon: Save },
];

/** Files for cutters and for keeping, and what is in a cutter's files. */
export function CutFiles() {
  const busy = useSession((s) => s.progress !== null);
  const able = useSession(useShallow((s) => files.map((f) => describeCommand(f.command, s).enabled)));
  return (
    <Part title="Other files">
      <div className="buttons">
        {files.map(({ command, label, Icon }, i) => (
          <button
            key={command}
            type="button"
            disabled={!able[i] || (busy && command !== 'exportProject')}
            onClick={() => runCommand(command)}
          >
            <Icon aria-hidden="true" size={16} /> {label}
          </button>
        ))}
      </div>
      <CutChoices />
    </Part>
  );
}

/** What is in a cutter’s files. */
export function CutChoices() {
  const { cutting, foam } = useDecisions();
  const unit = useUnit();
  const set = (label: string, change: Partial<CuttingDecisions>, live = false) =>
    decidePart('cutting', label, change, { key: `cutting.${Object.keys(change).join()}`, live });
  const said = [
    cutting.kerf === 'in' ? 'kerf in the outlines' : 'finished size',
    cutting.lettering === 'strokes' ? 'single-line letters' : 'letters as outlines',
    ...(cutting.leadIn > 0 ? [`lead-in ${formatLength(cutting.leadIn, unit)}`] : []),
  ];
  return (
    <Folded title="For a cutter" value={said.join(', ')}>
      <Choice<CuttingDecisions['kerf']>
        legend="Outlines"
        value={cutting.kerf}
        options={[
          { value: 'in', label: 'With the kerf' },
          { value: 'out', label: 'Finished size' },
        ]}
        onChange={(kerf) => set(kerf === 'in' ? 'Kerf in the cut file' : 'No kerf in the cut file', { kerf })}
      />
      <p className="hint">
        {foam.kerf === 0
          ? 'The kerf is 0 in the Foam step, so both are the same.'
          : 'Take the finished size when the cutter’s own program adds the kerf.'}
      </p>
      <Choice<CuttingDecisions['lettering']>
        legend="Letters"
        value={cutting.lettering}
        options={[
          { value: 'outlines', label: 'Outlines' },
          { value: 'strokes', label: 'Single lines' },
        ]}
        onChange={(lettering) => set('Letters of the cut file', { lettering })}
      />
      <p className="hint">
        In SVG and DXF files alike. Single lines are for a pen or a light laser; a cutter needs none.
      </p>
      <DecidedLength
        label="Lead-in"
        min={0}
        max={30}
        part="cutting"
        name="leadIn"
        undo="Lead-in"
        hint="Every cut starts so far beside its outline, in the waste. 0: none."
      />
      <CautionNote topics={['machine']} label="Cautions for cutters" />
    </Folded>
  );
}
