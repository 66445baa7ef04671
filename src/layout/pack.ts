/**
 * Placing panels in a strip from the top down, or on separate pages: each panel goes where the border of what is placed
 * already lets it rise furthest (a skyline of the true shapes, column by column), in any quarter turn. Plain greedy
 * packing in a given order; several orders and strip widths are tried by `arrange.ts`.
 */
import type { Mm } from '../units';
import type { Profiled, Shape } from './profile';
import { panelGap } from './tolerance';

/** Where a shape was put: its box's upper-left corner, x to the right, depth down from the top of the strip. */
export interface Spot {
  readonly panel: number;
  readonly shape: Shape;
  readonly x: Mm;
  readonly depth: Mm;
}

/** How the packer chooses among places: how much it minds room left empty, and which side it fills first. */
export interface Habit {
  readonly waste: number;
  readonly from: 'left' | 'right';
}
export const habits: readonly Habit[] = [
  { waste: 0, from: 'left' },
  { waste: 0.6, from: 'left' },
  { waste: 0, from: 'right' },
  { waste: 0.6, from: 'right' },
];

export type Order = 'area' | 'length' | 'height';
export const orders: readonly Order[] = ['area', 'length', 'height'];

/** Indexes of the panels, the largest first by the given measure, equals in their own order. */
export function sortedBy(order: Order, panels: readonly Profiled[]): number[] {
  const measure = (p: Profiled): number => {
    const first = p.shapes[0]!;
    switch (order) {
      case 'area':
        return p.area;
      case 'length':
        return Math.max(first.width, first.height);
      case 'height':
        return Math.min(first.width, first.height);
    }
  };
  return panels
    .map((p, i) => ({ i, m: measure(p) }))
    .sort((a, b) => b.m - a.m || a.i - b.i)
    .map(({ i }) => i);
}

/** Columns without ink have no border; their gap is infinite and counts for nothing. */
const unmeasured = Number.POSITIVE_INFINITY;

/** Border of the ink placed so far, column by column, as depth from the top. */
class Skyline {
  readonly #depth: Float64Array;
  readonly #gapColumns: number;
  constructor(width: Mm, step: Mm) {
    this.#gapColumns = Math.ceil(panelGap / step);
    this.#depth = new Float64Array(Math.max(0, Math.floor(width / step)));
  }

  /** The place that costs least: how far down the shape reaches, plus `waste` times the mean height left empty. */
  best(shape: Shape, { waste, from }: Habit, limit: Mm): { x: number; depth: Mm; cost: number } | null {
    const sky = this.#depth;
    const { near, height } = shape;
    const n = near.length;
    const last = sky.length - n;
    let found: { x: number; depth: Mm; cost: number } | null = null;
    let bar = limit - height;
    // The column that was in the way at the last place is mostly in the way at the next one too.
    let blocking = -1;
    for (let i = 0; i <= last; i++) {
      const x = from === 'left' ? i : last - i;
      const there = blocking - x;
      if (there >= 0 && there < n) {
        const here = sky[blocking]! - near[there]!;
        if (here > bar || (found !== null && here === bar)) continue;
      }
      let depth = 0;
      for (let c = 0; c < n && depth <= bar; c++) {
        const here = sky[x + c]! - near[c]!;
        if (here > depth) {
          depth = here;
          blocking = x + c;
        }
      }
      if (depth > bar || (found !== null && depth === bar)) continue;
      let empty = 0;
      if (waste > 0) {
        for (let c = 0; c < n; c++) {
          const gap = depth + near[c]! - sky[x + c]!;
          if (gap < unmeasured) empty += gap;
        }
      }
      const cost = depth + height + (waste * empty) / n;
      if (found === null || cost < found.cost) {
        found = { x, depth, cost };
        bar = Math.min(bar, cost - height);
      }
    }
    return found;
  }

  take(shape: Shape, x: number, depth: Mm): void {
    const reach = this.#gapColumns;
    for (const [c, far] of shape.far.entries()) {
      if (!Number.isFinite(far)) continue;
      const from = Math.max(0, x + c - reach);
      const to = Math.min(this.#depth.length - 1, x + c + reach);
      for (let i = from; i <= to; i++) this.#depth[i] = Math.max(this.#depth[i]!, depth + far + panelGap);
    }
  }
}

/** Packs all panels in a strip of the given width. @returns null when one of them is wider than the strip. */
export function packStrip(
  panels: readonly Profiled[],
  order: readonly number[],
  width: Mm,
  habit: Habit,
): Spot[] | null {
  const step = panels[0]?.step ?? 1;
  const skyline = new Skyline(width, step);
  const spots: Spot[] = [];
  for (const panel of order) {
    const put = bestTurn(skyline, panels[panel]!, habit, Number.POSITIVE_INFINITY);
    if (!put) return null;
    skyline.take(put.shape, put.x, put.depth);
    spots.push({ panel, shape: put.shape, x: put.x * step, depth: put.depth });
  }
  return spots;
}

/** Packs panels on pages of the given size, whole; those larger than a page are returned apart. */
export function packPages(
  panels: readonly Profiled[],
  order: readonly number[],
  size: { readonly width: Mm; readonly height: Mm },
  habit: Habit,
): { readonly pages: Spot[][]; readonly tooLarge: number[] } {
  const step = panels[0]?.step ?? 1;
  const pages: { skyline: Skyline; spots: Spot[] }[] = [];
  const tooLarge: number[] = [];
  for (const panel of order) {
    let placed = false;
    for (let i = 0; i <= pages.length && !placed; i++) {
      const page = pages[i] ?? { skyline: new Skyline(size.width, step), spots: [] };
      const put = bestTurn(page.skyline, panels[panel]!, habit, size.height);
      if (!put) continue;
      page.skyline.take(put.shape, put.x, put.depth);
      page.spots.push({ panel, shape: put.shape, x: put.x * step, depth: put.depth });
      if (i === pages.length) pages.push(page);
      placed = true;
    }
    if (!placed) tooLarge.push(panel);
  }
  return { pages: pages.map((p) => p.spots), tooLarge };
}

function bestTurn(skyline: Skyline, panel: Profiled, habit: Habit, limit: Mm) {
  let best: { shape: Shape; x: number; depth: Mm; cost: number } | null = null;
  for (const shape of panel.shapes) {
    const found = skyline.best(shape, habit, limit);
    if (found && (best === null || found.cost < best.cost)) best = { shape, ...found };
  }
  return best;
}
