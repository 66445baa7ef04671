/** What the lines mean, and tabs. */
import type { Decisions, LineRole } from '../../src/model';
import { change, command, refuse, withDocument } from './command';
import { selectedLines, selectedTabs } from './selection';

const reading = (d: Decisions, part: Partial<Decisions['reading']>): Decisions => ({
  ...d,
  reading: { ...d.reading, ...part },
});

/** `record` with `ids` set to `value`; null takes them out. */
export function withEntries<V>(
  record: Readonly<Record<string, V>>,
  ids: readonly string[],
  value: V | null,
): Readonly<Record<string, V>> {
  const next: Record<string, V> = { ...record };
  for (const id of ids) {
    if (value === null) delete next[id];
    else next[id] = value;
  }
  return next;
}

/** Names of the roles on screen. */
export const roleLabels: Readonly<Record<LineRole, string>> = {
  outline: 'Outline',
  mountain: 'Mountain fold',
  valley: 'Valley fold',
  fold: 'Fold, direction unknown',
  notes: 'Numbers and notes',
  ignore: 'Leave out',
};

/** `role: null` returns to what the program proposed. */
export const setGroupRole = command<{ readonly group: string; readonly role: LineRole | null }>({
  id: 'setGroupRole',
  label: () => 'Say what these lines are',
  enabled: withDocument,
  run: (_s, { group, role }) =>
    change(role ? `Lines as ${roleLabels[role].toLowerCase()}` : 'Lines as proposed', (d) =>
      reading(d, { groupRoles: withEntries(d.reading.groupRoles, [group], role) }),
    ),
});

/** Lines by id, or the selected ones when `lines` is left out. */
export const setLineRole = command<{ readonly lines?: readonly string[]; readonly role: LineRole | null }>({
  id: 'setLineRole',
  label: () => 'Say what the selected lines are',
  enabled: (s) => (selectedLines(s).length > 0 ? true : 'Select lines of the drawing first.'),
  run: (s, { lines = selectedLines(s), role }) => {
    if (lines.length === 0) return refuse('Select lines of the drawing first.');
    return change(role ? `Line as ${roleLabels[role].toLowerCase()}` : 'Line as its group', (d) =>
      reading(d, { lineRoles: withEntries(d.reading.lineRoles, lines, role) }),
    );
  },
});

/** Tabs by id, or the selected ones: part of their piece again. */
export const keepTabs = command<{ readonly tabs?: readonly string[] } | undefined>({
  id: 'keepTabs',
  label: (s) => (selectedTabs(s).length > 1 ? 'Keep these tabs' : 'Keep this tab'),
  enabled: (s) => (selectedTabs(s).length > 0 ? true : 'Select a tab first.'),
  run: (s, args) => {
    const tabs = args?.tabs ?? selectedTabs(s);
    if (tabs.length === 0) return refuse('Select a tab first.');
    return change(tabs.length > 1 ? 'Keep tabs' : 'Keep a tab', (d) =>
      reading(d, { keptTabs: [...new Set([...d.reading.keptTabs, ...tabs])] }),
    );
  },
});

/** Tabs by id, or the selected ones: taken off the piece. */
export const stripTabs = command<{ readonly tabs?: readonly string[] } | undefined>({
  id: 'stripTabs',
  label: (s) => (selectedTabs(s).length > 1 ? 'Take these tabs off' : 'Take this tab off'),
  enabled: (s) => (selectedTabs(s).length > 0 ? true : 'Select a tab first.'),
  run: (s, args) => {
    const tabs = args?.tabs ?? selectedTabs(s);
    if (tabs.length === 0) return refuse('Select a tab first.');
    return change(tabs.length > 1 ? 'Take tabs off' : 'Take a tab off', (d) =>
      reading(d, { keptTabs: d.reading.keptTabs.filter((t) => !tabs.includes(t)) }),
    );
  },
});
