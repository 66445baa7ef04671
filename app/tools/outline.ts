/**
 * Outline: clicks lay the corners of a closed line on panels, or the place of a shape; a click on the first corner, or
 * Done, closes it. At the keyboard the arrows move a pen, Enter lays a corner there, Shift+Enter closes.
 */
import type { Tool } from './machine';
import type { BenchFacts, ToolEffect } from './types';

export const outline: Tool = {
  reaches: () => [],
  click(_state, press, facts) {
    const points = facts.outline?.points ?? [];
    const [first] = points;
    if (points.length > 2 && first && facts.isNear(first, press.at, press.pointer)) return close(facts);
    return facts.outline ? [{ kind: 'outlineAt', at: press.at }] : [];
  },
  drag: (press) => ({ name: 'panning', screen: press.screen }),
  drop: () => [],
  pick: () => [],
  enter(shift, facts) {
    if (!facts.outline) return [];
    return shift ? close(facts) : [{ kind: 'outlineAt', at: facts.outline.pen }];
  },
  steer(by, facts) {
    if (!facts.outline) return [];
    const { x, y } = facts.outline.pen;
    return [{ kind: 'outlinePen', pen: { x: x + by.x, y: y + by.y } }];
  },
  finish: (_state, facts) => close(facts),
  removeLast: (_state, facts) =>
    facts.outline && facts.outline.points.length > 0 ? [{ kind: 'outlineBack' }] : [],
  escape: (_state, facts) => [
    { kind: 'tool', tool: 'select' },
    ...((facts.outline?.points.length ?? 0) > 0
      ? [{ kind: 'announce' as const, text: 'Outline dropped.' }]
      : []),
  ],
};

const close = ({ outline: draft }: BenchFacts): readonly ToolEffect[] =>
  draft && draft.points.length > 2
    ? [{ kind: 'keepOutline' }]
    : [{ kind: 'announce', text: 'An outline needs three corners or more.' }];
