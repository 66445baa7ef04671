/** A panel from the shell as a flat body with both skins, before anything is cleaned up: what a dry fit bends. */
import { type Point, point } from '../math';
import type { PanelBody } from '../model';
import type { CutPiece } from './cutPiece';
import { type FoamNet, innerNeighbour } from './surface';

export function panelBody({ neutral, plan, loops, corners }: CutPiece, net: FoamNet): PanelBody {
  const seen = (p: Point): Point => (neutral.over ? point(-p.x, p.y) : p);
  const moves = neutral.corners.map(() => ({ inside: point(0, 0), outside: point(0, 0) }));
  loops.forEach((loop, l) => {
    loop.forEach(({ endNode }, k) => {
      const { inside, outside } = corners[l]![k]!;
      moves[endNode] = { inside: seen(inside), outside: seen(outside) };
    });
  });
  return {
    heights: { inside: -plan.depths.inside, outside: plan.depths.outside },
    depth: neutral.depth,
    corners: neutral.corners.map(seen),
    moves,
    faces: neutral.faces,
    outline: neutral.faces.flatMap(({ patch }, face) =>
      net.sides[patch]!.flatMap((side) =>
        innerNeighbour(net, side)
          ? []
          : [{ face, side: side.corner, seam: side.kind === 'seam' ? side.id : null }],
      ),
    ),
    folds: neutral.faces.flatMap(({ patch }, face) =>
      net.sides[patch]!.flatMap((side) =>
        innerNeighbour(net, side) ? [{ face, side: side.corner, fold: side.id }] : [],
      ),
    ),
  };
}
