/** A tray whose last wall comes back to the first: both take the same foam, though they are not glued together. */
import { MeshBuilder, type ShellMesh, vec } from '../support/harbourWatch';

export const hookReach = { near: 3, wall: 60 } as const;

/** Seen from above; the last corner is `near` mm inside the first wall. */
const plan = [
  [0, 0],
  [120, 0],
  [120, 84],
  [30, 84],
  [30, hookReach.near],
] as const;

/** Floor and four walls, each a face of its own. */
export function hookedWall(): ShellMesh {
  const builder = new MeshBuilder();
  const low = plan.map(([x, y]) => vec(x, y, 0));
  const high = plan.map(([x, y]) => vec(x, y, hookReach.wall));
  builder.face(...[...low].reverse());
  for (let k = 0; k + 1 < plan.length; k++) builder.face(low[k]!, low[k + 1]!, high[k + 1]!, high[k]!);
  return builder.build('hooked wall');
}
