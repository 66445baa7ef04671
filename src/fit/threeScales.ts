/**
 * Three scales: along length, breadth and height, so that the inside of the finished shell takes the head's own
 * measures with its ease. Length and breadth are those of the inside at the brow, ease on both sides; the height is that
 * of the dome above the brow plane, ease at the crown. Where a girth was measured, it takes the place of a length or
 * breadth that was not: of one, or of both together.
 */
import type { BrowSection, Shell } from '../model';
import type { Mm } from '../units';
import { crownRoom } from './crown';
import {
  type FinishedShell,
  finishShell,
  insideBrowOf,
  type Scales,
  type ShellDepths,
} from './finishedShell';
import { browFrame } from './headform';
import type { HeadMeasures } from './headMeasures';
import { girthTolerance, mostScaleSteps } from './tolerance';

/** Girth, length and breadth at the brow, and the dome's height; null where the shell is open above. */
export interface HeadRoom {
  readonly girth: Mm;
  readonly length: Mm;
  readonly breadth: Mm;
  readonly height: Mm | null;
}

/** Room of the inside for a head; null when the brow plane misses it. */
export function headRoom(finished: FinishedShell, brow: BrowSection): HeadRoom | null {
  const section = insideBrowOf(finished, brow);
  if (!section) return null;
  const { tautGirth: girth, length, breadth } = section;
  const height = crownRoom(finished, browFrame(finished, section), breadth / 2, length / 2);
  return { girth, length, breadth, height };
}

export interface ThreeScales {
  readonly scales: Scales;
  /** What the inside was to be; null for measures that others settle. */
  readonly wanted: {
    readonly girth: Mm | null;
    readonly length: Mm | null;
    readonly breadth: Mm | null;
    readonly height: Mm;
  };
  readonly got: HeadRoom;
}

/** One unit of the scale of length or breadth alone adds about so much of the girth: a quarter circle's share. */
const girthShare = 0.45;

/**
 * Solves by repeated correction: each scale by its own shortfall over the measure that one unit of scale adds. Without
 * a dome to measure, the height takes the mean of the other two.
 * @returns null when the brow cannot be measured on the way
 */
export function solveThreeScales(
  shell: Shell,
  brow: BrowSection,
  head: HeadMeasures,
  ease: Mm,
  depths: ShellDepths,
): ThreeScales | null {
  const { given } = head;
  const byGirth = given.girth && !(given.length && given.breadth);
  const wanted: ThreeScales['wanted'] = {
    girth: byGirth ? head.girth + 2 * Math.PI * ease : null,
    length: given.length || !byGirth ? head.length + 2 * ease : null,
    breadth: given.breadth || !byGirth ? head.breadth + 2 * ease : null,
    height: head.height + ease,
  };
  const unit = { breadth: 1, length: 1, height: 1 };
  const paper = headRoom(finishShell(shell, brow.plane, unit, { inside: 0, outside: 0 }), brow);
  if (!paper || !(paper.length > 0) || !(paper.breadth > 0)) return null;
  /** Shortfalls of length, breadth and height, each as a change of its scale. */
  const shortOf = (got: HeadRoom) => {
    const girth = wanted.girth === null ? 0 : wanted.girth - got.girth;
    const both = wanted.length === null && wanted.breadth === null;
    const viaGirth = girth / (paper.girth * (both ? 1 : girthShare));
    return {
      length: wanted.length === null ? viaGirth : (wanted.length - got.length) / paper.length,
      breadth: wanted.breadth === null ? viaGirth : (wanted.breadth - got.breadth) / paper.breadth,
      height: paper.height && got.height !== null ? (wanted.height - got.height) / paper.height : 0,
      off: Math.max(
        Math.abs(girth),
        Math.abs((wanted.length ?? got.length) - got.length),
        Math.abs((wanted.breadth ?? got.breadth) - got.breadth),
        got.height === null ? 0 : Math.abs(wanted.height - got.height),
      ),
    };
  };
  const start = (head.girth + 2 * Math.PI * (ease + depths.inside)) / paper.girth;
  const rough = {
    length: wanted.length === null ? start : (wanted.length + 2 * depths.inside) / paper.length,
    breadth: wanted.breadth === null ? start : (wanted.breadth + 2 * depths.inside) / paper.breadth,
  };
  const level = ({ length, breadth }: Pick<Scales, 'length' | 'breadth'>) => Math.sqrt(length * breadth);
  let scales: Scales = {
    ...rough,
    height: paper.height ? (wanted.height + depths.inside) / paper.height : level(rough),
  };
  let best: (ThreeScales & { readonly off: Mm }) | null = null;
  for (let step = 0; step < mostScaleSteps; step++) {
    if (!Object.values(scales).every((s) => s > 0 && Number.isFinite(s))) break;
    const got = headRoom(finishShell(shell, brow.plane, scales, depths), brow);
    if (!got) break;
    const short = shortOf(got);
    if (!best || short.off < best.off) best = { scales, wanted, got, off: short.off };
    if (short.off <= girthTolerance) break;
    const next = { length: scales.length + short.length, breadth: scales.breadth + short.breadth };
    scales = { ...next, height: paper.height ? scales.height + short.height : level(next) };
  }
  return best;
}
