import { add, type Point, rotate } from '../math';
import type { Lettering } from './marked';
import type { Placement } from './pages';

/** How a panel is laid on paper: mirrored about the y axis first if asked, then turned, then moved. */
export type Placing = Pick<Placement, 'mirrored' | 'angle' | 'move'>;

/** Seen from the other face, at the same place. */
export const seenFromBehind: Placing = { mirrored: true, angle: 0, move: { x: 0, y: 0 } };

/** A point of the panel where the placing puts it. */
export function placePoint(p: Point, placing: Placing): Point {
  return add(rotate(placing.mirrored ? { x: -p.x, y: p.y } : p, placing.angle), placing.move);
}

/** Points of the panel where the placing puts them. A mirrored ring changes its sense of rotation. */
export function placePoints(points: readonly Point[], placing: Placing): Point[] {
  const turned = rotate({ x: 1, y: 0 }, placing.angle);
  const sign = placing.mirrored ? -1 : 1;
  return points.map((p) => {
    const x = p.x * sign;
    return {
      x: x * turned.x - p.y * turned.y + placing.move.x,
      y: x * turned.y + p.y * turned.x + placing.move.y,
    };
  });
}

/**
 * Lettering where the placing puts it. Mirrored lettering stays readable: the text is first mirrored about the
 * upright line through its own middle, so that the two mirrorings together are a plain turn. Texts of one block change
 * sides within it beforehand, so that they end up in reading order again. All of it fills the mirror image of the very
 * rectangle that it filled before: what did not overlap still does not.
 */
export function placeLettering(lettering: Lettering, placing: Placing): Lettering {
  const { angle, block } = lettering;
  const turn = (a: number) => (placing.mirrored ? -a : a) + placing.angle;
  let { at, rings } = lettering;
  if (placing.mirrored) {
    if (block) {
      const { x, y } = alongBlock(at, block);
      at = { x: at.x - 2 * x, y: at.y - 2 * y };
      rings = rings.map((ring) => ring.map((p) => ({ x: p.x - 2 * x, y: p.y - 2 * y })));
    }
    rings = rings.map((ring) => mirrorAboutMiddle(ring, at, angle));
  }
  return {
    ...lettering,
    rings: rings.map((ring) => placePoints(ring, placing)),
    at: placePoint(at, placing),
    angle: turn(angle),
    ...(block ? { block: { at: placePoint(block.at, placing), angle: turn(block.angle) } } : {}),
  };
}

/** How far along the block's baseline a point lies from the block's middle, as a vector. */
function alongBlock(p: Point, block: { readonly at: Point; readonly angle: number }): Point {
  const c = Math.cos(block.angle);
  const s = Math.sin(block.angle);
  const along = (p.x - block.at.x) * c + (p.y - block.at.y) * s;
  return { x: along * c, y: along * s };
}

/** Mirrors along the baseline direction: what stood left of the middle stands right of it. */
function mirrorAboutMiddle(ring: readonly Point[], at: Point, angle: number): Point[] {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return ring.map((p) => {
    const along = (p.x - at.x) * c + (p.y - at.y) * s;
    return { x: p.x - 2 * along * c, y: p.y - 2 * along * s };
  });
}
