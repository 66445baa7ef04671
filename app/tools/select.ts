/**
 * Select: a click takes the edge, fold, line, tab or piece under it, shift adds or takes away, a drag of the mouse
 * takes all edges (or lines) inside the rectangle, a drag of a finger moves the bench.
 */
import type { Tool } from './machine';

export const select: Tool = {
  reaches: (facts) => facts.selectable,
  click(_state, press, facts) {
    const hit = facts.hitAt(press.at, facts.selectable, press.pointer);
    if (hit)
      return [
        { kind: 'select', ids: [hit.id], mode: press.shift || hit.kind === 'face' ? 'toggle' : 'replace' },
      ];
    return press.shift || facts.selection.length === 0 ? [] : [{ kind: 'select', ids: [], mode: 'replace' }];
  },
  drag: (press, to) =>
    press.pointer === 'touch'
      ? { name: 'panning', screen: press.screen }
      : { name: 'banding', from: press.at, to: to.at, add: press.shift },
  drop(state, facts) {
    const band = state.gesture;
    if (band.name !== 'banding') return [];
    const kind = facts.selectable[0] ?? 'edge';
    const ids = facts.within(band.from, band.to, kind);
    const said = ids.length === 1 ? `1 ${kind} selected.` : `${ids.length} ${kind}s selected.`;
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
