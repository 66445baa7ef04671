/**
 * Which labels are shown at a zoom, and where: each where it belongs, the more important first, none over another.
 * Depends on the zoom alone, not on where the bench looks, so that words do not blink while the bench is moved. Pure.
 */
import type { Label } from '../scene/scene';

export interface PlannedLabel {
  readonly label: Label;
  /** Middle of the words, pixels, counted from where the scene's origin is on the screen; y down. */
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** Size of the type, pixels. */
  readonly type: number;
}

/** Sizes of type on the screen, pixels. */
export const typeSizes: Readonly<Record<Label['size'], number>> = { small: 11, normal: 13, large: 15 };
/** Lettering that grows with the zoom stops here: beyond it hides what it names. */
const largestType = 36;
/** From the place to the words, and round the words of a boxed label. */
const gap = 5;
export const boxPadding = { x: 5, y: 3 } as const;
/** Kept free at each side of a label: numbers side by side must not read as one. */
const apart = 4;
/** Height of a line of type as a part of its size. */
const lineHeight = 1.15;

/** `measure`: width in pixels of a text in type of the given size. */
export function planLabels(
  labels: readonly Label[],
  scale: number,
  measure: (text: string, type: number) => number,
): PlannedLabel[] {
  const taken = new Occupied();
  const order = labels
    .map((label, i) => ({ label, i }))
    .sort((a, b) => b.label.rank - a.label.rank || a.i - b.i);
  const shown: PlannedLabel[] = [];
  for (const { label } of order) {
    if (label.until !== undefined && scale >= label.until) continue;
    const type = Math.min(largestType, Math.max(typeSizes[label.size], label.height * scale));
    const words = measure(label.text, type);
    if (label.room > 0 && label.room * scale < words + gap) continue;
    const width = words + (label.boxed ? 2 * boxPadding.x : 0);
    const height = type * lineHeight + (label.boxed ? 2 * boxPadding.y : 0);
    const away = label.off ? (Math.abs(label.off.x) * width + Math.abs(label.off.y) * height) / 2 + gap : 0;
    const x = label.at.x * scale + (label.off?.x ?? 0) * away;
    const y = -label.at.y * scale - (label.off?.y ?? 0) * away;
    const w = width / 2 + apart;
    if (!taken.take(x - w, y - height / 2, x + w, y + height / 2)) continue;
    shown.push({ label, x, y, width, height, type });
  }
  return shown;
}

type Rectangle = readonly [minX: number, minY: number, maxX: number, maxY: number];

/** Side of a cell, pixels: about one label. */
const cell = 64;

/** Rectangles that are taken, in square cells so that asking stays cheap. */
class Occupied {
  private readonly cells = new Map<string, Rectangle[]>();

  /** Takes the rectangle if nothing taken reaches into it. */
  take(minX: number, minY: number, maxX: number, maxY: number): boolean {
    const mine: Rectangle = [minX, minY, maxX, maxY];
    const keys: string[] = [];
    for (let i = Math.floor(minX / cell); i <= Math.floor(maxX / cell); i++) {
      for (let j = Math.floor(minY / cell); j <= Math.floor(maxY / cell); j++) {
        const key = `${i},${j}`;
        for (const [a, b, c, d] of this.cells.get(key) ?? []) {
          if (minX < c && maxX > a && minY < d && maxY > b) return false;
        }
        keys.push(key);
      }
    }
    for (const key of keys) {
      const list = this.cells.get(key);
      if (list) list.push(mine);
      else this.cells.set(key, [mine]);
    }
    return true;
  }
}
