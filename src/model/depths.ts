import type { Mm } from '../units';
import type { FoamDecisions } from './settings';

/** Where the foam lies about the paper's surface: it reaches `outside` beyond it and `inside` within it, both ≥ 0;
 *  together they are the thickness. */
export interface FoamDepths {
  readonly outside: Mm;
  readonly inside: Mm;
}

/** The depths that follow from the side of the foam that the paper stands for. */
export function foamDepths(foam: Pick<FoamDecisions, 'thickness' | 'standsFor'>): FoamDepths {
  switch (foam.standsFor) {
    case 'outside':
      return { outside: 0, inside: foam.thickness };
    case 'middle':
      return { outside: foam.thickness / 2, inside: foam.thickness / 2 };
    case 'inside':
      return { outside: foam.thickness, inside: 0 };
  }
}
