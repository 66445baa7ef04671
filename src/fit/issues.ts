/** What the maker should know about the fit: what is missing, what looks wrong (as a question), what is not exact. */
import type { Issue } from '../base';
import type { FitDecisions, FoamDecisions } from '../model';
import { formatLength, type Mm } from '../units';
import { headContext } from './context';
import type { MeasuredGirth } from './girth';
import { plausibleHead, plausibleScale, slopeError, slopeWorthSaying } from './tolerance';

interface FitFacts {
  readonly fit: FitDecisions;
  readonly measured: MeasuredGirth;
  /** Null: not known. */
  readonly scale: number | null;
  readonly insideGirth: Mm | null;
  readonly depthInside: Mm;
  /** The girths are measured on a folded shell, or stand beside those that are. */
  readonly onShell: boolean;
}

const issue = (
  code: string,
  severity: Issue['severity'],
  message: string,
  remedy: string,
  ids: readonly string[] = [],
): Issue => ({ code, severity, stage: 'fit', message, remedy, place: ids.length > 0 ? { ids } : {} });

export function fitIssues(facts: FitFacts): Issue[] {
  return [
    ...missing(facts),
    ...noThreeScales(facts),
    ...chainIssues(facts.measured),
    ...headIssues(facts.fit),
    ...scaleIssues(facts),
    ...slopeNote(facts),
  ];
}

function missing({ fit, measured, scale }: FitFacts): Issue[] {
  const stays = 'so the panels stay as drawn (100 %)';
  if (scale !== null) return [];
  switch (fit.how) {
    case 'head':
    case 'measures':
      return [
        ...(fit.head === null
          ? [
              issue(
                'head-missing',
                'warning',
                `No head girth is given, ${stays}.`,
                'Measure round the head above the brows and type it, or type a hat size.',
              ),
            ]
          : []),
        ...(measured.girth === null
          ? [
              issue(
                'girth-missing',
                'warning',
                `The pattern's own girth is not measured, ${stays}.`,
                'Pick the edges and folds that run round the brow, lay the tape along them, or type the length.',
              ),
            ]
          : []),
      ];
    case 'known':
      return [
        issue(
          'known-length-missing',
          'warning',
          `A known length needs both what it measures on the pattern and what it should be, ${stays}.`,
          'Type both lengths; they must be more than zero.',
        ),
      ];
    case 'percent':
      return [
        issue(
          'percent-missing',
          'warning',
          `The scale must be more than zero, ${stays}.`,
          'Type a percentage; 100 % is as drawn.',
        ),
      ];
  }
}

/** Three scales go through the folded shell. */
function noThreeScales({ fit, onShell }: FitFacts): Issue[] {
  if (fit.how !== 'measures' || onShell) return [];
  return [
    issue(
      'measures-need-shell',
      'warning',
      'Length, breadth and height of the head each get their own scale only on a folded shell; without one a single scale is taken from the girths.',
      'Pair the open edges until the pattern folds up, or say that the shell may be taken as it is.',
    ),
  ];
}

function chainIssues(measured: MeasuredGirth): Issue[] {
  const issues: Issue[] = [];
  if (measured.unknown.length > 0)
    issues.push(
      issue(
        'girth-edges-gone',
        'warning',
        `${measured.unknown.length} of the edges picked for the girth are no longer in the pattern and are left out.`,
        'Pick the edges round the brow again.',
        measured.unknown,
      ),
    );
  if (measured.repeated.length > 0)
    issues.push(
      issue(
        'girth-edges-twice',
        'repaired',
        `${measured.repeated.length} of the edges picked for the girth came twice and count once.`,
        'Check that the chain runs once round the brow.',
        measured.repeated,
      ),
    );
  return issues;
}

function headIssues(fit: FitDecisions): Issue[] {
  const { head } = fit;
  if (head === null) return [];
  if (head < plausibleHead.least || head > plausibleHead.most) {
    const meant = meantHead(head);
    return [
      issue(
        'head-implausible',
        'warning',
        `A head girth of ${formatLength(head, 'mm')} is hardly possible.${meant === '' ? '' : ` Did you mean ${meant}?`}`,
        'Check the number and its unit.',
      ),
    ];
  }
  const context = headContext(head);
  if (!context.unusual) return [];
  return [
    issue(
      'head-unusual',
      'note',
      `Is the head girth of ${formatLength(head, 'mm')} right? ${context.sentence}`,
      'Measure once more above the brows; if it is right, go on.',
    ),
  ];
}

/** The unit that makes sense of the number, as it would be typed. */
function meantHead(head: Mm): string {
  const fits = (length: Mm) => length >= plausibleHead.least && length <= plausibleHead.most;
  const number = (value: number) => String(Math.round(value * 100) / 100);
  if (fits(head * 10)) return `${number(head)} cm`;
  if (fits(head * 25.4)) return `${number(head)} in`;
  if (fits(head / 10)) return `${number(head / 10)} mm`;
  if (fits(head / 25.4)) return `${number(head / 25.4)} mm`;
  return '';
}

function scaleIssues({ fit, scale, insideGirth }: FitFacts): Issue[] {
  if (scale === null) return [];
  const issues: Issue[] = [];
  if (scale < plausibleScale.least || scale > plausibleScale.most)
    issues.push(
      issue(
        'scale-implausible',
        'warning',
        `The scale comes to ${Math.round(scale * 1000) / 10} %, which points to a wrong unit or a wrong measure.`,
        'Check the size of the drawing, the girth of the pattern and the measures typed.',
      ),
    );
  if (insideGirth !== null && insideGirth <= 0)
    issues.push(
      issue(
        'no-inside-left',
        'error',
        'At this scale the foam leaves no room inside.',
        'Use thinner foam or a larger scale.',
      ),
    );
  else if (insideGirth !== null && fit.head !== null && insideGirth < fit.head)
    issues.push(
      issue(
        'inside-smaller-than-head',
        'warning',
        `The inside girth of ${formatLength(insideGirth, 'mm')} is less than the head girth of ${formatLength(fit.head, 'mm')}.`,
        'Choose a larger scale, or thinner foam.',
      ),
    );
  return issues;
}

/** The girth inside is exact for an upright convex section only. */
function slopeNote({ fit, scale, insideGirth, depthInside, onShell }: FitFacts): Issue[] {
  if (
    onShell ||
    scale === null ||
    insideGirth === null ||
    fit.how !== 'head' ||
    depthInside < slopeWorthSaying
  )
    return [];
  const span = (least: number, most: number) =>
    `${formatLength(least * depthInside, 'mm', { bare: true })} to ${formatLength(most * depthInside, 'mm')}`;
  return [
    issue(
      'sloping-wall',
      'note',
      `The inside girth holds for an upright wall. Where the wall slopes the inside is tighter: by ${span(slopeError.browLeast, slopeError.browMost)} at two thirds of the height of trial shells, by ${span(slopeError.crownLeast, slopeError.crownMost)} near the crown.`,
      'Measure the girth where the wall stands upright, or leave a little more clearance.',
    ),
  ];
}

/** Panels of their own thickness that a girth by the formula does not know of. */
export function thicknessIssues(foam: FoamDecisions): Issue[] {
  const others = Object.keys(foam.thicknessOf).filter((id) => foam.thicknessOf[id] !== foam.thickness);
  if (others.length === 0 || foam.flush === 'inside') return [];
  return [
    {
      code: 'girth-by-main-thickness',
      severity: 'note',
      stage: 'fit',
      message: `The inside girth counts with ${formatLength(foam.thickness, 'mm')} of foam everywhere, since it is not measured on the shell; ${others.length === 1 ? 'one panel has' : `${others.length} panels have`} another thickness and ${others.length === 1 ? 'reaches' : 'reach'} inwards by more or less.`,
      remedy:
        'Let panels of different thickness meet flush inside, or leave room where a thicker panel touches the head.',
      place: { ids: others },
    },
  ];
}
