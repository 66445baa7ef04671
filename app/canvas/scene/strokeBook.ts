import type { BenchLookName } from './looks';
import type { Polyline, StrokeSet } from './scene';

/** Fine marks run together into grey when far away: pixels per mm from which they are drawn. */
const fromScale: Readonly<Partial<Record<BenchLookName, number>>> = {
  hatch: 0.9,
  borderTick: 0.6,
  notch: 0.6,
  otherFace: 1.1,
};

/** Collects lines by their look. */
export class StrokeBook {
  private readonly sets = new Map<BenchLookName, Polyline[]>();

  add(look: BenchLookName, ...lines: readonly Polyline[]): void {
    const set = this.sets.get(look);
    if (set) set.push(...lines);
    else this.sets.set(look, [...lines]);
  }

  /** The lines in the given order of looks, lowest first. Throws when a look was collected but not ordered. */
  inOrder(order: readonly BenchLookName[]): StrokeSet[] {
    const forgotten = [...this.sets.keys()].filter((look) => !order.includes(look));
    if (forgotten.length > 0) throw new Error(`No place in the drawing order for: ${forgotten.join(', ')}`);
    return order.flatMap((look) => {
      const lines = this.sets.get(look);
      return lines ? [{ look, lines, fromScale: fromScale[look] ?? 0 }] : [];
    });
  }
}
