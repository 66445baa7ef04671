/** The legend of lines: every kind in use, drawn as it is on the pages, with its name. */
import type { Point } from '../math';
import { type LineKind, lineLooks } from '../model';
import type { Mm } from '../units';
import { type Item, type Sheet, sampleWidth } from './flow';
import type { PrintedPanel } from './printed';
import { markStrokes } from './registration';

const inOrder: readonly LineKind[] = [
  'cut',
  'border',
  'mountain',
  'valley',
  'softBend',
  'scored',
  'placement',
  'notch',
  'leader',
  'registration',
  'frame',
];

/** Kinds of line on the panels, with those that every set of pages has. */
export function kindsInUse(panels: readonly PrintedPanel[], shared: boolean): LineKind[] {
  const used = new Set<LineKind>(panels.flatMap((p) => p.lines.map((l) => l.kind)));
  used.add('frame');
  if (shared) used.add('registration');
  return inOrder.filter((kind) => used.has(kind));
}

/** What the kind means on these pages; folds are named as seen from outside, whichever face is drawn. */
function kindWords(kind: LineKind, tracedFace: 'outside' | 'inside'): string {
  if (kind === 'mountain' && tracedFace === 'inside')
    return 'Mountain fold (ridge on the outside, away from you)';
  if (kind === 'valley' && tracedFace === 'inside') return 'Valley fold (ridge on the inside, towards you)';
  if (kind === 'leader') return 'Leader from a label to its edge';
  if (kind === 'registration') return 'Registration mark: two pages share it';
  if (kind === 'frame') return 'Edge of the printed area, where the next page begins, check square';
  return lineLooks[kind].label;
}

/** The legend's lines. */
export function legendItems(kinds: readonly LineKind[], tracedFace: 'outside' | 'inside'): Item[] {
  return kinds.map((kind) => ({
    kind: 'sample',
    text: kindWords(kind, tracedFace),
    draw: (left, sheet) => drawSample(kind, left, sheet),
  }));
}

function drawSample(kind: LineKind, left: Point, sheet: Sheet): void {
  const at = (x: Mm, y: Mm): Point => ({ x: left.x + x, y: left.y + y });
  const line = (k: LineKind, a: Point, b: Point) =>
    sheet.strokes.push({ kind: k, points: [a, b], closed: false });
  switch (kind) {
    case 'border':
      line('cut', at(0, 0), at(sampleWidth, 0));
      for (let x = 3.5; x < sampleWidth; x += 8) line('border', at(x, -1), at(x, 1));
      return;
    case 'notch':
      line('cut', at(0, 1.5), at(sampleWidth, 1.5));
      for (const x of [9, 12.5]) line('notch', at(x, 1.5), at(x, -1.8));
      return;
    case 'registration':
      sheet.strokes.push(...markStrokes(at(sampleWidth / 2, 0), 1.5));
      return;
    default:
      line(kind, at(0, 0), at(sampleWidth, 0));
  }
}
