/** Runs commands of the registry against the page's session, from buttons, menus and keys alike. */
import { unreachable } from '../../src/base';
import { decide, type Session, session } from '../document';
import type { Command } from './command';
import { type CommandId, commands } from './registry';

type ArgsOf<K extends CommandId> = (typeof commands)[K] extends Command<infer A> ? A : never;
/** Arguments may be left out where a command can do without. */
export type CommandArgs<K extends CommandId> =
  undefined extends ArgsOf<K> ? [args?: ArgsOf<K>] : [args: ArgsOf<K>];

export type CommandOutcome = { readonly done: true } | { readonly done: false; readonly reason: string };

/** Ids of commands that need no argument: those that keys and plain buttons can run. */
export type PlainCommandId = { [K in CommandId]: undefined extends ArgsOf<K> ? K : never }[CommandId];

/**
 * Runs a command: a change becomes one undo step, a refusal comes back with its reason. With arguments the command
 * itself judges them; without, it must be enabled.
 */
export function runCommand<K extends CommandId>(id: K, ...args: CommandArgs<K>): CommandOutcome {
  const c = commands[id] as unknown as Command<ArgsOf<K> | undefined>;
  const now = session.getState();
  if (args[0] === undefined) {
    const able = c.enabled(now);
    if (able !== true) return { done: false, reason: able };
  }
  const answer = c.run(now, args[0]);
  switch (answer.kind) {
    case 'change':
      decide(answer.label, answer.change, {
        ...(answer.merge === undefined ? {} : { merge: answer.merge }),
        ...(answer.select === undefined ? {} : { select: answer.select }),
      });
      return { done: true };
    case 'effect':
      answer.act();
      return { done: true };
    case 'refusal':
      return { done: false, reason: answer.reason };
    default:
      return unreachable(answer);
  }
}

/** For a button: its words, whether it can be pressed and, if not, why. */
export function describeCommand(
  id: CommandId,
  s: Session,
): { readonly label: string; readonly enabled: boolean; readonly reason: string; readonly key: string } {
  const c = commands[id] as unknown as Command;
  const able = c.enabled(s);
  return {
    label: c.label(s),
    enabled: able === true,
    reason: able === true ? '' : able,
    key: c.keys?.[0] ?? '',
  };
}
