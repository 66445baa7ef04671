/** The fit measured on the folded shell: scale, surfaces of the finished shell, how it sits. */
import type { Issue } from '../base';
import type { BrowSection, FitDecisions, Pattern, Shell, ShellFit } from '../model';
import { unfoldAgain } from '../shell';
import type { Mm } from '../units';
import {
  type BrowGirths,
  browOf,
  evenScales,
  type FinishedShell,
  finishShell,
  girthsOf,
  insideBrowOf,
  meanScale,
  type Scales,
  type ShellDepths,
  sizeOf,
} from './finishedShell';
import { goesOn } from './goesOn';
import { seatHead } from './headform';
import { headIssues, threeIssues, unfoldIssues } from './headIssues';
import { type HeadMeasures, headMeasures } from './headMeasures';
import { browIssues, browMissed } from './shellIssues';
import { solveScale } from './solveScale';
import { solveThreeScales, type ThreeScales } from './threeScales';

export interface FitOnShell {
  /** Null: what it takes is missing. With three scales their geometric mean. */
  readonly scale: number | null;
  readonly fit: ShellFit;
  readonly girths: BrowGirths;
  /** The girth of the fit was measured by hand, and the shell's stands beside it. */
  readonly byHand: boolean;
  readonly reshaped: Pattern | null;
  /** Three scales, where the head's measures each have one. */
  readonly three: (ThreeScales & { readonly measures: HeadMeasures }) | null;
}

const largestOf = ({ breadth, length, height }: Scales): number => Math.max(breadth, length, height);

/**
 * Measures the finished shell, and solves for its scale where the shell is what the girth is measured on.
 * @param wanted inside girth wanted; null without a head
 * @param given the scale that other decisions ask for (hand-measured girth, known length, percentage), or null
 */
export function fitOnShell(
  pattern: Pattern,
  shell: Shell,
  fit: FitDecisions,
  depths: ShellDepths,
  wanted: Mm | null,
  given: number | null,
): { readonly on: FitOnShell | null; readonly issues: readonly Issue[] } {
  const brow = browOf(shell, fit.brow);
  if (!brow || brow.tautGirth === 0) return { on: null, issues: [browMissed(fit)] };
  const ease = fit.padding + fit.clearance;
  const measures = headMeasures(fit);
  const three =
    fit.how === 'measures' && measures ? solveThreeScales(shell, brow, measures, ease, depths) : null;
  const byHand = fit.girth.kind !== 'none' && fit.how !== 'measures';
  const scale = three ? meanScale(three.scales) : scaleOnShell(shell, brow, fit, depths, wanted, given);
  const finished = finishShell(shell, brow.plane, three?.scales ?? evenScales(scale ?? 1), depths);
  const insideBrow = insideBrowOf(finished, brow);
  if (!insideBrow) return { on: null, issues: [browMissed(fit)] };
  const head = measures ? seatHead(finished, insideBrow, measures) : null;
  const passing = head ? goesOn(pattern, finished, head, ease, scale ?? 1) : null;
  const again = three ? unfoldAgain(pattern, shell, finished.paper, largestOf(three.scales)) : null;
  return {
    on: {
      scale,
      three: three && measures ? { ...three, measures } : null,
      fit: {
        ...shellFitOf(finished, brow, insideBrow),
        headform: head?.headform ?? null,
        clearances: head?.clearances ?? null,
        goesOn: passing,
      },
      girths: girthsOf(finished),
      byHand,
      reshaped: again?.pattern ?? null,
    },
    issues: [
      ...browIssues(shell, brow, fit),
      ...(three ? threeIssues(shell, three, wanted, insideBrow.tautGirth) : []),
      ...(again ? unfoldIssues(pattern, again) : []),
      ...headIssues(head, passing, ease),
    ],
  };
}

function scaleOnShell(
  shell: Shell,
  brow: BrowSection,
  fit: FitDecisions,
  depths: ShellDepths,
  wanted: Mm | null,
  given: number | null,
): number | null {
  if (fit.how === 'measures') return null;
  if (fit.how !== 'head' || fit.girth.kind !== 'none') return given;
  return wanted === null ? null : (solveScale(shell, brow, wanted, depths)?.scale ?? null);
}

function shellFitOf(
  finished: FinishedShell,
  brow: BrowSection,
  insideBrow: BrowSection,
): Omit<ShellFit, 'headform' | 'clearances' | 'goesOn'> {
  const { inside, paper, outside, scales } = finished;
  return {
    brow,
    scales,
    surfaces: { inside, paper, outside },
    insideBrow,
    insideExtent: sizeOf(finished, 'inside'),
    outsideExtent: sizeOf(finished, 'outside'),
  };
}
