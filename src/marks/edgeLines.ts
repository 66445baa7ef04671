/**
 * The lines of a panel before lettering: the closed cut outline, short ticks across open edges, folds by their role.
 */
import { add, type Point, pointAlong, polylineLength, scaleBy, subtract, turnLeft, unitOf } from '../math';
import type { LineKind, MarkLine, Panel, PanelFold } from '../model';
import { distanceTo, type Line, linesOf } from './room';
import { borderTickEvery, borderTickReach, onOutline } from './tolerance';

/**
 * The traced outline and holes, one closed line each. Open edges are part of it; what marks them as open are the ticks
 * of {@link borderTicks}, so that a cutter still gets each outline as one path.
 */
export function outlineLines(panel: Panel): MarkLine[] {
  return panel.outlines.traced.map((points) => ({ kind: 'cut', points, closed: true, of: panel.id }));
}

/** Ticks across every open edge, evenly spread, where the edge lies on the cleaned outline. */
export function borderTicks(panel: Panel): MarkLine[] {
  // All edges of a part that lies on others are open: ticks would say nothing.
  if (panel.extra) return [];
  const outline: Line[] = panel.outlines.traced.flatMap((ring) => linesOf([...ring, ...ring.slice(0, 1)]));
  return panel.loops.flat().flatMap((edge): MarkLine[] => {
    if (edge.seam !== null || edge.points.length < 2) return [];
    const length = polylineLength(edge.points);
    const count = Math.max(1, Math.round(length / borderTickEvery));
    return Array.from({ length: count }, (_, i) => tickAt(edge.points, ((i + 0.5) * length) / count))
      .filter(({ at }) => outline.some((line) => distanceTo(at, line) <= onOutline))
      .map(({ ends }) => ({ kind: 'border', points: ends, closed: false, of: edge.id }));
  });
}

function tickAt(points: readonly Point[], along: number): { at: Point; ends: Point[] } {
  const { at, segment } = pointAlong(points, along);
  const across = scaleBy(turnLeft(unitOf(subtract(points[segment + 1]!, points[segment]!))), borderTickReach);
  return { at, ends: [subtract(at, across), add(at, across)] };
}

/** Folds keep the dash of their role; a fold of unknown direction is drawn as a plain soft bend, a scored one
 *  as such. */
export function foldLines(panel: Panel): MarkLine[] {
  return panel.folds
    .filter((f) => f.points.length >= 2)
    .map((fold) => ({ kind: foldKind(fold), points: fold.points, closed: false, of: fold.id }));
}

function foldKind(fold: PanelFold): LineKind {
  if (fold.groove) return 'scored';
  return fold.role === 'unknown' ? 'softBend' : fold.role;
}

/** Lines that show where something goes. */
export function guideLines(panel: Panel): MarkLine[] {
  return (panel.guides ?? [])
    .filter((g) => g.points.length >= 2)
    .map(({ id, points, closed }) => ({ kind: 'placement', points, closed, of: id }));
}
