/** The shell card lends its opening and closing to the registry while it is on screen. */
import { command, effect } from './command';

export interface ShellCardHandlers {
  /** Over the whole bench, or back in its corner. */
  toggle(): void;
}

let card: ShellCardHandlers | null = null;

/** Called by the card when it appears; the function it returns takes the handlers back. */
export function registerShellCard(handlers: ShellCardHandlers): () => void {
  card = handlers;
  return () => {
    if (card === handlers) card = null;
  };
}

export const toggleShell = command({
  id: 'toggleShell',
  label: () => 'Show the shell over the bench, or back in its corner',
  keys: ['f'],
  enabled: (s) => {
    if (!s.document) return 'Open a pattern first.';
    return s.results.shell ? true : 'The pattern is not folded up.';
  },
  run: () => effect(() => card?.toggle()),
});
