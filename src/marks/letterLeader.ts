/** Lettering with a leader: the nearest free spot inside the panel, else outside its outline. */
import { add, distance, type Point, rotate, scaleBy, subtract, turnLeft, unitOf } from '../math';
import type { Mm, Rad } from '../units';
import { type Block, plateOf } from './block';
import type { Line, Plate, Room } from './room';
import type { Spots } from './spots';
import { letterClearance } from './tolerance';

/** A place on an edge that a leader may point to, with the direction into the material. */
export interface LeaderTarget {
  readonly at: Point;
  readonly inward: Point;
}

export interface Led {
  readonly centre: Point;
  readonly angle: Rad;
  readonly leader: Line;
}

/** The leader's tip stops this short of the edge, so that it is not taken for a cut. */
const tipGap: Mm = 0.5;
/** Longest leader inside a panel, and outside. */
const longest: Mm = 60;
const outsideSteps: readonly Mm[] = Array.from({ length: 14 }, (_, i) => 3 + i * 3);
const sidesteps: readonly Mm[] = [0, 4, -4, 8, -8, 13, -13, 20, -20];

/** Finds a place for the block and a leader from it to one of the targets; baseline at `angle`. */
export function placeWithLeader(
  room: Room,
  spots: Spots,
  block: Block,
  targets: readonly LeaderTarget[],
  angle: Rad,
): Led | null {
  return inside(room, spots, block, targets, angle) ?? outside(room, block, targets, angle);
}

function inside(
  room: Room,
  spots: Spots,
  block: Block,
  targets: readonly LeaderTarget[],
  angle: Rad,
): Led | null {
  const first = targets[0];
  if (!first) return null;
  const least = Math.min(block.halfHeight, block.halfWidth);
  const byDistance = spots()
    .filter((s) => s.free > least && distance(s.at, first.at) < longest)
    .map((s) => ({ at: s.at, far: distance(s.at, first.at) }))
    .sort((a, b) => a.far - b.far);
  for (const { at } of byDistance) {
    const plate = plateOf(block, at, angle);
    if (!room.fits(plate, letterClearance, 'inside')) continue;
    for (const target of targets) {
      const leader = leaderTo(plate, add(target.at, scaleBy(target.inward, tipGap)));
      if (leader && room.leaderFits(leader, letterClearance / 2)) return { centre: at, angle, leader };
    }
  }
  return null;
}

/** Outside the outline, at growing distance from the edge. @returns null when other lettering is in the way. */
export function outside(room: Room, block: Block, targets: readonly LeaderTarget[], angle: Rad): Led | null {
  for (const out of outsideSteps) {
    for (const target of targets) {
      const outward = scaleBy(target.inward, -1);
      const along = turnLeft(outward);
      const local = rotate(outward, -angle);
      const half = Math.abs(local.x) * block.halfWidth + Math.abs(local.y) * block.halfHeight;
      for (const side of sidesteps) {
        const centre = add(add(target.at, scaleBy(outward, out + half)), scaleBy(along, side));
        const plate = plateOf(block, centre, angle);
        if (!room.fits(plate, letterClearance, 'outside')) continue;
        const leader = leaderTo(plate, add(target.at, scaleBy(outward, tipGap)));
        if (leader && room.leaderFits(leader, letterClearance / 2)) return { centre, angle, leader };
      }
    }
  }
  return null;
}

/** From the rectangle's rim, a little outside it, straight to the tip; null when the tip lies too near. */
function leaderTo(plate: Plate, tip: Point): Line | null {
  const to = subtract(tip, plate.centre);
  const local = rotate(to, -plate.angle);
  const free = letterClearance * 0.75;
  const reach = Math.min(
    (plate.halfWidth + free) / Math.abs(local.x),
    (plate.halfHeight + free) / Math.abs(local.y),
  );
  if (!(reach < 1)) return null;
  const a = add(plate.centre, scaleBy(to, reach));
  return unitOf(subtract(tip, a)).x === 0 && unitOf(subtract(tip, a)).y === 0 ? null : { a, b: tip };
}
