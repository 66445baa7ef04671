/** The skin that a part lies on, and where its own neutral layer is. */
import type { Issue } from '../base';
import type { ExtraPart, ExtraSide } from '../model';
import type { Mm } from '../units';
import type { Ground } from './ground';
import { finding } from './part';
import { sameHeight } from './tolerance';

export interface SkinUnder {
  /** Height of the skin above the paper's surface; of several the one that stands out most. */
  readonly height: Mm;
  /** A finding when the panels under the part differ in thickness. */
  readonly uneven: (part: ExtraPart) => readonly Issue[];
}

/**
 * @param grown how far layers that were laid before reach beyond the skin of each face
 * @returns null when none of the faces is on a panel of the shell
 */
export function skinUnder(
  ground: Ground,
  faces: readonly number[],
  side: ExtraSide,
  grown: ReadonlyMap<number, Mm> = new Map(),
): SkinUnder | null {
  const heights = faces.flatMap((f) => {
    const seat = ground.seats[f];
    if (!seat) return [];
    const more = grown.get(f) ?? 0;
    return [side === 'outside' ? seat.outside + more : seat.inside - more];
  });
  if (heights.length === 0) return null;
  const [low, high] = [Math.min(...heights), Math.max(...heights)];
  return {
    height: side === 'outside' ? high : low,
    uneven: (part) =>
      high - low <= sameHeight
        ? []
        : [
            finding(
              'extra-on-a-step',
              'note',
              part,
              `“${part.name}” lies on foam that differs by ${(high - low).toFixed(1)} mm in height; it is made for the ${side === 'outside' ? 'highest' : 'lowest'} place.`,
              'Keep it on foam of one thickness, or fill the step.',
            ),
          ],
  };
}

/** Height of the neutral layer of foam of this thickness that lies on a skin. K counts from the inside of the foam. */
export const layerDepth = (skin: Mm, side: ExtraSide, thickness: Mm, neutralRatio: number): Mm =>
  side === 'outside' ? skin + neutralRatio * thickness : skin - (1 - neutralRatio) * thickness;
