/** Hand: drags the bench. A tap of a finger still picks, since a finger has no other way to ask. */
import type { Tool } from './machine';
import { select } from './select';

const nothing = () => [];

export const hand: Tool = {
  // A whole piece lighting up under a hand that only moves the bench would be noise.
  reaches: (facts) => facts.selectable.filter((kind) => kind !== 'piece'),
  click: (state, press, facts) => (press.pointer === 'touch' ? select.click(state, press, facts) : []),
  drag: (press) => ({ name: 'panning', screen: press.screen }),
  drop: nothing,
  pick: select.pick,
  finish: nothing,
  removeLast: nothing,
  escape: select.escape,
};
