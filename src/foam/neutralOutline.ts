/** The outline of a panel as stretches along the sides of its faces. */
import type { Point } from '../math';
import type { Edge } from '../model';
import { drawnPart, orderAlong } from './drawnLines';
import type { Nodes } from './flatNodes';
import type { FoamNet, NetSide } from './surface';

/** A stretch of the outline along one side of a face, in the direction of the drawn outline. */
export interface NeutralStretch {
  readonly edge: string;
  readonly side: NetSide;
  readonly startVertex: number;
  readonly endVertex: number;
  readonly startNode: number;
  readonly endNode: number;
  /** Both ends included; points between the ends where the edge is a curve. */
  readonly points: readonly Point[];
}

/** A stretch of the outline as drawn. */
export interface DrawnStretch extends Omit<NeutralStretch, 'points'> {
  readonly from: Point;
  readonly to: Point;
  readonly between: readonly Point[];
}

/** The stretches of each outline edge in drawn order. */
export function stretchesOf(
  net: FoamNet,
  faces: readonly number[],
  nodes: Nodes,
  edges: ReadonlyMap<string, Edge>,
  over: boolean,
): Map<string, DrawnStretch[]> {
  const byEdge = new Map<string, DrawnStretch[]>();
  for (const f of faces) {
    const { flat, vertices } = net.patches[f]!;
    const ring = nodes.of.get(f)!;
    for (const side of net.sides[f]!) {
      if (side.edge === null) continue;
      const i = side.corner;
      const j = (i + 1) % vertices.length;
      const [s, e] = over ? [j, i] : [i, j];
      const stretch = {
        edge: side.edge,
        side,
        startVertex: vertices[s]!,
        endVertex: vertices[e]!,
        startNode: ring[s]!,
        endNode: ring[e]!,
        from: flat[s]!,
        to: flat[e]!,
        between: [],
      };
      byEdge.set(side.edge, [...(byEdge.get(side.edge) ?? []), stretch]);
    }
  }
  return new Map(
    [...byEdge].map(([id, list]) => {
      const line = edges.get(id)?.points ?? [];
      const ordered = list.length > 1 ? orderAlong(line, list) : list;
      return [
        id,
        ordered.map((s) => ({ ...s, between: line.length > 2 ? drawnPart(line, s.from, s.to) : [] })),
      ];
    }),
  );
}
