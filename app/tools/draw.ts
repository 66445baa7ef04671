/**
 * Draw: clicks lay the points of a line on one panel. The first lies on its outline; a line across the panel ends where
 * it meets the outline again. Nothing is cut until Enter, or Done: then the panel is cut along the line. At the keyboard
 * Enter takes the first corner of the edge at the cursor, and Shift+Enter cuts.
 */
import { distance, type Point } from '../../src/math';
import type { Tool } from './machine';
import type { BenchFacts, PointerKind, ToolEffect } from './types';

export const draw: Tool = {
  reaches: () => ['edge'],
  click: (_state, press, facts) => lay(press.at, press.pointer, facts),
  drag: (press) => ({ name: 'panning', screen: press.screen }),
  drop: () => [],
  pick(_state, edge, shift, facts) {
    if (shift) return cut(facts);
    const ends = facts.endsOf(edge);
    return ends ? lay(ends[0], 'mouse', facts) : [];
  },
  finish: (_state, facts) => cut(facts),
  removeLast(_state, facts) {
    const { panel, points } = facts.drawing;
    if (points.length === 0) return [];
    const left = points.slice(0, -1);
    return [
      { kind: 'draw', panel: left.length === 0 ? null : panel, points: left },
      { kind: 'announce', text: `Last point taken back, ${counted(left.length)}.` },
    ];
  },
  escape: (_state, facts) =>
    facts.drawing.points.length === 0
      ? [{ kind: 'tool', tool: 'select' }]
      : [
          { kind: 'draw', panel: null, points: [] },
          { kind: 'announce', text: 'Line dropped.' },
        ],
};

const counted = (n: number) => (n === 1 ? '1 point' : `${n} points`);

function cut(facts: BenchFacts): readonly ToolEffect[] {
  return facts.drawing.points.length === 0 ? [{ kind: 'tool', tool: 'select' }] : [{ kind: 'cutDrawn' }];
}

function lay(at: Point, pointer: PointerKind, facts: BenchFacts): readonly ToolEffect[] {
  const { panel, points, way } = facts.drawing;
  const rim = facts.rimAt(at, pointer, panel);
  if (panel === null) {
    if (!rim)
      return [{ kind: 'announce', text: 'A line begins on the outline of a panel: click closer to one.' }];
    return [
      { kind: 'draw', panel: rim.panel, points: [rim.at] },
      { kind: 'announce', text: `Begun on the outline of ${facts.panelName(rim.panel)}.` },
    ];
  }
  const next = rim?.at ?? at;
  if (points.some((p) => distance(p, next) === 0)) return [];
  const laid = [...points, next];
  const there = rim && way === 'across' ? ', on the outline: press Enter to cut' : '';
  return [
    { kind: 'draw', panel, points: laid },
    { kind: 'announce', text: `${counted(laid.length)}${there}.` },
  ];
}
