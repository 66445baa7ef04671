import { describe, expect, it } from 'vitest';
import { commandForKey, keyLabel, matchesKey } from '../../app/commands';

const press = (key: string, held: readonly ('ctrl' | 'meta' | 'alt' | 'shift')[] = []) => ({
  key,
  ctrlKey: held.includes('ctrl'),
  metaKey: held.includes('meta'),
  altKey: held.includes('alt'),
  shiftKey: held.includes('shift'),
});

describe('keys', () => {
  it.each([
    [press('z', ['ctrl']), 'undo'],
    [press('Z', ['ctrl', 'shift']), 'redo'],
    [press('y', ['ctrl']), 'redo'],
    [press('+', ['shift']), 'zoomIn'],
    [press('='), 'zoomIn'],
    [press('-'), 'zoomOut'],
    [press('0'), 'zoomFit'],
    [press('Escape'), 'clearSelection'],
    [press('p'), 'pairTool'],
    [press('p', ['ctrl']), 'exportPdf'],
    [press('P', ['shift']), null],
    [press('z'), null],
    [press('z', ['ctrl', 'alt']), null],
    [press('z', ['meta']), null],
  ])('%j runs %s', (event, id) => expect(commandForKey(event, false)).toBe(id));

  it('takes the Command key on a Mac', () => {
    expect(commandForKey(press('z', ['meta']), true)).toBe('undo');
    expect(commandForKey(press('z', ['ctrl']), true)).toBeNull();
  });

  it('does not mistake a longer key name for a letter', () => {
    expect(matchesKey('b', press('Backspace'), false)).toBe(false);
    expect(matchesKey('Backspace', press('b'), false)).toBe(false);
  });

  it('writes keys as each machine does', () => {
    expect(keyLabel('Mod+Shift+z', false)).toBe('Ctrl+Shift+Z');
    expect(keyLabel('Mod+Shift+z', true)).toBe('⌘⇧Z');
    expect(keyLabel('+', false)).toBe('+');
    expect(keyLabel('h', false)).toBe('H');
  });
});
