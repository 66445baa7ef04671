/** What a person read off the printed check page, as the correction and reach of their printer. */
import { fail, type Issue, type Outcome, succeed } from '../base';
import type { PageDecisions, PrinterReach } from '../model';
import { formatLength, type Mm, mmPerUnit } from '../units';
import type { CheckLines } from './checkPage';
import { fittedFrom, leastMeasured, mostApart, mostMeasured, mostReach } from './tolerance';

/** As typed; null: left empty. */
export interface PrinterCheck {
  readonly across: Mm | null;
  readonly up: Mm | null;
  /** Figures of the outermost ticks that were printed. */
  readonly ticks: { readonly [S in keyof PrinterReach]: number | null };
}

/** The side of the check square that `measured` speaks of. */
const square: Mm = 100;

/**
 * Checks the figures against what a printer can do.
 * @param lines nominal lengths of the lines that were measured
 * @returns what to decide: `measured` when both lines were typed, `reach` when all four ticks were; an error for each
 *   figure that cannot be, and warnings for what is odd
 */
export function readPrinterCheck(
  check: PrinterCheck,
  lines: CheckLines,
  unit: 'mm' | 'in',
): Outcome<Partial<Pick<PageDecisions, 'measured' | 'reach'>>> {
  const { across, up, ticks } = check;
  const issues: Issue[] = [];
  const sides = Object.entries(ticks) as [keyof PrinterReach, number | null][];
  const typedTicks = sides.filter(([, n]) => n !== null);
  const typedLines = [across, up].filter((l) => l !== null);
  if (typedTicks.length + typedLines.length === 0)
    return fail(
      said(
        'check-nothing-typed',
        'Nothing was typed.',
        'Print the check page, measure, and type what it shows.',
      ),
    );
  if (typedLines.length === 1)
    issues.push(
      said(
        'check-one-line',
        `Only line ${across === null ? 'B' : 'A'} was typed.`,
        `Measure line ${across === null ? 'A' : 'B'} too: a printer errs differently along and across.`,
      ),
    );
  if (across !== null) issues.push(...lineIssues('A', across, lines.across, unit));
  if (up !== null) issues.push(...lineIssues('B', up, lines.up, unit));
  const missing = sides.filter(([, n]) => n === null).map(([side]) => side);
  if (typedTicks.length > 0 && missing.length > 0)
    issues.push(
      said(
        'check-ticks-missing',
        `No tick was typed for ${missing.join(', ')}.`,
        'Read the outermost printed tick at all four edges: printers reach less far at one of them.',
      ),
    );
  for (const [side, n] of typedTicks) issues.push(...tickIssues(side, n!));
  if (issues.some((i) => i.severity === 'error')) return fail(...issues);

  let made: Partial<Pick<PageDecisions, 'measured' | 'reach'>> = {};
  if (across !== null && up !== null) {
    const measured = { x: (across / lines.across) * square, y: (up / lines.up) * square };
    if (Math.abs(measured.x / measured.y - 1) > mostApart)
      issues.push(
        odd(
          'check-lines-differ',
          `Across and up differ by ${percent(Math.abs(measured.x / measured.y - 1))}, which a printer seldom does.`,
          'Measure both lines once more, along the line and not beside it.',
        ),
      );
    made = { measured };
  }
  if (typedTicks.length === sides.length) made = { ...made, reach: ticks as PrinterReach };
  return succeed(made, issues);
}

function lineIssues(name: string, typed: Mm, drawn: Mm, unit: 'mm' | 'in'): Issue[] {
  const ratio = typed / drawn;
  const words = `Line ${name} is drawn ${formatLength(drawn, unit)} long, and ${formatLength(typed, unit, { decimals: 2 })} was typed`;
  if (ratio * square >= leastMeasured && ratio * square <= mostMeasured)
    return Math.abs(ratio - 1) > fittedFrom
      ? [
          odd(
            'check-page-fitted',
            `${words}: ${percent(Math.abs(ratio - 1))} off is more than a printer errs.`,
            'The print dialog probably fitted the page to the paper: choose 100 % or actual size there, print the check page again and measure anew.',
          ),
        ]
      : [];
  const slip = [
    { factor: 1 / mmPerUnit.in, what: 'inches' },
    { factor: mmPerUnit.in, what: 'millimetres' },
    { factor: 0.1, what: 'centimetres' },
  ].find(({ factor }) => Math.abs(ratio / factor - 1) < 0.2);
  return [
    said(
      'check-line-implausible',
      `${words}${slip ? `: that looks like ${slip.what}` : ', which no printer does'}.`,
      slip
        ? 'Type the length with its unit, such as 15.2 cm or 6 in.'
        : 'Measure from end tick to end tick, and print at 100 %.',
    ),
  ];
}

function tickIssues(side: string, n: number): Issue[] {
  if (Number.isInteger(n) && n >= 0 && n <= mostReach) return [];
  return [
    said(
      'check-tick-implausible',
      `The ladder at the ${side} edge has ticks 1 to ${mostReach}, and ${Math.round(n * 100) / 100} was typed.`,
      'Type the figure of the outermost tick that was printed, or 0 when every tick down to the paper’s edge is there.',
    ),
  ];
}

const percent = (part: number) => `${Math.round(part * 1000) / 10} %`;

const said = (code: string, message: string, remedy: string): Issue => ({
  code,
  severity: 'error',
  stage: 'layout',
  message,
  remedy,
  place: {},
});

const odd = (code: string, message: string, remedy: string): Issue => ({
  ...said(code, message, remedy),
  severity: 'warning',
});
