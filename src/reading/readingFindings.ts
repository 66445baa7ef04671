/** All findings of one reading, in the order of the work. */
import type { Issue } from '../base';
import { distance, type Point } from '../math';
import type { Drawing, LineRole, UnreadLine } from '../model';
import type { StrokeGraph } from '../plane';
import type { Mm } from '../units';
import type { RawPiece } from './assemble';
import { counted, eachFinding, finding, shownMm } from './findings';
import type { Finished } from './finish';
import type { Ink } from './ink';
import type { RoleProposal } from './roles';
import type { Gap, Sheets } from './sheets';
import type { Surroundings } from './surroundings';
import type { TabPlan } from './tabPlan';

export interface Reading {
  readonly drawing: Drawing;
  readonly ink: Ink;
  readonly graph: StrokeGraph;
  /** The largest distance at which ends may be joined, and what the person allows. */
  readonly within: Mm;
  readonly joinWithin: Mm;
  readonly proposal: RoleProposal;
  readonly around: Surroundings;
  readonly tabs: TabPlan;
  readonly sheets: Sheets;
  readonly raw: readonly RawPiece[];
  readonly specks: readonly RawPiece[];
  readonly finished: Finished;
  readonly unread: readonly UnreadLine[];
  readonly roles: readonly LineRole[];
}

export function readingFindings(r: Reading): Issue[] {
  return [
    ...nothingFound(r),
    ...gapFindings(r),
    ...unreadFindings(r),
    ...joinFindings(r),
    ...tabFindings(r),
    ...roleFindings(r),
    ...r.around.issues,
    ...numberFindings(r),
  ];
}

function nothingFound(r: Reading): Issue[] {
  if (r.drawing.lines.length === 0)
    return [
      finding(
        'error',
        'no-lines',
        'The drawing has no visible lines.',
        'Open a drawing that shows outlines and fold lines.',
      ),
    ];
  if (r.raw.length > 0) return [];
  const closed = r.sheets.s.faces.length > 1;
  return [
    closed
      ? finding(
          'error',
          'no-pieces',
          'Lines close, but none of them bounds a piece: all closed parts were read as frames, legends or notes.',
          'Mark the line group that shows the cuts as outline.',
        )
      : finding(
          'error',
          'nothing-closed',
          'No line closes a region, so there is no piece.',
          'Check that the outlines are not set to notes, or raise the join distance.',
          r.unread[0]?.at ?? null,
        ),
  ];
}

/** Gaps at one place, seen from both ends, are one gap. */
function gapFindings(r: Reading): Issue[] {
  const gaps: Gap[] = [];
  for (const g of [...r.sheets.gaps].sort((a, b) => b.at.y - a.at.y || a.at.x - b.at.x))
    if (!gaps.some((o) => distance(o.at, g.at) <= 1.5 * Math.max(o.width, g.width))) gaps.push(g);
  const outline = (g: Gap) => g.strokes.some((k) => r.roles[r.ink.strokes[k >> 1]!.line] === 'outline');
  const remedy = (g: Gap) =>
    `Close it in the drawing, raise the join distance above ${shownMm(g.width)}, or mark the line as notes.`;
  return eachFinding(
    gaps,
    (g) =>
      finding(
        'warning',
        outline(g) ? 'gap-in-outline' : 'gap-at-fold',
        `${outline(g) ? 'An outline' : 'A fold'} stops ${shownMm(g.width)} short of the line ahead.`,
        remedy(g),
        g.at,
        g.strokes.slice(0, 1).map((k) => r.ink.lines[r.ink.strokes[k >> 1]!.line]!.line.id),
      ),
    (n) =>
      finding(
        'warning',
        'gap-in-outline',
        `${counted(n, 'more line')} stop short of the line ahead.`,
        'Raise the join distance.',
      ),
  );
}

function unreadFindings(r: Reading): Issue[] {
  const of = (reason: UnreadLine['reason']) => r.unread.filter((u) => u.reason === reason);
  const out: Issue[] = [];
  const say = (
    reason: UnreadLine['reason'],
    code: string,
    sentence: (n: number) => string,
    remedy: string,
  ) => {
    const list = of(reason);
    if (list.length > 0)
      out.push(
        finding(
          'warning',
          code,
          sentence(list.length),
          remedy,
          list[0]!.at,
          list.slice(0, 40).map((u) => u.line),
        ),
      );
  };
  say(
    'dangling',
    'lines-dangling',
    (n) =>
      `${counted(n, 'line')} ${n === 1 ? 'ends' : 'end'} inside a piece or beyond it and ${n === 1 ? 'is' : 'are'} not used.`,
    'Extend them to the line they should meet, or mark them as notes.',
  );
  say(
    'not-closed',
    'lines-cross-not-closed',
    (n) => `${counted(n, 'line')} ${n === 1 ? 'meets' : 'meet'} others but close nothing.`,
    'Close the gap, or mark them as notes.',
  );
  say(
    'outside-all-pieces',
    'unread-lines',
    (n) => `${counted(n, 'line')} ${n === 1 ? 'belongs' : 'belong'} to no piece.`,
    'Mark them as notes if they are only remarks.',
  );
  const zero = of('zero-length').length;
  if (zero > 0)
    out.push(
      finding(
        'note',
        'zero-length-lines',
        `${counted(zero, 'line')} of no length ${zero === 1 ? 'was' : 'were'} left out.`,
        '',
      ),
    );
  if (r.specks.length > 0)
    out.push(
      finding(
        'note',
        'tiny-piece',
        `${counted(r.specks.length, 'closed speck')} under 2 mm across ${r.specks.length === 1 ? 'is' : 'are'} not read as a piece.`,
        'If the drawing is at a smaller scale, set its size first.',
        r.specks[0]!.outline[0]!.points[0]!,
      ),
    );
  for (const at of r.sheets.buried.slice(0, 5))
    out.push(
      finding(
        'warning',
        'part-inside-face',
        'Closed lines with folds of their own lie inside a face; they were read as an opening.',
        'If the lines around them are a frame, mark those as notes.',
        at,
      ),
    );
  return out;
}

function joinFindings(r: Reading): Issue[] {
  const { report } = r.graph;
  const out: Issue[] = [];
  if (report.joined.count > 0)
    out.push(
      finding(
        'repaired',
        'ends-joined',
        `${counted(report.joined.count, 'line end')} up to ${shownMm(report.joined.widest)} apart were joined.`,
        '',
      ),
    );
  if (report.trimmed.length > 0) {
    const longest = Math.max(...report.trimmed.map((t) => t.length));
    out.push(
      finding(
        'repaired',
        'overshoot-trimmed',
        `${counted(report.trimmed.length, 'line')} ran up to ${shownMm(longest)} past the line they meet and were cut back.`,
        '',
        report.trimmed[0]!.at,
      ),
    );
  }
  const doubled = new Set(report.doubled);
  const lines = r.ink.lines.filter(
    (l) => l.line.style.stroke !== '' && l.strokes.length > 0 && l.strokes.every((s) => doubled.has(s)),
  );
  if (lines.length > 0)
    out.push(
      finding(
        'note',
        'duplicate-lines-dropped',
        `${counted(lines.length, 'line')} drawn on top of others ${lines.length === 1 ? 'was' : 'were'} counted once.`,
        '',
      ),
    );
  if (r.within < r.joinWithin)
    out.push(
      finding(
        'note',
        'join-distance-lowered',
        `Line ends are joined within ${shownMm(r.within)} at most, because the drawing has very short lines.`,
        '',
      ),
    );
  return out;
}

function tabFindings(r: Reading): Issue[] {
  const out: Issue[] = [];
  const stripped = r.tabs.tabs.filter((t) => !t.kept);
  if (stripped.length > 0)
    out.push(
      finding(
        'note',
        'tabs-stripped',
        `${counted(stripped.length, 'glue tab')} ${stripped.length === 1 ? 'was' : 'were'} taken off: ${r.tabs.reason}.`,
        'Restore a tab that is part of a piece, or turn stripping off.',
      ),
    );
  if (r.finished.strayTabs.length > 0)
    out.push(
      finding(
        'warning',
        'tab-without-edge',
        `${counted(r.finished.strayTabs.length, 'tab')} ${r.finished.strayTabs.length === 1 ? 'stands' : 'stand'} on no edge of a piece.`,
        'Check the outline there.',
        r.finished.strayTabs[0]!.flap.polygon[0]!,
      ),
    );
  out.push(
    ...eachFinding(
      r.tabs.doubtful,
      (f) =>
        finding(
          'warning',
          'looks-like-a-tab',
          'A face looks like a glue tab, but too little in this drawing says that it is one; it was left as a face.',
          'Mark its three outer lines as notes to take it off.',
          middleOf(f.polygon),
        ),
      (n) =>
        finding(
          'warning',
          'looks-like-a-tab',
          `${counted(n, 'more face')} look like tabs and were left as faces.`,
          '',
        ),
    ),
  );
  return out;
}

function roleFindings(r: Reading): Issue[] {
  const out: Issue[] = [];
  const either = r.raw.reduce((n, p) => n + p.folds.filter((f) => f.kind === 'either').length, 0);
  if (r.proposal.mixed.size > 0 && either > 0)
    out.push(
      finding(
        'note',
        'group-mixed',
        `Folds are drawn like cuts: ${counted(either, 'line')} inside pieces ${either === 1 ? 'was' : 'were'} read as ${either === 1 ? 'a fold' : 'folds'} of unknown direction.`,
        'Set the role of single lines where one of them is a cut.',
      ),
    );
  if (r.sheets.slits > 0)
    out.push(
      finding(
        'note',
        'slits-found',
        `${counted(r.sheets.slits, 'cut line')} ${r.sheets.slits === 1 ? 'runs' : 'run'} into a piece and ${r.sheets.slits === 1 ? 'was' : 'were'} read as a slit.`,
        '',
      ),
    );
  const asOutline = r.raw.filter((p) => p.foldOutline > 0.1);
  if (asOutline.length > 0) {
    const total = asOutline.reduce((sum, p) => sum + p.foldOutline, 0);
    out.push(
      finding(
        'warning',
        'fold-on-outline',
        `${shownMm(total)} of the outline of ${counted(asOutline.length, 'piece')} is drawn as a fold.`,
        'If paper continues there, check that its outline closes and is not set to notes.',
        asOutline[0]!.outline[0]!.points[0]!,
      ),
    );
  }
  return out;
}

function numberFindings(r: Reading): Issue[] {
  const list = r.finished.unbound;
  if (list.length === 0) return [];
  const first = r.ink.texts[list[0]!]!;
  const shown = list
    .slice(0, 6)
    .map((t) => `"${r.ink.texts[t]!.text.trim()}"`)
    .join(', ');
  return [
    finding(
      'warning',
      'numbers-unbound',
      `${counted(list.length, 'number')} ${list.length === 1 ? 'stands' : 'stand'} at no edge: ${shown}${list.length > 6 ? ' …' : ''}.`,
      'Pair these edges by hand if they matter.',
      first.centre,
      list.slice(0, 40).map((t) => r.ink.texts[t]!.id),
    ),
  ];
}

const middleOf = (ring: readonly Point[]): Point => ({
  x: ring.reduce((s, p) => s + p.x, 0) / ring.length,
  y: ring.reduce((s, p) => s + p.y, 0) / ring.length,
});
