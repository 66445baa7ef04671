/**
 * What a command is. A command is a pure answer to the session: a change of the decisions (the runner makes it one
 * undo step), an effect on the page, or a refusal with its reason. Toolbar, menu, keys and tests all read the same
 * registry.
 */
import type { Decisions } from '../../src/model';
import type { Session } from '../document';

export type CommandAnswer =
  | {
      readonly kind: 'change';
      readonly label: string;
      readonly change: (decisions: Decisions) => Decisions;
      /** See `decide`. */
      readonly merge?: string;
      readonly select?: readonly string[];
    }
  | { readonly kind: 'effect'; readonly act: () => unknown }
  | { readonly kind: 'refusal'; readonly reason: string };

export interface Command<Args = undefined> {
  readonly id: string;
  /** For the button or menu entry; may depend on the session ("Undo: set bend"). */
  readonly label: (session: Session) => string;
  /** Keys such as `Mod+z` (Mod: Ctrl, or Command on a Mac), `Shift+h`, `Escape`. */
  readonly keys?: readonly string[];
  /** True, or the reason why not, as a sentence for the tooltip. */
  readonly enabled: (session: Session) => true | string;
  readonly run: (session: Session, args: Args) => CommandAnswer;
}

/** Keeps the argument type of a command and nothing else. */
export const command = <Args = undefined>(c: Command<Args>): Command<Args> => c;

export const change = (
  label: string,
  apply: (decisions: Decisions) => Decisions,
  options: { readonly merge?: string; readonly select?: readonly string[] } = {},
): CommandAnswer => ({ kind: 'change', label, change: apply, ...options });

export const effect = (act: () => unknown): CommandAnswer => ({ kind: 'effect', act });

export const refuse = (reason: string): CommandAnswer => ({ kind: 'refusal', reason });

export const always = (): true => true;

export const withDocument = (session: Session): true | string =>
  session.document ? true : 'Open a pattern first.';
