/**
 * Offcut: clicks lay the corners of a piece of foam one after another, on round measures; a click on the first corner,
 * or Done, closes it. At the keyboard the arrows move a pen, Enter lays a corner there, Shift+Enter closes.
 */
import { distance, type Point } from '../../src/math';
import type { Tool } from './machine';
import type { BenchFacts, ToolEffect } from './types';

export const offcut: Tool = {
  reaches: () => [],
  click(_state, press, facts) {
    const first = facts.offcut?.points[0];
    const closes = (facts.offcut?.points.length ?? 0) > 2 && first;
    if (closes && facts.isNear(first, press.at, press.pointer)) return close(facts);
    return lay(facts.onGrid(press.at, press.pointer), facts);
  },
  drag: (press) => ({ name: 'panning', screen: press.screen }),
  drop: () => [],
  pick: () => [],
  enter: (shift, facts) => (shift ? close(facts) : lay(facts.offcut?.pen ?? { x: 0, y: 0 }, facts)),
  steer(by, facts) {
    if (!facts.offcut) return [];
    const { points, pen } = facts.offcut;
    const to = { x: pen.x + by.x, y: pen.y + by.y };
    const last = points.at(-1);
    const side = last ? `, side ${facts.length(distance(last, to))}` : '';
    return [
      { kind: 'offcut', points, pen: to },
      { kind: 'announce', text: `${place(to, facts)}${side}.` },
    ];
  },
  finish: (_state, facts) => close(facts),
  removeLast(_state, facts) {
    const points = facts.offcut?.points ?? [];
    const last = points.at(-1);
    if (!last) return [];
    return [
      { kind: 'offcut', points: points.slice(0, -1), pen: last },
      { kind: 'announce', text: `Last corner taken back, ${counted(points.length - 1)}.` },
    ];
  },
  escape: (_state, facts) => [
    { kind: 'tool', tool: 'select' },
    ...((facts.offcut?.points.length ?? 0) > 0
      ? [{ kind: 'announce' as const, text: 'Offcut dropped.' }]
      : []),
  ],
};

const counted = (n: number) => (n === 1 ? '1 corner' : `${n} corners`);

/** Where a point is by the rulers, which count to the right and downwards. */
const place = ({ x, y }: Point, { length }: BenchFacts) => `${length(x)} across, ${length(-y)} down`;

function lay(at: Point, facts: BenchFacts): readonly ToolEffect[] {
  if (!facts.offcut) return [];
  const { points } = facts.offcut;
  if (points.some((p) => distance(p, at) === 0))
    return [{ kind: 'announce', text: 'There is a corner already.' }];
  return [
    { kind: 'offcut', points: [...points, at], pen: at },
    { kind: 'announce', text: `Corner ${points.length + 1} at ${place(at, facts)}.` },
  ];
}

const close = ({ offcut: draft }: BenchFacts): readonly ToolEffect[] =>
  draft && draft.points.length > 2
    ? [{ kind: 'keepOffcut' }]
    : [{ kind: 'announce', text: 'An offcut needs three corners or more.' }];
