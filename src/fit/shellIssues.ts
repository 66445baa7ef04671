/** What the maker should know about the finished shell: where its brow is cut. */
import type { Issue } from '../base';
import type { BrowSection, FitDecisions, Shell } from '../model';
import { closedSection } from '../shell';
import { formatLength } from '../units';

export const fitIssue = (
  code: string,
  severity: Issue['severity'],
  message: string,
  remedy: string,
  place: Issue['place'] = {},
): Issue => ({ code, severity, stage: 'fit', message, remedy, place });

/** A head is to be fitted, so that the brow matters. */
export const fitsHead = (fit: FitDecisions): boolean =>
  fit.head !== null || fit.how === 'head' || fit.how === 'measures';

export const browMissed = (fit: FitDecisions): Issue =>
  fitIssue(
    'brow-misses-shell',
    'warning',
    `The brow plane ${fit.brow.at === null ? 'proposed' : 'that was set'} does not cut the shell, so nothing can be measured on it.`,
    'Set the brow to a height between the lowest and the highest place of the shell.',
  );

/** A tape that bridges less than this part of its way is as good as a full round. */
const bridgeWorthSaying = 0.02;

/** An opening that the brow cuts. */
export function browIssues(shell: Shell, brow: BrowSection, fit: FitDecisions): Issue[] {
  if (!fitsHead(fit)) return [];
  const bridged = closedSection(shell, brow.plane)?.bridged ?? 0;
  if (bridged <= bridgeWorthSaying * brow.loop.girth) return [];
  const share = Math.round((100 * bridged) / brow.loop.girth);
  return [
    fitIssue(
      'brow-cuts-opening',
      'warning',
      `The brow runs across an opening: ${formatLength(bridged, 'mm')} of its ${formatLength(brow.loop.girth, 'mm')} (${share} %) bridge the gap in a straight line, so the girth there is a guess.`,
      'Set the brow higher or lower, where the shell runs all the way round.',
    ),
  ];
}
