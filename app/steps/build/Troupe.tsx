import { Archive, Download, FileUp, Plus, X } from 'lucide-react';
import { useId, useState } from 'react';
import { useShallow } from 'zustand/react/shallow';
import type { Issue } from '../../../src/base';
import type { Wearer } from '../../../src/model';
import { readTroupe, wearerIssues } from '../../../src/troupe';
import { formatLength } from '../../../src/units';
import { acceptedTables, describeCommand, pickFiles, runCommand } from '../../commands';
import { useSession } from '../../document';
import { LengthField, type ShownUnit, TextField } from '../../ui/fields';
import { Folded, IssueItem } from '../../ui/parts';
import { Part } from '../Sheet';
import { endMerge, useDecisions, useUnit } from '../useWork';

type Measure = 'girth' | 'length' | 'breadth' | 'height';
const further: readonly { readonly measure: Measure; readonly label: string }[] = [
  { measure: 'length', label: 'length' },
  { measure: 'breadth', label: 'breadth' },
  { measure: 'height', label: 'height, brow to crown' },
];

/** The same pattern for several wearers, each in a size of their own. */
export function Troupe() {
  const { wearers } = useDecisions().troupe;
  const unit = useUnit();
  const busy = useSession((s) => s.progress !== null);
  const files = useSession(useShallow((s) => describeCommand('exportTroupe', s)));
  const [read, setRead] = useState<readonly Issue[]>([]);
  const take = (text: string) => {
    const table = readTroupe(text, unit, String);
    setRead(table.issues);
    if (table.ok) runCommand('importWearers', { wearers: table.value.map(({ id: _, ...rest }) => rest) });
    return table.ok;
  };
  const issues = [...read, ...wearerIssues(wearers, unit)];
  return (
    <Part title="Troupe">
      <Folded
        title="More wearers of this pattern"
        value={wearers.length === 0 ? 'nobody yet' : `${wearers.length} in the table`}
      >
        <p className="hint">
          Everybody gets a folder with pages, cut files and build sheet in their own size, and all panels
          together are laid on shared sheets of foam, each with its wearer’s name. A helmet of fifty panels
          takes about half a minute for each wearer; it can be stopped at any time.
        </p>
        {wearers.map((wearer) => (
          <WearerRow key={wearer.id} wearer={wearer} unit={unit} />
        ))}
        <div className="buttons">
          <button type="button" onClick={() => runCommand('addWearer')}>
            <Plus aria-hidden="true" size={16} /> Add a wearer
          </button>
          <button
            type="button"
            onClick={async () => {
              for (const file of await pickFiles(acceptedTables)) take(file.text);
            }}
          >
            <FileUp aria-hidden="true" size={16} /> Import CSV…
          </button>
          {wearers.length > 0 ? (
            <button type="button" className="quiet" onClick={() => runCommand('exportWearers')}>
              <Download aria-hidden="true" size={16} /> Table as CSV
            </button>
          ) : null}
        </div>
        <Paste unit={unit} onTake={take} />
        {issues.length > 0 ? (
          <ul className="issues" aria-label="What is missing in the table" aria-live="polite">
            {issues.map((issue) => (
              <IssueItem key={`${issue.code} ${issue.message}`} issue={issue} />
            ))}
          </ul>
        ) : null}
        <button type="button" disabled={!files.enabled || busy} onClick={() => runCommand('exportTroupe')}>
          <Archive aria-hidden="true" size={16} /> Make everybody’s files
        </button>
        {files.reason ? <p className="hint">{files.reason}</p> : null}
      </Folded>
    </Part>
  );
}

function WearerRow({ wearer, unit }: { readonly wearer: Wearer; readonly unit: ShownUnit }) {
  const who = wearer.name || 'wearer without a name';
  const measureField = (measure: Measure, label: string) => (
    <LengthField
      key={measure}
      label={label}
      unit={unit}
      value={wearer[measure]}
      onCommit={(value, live) =>
        runCommand('changeWearer', { id: wearer.id, change: { [measure]: value }, live })
      }
      onClear={() => runCommand('changeWearer', { id: wearer.id, change: { [measure]: null } })}
      onSettle={endMerge}
    />
  );
  const given = further.flatMap(({ measure }) => {
    const value = wearer[measure];
    return value === null ? [] : [formatLength(value, unit, { bare: true })];
  });
  return (
    <fieldset className="formed stack">
      <legend className="field-label">{who}</legend>
      <div className="pairs">
        <TextField
          label="Name"
          maxLength={40}
          value={wearer.name}
          onCommit={(name) => runCommand('changeWearer', { id: wearer.id, change: { name } })}
        />
        {measureField('girth', 'Head girth')}
      </div>
      <Folded
        title="Length, breadth, height"
        value={given.length > 0 ? `${given.join(', ')} ${unit}` : 'by the girth'}
      >
        <div className="pairs">
          {further.map(({ measure, label }) => measureField(measure, `Head ${label}`))}
        </div>
      </Folded>
      <button type="button" className="quiet" onClick={() => runCommand('removeWearer', { id: wearer.id })}>
        <X aria-hidden="true" size={16} /> Take {who} out
      </button>
    </fieldset>
  );
}

/** A table from a spreadsheet, by way of the clipboard. */
function Paste({ unit, onTake }: { readonly unit: ShownUnit; readonly onTake: (text: string) => boolean }) {
  const id = useId();
  const [text, setText] = useState('');
  return (
    <Folded title="Paste a table" value="from a spreadsheet">
      <label htmlFor={id} className="field-label">
        One row for each: name, girth, length, breadth, height
      </label>
      <textarea
        id={id}
        rows={4}
        value={text}
        placeholder={unit === 'mm' ? 'Wearer 1, 58 cm' : 'Wearer 1, 22 7/8 in'}
        onChange={(event) => setText(event.target.value)}
      />
      <p className="hint">
        Lengths without a unit are {unit === 'mm' ? 'millimetres' : 'inches'}, or what a heading such as
        “girth (cm)” says.
      </p>
      <button
        type="button"
        disabled={text.trim() === ''}
        onClick={() => {
          if (onTake(text)) setText('');
        }}
      >
        Take the pasted table
      </button>
    </Folded>
  );
}
