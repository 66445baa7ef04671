/** The role of every line, and from it what each link of the joined drawing is. */
import { type Box, boxOf, type Point } from '../math';
import type { Drawing, LineRole, ReadingDecisions } from '../model';
import type { Mm } from '../units';
import type { Ink } from './ink';
import { insideRing } from './numbers';
import type { GroupFacts, RoleProposal } from './roles';
import type { KindOf } from './sheets';
import type { LookGroup } from './styleGroups';
import type { Surroundings } from './surroundings';
import type { TabPlan } from './tabPlan';

/**
 * Role in force for each line. The person's word about a line always counts; their word about a group counts for
 * lines of frames and legends only when the group is mostly such lines, so that a page frame drawn like the outlines
 * does not become a piece because the outlines were confirmed.
 */
export function rolesOfLines(
  drawing: Drawing,
  decisions: ReadingDecisions,
  groupOf: readonly LookGroup[],
  proposal: RoleProposal,
  around: Surroundings,
  facts: ReadonlyMap<string, GroupFacts>,
): LineRole[] {
  const roleOf = new Map(proposal.groups.map((g) => [g.key, g.role]));
  return drawing.lines.map((line, i) => {
    const own = decisions.lineRoles[line.id];
    if (own !== undefined) return own;
    const key = groupOf[i]!.key;
    const group = decisions.groupRoles[key];
    const f = facts.get(key);
    const mostlyAside = f !== undefined && f.aside > f.outer + f.inner + f.loose;
    // A line that its file calls a border or a fold is never a frame or a legend.
    if (around.aside.has(i) && !line.style.assigned && !(group !== undefined && mostlyAside)) return 'notes';
    return roleOf.get(key) ?? 'notes';
  });
}

export const isStructural = (role: LineRole): boolean => role !== 'notes' && role !== 'ignore';

/** What a link is: the strongest role of the lines along it, see {@link RoleProposal} for the exceptions. */
export function kindsFrom(
  roles: readonly LineRole[],
  ink: Ink,
  groupOf: readonly LookGroup[],
  proposal: RoleProposal,
  tabs: TabPlan,
  decisions: ReadingDecisions,
): KindOf {
  const person = (line: number) => decisions.lineRoles[ink.lines[line]!.line.id] !== undefined;
  return (strokes, from, to) => {
    let outline = false;
    let either = true;
    let fold: 'mountain' | 'valley' | 'fold' | null = null;
    for (const k of strokes) {
      const line = ink.strokes[k >> 1]!.line;
      const role = roles[line]!;
      if (role === 'outline') {
        outline = true;
        const mixed = proposal.mixed.has(groupOf[line]!.key) && !person(line);
        if (
          !mixed ||
          (proposal.closedLinesCut && ink.lines[line]!.closed) ||
          walkedBothWays(strokes, line, ink)
        )
          either = false;
      } else if (role === 'mountain' || role === 'valley') fold = role;
      else if (role === 'fold') fold ??= 'fold';
    }
    if (outline && !(proposal.foldsWin && fold)) {
      if (!either) return tabs.isKeptBase(strokes, from, to) ? (fold ?? 'fold') : 'cut';
      return fold ?? 'either';
    }
    return fold ?? 'cut';
  };
}

/** A closed line that runs along a link both ways goes into a slit and out again. */
function walkedBothWays(strokes: readonly number[], line: number, ink: Ink): boolean {
  if (strokes.length < 2 || !ink.lines[line]!.closed) return false;
  const own = strokes.filter((k) => ink.strokes[k >> 1]!.line === line);
  return own.some((k) => (k & 1) === 0) && own.some((k) => (k & 1) === 1);
}

/** Answers whether a point lies inside any line that closes on itself and is an outline. */
export function closedCover(ink: Ink, roles: readonly LineRole[]): (p: Point) => boolean {
  const rings: { ring: Point[]; box: Box }[] = [];
  ink.lines.forEach((l, i) => {
    if (!l.closed || roles[i] !== 'outline' || l.strokes.length < 3) return;
    const ring = l.strokes.map((s) => ink.strokes[s]!.a);
    rings.push({ ring, box: boxOf(ring) });
  });
  const isIn = (p: Point, b: Box, slack: Mm) =>
    p.x >= b.minX - slack && p.x <= b.maxX + slack && p.y >= b.minY - slack && p.y <= b.maxY + slack;
  return (p) => rings.some((r) => isIn(p, r.box, 0) && insideRing(p, r.ring));
}
