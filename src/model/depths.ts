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

/**
 * The depths of one panel: where its thickness is another than the rest's, it lies as much further out, further in, or
 * both as the decision on flush skins says. They may be negative for a panel thinner than the rest.
 */
export function panelDepths(
  panel: string,
  foam: Pick<FoamDecisions, 'thickness' | 'standsFor' | 'thicknessOf' | 'flush'>,
): FoamDepths {
  const main = foamDepths(foam);
  const more = (foam.thicknessOf[panel] ?? foam.thickness) - foam.thickness;
  switch (foam.flush) {
    case 'outside':
      return { outside: main.outside, inside: main.inside + more };
    case 'inside':
      return { outside: main.outside + more, inside: main.inside };
    case 'middle':
      return { outside: main.outside + more / 2, inside: main.inside + more / 2 };
  }
}
