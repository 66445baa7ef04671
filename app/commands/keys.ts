/** Keyboard: one listener for the page that runs commands by their keys. */
import { session } from '../document';
import type { Command } from './command';
import { type CommandId, commands } from './registry';
import { type PlainCommandId, runCommand } from './run';

/** The part of a keyboard event that decides. */
export interface KeyPress {
  readonly key: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
  readonly shiftKey: boolean;
}

/** Is this press the key written as `Mod+Shift+z`? `mac`: Mod is the Command key. */
export function matchesKey(written: string, press: KeyPress, mac: boolean): boolean {
  const parts = written === '+' ? ['+'] : written.split('+');
  const key = parts.at(-1) ?? '';
  const wants = (name: string) => parts.slice(0, -1).includes(name);
  const mod = mac ? press.metaKey : press.ctrlKey;
  const other = mac ? press.ctrlKey : press.metaKey;
  if (wants('Mod') !== mod || other || wants('Alt') !== press.altKey) return false;
  // Shift makes a different character of most keys already; it only counts for letters and named keys.
  const letterOrName = key.length > 1 || /[a-z]/i.test(key);
  if (letterOrName && wants('Shift') !== press.shiftKey) return false;
  return key.length === 1 ? press.key.toLowerCase() === key.toLowerCase() : press.key === key;
}

/** The command of a key press, or null. */
export function commandForKey(press: KeyPress, mac: boolean): CommandId | null {
  for (const [id, c] of Object.entries(commands) as unknown as [CommandId, Command][]) {
    if (c.keys?.some((k) => matchesKey(k, press, mac))) return id;
  }
  return null;
}

const isMac = () => /Mac|iPhone|iPad/.test(navigator.platform);

/** How a key is written on this machine: `Ctrl+Z`, `⌘Z`. */
export function keyLabel(written: string, mac: boolean = isMac()): string {
  if (written.length === 1) return written.toUpperCase();
  const names: Record<string, string> = mac
    ? { Mod: '⌘', Shift: '⇧', Alt: '⌥' }
    : { Mod: 'Ctrl', Shift: 'Shift', Alt: 'Alt' };
  const parts = written.split('+').map((p) => names[p] ?? (p.length === 1 ? p.toUpperCase() : p));
  return parts.join(mac ? '' : '+');
}

/** Typing stays typing: in a field only keys with Mod run commands, except those that edit text. */
function isTyping(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (
    target.isContentEditable ||
    target instanceof HTMLTextAreaElement ||
    target instanceof HTMLSelectElement
  ) {
    return true;
  }
  const buttons = ['button', 'checkbox', 'radio', 'submit', 'reset', 'file', 'color'];
  return target instanceof HTMLInputElement && !buttons.includes(target.type);
}

const textKeys: readonly CommandId[] = ['undo', 'redo', 'selectAll'];

/** Starts listening on the window; the function returned stops it. */
export function bindKeys(): () => void {
  const pressed = (event: KeyboardEvent) => {
    if (event.defaultPrevented || event.isComposing) return;
    const id = commandForKey(event, isMac());
    if (!id) return;
    if (isTyping(event.target)) {
      const withMod = event.ctrlKey || event.metaKey;
      if (!withMod || textKeys.includes(id)) return;
    }
    // Keys of one character can be turned off (WCAG 2.1.4).
    const single = event.key.length === 1 && !event.ctrlKey && !event.metaKey && !event.altKey;
    if (single && !session.getState().singleKeys) return;
    // A dialog keeps its keys to itself.
    if (document.querySelector('dialog[open]:modal')) return;
    const outcome = runCommand(id as PlainCommandId);
    const named = event.key === 'Escape' && !outcome.done;
    if (!named && session.getState().document) event.preventDefault();
    else if (outcome.done) event.preventDefault();
  };
  addEventListener('keydown', pressed);
  return () => removeEventListener('keydown', pressed);
}
