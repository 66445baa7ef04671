import { Menu } from 'lucide-react';
import { useRef } from 'react';
import { useShallow } from 'zustand/react/shallow';
import { describeCommand, keyLabel, type PlainCommandId, pickFiles, runCommand } from '../commands';
import { addFiles, useSession } from '../document';
import { Choice } from './fields';
import { themes } from './themes';

const groups: readonly { readonly title: string; readonly commands: readonly PlainCommandId[] }[] = [
  {
    title: 'Document',
    commands: [
      'open',
      'save',
      'exportPdf',
      'exportCheck',
      'exportBendTest',
      'exportSvg',
      'exportDxf',
      'exportBand',
      'exportBuild',
      'exportFold',
      'exportArchive',
      'exportTroupe',
      'close',
    ],
  },
  { title: 'Work', commands: ['undo', 'redo', 'selectAll', 'clearSelection', 'nextStep', 'previousStep'] },
  { title: 'Bench', commands: ['zoomIn', 'zoomOut', 'zoomFit'] },
];

/** Every command that needs nothing chosen first, by name, with its key. */
export function MainMenu({ onHelp }: { readonly onHelp: () => void }) {
  const ref = useRef<HTMLDivElement>(null);
  const unit = useSession((s) => s.document?.lengthUnit ?? 'mm');
  const theme = useSession((s) => s.theme);
  const close = () => ref.current?.hidePopover();
  return (
    <>
      <button type="button" className="icon-button" popoverTarget="main-menu" aria-label="Menu" title="Menu">
        <Menu aria-hidden="true" size={20} />
      </button>
      <div id="main-menu" ref={ref} popover="auto" className="menu">
        {groups.map((group) => (
          <section key={group.title} aria-label={group.title}>
            <h2>{group.title}</h2>
            <ul>
              {group.commands.map((id) => (
                <li key={id}>
                  <MenuEntry command={id} onDone={close} />
                </li>
              ))}
              {group.title === 'Document' ? (
                <li>
                  <button
                    type="button"
                    className="menu-entry"
                    onClick={() => {
                      close();
                      void pickFiles().then((files) => (files.length > 0 ? addFiles(files) : false));
                    }}
                  >
                    Add pages to this pattern…
                  </button>
                </li>
              ) : null}
            </ul>
          </section>
        ))}
        <section aria-label="Show">
          <h2>Show</h2>
          <Choice
            legend="Lengths in"
            value={unit}
            options={[
              { value: 'mm', label: 'mm' },
              { value: 'in', label: 'inches' },
            ]}
            onChange={(chosen) => runCommand('setUnit', { unit: chosen })}
          />
          <Choice
            legend="Theme"
            value={theme}
            options={themes.map((t) => ({ value: t.theme, label: t.label }))}
            onChange={(chosen) => runCommand('chooseTheme', { theme: chosen })}
          />
          <button
            type="button"
            className="menu-entry"
            onClick={() => {
              close();
              onHelp();
            }}
          >
            Keys, lines and cautions
          </button>
        </section>
      </div>
    </>
  );
}

function MenuEntry({ command, onDone }: { readonly command: PlainCommandId; readonly onDone: () => void }) {
  const words = useSession(useShallow((s) => describeCommand(command, s)));
  return (
    <button
      type="button"
      className="menu-entry"
      disabled={!words.enabled}
      title={words.reason || undefined}
      onClick={() => {
        onDone();
        runCommand(command);
      }}
    >
      <span>{words.label}</span>
      {words.key ? <kbd>{keyLabel(words.key)}</kbd> : null}
    </button>
  );
}
