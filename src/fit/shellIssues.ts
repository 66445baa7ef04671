/** What the maker should know about the finished shell: where its brow is cut, where it is too thin for the foam. */
import type { Issue } from '../base';
import { distance3 } from '../math';
import type { BrowSection, FitDecisions, Pattern, Shell } from '../model';
import { closedSection, thinEdges } from '../shell';
import { formatLength } from '../units';
import type { FinishedShell } from './finishedShell';

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

/** Parts thinner than the foam on both sides of them, one finding for each piece, the worst first. */
export function thinIssues(pattern: Pattern, finished: FinishedShell): Issue[] {
  const { shell, vectors, depths, paper } = finished;
  const surface = { vertices: paper, faces: shell.faces };
  const worst = new Map<string, { used: number; length: number }>();
  for (const depth of [-depths.inside, depths.outside])
    for (const edge of thinEdges(surface, vectors, depth))
      for (const f of edge.faces) {
        const { piece } = shell.faces[f]!;
        const length = distance3(paper[edge.a]!, paper[edge.b]!);
        if ((worst.get(piece)?.used ?? 0) < edge.used) worst.set(piece, { used: edge.used, length });
      }
  const names = new Map(pattern.pieces.map((p) => [p.id, p.name]));
  const list = [...worst].sort((a, b) => b[1].used - a[1].used || (a[0] < b[0] ? -1 : 1));
  if (list.length === 0) return [];
  const gone = list[0]![1].used >= 1;
  const pieces = list.map(([id]) => names.get(id) ?? id);
  const named =
    pieces.length > 6 ? `${pieces.slice(0, 6).join(', ')} and ${pieces.length - 6} more` : pieces.join(', ');
  return [
    fitIssue(
      'thinner-than-foam',
      gone ? 'warning' : 'note',
      `${pieces.length === 1 ? 'Piece' : 'Pieces'} ${named}: the shell is ${gone ? 'thinner than' : 'hardly thicker than'} the foam on both sides of it there, so an edge of ${formatLength(list[0]![1].length, 'mm')} ${gone ? 'vanishes' : 'almost vanishes'} on one face of the foam.`,
      'Use thinner foam or a larger scale, or leave that part off.',
      { ids: list.map(([id]) => id) },
    ),
  ];
}
