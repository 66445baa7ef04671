/** Pair: a click takes the first edge, the next click its mate. The same edge again, or Escape, drops the first. */
import type { Tool } from './machine';
import type { BenchFacts, ToolEffect } from './types';

export const pair: Tool = {
  reaches: () => ['edge'],
  click(_state, press, facts) {
    const hit = facts.hitAt(press.at, ['edge'], press.pointer);
    return hit ? take(hit.id, facts) : [];
  },
  drag: (press) => ({ name: 'panning', screen: press.screen }),
  drop: () => [],
  pick: (_state, edge, _shift, facts) => take(edge, facts),
  finish: () => [],
  removeLast: (_state, facts) => dropFirst(facts),
  escape: (_state, facts) =>
    facts.pairFrom === null ? [{ kind: 'tool', tool: 'select' }] : dropFirst(facts),
};

function take(edge: string, facts: BenchFacts): readonly ToolEffect[] {
  const first = facts.pairFrom;
  if (first === edge) return dropFirst(facts);
  if (first === null) {
    return [
      { kind: 'pairFrom', edge },
      { kind: 'announce', text: `${facts.describe(edge)}: first edge. Now pick its mate.` },
    ];
  }
  return [
    { kind: 'pair', a: first, b: edge },
    { kind: 'pairFrom', edge: null },
    { kind: 'announce', text: `Paired with ${lowerFirst(facts.describe(edge))}.` },
  ];
}

function dropFirst(facts: BenchFacts): readonly ToolEffect[] {
  if (facts.pairFrom === null) return [];
  return [
    { kind: 'pairFrom', edge: null },
    { kind: 'announce', text: 'First edge dropped.' },
  ];
}

const lowerFirst = (text: string) => text.charAt(0).toLowerCase() + text.slice(1);
