/**
 * Places inside a panel where lettering may stand, widest free place first. A plain grid: lettering needs no optimum,
 * and the same panel always gives the same places.
 */
import type { Point } from '../math';
import type { Mm } from '../units';
import type { Room } from './room';

interface Spot {
  readonly at: Point;
  /** Distance to the nearest line of the panel. */
  readonly free: Mm;
}

export type Spots = () => readonly Spot[];

/** About this many grid points over the panel's bounds. */
const gridPoints = 700;
/** No use looking closer: half the smallest lettering. */
const finestStep: Mm = 1;

/** Spots of a panel, computed at the first call. */
export function spotsOf(room: Room): Spots {
  let known: readonly Spot[] | null = null;
  return () => {
    known ??= findSpots(room);
    return known;
  };
}

function findSpots(room: Room): Spot[] {
  const { minX, minY, maxX, maxY } = room.box;
  const step = Math.max(finestStep, Math.sqrt(((maxX - minX) * (maxY - minY)) / gridPoints));
  const spots: Spot[] = [];
  for (let y = minY + step / 2; y < maxY; y += step) {
    for (let x = minX + step / 2; x < maxX; x += step) {
      const at = { x, y };
      if (room.inside(at)) spots.push({ at, free: room.freeRadius(at) });
    }
  }
  return spots.sort((a, b) => b.free - a.free || a.at.y - b.at.y || a.at.x - b.at.x);
}
