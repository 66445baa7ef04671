/**
 * Select: a click takes the edge, fold, line, tab or piece under it, shift adds or takes away, a drag of the mouse
 * takes all edges inside the rectangle, a drag of a finger moves the bench.
 */
import type { Tool } from './machine';
import type { HitKind } from './types';

const reaches: readonly HitKind[] = ['edge', 'fold', 'line', 'tab', 'piece'];

export const select: Tool = {
  reaches,
  click(_state, press, facts) {
    const hit = facts.hitAt(press.at, reaches, press.pointer);
    if (hit) return [{ kind: 'select', ids: [hit.id], mode: press.shift ? 'toggle' : 'replace' }];
    return press.shift || facts.selection.length === 0 ? [] : [{ kind: 'select', ids: [], mode: 'replace' }];
  },
  drag: (press, to) =>
    press.pointer === 'touch'
      ? { name: 'panning', screen: press.screen }
      : { name: 'banding', from: press.at, to: to.at, add: press.shift },
  drop(state, facts) {
    const band = state.gesture;
    if (band.name !== 'banding') return [];
    const ids = facts.edgesWithin(band.from, band.to);
    const said = ids.length === 1 ? '1 edge selected.' : `${ids.length} edges selected.`;
    return [
      { kind: 'select', ids, mode: band.add ? 'add' : 'replace' },
      { kind: 'announce', text: said },
    ];
  },
  pick: (_state, edge, shift, facts) => [
    { kind: 'select', ids: [edge], mode: shift ? 'toggle' : 'replace' },
    { kind: 'announce', text: `${facts.describe(edge)}: selected.` },
  ],
  finish: () => [],
  removeLast: () => [],
  escape: (_state, facts) =>
    facts.selection.length === 0 ? [] : [{ kind: 'select', ids: [], mode: 'replace' }],
};
