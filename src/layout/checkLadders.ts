/** Ladders of ticks at the four edges: the outermost one that the printer shows says how far it reaches. */
import type { Point } from '../math';
import type { Mm } from '../units';
import type { CheckInk } from './checkInk';
import { mostReach } from './tolerance';

/** Ticks stand beside each other, so that each has its own figure. */
const tickLength: Mm = 3.4;
const tickStep: Mm = 4.6;

/** Along which edge, and where on the page a place is that lies so far along it and so far from it. */
interface Side {
  readonly name: string;
  readonly at: (along: Mm, away: Mm) => Point;
  readonly length: Mm;
  readonly turned: number;
}

/** Four sides of an upright sheet. */
const sidesOf = (width: Mm, height: Mm): Side[] => [
  { name: 'left', at: (along, away) => ({ x: away, y: along }), length: height, turned: Math.PI / 2 },
  {
    name: 'right',
    at: (along, away) => ({ x: width - away, y: along }),
    length: height,
    turned: Math.PI / 2,
  },
  { name: 'top', at: (along, away) => ({ x: along, y: height - away }), length: width, turned: 0 },
  { name: 'bottom', at: (along, away) => ({ x: along, y: away }), length: width, turned: 0 },
];

/** Draws them in the middle of each edge: tick n lies n millimetres from the edge of the page, its figure beyond the last. */
export function drawLadders(ink: CheckInk, width: Mm, height: Mm): void {
  for (const side of sidesOf(width, height)) {
    const first = side.length / 2 - (tickStep * (mostReach - 1)) / 2;
    for (let n = 1; n <= mostReach; n++) {
      const along = first + (n - 1) * tickStep;
      ink.line(side.at(along - tickLength / 2, n), side.at(along + tickLength / 2, n), 'registration');
      ink.figure(String(n), side.at(along, mostReach + 2.4), side.turned);
    }
    const beside = first - tickStep - (side.turned === 0 ? 6 : 5);
    ink.figure(side.name, side.at(beside, mostReach + 2.4), side.turned, 2.3);
  }
}
