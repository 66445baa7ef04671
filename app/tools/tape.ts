/**
 * Tape: every drag lays one straight tape over a piece; the lengths of all tapes together are the girth. Ends snap to
 * corners. Each tape is one entry of the history. Enter at the keyboard cursor lays a tape along that edge, end to
 * end; Shift+Enter finishes.
 */
import { distance } from '../../src/math';
import type { Tool } from './machine';
import { onlyOnTheDrawing } from './measure';
import type { BenchFacts, Girth, TapePart, ToolEffect } from './types';

export const tape: Tool = {
  reaches: () => [],
  click: () => [],
  drag: (press, to, facts) =>
    facts.measurable
      ? {
          name: 'taping',
          from: facts.snap(press.at, press.pointer),
          to: facts.snap(to.at, press.pointer),
          pointer: press.pointer,
        }
      : { name: 'panning', screen: press.screen },
  drop(state, facts) {
    if (state.gesture.name !== 'taping') return [];
    return lay([state.gesture.from, state.gesture.to], facts);
  },
  pick(_state, edge, shift, facts) {
    if (shift) return [{ kind: 'tool', tool: 'select' }];
    const ends = facts.endsOf(edge);
    return ends ? lay(ends, facts) : [];
  },
  finish: () => [{ kind: 'tool', tool: 'select' }],
  removeLast(_state, facts) {
    const parts = laid(facts.girth);
    return parts.length === 0 ? [] : change('Take up a tape', parts.slice(0, -1), facts);
  },
  escape: () => [{ kind: 'tool', tool: 'select' }],
};

const laid = (girth: Girth): readonly TapePart[] => (girth.kind === 'tape' ? girth.parts : []);

function lay(part: TapePart, facts: BenchFacts): readonly ToolEffect[] {
  if (!facts.measurable) return onlyOnTheDrawing;
  // Both ends on one corner: a tape of no length would count as a part and confuse the sum.
  if (distance(part[0], part[1]) === 0) return [];
  return change('Lay a tape', [...laid(facts.girth), part], facts);
}

function change(label: string, parts: readonly TapePart[], facts: BenchFacts): readonly ToolEffect[] {
  const girth: Girth = parts.length === 0 ? { kind: 'none' } : { kind: 'tape', parts };
  const sum = parts.reduce((s, [a, b]) => s + distance(a, b), 0);
  const count = parts.length === 1 ? '1 tape' : `${parts.length} tapes`;
  return [
    { kind: 'girth', label, girth, merge: null },
    { kind: 'announce', text: parts.length === 0 ? 'No tapes.' : `${count}, ${facts.length(sum)}.` },
  ];
}
