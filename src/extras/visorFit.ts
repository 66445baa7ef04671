/** How well a visor follows the rim of its opening, in words. */
import type { Issue } from '../base';
import { dot3, type Point3 } from '../math';
import type { VisorPart } from '../model';
import { degrees, type Mm } from '../units';
import { type CoveringSheet, longerBy } from './coveringSheet';
import { finding } from './part';
import type { Rim } from './rims';
import { visibleBend, visorLook } from './tolerance';

export const mm = (length: Mm): string => `${length.toFixed(1)} mm`;

export const mean = (values: readonly number[]): number =>
  values.reduce((sum, v) => sum + v, 0) / values.length;

/** How far a margin of 1 mm stands off the shell at its edge, or the shell out through it, at the worst place. */
export const standing = (into: readonly Point3[], { normals }: CoveringSheet): number =>
  Math.max(...into.map((way, i) => Math.abs(dot3(way, normals[i]!))));

/** Foam buckles at sharper folds unless they are scored, degrees: common practice, no source. */
const scoredFrom = 35;

export function fitOf(
  part: VisorPart,
  rim: Rim,
  sheet: CoveringSheet,
  bentOff: Mm | null,
  points: readonly Point3[],
  leaning: number,
): Issue {
  const off = sheet.off.map(Math.abs);
  const most = Math.max(...off);
  const longer = longerBy(sheet, points, rim.closed);
  const stretch =
    Math.abs(longer) < 0.05
      ? ''
      : ` Its rim comes out ${mm(Math.abs(longer))} ${longer > 0 ? 'longer' : 'shorter'}.`;
  const stands = part.margin * leaning;
  const margin =
    stands < visorLook
      ? ''
      : ` At its edge the margin is up to ${mm(stands)} off the shell, which curves away there.`;
  const { folds } = sheet;
  if (folds.length > 0) {
    const bends = folds.map((f) => Math.abs(f.bend)).filter((b) => b >= visibleBend);
    const sharpest = Math.round(degrees(Math.max(0, ...bends)));
    const even =
      bentOff === null
        ? 'Nothing that bends evenly covers it'
        : `A sheet that bends evenly is up to ${mm(bentOff)} off the rim`;
    return finding(
      'visor-folded',
      'warning',
      part,
      `“${part.name}” is folded along ${bends.length === 1 ? '1 line' : `${bends.length} lines`}, the sharpest by ${sharpest}°. ${even}; folded, it meets the rim.${margin}`,
      `${sharpest > scoredFrom ? `Score the folds over ${scoredFrom}° on the side that closes` : 'Bend it along its folds'}, cut it in card first, or cover a part of the rim.`,
    );
  }
  return finding(
    'visor-fit',
    most > visorLook ? 'warning' : 'note',
    part,
    `“${part.name}” bends one way only: the rim is up to ${mm(most)} off it, ${mm(mean(off))} on average.${stretch}${margin}`,
    most > visorLook
      ? 'Cut it in card first, and pull it in or fill the gap where it shows; or cover a part of the rim.'
      : 'Nothing needs to be done. Cut it in card first and hold it on the opening.',
  );
}
