/**
 * Select: a click takes the edge, fold, line, tab or piece under it, shift (or “Select several”) adds or takes away, a drag of the mouse
 * takes all edges (or lines) inside the rectangle, a drag of a finger moves the bench. Where pieces can be moved, a
 * drag that begins on one carries it, and what is selected with it.
 */
import type { Tool } from './machine';

export const select: Tool = {
  reaches: (facts) => facts.selectable,
  click(_state, press, facts) {
    const hit = facts.hitAt(press.at, facts.selectable, press.pointer);
    if (hit)
      return [
        {
          kind: 'select',
          ids: [hit.id],
          mode: press.shift || facts.several || hit.kind === 'face' ? 'toggle' : 'replace',
        },
      ];
    return press.shift || facts.several || facts.selection.length === 0
      ? []
      : [{ kind: 'select', ids: [], mode: 'replace' }];
  },
  drag(press, to, facts) {
    const held = facts.movable ? facts.hitAt(press.at, ['piece'], press.pointer) : null;
    // A finger moves the bench unless it lies on what was selected before.
    if (held && (press.pointer !== 'touch' || facts.selection.includes(held.id)))
      return { name: 'carrying', id: held.id, from: press.at, to: to.at };
    return press.pointer === 'touch'
      ? { name: 'panning', screen: press.screen }
      : { name: 'banding', from: press.at, to: to.at, add: press.shift };
  },
  drop(state, facts) {
    const band = state.gesture;
    if (band.name === 'carrying') {
      const by = { x: band.to.x - band.from.x, y: band.to.y - band.from.y };
      const selected = facts.selection.includes(band.id);
      return [
        ...(selected ? [] : [{ kind: 'select', ids: [band.id], mode: 'replace' } as const]),
        { kind: 'carry', id: band.id, by },
      ];
    }
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
