/** What is drawn on a visor, and on the panels below it: folds, ticks at seams, the line of the eyes, where its edge lies. */
import type { Issue } from '../base';
import type { Point } from '../math';
import type { PanelFold, PanelGuide, Plane3, Seams, VisorPart } from '../model';
import type { Mm } from '../units';
import { insideParts, joined } from './clip';
import { besideCourse } from './course';
import type { CoveringSheet } from './coveringSheet';
import type { Ground } from './ground';
import { finding } from './part';
import { type Rim, sidesOf } from './rims';
import { visibleBend } from './tolerance';

/** Folds as far as they cross the opening; the margin follows by itself. */
export const foldsIn = ({ folds }: CoveringSheet, ring: readonly Point[], id: string): PanelFold[] =>
  folds.flatMap(({ points: [a, b], bend }, k) =>
    Math.abs(bend) < visibleBend
      ? []
      : insideParts(a, b, [ring]).map((points, j) => ({
          id: `${id}:fold-${k}-${j}`,
          points,
          role: bend > 0 ? ('mountain' as const) : ('valley' as const),
          bend,
          bendFrom: 'shell' as const,
        })),
  );

/** Where seams of the shell meet the rim: a tick over the margin, with the seam's number. */
export function seamTicks(
  part: VisorPart,
  ground: Ground,
  seams: Seams,
  { vertices, closed }: Rim,
  line: readonly Point[],
  id: string,
): PanelGuide[] {
  const numbers = new Map(seams.runs.flatMap((run) => run.seams.map((s) => [s, run.number] as const)));
  const meets = new Map<number, number>();
  for (const s of ground.sides) {
    const number = s.kind === 'seam' ? numbers.get(s.id) : undefined;
    if (number !== undefined) for (const v of [s.from, s.to]) meets.set(v, number);
  }
  // Without a margin the ticks stand inside.
  const reach = part.margin > 0 ? part.margin : -inwardTick;
  const wrapped = closed ? [line.at(-2)!, ...line, line[1]!] : line;
  const beside = closed ? besideCourse(wrapped, reach).slice(1) : besideCourse(wrapped, reach);
  return vertices.flatMap((v, i): PanelGuide[] => {
    const number = meets.get(v);
    if (number === undefined) return [];
    return [{ id: `${id}:seam-${i}`, points: [line[i]!, beside[i]!], closed: false, label: String(number) }];
  });
}

const inwardTick: Mm = 6;

export function eyeLine(
  part: VisorPart,
  sheet: CoveringSheet,
  brow: Plane3 | null,
  outline: readonly (readonly Point[])[],
  id: string,
  issues: Issue[],
): PanelGuide[] {
  if (part.eyes === null) return [];
  const fail = (why: string, remedy: string): PanelGuide[] => {
    issues.push(
      finding('eye-line-missing', 'warning', part, `The eye line of “${part.name}” ${why}.`, remedy),
    );
    return [];
  };
  if (!brow)
    return fail(
      'is not marked: the shell has no brow line to count from',
      'Place the brow in the Size step.',
    );
  const line = sheet.lineOf({ normal: brow.normal, offset: brow.offset - part.eyes });
  const parts = joined(line.flatMap(([a, b]) => insideParts(a, b, outline)));
  if (parts.length === 0)
    return fail(
      'does not cross the blank: the eyes would be behind the shell',
      'Check how far the eyes are below the brow, the height of the brow in the Size step, and which opening it covers.',
    );
  return parts.map(({ points }, k) => ({ id: `${id}:eyes-${k}`, points, closed: false, label: 'eye line' }));
}

/** Where the edge of the margin comes to lie on the panels round the opening. */
export function placement(part: VisorPart, ground: Ground, rim: Rim, id: string): Map<string, PanelGuide[]> {
  const runs: { panel: string; line: Point[]; starts: boolean; ends: boolean }[] = [];
  for (const [a, b] of sidesOf(rim)) {
    const side = ground.sideAt(a, b);
    const seat = side ? ground.seats[side.face] : null;
    if (!side || !seat) continue;
    const [p, q] = [seat.ring[side.corner]!, seat.ring[(side.corner + 1) % seat.ring.length]!];
    const last = runs.at(-1);
    if (last?.panel === seat.panel) last.line.push(q);
    else runs.push({ panel: seat.panel, line: [p, q], starts: rim.closed || runs.length > 0, ends: true });
  }
  if (!rim.closed && runs.length > 0) runs[runs.length - 1]!.ends = false;
  const [first, last] = [runs[0], runs.at(-1)];
  // The round may have begun in the middle of a panel's stretch.
  if (rim.closed && first && last && first !== last && first.panel === last.panel) {
    first.line = [...last.line, ...first.line.slice(1)];
    runs.pop();
  }
  const found = new Map<string, PanelGuide[]>();
  runs.forEach(({ panel, line, starts, ends }, k) => {
    // At a seam the line goes on as far as the panel does.
    const long = [
      ...(starts ? [beyond(line[1]!, line[0]!, 3 * part.margin)] : []),
      ...line,
      ...(ends ? [beyond(line.at(-2)!, line.at(-1)!, 3 * part.margin)] : []),
    ];
    const beside = besideCourse(long, part.margin);
    const outline = ground.outlines.get(panel) ?? [];
    const lines = joined(beside.slice(1).flatMap((q, i) => insideParts(beside[i]!, q, outline)));
    found.set(panel, [
      ...(found.get(panel) ?? []),
      ...lines.map((l, j) => ({ id: `${id}:on:${panel}:${k}-${j}`, ...l, label: part.name })),
    ]);
  });
  return found;
}

function beyond(from: Point, to: Point, by: Mm): Point {
  const length = Math.hypot(to.x - from.x, to.y - from.y) || 1;
  return { x: to.x + ((to.x - from.x) * by) / length, y: to.y + ((to.y - from.y) * by) / length };
}
