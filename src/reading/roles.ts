/**
 * Roles proposed for style groups. First from geometry: what share of a group's length bounds closed parts on the
 * outside, lies between two faces, or closes nothing. Then from the legend, from names, and from the dash pattern:
 * dash and dot is a mountain fold; plain dashes are a valley fold beside dash and dot, but any fold when alone.
 */
import { distance } from '../math';
import type { LineRole, StyleGroup } from '../model';
import type { Mm } from '../units';
import { type Blocks, linesAlong } from './blocks';
import type { Ink } from './ink';
import type { WordSense } from './roleWords';
import { type LookGroup, lookLikeness } from './styleGroups';
import type { Surroundings } from './surroundings';
import type { IsBase } from './tabPlan';

/** Where a group's lines lie, mm. */
export interface GroupFacts {
  /** On the outer boundary of a closed part that may be a piece. */
  outer: Mm;
  /** Between two faces of one part. */
  inner: Mm;
  /** Part of `inner` that belongs to lines that close on themselves. */
  innerClosed: Mm;
  /** Part of `inner` along which a line of another group runs too. */
  innerShared: Mm;
  /** Closing nothing. */
  loose: Mm;
  /** In frames, legends and boxes. */
  aside: Mm;
  /** Outer boundary of parts that lie inside a face of another part. */
  nested: Mm;
  /** Along the bases of tabs. */
  tabBase: Mm;
}

export interface RoleProposal {
  readonly groups: readonly StyleGroup[];
  /** Groups (by key) that hold outlines and folds alike. */
  readonly mixed: ReadonlySet<string>;
  /** In mixed groups lines that close on themselves are outlines even where they run inside. */
  readonly closedLinesCut: boolean;
  /** Fold lines are drawn over the outlines of single faces: along shared lines the fold counts. */
  readonly foldsWin: boolean;
}

/**
 * Measures where each group lies. `isTabBase` names the links (by nodes) that tabs were folded along: drawn as folds or
 * as cuts, they lie on the outline either way and are no evidence.
 */
export function groupFacts(
  found: Blocks,
  around: Surroundings,
  ink: Ink,
  groupOf: readonly LookGroup[],
  isTabBase: IsBase,
): Map<string, GroupFacts> {
  const facts = new Map<string, GroupFacts>();
  for (const g of groupOf)
    if (!facts.has(g.key))
      facts.set(g.key, {
        outer: 0,
        inner: 0,
        innerClosed: 0,
        innerShared: 0,
        loose: 0,
        aside: 0,
        nested: 0,
        tabBase: 0,
      });
  const of = (line: number): GroupFacts => facts.get(groupOf[line]!.key)!;
  const s = found.closed;
  s.links.forEach((l, i) => {
    const d = distance(s.nodes[l.from]!, s.nodes[l.to]!);
    const lines = linesAlong(l.strokes, ink);
    if (isTabBase(l.strokes, l.from, l.to)) {
      for (const line of lines) of(line).tabBase += d;
      return;
    }
    const left = s.loops[s.loopOf[2 * i]!]!;
    const right = s.loops[s.loopOf[2 * i + 1]!]!;
    const isAside = around.asideBlocks.has(left.part);
    lines.forEach((line, n) => {
      // Lines of one look count once.
      const f = of(line);
      if (lines.some((other, k) => k < n && of(other) === f)) return;
      if (isAside || around.aside.has(line)) f.aside += d;
      else if (left.outer || right.outer) {
        f.outer += d;
        const { within } = found.blocks[left.part]!;
        if (within >= 0 && !around.asideBlocks.has(within)) f.nested += d;
      } else {
        f.inner += d;
        if (lines.some((other) => of(other) !== f)) f.innerShared += d;
        if (lines.some((other) => of(other) === f && ink.lines[other]!.closed)) f.innerClosed += d;
      }
    });
  });
  for (const [line, d] of found.hanging) of(line).loose += d;
  for (const scrap of found.scraps)
    for (const line of scrap.lines) {
      if (around.aside.has(line)) of(line).aside += ink.lines[line]!.length;
      else of(line).loose += ink.lines[line]!.length;
    }
  return facts;
}

/** Proposes a role for every group; `given` are the person's own, which stay in force. */
export function proposeRoles(
  groups: readonly LookGroup[],
  facts: ReadonlyMap<string, GroupFacts>,
  around: Surroundings,
  ink: Ink,
  given: Readonly<Record<string, LineRole>>,
): RoleProposal {
  const outlineKeys = outlineGroups(groups, facts, given);
  const legend = new Map(groups.map((g) => [g.key, legendRole(g, groups, around)]));
  const isInner = (g: LookGroup) => {
    const f = facts.get(g.key)!;
    // A fold runs from edge to edge; a solid line that runs on beyond is more likely an arrow or a guide.
    const least = g.dashKind === 'solid' ? 0.6 : 0.3;
    return !outlineKeys.has(g.key) && f.inner > f.outer && f.inner >= least * (f.inner + f.outer + f.loose);
  };
  const chains = groups.some((g) => isInner(g) && g.dashKind === 'chain');
  // Of several kinds of plain dash the longest is the valley; the others may be anything.
  const longestDash = Math.max(
    0,
    ...groups.map((g) => (isInner(g) && g.dashKind === 'dashes' ? dashInWidths(g) : 0)),
  );
  const isPlainValley = (g: LookGroup) =>
    g.dashKind === 'dashes' && chains && dashInWidths(g) >= 0.9 * longestDash;
  // A shell bulges nearly everywhere. Where by far the most folds would be valleys, the marks are meant the other way.
  const innerOf = (is: (g: LookGroup) => boolean) =>
    sumOf(groups, (g) => (isInner(g) && is(g) ? facts.get(g.key)!.inner : 0));
  const foldLines = sumOf(groups, (g) => (isInner(g) ? g.lines.length : 0));
  const exchanged =
    foldLines >= fewestExchanged &&
    innerOf(isPlainValley) > exchangedFrom * innerOf((g) => g.dashKind === 'chain');
  const strokedOutlines = groups.some((g) => outlineKeys.has(g.key) && g.style.stroke !== '');
  // Where nothing closes at all, the most of the solid lines were probably meant to.
  const meant =
    outlineKeys.size > 0
      ? undefined
      : longestLoose(
          groups.filter((g) => !g.style.assigned),
          facts,
        );
  const proposals = groups.map((g): { role: LineRole; reason: string } => {
    const f = facts.get(g.key)!;
    const set = given[g.key];
    if (set === 'notes' || set === 'ignore') return { role: set, reason: 'Left out by you.' };
    const { assigned } = g.style;
    if (assigned) return { role: assigned, reason: 'The file itself says what these lines are.' };
    if (g === meant)
      return { role: 'outline', reason: 'No line closes a region; most of the drawing is in these lines.' };
    const said = legend.get(g.key);
    const word = g.named;
    const closes = outlineKeys.has(g.key);
    if (f.aside > 0 && f.outer + f.inner + f.loose + f.tabBase < 0.05 * f.aside)
      return { role: 'notes', reason: 'These lines are frames, legends or boxes, not pieces.' };
    if (said && (said.role === 'outline') === closes)
      return { role: said.role, reason: `The legend shows this line as "${said.text}".` };
    if (closes) return { role: 'outline', reason: outlineReason(f) };
    if (said) return { role: said.role, reason: `The legend shows this line as "${said.text}".` };
    const named = word ? roleOfSense(word.sense) : null;
    if (named && named !== 'outline') return { role: named, reason: `Its name says "${word?.word}".` };
    if (g.style.stroke === '' && strokedOutlines)
      return { role: 'notes', reason: 'Filled shapes without a line, beside outlines that have one.' };
    if (isInner(g)) {
      if (exchanged && g.dashKind === 'chain')
        return {
          role: 'valley',
          reason:
            'Dash and dot, the usual mark of a mountain fold; but nearly all folds are plain dashes, and a shell bulges nearly everywhere, so the two are taken the other way round.',
        };
      if (exchanged && isPlainValley(g))
        return {
          role: 'mountain',
          reason:
            'Plain dashes, the usual mark of a valley fold beside dash and dot; but nearly all folds are drawn so, and a shell bulges nearly everywhere.',
        };
      if (g.dashKind === 'chain')
        return { role: 'mountain', reason: 'Dash and dot between faces, the usual mark of a mountain fold.' };
      if (isPlainValley(g))
        return { role: 'valley', reason: 'Plain dashes between faces, beside folds of dash and dot.' };
      return { role: 'fold', reason: 'These lines run between two faces of a piece.' };
    }
    if (named) return { role: named, reason: `Its name says "${word?.word}".` };
    if (f.nested > 0 && f.nested >= 0.5 * (f.outer + f.inner + f.loose))
      return g.style.stroke !== '' && g.dashKind === 'solid'
        ? { role: 'outline', reason: 'Closed lines inside pieces: openings.' }
        : { role: 'notes', reason: 'Closed shapes inside pieces in a look of their own.' };
    if (g.dashKind !== 'solid' && f.loose > 0 && outlineKeys.size > 0 && f.loose > 0.5 * f.outer)
      return {
        role: 'fold',
        reason: 'Dashed lines inside pieces, though their ends do not reach the outline.',
      };
    if (f.tabBase > 0 && f.tabBase >= f.loose)
      return { role: 'fold', reason: 'Tabs are folded along these lines.' };
    if (f.outer > 0 && f.outer >= f.loose) return { role: 'outline', reason: outlineReason(f) };
    return { role: 'notes', reason: 'These lines close no region and join no two edges.' };
  });
  const roleOf = (g: LookGroup, i: number): LineRole => given[g.key] ?? proposals[i]!.role;
  const foldInner = sumOf(groups, (g, i) => (isFoldRole(roleOf(g, i)) ? facts.get(g.key)!.inner : 0));
  const foldShared = sumOf(groups, (g, i) => (isFoldRole(roleOf(g, i)) ? facts.get(g.key)!.innerShared : 0));
  const isOutline = (g: LookGroup, i: number) => roleOf(g, i) === 'outline' && given[g.key] !== 'outline';
  const outlineInner = sumOf(groups, (g, i) => (isOutline(g, i) ? facts.get(g.key)!.inner : 0));
  const innerClosed = sumOf(groups, (g, i) => (isOutline(g, i) ? facts.get(g.key)!.innerClosed : 0));
  // Folds drawn like cuts: practically everything that separates faces has the look of the outlines.
  const isMixedFile = outlineInner > 0 && foldInner < 0.1 * outlineInner;
  const mixed = new Set(
    isMixedFile
      ? groups
          .filter((g, i) => isOutline(g, i) && !g.style.assigned && facts.get(g.key)!.inner > 0)
          .map((g) => g.key)
      : [],
  );
  return {
    groups: groups.map((g, i): StyleGroup => {
      const p = proposals[i]!;
      const reason = mixed.has(g.key)
        ? `${p.reason} Lines between two faces look the same and are read as folds.`
        : p.reason;
      return {
        key: g.key,
        label: g.label,
        count: g.lines.length,
        totalLength: g.lines.reduce((sum, n) => sum + ink.lines[n]!.length, 0),
        dash: g.style.dash,
        strokeWidth: g.style.strokeWidth,
        stroke: g.style.stroke,
        sampleLine: sampleLine(g, ink),
        proposed: p.role,
        reason,
        role: roleOf(g, i),
      };
    }),
    mixed,
    closedLinesCut: innerClosed < 0.5 * outlineInner,
    foldsWin: foldShared > 0.5 * foldInner && foldInner > 0,
  };
}

/** Plain dashes are so many times as long as dash and dot before their marks count as exchanged. */
const exchangedFrom = 3;
/** Fewer folds are no shell that would have to bulge. */
const fewestExchanged = 20;

/** Length of the longest dash in line widths: the same at every scale. */
const dashInWidths = (g: LookGroup): number =>
  Math.max(...g.style.dash) / Math.max(1e-9, g.style.strokeWidth);

const isFoldRole = (role: LineRole) => role === 'fold' || role === 'mountain' || role === 'valley';

function sumOf(groups: readonly LookGroup[], value: (g: LookGroup, i: number) => number): number {
  return groups.reduce((sum, g, i) => sum + value(g, i), 0);
}

const outlineReason = (f: GroupFacts) =>
  `${Math.round((100 * f.outer) / Math.max(1e-9, f.outer + f.inner + f.loose))} % of these lines bound closed parts on the outside.`;

/**
 * The groups that bound the pieces: those that lie mostly outside; when they cover too little of all outer
 * boundaries, those that cover most of the rest as well.
 */
function outlineGroups(
  groups: readonly LookGroup[],
  facts: ReadonlyMap<string, GroupFacts>,
  given: Readonly<Record<string, LineRole>>,
): Set<string> {
  const candidates = groups.filter((g) => {
    if (given[g.key] !== undefined) return given[g.key] === 'outline';
    if (g.style.assigned) return g.style.assigned === 'outline';
    const f = facts.get(g.key)!;
    if (f.outer === 0) return false;
    const sense = g.named?.sense;
    if (sense === 'fold' || sense === 'mountain' || sense === 'valley') return f.outer > 0.8 * totalOf(f);
    return !(sense === 'notes' || sense === 'legend' || sense === 'frame') || f.outer > 0.9 * totalOf(f);
  });
  const outerOf = (g: LookGroup) => facts.get(g.key)!.outer;
  const total = groups.reduce((sum, g) => sum + outerOf(g), 0);
  const chosen = new Set<string>();
  let covered = 0;
  for (const g of candidates) {
    const f = facts.get(g.key)!;
    const stands =
      f.outer - f.nested > 0 || groups.every((o) => facts.get(o.key)!.outer === facts.get(o.key)!.nested);
    if (
      given[g.key] === 'outline' ||
      (stands && f.outer > f.inner && f.outer > f.loose && g.style.stroke !== '')
    ) {
      chosen.add(g.key);
      covered += f.outer;
    }
  }
  const rest = candidates
    .filter((g) => !chosen.has(g.key))
    .sort((a, b) => outerOf(b) - outerOf(a) || (a.key < b.key ? -1 : 1));
  for (const g of rest) {
    if (covered >= 0.6 * total) break;
    chosen.add(g.key);
    covered += outerOf(g);
  }
  return chosen;
}

function longestLoose(
  groups: readonly LookGroup[],
  facts: ReadonlyMap<string, GroupFacts>,
): LookGroup | undefined {
  const solid = groups.filter(
    (g) => g.dashKind === 'solid' && g.style.stroke !== '' && facts.get(g.key)!.loose > 0,
  );
  return [...solid].sort(
    (a, b) => facts.get(b.key)!.loose - facts.get(a.key)!.loose || (a.key < b.key ? -1 : 1),
  )[0];
}

const totalOf = (f: GroupFacts) => f.outer + f.inner + f.loose + f.aside;

/** The legend entry whose sample looks most like the group, if no other group looks more like it. */
function legendRole(group: LookGroup, groups: readonly LookGroup[], around: Surroundings) {
  let best: { role: LineRole; text: string } | null = null;
  let likeness = 0;
  for (const entry of around.legend) {
    const own = lookLikeness(entry.style, group.style);
    if (own === 0 || own <= likeness) continue;
    // A solid sample says little unless width and colour agree too.
    if (
      group.dashKind === 'solid' &&
      own < 0.95 &&
      groups.some((g) => lookLikeness(entry.style, g.style) > own)
    )
      continue;
    if (groups.some((g) => g.key !== group.key && lookLikeness(entry.style, g.style) > own + 0.25)) continue;
    best = { role: entry.role, text: entry.text };
    likeness = own;
  }
  return best;
}

function roleOfSense(sense: WordSense): LineRole | null {
  switch (sense) {
    case 'outline':
    case 'hole':
    case 'tab':
      return 'outline';
    case 'mountain':
    case 'valley':
    case 'fold':
      return sense;
    case 'frame':
    case 'legend':
    case 'notes':
      return 'notes';
  }
}

/** A line of middling length shows the look best. */
function sampleLine(g: LookGroup, ink: Ink): string {
  const sorted = [...g.lines].sort((a, b) => ink.lines[a]!.length - ink.lines[b]!.length || a - b);
  return ink.lines[sorted[sorted.length >> 1]!]!.line.id;
}
