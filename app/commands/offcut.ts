/** An offcut of foam drawn on the bench corner by corner, then taken among the sheets as one step. */
import { boxOf, type Point } from '../../src/math';
import type { StockSheet } from '../../src/model';
import { offcutRing } from '../../src/nest';
import { decide, type OffcutDraft, type Session, setOffcut } from '../document';
import { command, effect, refuse } from './command';

const here = (s: Session): true | string => {
  if (!s.document) return 'Open a pattern first.';
  if (s.step !== 'sheets') return 'Offcuts are drawn in the Sheets step.';
  return s.results.foam ? true : 'There are no panels yet.';
};

const begun = (s: Session): true | string => (s.offcut ? true : 'No offcut is being drawn.');

/** Draws a new offcut, or the outline of a listed one anew. */
export const startOffcut = command<Pick<OffcutDraft, 'thickness' | 'material' | 'changes'>>({
  id: 'startOffcut',
  label: () => 'Draw an offcut',
  enabled: here,
  run: (s, wanted) => {
    const listed = s.document?.decisions.sheets.stock.find((sheet) => sheet.id === wanted.changes);
    const points = listed?.shape.kind === 'offcut' ? belowZero(listed.shape.outline) : [];
    return effect(() => setOffcut({ ...wanted, points, pen: points.at(-1) ?? { x: 0, y: 0 } }));
  },
});

/** On the bench an offcut hangs from the rulers' zero. */
function belowZero(outline: readonly Point[]): Point[] {
  const { minX, maxY } = boxOf(outline);
  return outline.map((p) => ({ x: p.x - minX, y: p.y - maxY }));
}

/** The tool of the bench: an offcut of the foam that most panels are cut from. */
export const offcutTool = command({
  id: 'offcutTool',
  label: () => 'Draw an offcut',
  keys: ['o'],
  enabled: here,
  run(s) {
    const able = here(s);
    if (able !== true) return refuse(able);
    if (s.offcut) return effect(() => {});
    const counts = new Map<string, { thickness: number; material: string; count: number }>();
    for (const { thickness, material = '' } of s.results.foam?.panels ?? []) {
      const key = `${thickness} ${material}`;
      counts.set(key, { thickness, material, count: (counts.get(key)?.count ?? 0) + 1 });
    }
    const [most] = [...counts.values()].sort((a, b) => b.count - a.count);
    if (!most) return refuse('There are no panels yet.');
    const { thickness, material } = most;
    return startOffcut.run(s, { thickness, material, changes: null });
  },
});

/** The corners so far, and where the next one is laid by keys. */
export const layCorners = command<{ readonly points: readonly Point[]; readonly pen: Point }>({
  id: 'layCorners',
  label: () => 'Lay corners of an offcut',
  enabled: begun,
  run: (s, { points, pen }) =>
    s.offcut ? effect(() => setOffcut({ ...s.offcut!, points, pen })) : refuse('No offcut is being drawn.'),
});

export const hasCorners = (s: Session): boolean => (s.offcut?.points.length ?? 0) > 0;

/** The last corner goes, and the pen back to it. */
export function takeCornerBack({ offcut }: Session): void {
  const last = offcut?.points.at(-1);
  if (offcut && last) setOffcut({ ...offcut, points: offcut.points.slice(0, -1), pen: last });
}

export const dropOffcut = command({
  id: 'dropOffcut',
  label: () => 'Drop this offcut',
  enabled: begun,
  run: () => effect(() => setOffcut(null)),
});

/** Why it can't be kept yet, or true. */
const closable = (s: Session): true | string => {
  if (!s.offcut) return 'No offcut is being drawn.';
  const ring = offcutRing(s.offcut.points);
  return ring.ok ? true : ring.issues.map((i) => `${i.message} ${i.remedy}`).join(' ');
};

/** Closes the outline and takes the offcut among the sheets. */
export const keepOffcut = command({
  id: 'keepOffcut',
  label: () => 'Keep this offcut',
  enabled: closable,
  run: (s) => {
    const draft = s.offcut;
    const ring = draft ? offcutRing(draft.points) : null;
    if (!draft || !ring?.ok) return refuse(closable(s) as string);
    const shape = { kind: 'offcut', outline: ring.value } as const;
    const { thickness, material, changes } = draft;
    const kept = (stock: readonly StockSheet[]): readonly StockSheet[] =>
      stock.some((sheet) => sheet.id === changes)
        ? stock.map((sheet) => (sheet.id === changes ? { ...sheet, shape } : sheet))
        : [...stock, { id: freshSheetId(stock), thickness, material, count: 1, price: null, shape }];
    return effect(() => {
      decide(changes ? 'Draw an offcut anew' : 'Draw an offcut', (d) => ({
        ...d,
        sheets: { ...d.sheets, stock: kept(d.sheets.stock) },
      }));
      setOffcut(null);
    });
  },
});

/** An id that no sheet has yet. */
export function freshSheetId(stock: readonly StockSheet[]): string {
  for (let n = stock.length + 1; ; n++) if (!stock.some((s) => s.id === `s${n}`)) return `s${n}`;
}
