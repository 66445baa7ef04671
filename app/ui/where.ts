/**
 * Where things are on the drawing: the points the bench should show for a finding or a row of a table. Pure; the space
 * is the pattern's own (mm, y up).
 */
import type { Issue } from '../../src/base';
import type { Point } from '../../src/math';
import type { Drawing, Pattern, Seams } from '../../src/model';

/** What ids can be looked up in; each part may not be computed yet. */
export interface Known {
  readonly drawing: Drawing | null;
  readonly pattern: Pattern | null;
  readonly seams: Seams | null;
}

/** Points of the things with these ids, none for ids that nothing has. */
export function pointsOf(ids: Iterable<string>, known: Known): Point[] {
  const wanted = new Set(ids);
  if (wanted.size === 0) return [];
  const found: Point[] = [];
  for (const run of known.seams?.runs ?? [])
    if (wanted.has(run.id)) for (const id of run.seams) wanted.add(id);
  for (const seam of known.seams?.seams ?? []) {
    if (!wanted.has(seam.id)) continue;
    wanted.add(seam.a.edge);
    wanted.add(seam.b.edge);
  }
  for (const piece of known.pattern?.pieces ?? []) {
    const whole = wanted.has(piece.id);
    for (const loop of [piece.outline, ...piece.holes])
      for (const edge of loop) if (whole || wanted.has(edge.id)) found.push(...edge.points);
    for (const fold of piece.folds) if (wanted.has(fold.id)) found.push(...fold.points);
    for (const tab of piece.tabs) if (wanted.has(tab.id)) found.push(...tab.polygon);
    for (const face of piece.faces) if (wanted.has(face.id)) found.push(...face.polygon);
  }
  for (const line of known.drawing?.lines ?? []) {
    if (!wanted.has(line.id)) continue;
    found.push(line.start, ...line.segments.map((segment) => segment.to));
  }
  for (const text of known.drawing?.texts ?? []) if (wanted.has(text.id)) found.push(text.centre);
  return found;
}

/** The points of a finding: its things where they are known, and its own position. */
export function pointsOfIssue(issue: Issue, known: Known): Point[] {
  const points = pointsOf(issue.place.ids ?? [], known);
  return issue.place.at ? [...points, issue.place.at] : points;
}
