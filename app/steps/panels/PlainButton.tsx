import type { LucideIcon } from 'lucide-react';
import { useShallow } from 'zustand/react/shallow';
import { describeCommand, type PlainCommandId, runCommand } from '../../commands';
import { useSession } from '../../document';

interface PlainButtonProps {
  readonly command: PlainCommandId;
  readonly icon: LucideIcon;
}

/** A command's button: when it can't be pressed, the reason is its title. */
export function PlainButton({ command, icon: Icon }: PlainButtonProps) {
  const words = useSession(useShallow((s) => describeCommand(command, s)));
  return (
    <button
      type="button"
      disabled={!words.enabled}
      title={words.enabled ? words.label : words.reason}
      onClick={() => runCommand(command)}
    >
      <Icon aria-hidden="true" size={16} /> {words.label}
    </button>
  );
}
