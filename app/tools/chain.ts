/**
 * Chain: edges clicked one after another sum up to a girth. A click on a chained edge takes it out again. The girth
 * changes with every click, so the figures follow; all clicks up to Enter are one entry of the history, and Escape
 * brings back the girth from before them. At the keyboard cursor Enter takes the edge and Shift+Enter finishes.
 */

import type { Tool } from './machine';
import { onlyOnTheDrawing } from './measure';
import type { BenchFacts, Girth, ToolEffect } from './types';

/** Changes with this key are one entry of the history. */
export const chainMerge = 'girth-chain';

export const chain: Tool = {
  reaches: () => ['edge'],
  click(_state, press, facts) {
    const hit = facts.hitAt(press.at, ['edge'], press.pointer);
    return hit ? toggle(hit.id, facts) : [];
  },
  drag: (press) => ({ name: 'panning', screen: press.screen }),
  drop: () => [],
  pick: (_state, edge, shift, facts) => (shift ? finish(facts) : toggle(edge, facts)),
  finish: (_state, facts) => finish(facts),
  removeLast(_state, facts) {
    const edges = chained(facts.girth);
    return edges.length === 0 ? [] : change('Shorten the girth', edges.slice(0, -1), facts);
  },
  escape(state) {
    if (state.before === null) return [{ kind: 'tool', tool: 'select' }];
    return [
      { kind: 'girth', label: 'Measure the girth', girth: state.before, merge: chainMerge },
      { kind: 'endMerge' },
      { kind: 'announce', text: 'Chain dropped.' },
    ];
  },
};

const chained = (girth: Girth): readonly string[] => (girth.kind === 'edges' ? girth.edges : []);

function finish(facts: BenchFacts): readonly ToolEffect[] {
  const edges = chained(facts.girth);
  const effects: ToolEffect[] = [{ kind: 'endMerge' }, { kind: 'tool', tool: 'select' }];
  if (edges.length > 0) {
    effects.push({ kind: 'announce', text: `Girth ${facts.length(facts.lengthOf(edges))}. Finished.` });
  }
  return effects;
}

function toggle(edge: string, facts: BenchFacts): readonly ToolEffect[] {
  if (!facts.measurable) return onlyOnTheDrawing;
  const edges = chained(facts.girth);
  return edges.includes(edge)
    ? change(
        'Shorten the girth',
        edges.filter((e) => e !== edge),
        facts,
      )
    : change('Measure the girth', [...edges, edge], facts);
}

function change(label: string, edges: readonly string[], facts: BenchFacts): readonly ToolEffect[] {
  const girth: Girth = edges.length === 0 ? { kind: 'none' } : { kind: 'edges', edges };
  const count = edges.length === 1 ? '1 edge' : `${edges.length} edges`;
  return [
    { kind: 'girth', label, girth, merge: chainMerge },
    {
      kind: 'announce',
      text:
        edges.length === 0 ? 'No edges in the girth.' : `${count}, ${facts.length(facts.lengthOf(edges))}.`,
    },
  ];
}
