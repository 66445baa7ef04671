/** Lines of a flat part that lies on faces: its folds, and its outline on the panels that carry it. */
import type { Point } from '../math';
import type { PanelFold, PanelGuide } from '../model';
import { carry, insideParts, joined } from './clip';
import type { Ground, Seat } from './ground';
import type { LaidFaces } from './layFlat';
import { visibleBend } from './tolerance';

/** Folds of the part, as far as they are within its outline. */
export function foldsOf({ folds }: LaidFaces, rings: readonly (readonly Point[])[], id: string): PanelFold[] {
  return folds.flatMap(({ points: [a, b], bend }, k) =>
    Math.abs(bend) < visibleBend
      ? []
      : insideParts(a, b, rings).map(
          (points, j): PanelFold => ({
            id: `${id}:fold-${k}-${j}`,
            points,
            role: bend > 0 ? 'mountain' : 'valley',
            bend,
            bendFrom: 'shell',
          }),
        ),
  );
}

/** The outline as it lies on the panels below, face by face. */
export function placement(
  label: string,
  ground: Ground,
  below: ReadonlyMap<number, Pick<Seat, 'panel' | 'ring'>>,
  group: LaidFaces,
  rings: readonly (readonly Point[])[],
  id: string,
): Map<string, PanelGuide[]> {
  const seats = group.faces.map((face) => {
    const ring = group.rings.get(face)!;
    const seat = below.get(face) ?? ground.seats[face]!;
    return { ring, panel: seat.panel, carried: carry(ring, seat.ring) };
  });
  const found = new Map<string, PanelGuide[]>();
  for (const [r, ring] of rings.entries()) {
    const stretches = new Map<string, [Point, Point][]>();
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      // In the order along the side, so that stretches of neighbouring faces join.
      const parts = seats.flatMap((seat) =>
        insideParts(a, b, [seat.ring]).map((p) => ({ seat, p, at: Math.hypot(p[0].x - a.x, p[0].y - a.y) })),
      );
      for (const { seat, p } of parts.sort((x, y) => x.at - y.at)) {
        const list = stretches.get(seat.panel) ?? [];
        stretches.set(seat.panel, list);
        list.push([seat.carried(p[0]), seat.carried(p[1])]);
      }
    });
    for (const [panel, list] of stretches) {
      const lines = joined(list).map(
        (line, k): PanelGuide => ({ id: `${id}:on:${panel}:${r}-${k}`, ...line, label }),
      );
      found.set(panel, [...(found.get(panel) ?? []), ...lines]);
    }
  }
  return found;
}
