/**
 * Which flaps are glue tabs. A flap alone proves nothing: the last face of a strip looks the same. What tells tabs is
 * the population: one height or one slope for many bases of different length, names, looks of their own, numbers where
 * a fold has none, several on a piece, bases that have mates where tops have none.
 */
import type { Mm, Rad } from '../units';
import { baseKey, type Flap } from './flaps';
import { degree, tabHeightShare } from './tolerance';

export interface TabFinding {
  readonly tabs: readonly Flap[];
  /** Shaped like tabs, but without the evidence to take them off. */
  readonly doubtful: readonly Flap[];
  /** Why the tabs were taken for tabs. */
  readonly reason: string;
}

/** What the rest of the drawing says about a flap. */
export interface FlapEvidence {
  /** Codes printed along its outer sides: faces carry them, tabs do not. */
  readonly outerCodes: number;
  /** A number that occurs elsewhere too stands at the middle of its base, on the paper's side: folds carry none. */
  readonly baseCode: boolean;
  /** Its lines are drawn in a look that hardly anything but flaps uses. */
  readonly ownLook: boolean;
  /** Lines outside all flaps that are as long as the base, and as the top. */
  readonly baseMates: number;
  readonly topMates: number;
}

/** Decides which flaps are tabs (see the head of this file). `noise`: how far points of the drawing may be off. */
export function judgeFlaps(
  flaps: readonly Flap[],
  noise: Mm,
  evidenceOf: (flap: Flap) => FlapEvidence,
): TabFinding {
  const evidence = new Map(flaps.map((f) => [f, evidenceOf(f)]));
  const able = flaps.filter((f) => evidence.get(f)!.outerCodes < 2);
  const plain = able.filter((f) => !f.shared);
  const tabs = new Set<Flap>();
  const reasons: string[] = [];
  const take = (list: readonly Flap[], reason: string) => {
    if (list.some((f) => !tabs.has(f))) reasons.push(reason);
    for (const f of list) tabs.add(f);
  };
  take(
    plain.filter((f) => f.named),
    'their lines are named as tabs',
  );
  const own = plain.filter((f) => evidence.get(f)!.ownLook);
  if (own.length >= 2) take(own, 'their lines have a look of their own');
  const family = familyOf(plain, evidence, noise);
  // Where most tabs are drawn in a look of their own, a flap without it is a face.
  const lookDecides = tabs.size >= 3 && family !== null && tabs.size >= 0.6 * family.members;
  if (family && !lookDecides)
    take(
      plain.filter((f) => belongs(f, family, noise)),
      family.reason,
    );
  if (tabs.size === 0)
    take(numberedAtBase(plain, evidence, noise), 'numbers stand at their bases, where folds have none');
  if (tabs.size === 0) {
    const slender = slenderWithMates(plain, evidence, noise);
    take(slender, 'they are low, alike in height, and their bases have mates');
    const first = slender[0];
    if (first) {
      const same = {
        height: first.height,
        slope: slopeOf(first),
        level: true,
        members: slender.length,
        middle: first.height,
      };
      for (const f of plain) if (belongs(f, { ...same, reason: '' }, noise)) tabs.add(f);
    }
  }
  for (const f of touchingFlaps(able, tabs, noise)) tabs.add(f);
  dropFacingPairs(tabs);
  const takenBases = new Set([...tabs].map(baseKey));
  const doubtful = plain.filter((f) => !tabs.has(f) && looksLikeTab(f) && !takenBases.has(baseKey(f)));
  return { tabs: flaps.filter((f) => tabs.has(f)), doubtful, reason: reasons.join('; ') };
}

/** Flaps that share corners with each other and have the height and the slope of the tabs found. */
function touchingFlaps(flaps: readonly Flap[], tabs: ReadonlySet<Flap>, noise: Mm): Flap[] {
  const level = [...tabs].filter((t) => t.level && !t.triangle);
  if (level.length === 0) return [];
  const sure = new Set([...tabs].flatMap((t) => t.nodes.slice(2)));
  const candidates = flaps.filter(
    (f) =>
      f.shared &&
      f.level &&
      level.some(
        (t) =>
          Math.abs(t.height - f.height) <= 0.015 * t.height + 2 * noise &&
          f.angles.every((w) => Math.abs(w - slopeOf(t)) <= 3 * degree + (2 * noise) / f.height),
      ),
  );
  const users = new Map<number, number>();
  for (const f of candidates) for (const n of f.nodes.slice(2)) users.set(n, (users.get(n) ?? 0) + 1);
  return candidates.filter((f) => f.nodes.slice(2).some((n) => users.get(n)! > 1 || sure.has(n)));
}

/** Most flaps must agree before numbers at bases count. */
const numberedShare = 0.6;

function numberedAtBase(
  flaps: readonly Flap[],
  evidence: ReadonlyMap<Flap, FlapEvidence>,
  noise: Mm,
): Flap[] {
  const even = (f: Flap) => Math.abs(f.angles[0] - f.angles[1]) <= slopeSlack(f, noise);
  const candidates = flaps.filter((f) => f.level && even(f) && f.height <= 0.5 * f.length);
  const numbered = candidates.filter((f) => evidence.get(f)!.baseCode && evidence.get(f)!.outerCodes === 0);
  return numbered.length >= 2 && numbered.length >= numberedShare * candidates.length ? numbered : [];
}

/** Low flaps of one height with even ends, whose bases answer to other lines and whose tops do not. */
function slenderWithMates(
  flaps: readonly Flap[],
  evidence: ReadonlyMap<Flap, FlapEvidence>,
  noise: Mm,
): Flap[] {
  const slender = flaps.filter(
    (f) =>
      !f.triangle &&
      f.level &&
      f.height <= 0.3 * f.length &&
      f.height <= 15 &&
      slopeOf(f) >= 35 * degree &&
      slopeOf(f) <= 72 * degree &&
      Math.abs(f.angles[0] - f.angles[1]) <= slopeSlack(f, noise) &&
      evidence.get(f)!.baseMates > 0 &&
      evidence.get(f)!.topMates === 0,
  );
  const alike = densest(
    slender,
    (f) => f.height,
    (h) => 0.02 * h + 2 * noise,
  );
  return alike.length >= 2 ? alike : [];
}

/** What the tabs of a file have in common. */
interface Family {
  readonly height: Mm;
  /** Common base angle; null when it varies. */
  readonly slope: Rad | null;
  /** All are of one height; otherwise of one slope, the tallest `height` high. */
  readonly level: boolean;
  readonly members: number;
  /** Usual height. */
  readonly middle: Mm;
  readonly reason: string;
}

/** Least members of a family when the bases differ in length, and when all bases are alike. */
const leastVaried = 5;
const leastAlike = 4;

function familyOf(
  flaps: readonly Flap[],
  evidence: ReadonlyMap<Flap, FlapEvidence>,
  noise: Mm,
): Family | null {
  const quads = flaps.filter(
    (f) =>
      !f.triangle && f.level && Math.min(...f.angles) >= 25 * degree && f.height <= tabHeightShare * f.length,
  );
  if (quads.length === 0) return null;
  const byHeight = densest(
    quads,
    (f) => f.height,
    (h) => 0.015 * h + 2 * noise,
  );
  const even = quads.filter((f) => Math.abs(f.angles[0] - f.angles[1]) <= slopeSlack(f, noise));
  const bySlope = densest(even, slopeOf, () => 4 * degree);
  const both = bySlope.filter((f) => byHeight.includes(f));
  const height = byHeight[byHeight.length >> 1]!.height;
  const slope =
    both.length >= 0.6 * byHeight.length && both.length > 0 ? slopeOf(both[both.length >> 1]!) : null;
  if (byHeight.length >= leastVaried && distinctLengths(byHeight, noise) >= 3 && perPart(byHeight) >= 1.5)
    return {
      height,
      slope,
      level: true,
      members: byHeight.length,
      middle: height,
      reason: `${byHeight.length} flaps are ${height.toFixed(1)} mm high on bases of different length`,
    };
  if (bySlope.length >= leastVaried && distinctLengths(bySlope, noise) >= 3 && perPart(bySlope) >= 1.5) {
    const tallest = Math.max(...bySlope.map((f) => f.height));
    return {
      height: tallest,
      slope: slopeOf(bySlope[0]!),
      level: false,
      members: bySlope.length,
      middle: middleHeight(bySlope),
      reason: `${bySlope.length} flaps have the same slope at both ends on bases of different length`,
    };
  }
  // Faces round the foot of a stump are alike too. But their tops have mates, and their bases are folds without.
  const alike = both.filter((f) => f.height <= 0.5 * f.length);
  const baseMates = alike.filter((f) => evidence.get(f)!.baseMates > 0).length;
  const topMates = alike.filter((f) => evidence.get(f)!.topMates > 0).length;
  if (
    alike.length >= leastAlike &&
    perPart(alike) >= 2 &&
    baseMates > 0.5 * alike.length &&
    topMates < 0.5 * alike.length
  ) {
    const reason = `${alike.length} flaps have the same low shape, several on each piece`;
    return byHeight.length >= 0.95 * bySlope.length
      ? { height, slope: slopeOf(alike[0]!), level: true, members: alike.length, middle: height, reason }
      : {
          height: Math.max(...bySlope.map((f) => f.height)),
          slope: slopeOf(alike[0]!),
          level: false,
          members: alike.length,
          middle: middleHeight(bySlope),
          reason,
        };
  }
  return null;
}

function middleHeight(flaps: readonly Flap[]): Mm {
  const sorted = flaps.map((f) => f.height).sort((a, b) => a - b);
  return sorted[sorted.length >> 1]!;
}

const slopeOf = (f: Flap): Rad => (f.angles[0] + f.angles[1]) / 2;

/** How far noise alone can pull the two base angles apart. */
const slopeSlack = (f: Flap, noise: Mm): Rad => 2.5 * degree + (4 * noise) / f.height;

function belongs(f: Flap, family: Family, noise: Mm): boolean {
  const slackHeight = 0.02 * family.height + 2 * noise;
  const sameHeight = Math.abs(f.height - family.height) <= slackHeight;
  const lower = f.height < family.height + slackHeight;
  const even = Math.abs(f.angles[0] - f.angles[1]) <= slopeSlack(f, noise);
  const sameSlope =
    family.slope !== null &&
    f.angles.every((w) => Math.abs(w - family.slope!) <= 4 * degree + (2 * noise) / f.height);
  // Where the base is too short for a level top, the slopes meet, sometimes a little higher.
  if (f.triangle) return sameSlope && f.height < 1.3 * family.middle + slackHeight;
  if (f.height > tabHeightShare * f.length)
    return family.level && sameHeight && f.level && (sameSlope || even);
  if (!f.level && !(sameSlope && lower)) return false;
  return (family.level && sameHeight) || (lower && (sameSlope || (family.level && even)));
}

/**
 * Where flaps stand on both sides of one base, the much lower one is the tab of the other, a piece of one face. Of two
 * alike (a piece of two faces) neither is a tab.
 */
function dropFacingPairs(tabs: Set<Flap>): void {
  const byBase = new Map<number, Flap[]>();
  for (const f of tabs) byBase.set(baseKey(f), [...(byBase.get(baseKey(f)) ?? []), f]);
  for (const list of byBase.values()) {
    if (list.length < 2) continue;
    const [lowest, next] = [...list].sort((a, b) => a.height - b.height);
    for (const f of list) if (f !== lowest || lowest.height > 0.6 * next!.height) tabs.delete(f);
  }
}

function looksLikeTab(f: Flap): boolean {
  const low = f.height <= 0.4 * f.length && f.height <= 12;
  return !f.triangle && f.level && low && Math.max(...f.angles) <= 70 * degree;
}

/** The largest set whose values lie within a window. */
function densest(flaps: readonly Flap[], value: (f: Flap) => number, window: (v: number) => number): Flap[] {
  const sorted = [...flaps].sort((a, b) => value(a) - value(b));
  let best: Flap[] = [];
  let end = 0;
  for (let start = 0; start < sorted.length; start++) {
    const low = value(sorted[start]!);
    while (end < sorted.length && value(sorted[end]!) <= low + window(low)) end++;
    if (end - start > best.length) best = sorted.slice(start, end);
  }
  return best;
}

function distinctLengths(flaps: readonly Flap[], noise: Mm): number {
  const sorted = flaps.map((f) => f.length).sort((a, b) => a - b);
  let count = 0;
  let last = Number.NEGATIVE_INFINITY;
  for (const d of sorted)
    if (d - last > 0.02 * d + 2 * noise) {
      count++;
      last = d;
    }
  return count;
}

function perPart(flaps: readonly Flap[]): number {
  return flaps.length / Math.max(1, new Set(flaps.map((f) => f.part)).size);
}
