/** Panels as they are printed: every line and letter of a marked panel, laid with a placing. */
import { type Box, boxOf, type Point } from '../math';
import {
  type Lettering,
  type LineKind,
  type MarkedPanel,
  type Placing,
  placeLettering,
  placePoints,
} from '../model';

export interface PrintedLine {
  readonly kind: LineKind;
  readonly points: readonly Point[];
  readonly closed: boolean;
}

export interface PrintedPanel {
  readonly panel: string;
  readonly name: string;
  readonly lines: readonly PrintedLine[];
  readonly lettering: readonly Lettering[];
  /** Cut outlines, to tell what lies on the panel. */
  readonly rings: readonly (readonly Point[])[];
  /** Bounds of all ink. */
  readonly box: Box;
}

/** Lays a marked panel. */
export function printPanel(marked: MarkedPanel, placing: Placing): PrintedPanel {
  const lines: PrintedLine[] = marked.lines.map((line) => ({
    kind: line.kind,
    points: placePoints(line.points, placing),
    closed: line.closed,
  }));
  for (const notch of marked.notches)
    lines.push({ kind: 'notch', points: placePoints([notch.at, notch.to], placing), closed: false });
  const lettering = marked.lettering.map((l) => placeLettering(l, placing));
  return {
    panel: marked.panel.id,
    name: marked.panel.name,
    lines,
    lettering,
    rings: marked.panel.outlines.traced.map((ring) => placePoints(ring, placing)),
    box: boxOf([...lines.flatMap((l) => l.points), ...lettering.flatMap((l) => l.rings.flat())]),
  };
}

/** Segments of all ink; letters by their outlines. */
export function* inkSegments(panel: PrintedPanel): Generator<readonly [Point, Point]> {
  for (const line of panel.lines) {
    for (let i = 1; i < line.points.length; i++) yield [line.points[i - 1]!, line.points[i]!];
    if (line.closed && line.points.length > 1) yield [line.points.at(-1)!, line.points[0]!];
  }
  for (const letter of panel.lettering) {
    for (const ring of letter.rings) {
      for (const [i, p] of ring.entries()) yield [p, ring[(i + 1) % ring.length]!];
    }
  }
}

/** Even-odd test against the cut outlines. */
export function onPanel(panel: PrintedPanel, p: Point): boolean {
  let odd = false;
  for (const ring of panel.rings) {
    for (const [i, a] of ring.entries()) {
      const b = ring[(i + 1) % ring.length]!;
      if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) odd = !odd;
    }
  }
  return odd;
}
