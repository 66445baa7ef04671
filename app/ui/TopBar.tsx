import { CircleQuestionMark, type LucideIcon, Redo2, Undo2 } from 'lucide-react';
import { useState } from 'react';
import { useShallow } from 'zustand/react/shallow';
import { describeCommand, keyLabel, runCommand } from '../commands';
import { renameDocument, type Session, useSession } from '../document';
import { Choice, TextField } from './fields';
import { HelpDialog } from './HelpDialog';
import { MainMenu } from './MainMenu';
import { Mark } from './Mark';
import { themes } from './themes';

const savedWords: Readonly<Record<Session['saved'], string>> = {
  saved: 'Kept in this browser',
  saving: 'Keeping …',
  unsaved: 'Not kept yet',
  failed: 'Cannot be kept here: save the project file',
};

/** Document, history, unit, theme, help and the menu. */
export function TopBar() {
  const title = useSession((s) => s.document?.title ?? '');
  const unit = useSession((s) => s.document?.lengthUnit ?? 'mm');
  const saved = useSession((s) => s.saved);
  const theme = useSession((s) => s.theme);
  const [help, setHelp] = useState(false);
  const at = themes.findIndex((t) => t.theme === theme);
  const now = themes[at] ?? themes[0]!;
  const next = themes[(at + 1) % themes.length]!;
  return (
    <header className="top">
      <span className="product">
        <Mark size={26} />
        <span className="product-name">Girthwise</span>
      </span>
      <div className="title-box">
        <TextField
          label="Name of this document"
          labelHidden
          value={title}
          maxLength={120}
          onCommit={renameDocument}
        />
      </div>
      <span className="saved" data-state={saved} role="status">
        {savedWords[saved]}
      </span>
      <Stepped />
      <span className="top-space" />
      <HistoryButton command="undo" icon={Undo2} />
      <HistoryButton command="redo" icon={Redo2} />
      <span className="top-unit">
        <Choice
          legend="Lengths in"
          legendHidden
          value={unit}
          options={[
            { value: 'mm', label: 'mm' },
            { value: 'in', label: 'in' },
          ]}
          onChange={(chosen) => runCommand('setUnit', { unit: chosen })}
        />
      </span>
      <button
        type="button"
        className="icon-button top-theme"
        aria-label={`Theme: ${now.label}`}
        title={`Theme: ${now.label}. Next: ${next.label}`}
        onClick={() => runCommand('chooseTheme', { theme: next.theme })}
      >
        <now.icon aria-hidden="true" size={18} />
      </button>
      <button
        type="button"
        className="icon-button top-help"
        aria-label="Help"
        title="Keys, lines and cautions"
        onClick={() => setHelp(true)}
      >
        <CircleQuestionMark aria-hidden="true" size={18} />
      </button>
      <MainMenu onHelp={() => setHelp(true)} />
      {help ? <HelpDialog onClose={() => setHelp(false)} /> : null}
    </header>
  );
}

/** Says what was undone or redone, to who can't see it. */
function Stepped() {
  const stepped = useSession((s) => s.stepped);
  return (
    <span className="unseen" role="status">
      <span key={stepped?.turn ?? 0}>{stepped?.words ?? ''}</span>
    </span>
  );
}

function HistoryButton({
  command,
  icon: Icon,
}: {
  readonly command: 'undo' | 'redo';
  readonly icon: LucideIcon;
}) {
  const words = useSession(useShallow((s) => describeCommand(command, s)));
  return (
    <button
      type="button"
      className="history-button"
      aria-label={words.label}
      title={`${words.enabled ? words.label : words.reason} (${keyLabel(words.key)})`}
      disabled={!words.enabled}
      onClick={() => runCommand(command)}
    >
      <Icon aria-hidden="true" size={18} />
      <span className="history-label">{words.label}</span>
    </button>
  );
}
