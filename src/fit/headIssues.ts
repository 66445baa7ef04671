/** What the maker should know about the head in the finished shell, and about three scales. */
import type { Issue } from '../base';
import type { GoesOn, Pattern, Shell } from '../model';
import type { Unfolded } from '../shell';
import { formatLength, type Mm } from '../units';
import type { SeatedHead } from './headform';
import { fitIssue } from './shellIssues';
import type { ThreeScales } from './threeScales';

/** How the head sits: measures nobody gave, foam that presses, an opening that is too small. */
export function headIssues(head: SeatedHead | null, passing: GoesOn | null, ease: Mm): Issue[] {
  if (!head) return [];
  const { headform, clearances, shape } = head;
  const issues: Issue[] = [];
  if (headform.assumed.length > 0)
    issues.push(
      fitIssue(
        'head-assumed',
        'note',
        `Nobody measured all of the head: ${headform.assumed.join(' ')}`,
        'Measure length, breadth and height of the head and type them; the clearances are then its own.',
      ),
    );
  if (Math.abs(headform.girth - shape.measures.girth) > girthOff)
    issues.push(
      fitIssue(
        'head-measures-disagree',
        'warning',
        `A head ${formatLength(headform.length, 'mm')} long and ${formatLength(headform.breadth, 'mm')} broad cannot be ${formatLength(shape.measures.girth, 'mm')} round; the headform is ${formatLength(headform.girth, 'mm')} round.`,
        'Measure girth, length and breadth of the head again.',
      ),
    );
  const { room } = clearances.smallest;
  if (room < 0)
    issues.push(
      fitIssue(
        'head-in-foam',
        'warning',
        `The head would be ${formatLength(-room, 'mm')} in the foam at the tightest place.`,
        'Choose a larger scale or more ease, fit by length, breadth and height, or set the brow elsewhere.',
      ),
    );
  else if (room < ease / 2)
    issues.push(
      fitIssue(
        'head-tight',
        'note',
        `At the tightest place the head has ${formatLength(room, 'mm')} of the ${formatLength(ease, 'mm')} ease asked for.`,
        'See where on the shell; fit by length, breadth and height, or leave padding away there.',
      ),
    );
  if (clearances.crown === null)
    issues.push(
      fitIssue(
        'open-above',
        'note',
        'The shell is open above the head, so there is no room at the crown to measure.',
        '',
      ),
    );
  if (passing && !passing.passes)
    issues.push(
      fitIssue(
        'does-not-go-on',
        'warning',
        `The head does not pass the opening that it goes through: with its ease it needs ${formatLength(passing.needed, 'mm')} round, the opening has ${formatLength(passing.opening, 'mm')}, ${formatLength(passing.short, 'mm')} less.`,
        passing.help[0] ?? '',
      ),
    );
  return issues;
}

/** A headform whose girth is off by more does not stand for the head given. */
const girthOff: Mm = 1;

/** Measures that differ by less are met: a tenth of what a tape can show. */
const met: Mm = 0.1;
/** A girth that is short by less is lost in a tape and in the give of the foam. */
const girthShort: Mm = 5;
/** Scales that differ by more change the look of a helmet: a trial kept to a fifth and nothing overlapped. */
const farApart = 1.3;
/** Normals of a mirror plane that lean by less stand square to x: turns are typed in whole degrees. */
const leaning = 1e-6;

/** What three scales could not do, or did to the shell. */
export function threeIssues(
  shell: Shell,
  { wanted, got, scales }: ThreeScales,
  girthWanted: Mm | null,
  girth: Mm,
): Issue[] {
  const issues: Issue[] = [];
  const off = [
    { name: 'girth', by: got.girth - (wanted.girth ?? got.girth) },
    { name: 'length', by: got.length - (wanted.length ?? got.length) },
    { name: 'breadth', by: got.breadth - (wanted.breadth ?? got.breadth) },
    { name: 'height', by: (got.height ?? wanted.height) - wanted.height },
  ].filter(({ by }) => Math.abs(by) > met);
  if (off.length > 0)
    issues.push(
      fitIssue(
        'measures-not-met',
        'warning',
        `No three scales give the inside all of the measures: ${off.map(({ name, by }) => `its ${name} is ${formatLength(Math.abs(by), 'mm')} too ${by > 0 ? 'large' : 'small'}`).join(', ')}.`,
        'Set the brow elsewhere, or fit by the girth alone.',
      ),
    );
  if (got.height === null)
    issues.push(
      fitIssue(
        'no-crown',
        'note',
        'The shell is open above the brow, so the height of the head gives no scale; it takes the mean of the other two.',
        '',
      ),
    );
  if (wanted.girth === null && girthWanted !== null && girth < girthWanted - girthShort)
    issues.push(
      fitIssue(
        'girth-short',
        'warning',
        `With length and breadth as asked, the inside is ${formatLength(girth, 'mm')} round at the brow, ${formatLength(girthWanted - girth, 'mm')} less than the head girth with its ease.`,
        'Give length or breadth a little more ease, or check the three measures of the head.',
      ),
    );
  const [least, most] = [Math.min(...Object.values(scales)), Math.max(...Object.values(scales))];
  if (most > farApart * least) {
    const percent = (scale: number) => `${(100 * scale).toFixed(1)} %`;
    issues.push(
      fitIssue(
        'scales-far-apart',
        'warning',
        `The three scales are far apart: length ${percent(scales.length)}, breadth ${percent(scales.breadth)}, height ${percent(scales.height)}. The shape will hardly be the pattern's own.`,
        'Check the measures and the place of the brow; is this worn on a head?',
      ),
    );
  }
  const mirror = shell.symmetry?.plane.normal;
  if (mirror && Math.abs(Math.abs(mirror.x) - 1) > leaning)
    issues.push(
      fitIssue(
        'scaled-across-mirror',
        'warning',
        'The shell was turned so that its mirror plane no longer stands upright from front to back; three scales then make its two sides unlike.',
        'Turn the shell so that its two sides lie left and right.',
      ),
    );
  return issues;
}

/** What unfolding again did to pieces. */
export function unfoldIssues(pattern: Pattern, { overlaps, misfits, loose }: Unfolded): Issue[] {
  const names = new Map(pattern.pieces.map((p) => [p.id, p.name]));
  const issues = overlaps.map(({ piece, edges, at }) =>
    fitIssue(
      'piece-overlaps-itself',
      'warning',
      `Piece ${names.get(piece) ?? piece} overlaps itself when it is unfolded again at three scales: two of its edges cross.`,
      'Cut the piece in two there, or use one scale.',
      { at, ids: [...new Set([...edges, piece])] },
    ),
  );
  const worst = [...misfits].sort((a, b) => b.length - a.length)[0];
  if (worst)
    issues.push(
      fitIssue(
        'unfold-misfit',
        'note',
        `${misfits.length === 1 ? 'One piece does' : `${misfits.length} pieces do`} not unfold exactly at three scales; the worst, piece ${names.get(worst.piece) ?? worst.piece}, has a side that is off by ${formatLength(worst.length, 'mm', { decimals: 2 })}.`,
        'Foam takes up a few tenths of a millimetre; use one scale if it is more.',
        { ids: misfits.map((m) => m.piece) },
      ),
    );
  if (loose.length > 0)
    issues.push(
      fitIssue(
        'piece-not-on-shell',
        'note',
        `${loose.map((id) => names.get(id) ?? id).join(', ')}: not part of the shell, so only made larger as a whole.`,
        'Pair their edges if they belong to it.',
        { ids: loose },
      ),
    );
  return issues;
}
