/**
 * Drawing → Pattern: what each line is, which lines close pieces, and what is printed on them.
 *
 * Contract: pure and deterministic; never throws for what a drawing holds. The pattern's positions are the drawing's
 * (mm, y up), mirrored within its width when it is drawn from inside; ids come from the unmirrored place. Findings
 * use the pattern's positions.
 */
import { boxOf } from '../math';
import type { Drawing, LineRole, Pattern, ReadingDecisions } from '../model';
import { joinStrokes, keepLinks, markPlane, withoutStrokes } from '../plane';
import { assemblePieces, type RawPiece } from './assemble';
import { backgroundGroups } from './background';
import { findBlocks, linesAlong } from './blocks';
import { finishPieces } from './finish';
import { inkOf, joinLimit } from './ink';
import { closedCover, isStructural, kindsFrom, rolesOfLines } from './lineRoles';
import { readingFindings } from './readingFindings';
import { groupFacts, proposeRoles } from './roles';
import { findSheets } from './sheets';
import { type LookGroup, lookGroups } from './styleGroups';
import { findSurroundings } from './surroundings';
import { findTabs, noTabs } from './tabPlan';
import { smallestPiece, speckShare } from './tolerance';
import { unreadLines } from './unread';

/** Reads a drawing as a pattern under the person's decisions. */
export function readPattern(drawing: Drawing, decisions: ReadingDecisions): Pattern {
  const groups = lookGroups(drawing.lines);
  const groupOf: LookGroup[] = [];
  for (const g of groups) for (const line of g.lines) groupOf[line] = g;
  const given = (line: number): LineRole | undefined =>
    decisions.lineRoles[drawing.lines[line]!.id] ?? decisions.groupRoles[groupOf[line]!.key];
  const ink = inkOf(drawing, decisions.drawnFromInside, (line) => {
    const role = given(line);
    return role !== undefined && !isStructural(role);
  });
  const within = joinLimit(ink, decisions.joinWithin);
  const graph = joinStrokes(ink.strokes, within);
  const reach = Math.max(drawing.size.width, drawing.size.height) || 1;
  const tabs = decisions.stripTabs
    ? findTabs(graph, ink, groupOf, new Set(decisions.keptTabs), reach)
    : noTabs;
  const withoutTabs = markPlane(withoutStrokes(graph, tabs.sides));

  const background = backgroundGroups(groups, ink, drawing.size);
  const behind = new Set(
    groups.flatMap((g) => (background.has(g.key) ? g.lines.flatMap((n) => ink.lines[n]!.strokes) : [])),
  );
  const foreground = withoutStrokes(withoutTabs, behind);
  const found = findBlocks(foreground, ink);
  const around = findSurroundings(found, ink, groupOf, drawing.size);
  const facts = groupFacts(found, around, ink, groupOf, tabs.isBase);
  const proposal = proposeRoles(groups, facts, around, ink, decisions.groupRoles);
  const roles = rolesOfLines(drawing, decisions, groupOf, proposal, around, facts);

  const structural = keepLinks(withoutTabs, (l) =>
    linesAlong(l.strokes, ink).some((n) => isStructural(roles[n]!)),
  );
  const kindOf = kindsFrom(roles, ink, groupOf, proposal, tabs, decisions);
  const sheets = findSheets(structural, kindOf, closedCover(ink, roles));
  const { pieces: raw, specks } = withoutSpecks(
    assemblePieces(sheets, ink, tabs.isFoot, (link) => {
      const l = sheets.s.links[link]!;
      return tabs.isBase(l.strokes, l.from, l.to);
    }),
  );
  const finished = finishPieces(raw, sheets.s, tabs, ink, reach, around.captions);
  const unread = unreadLines(drawing, ink, sheets, roles, specks);
  const issues = readingFindings({
    drawing,
    ink,
    graph,
    within,
    joinWithin: decisions.joinWithin,
    proposal,
    around,
    tabs,
    sheets,
    raw,
    specks,
    finished,
    unread,
    roles,
  });
  return {
    size: drawing.size,
    pieces: finished.pieces,
    groups: proposal.groups,
    roleOfLine: Object.fromEntries(drawing.lines.map((l, i) => [l.id, roles[i]!])),
    labels: finished.labels,
    unread,
    issues,
  };
}

/** Closed outlines far too small to be pieces; in a drawing at a tiny scale small beside its largest piece. */
function withoutSpecks(all: readonly RawPiece[]): { pieces: RawPiece[]; specks: RawPiece[] } {
  const across = all.map((p) => {
    const b = boxOf(p.outline.flatMap((e) => e.points));
    return Math.max(b.maxX - b.minX, b.maxY - b.minY);
  });
  const least = Math.min(smallestPiece, speckShare * Math.max(0, ...across));
  return {
    pieces: all.filter((_, i) => across[i]! >= least),
    specks: all.filter((_, i) => across[i]! < least),
  };
}
