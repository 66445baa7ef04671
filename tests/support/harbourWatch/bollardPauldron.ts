/**
 * The Bollard pauldron: a guard for the left shoulder, like the cap of a mooring post: a collar that stands up at the
 * neck, a domed cap, a groove under it and a flared skirt over the arm. Not symmetric: longer and lower in front.
 */
import { MeshBuilder } from './meshBuilder';
import type { ShellMesh } from './shellMesh';
import { type Vec3, vec } from './vec3';

/** Rows from the neck outwards: angle from straight up towards the arm (degrees), distance from the centre, mm. */
const rows: readonly (readonly [tilt: number, reach: number])[] = [
  [-44, 118],
  [-33, 97],
  [-6, 101],
  [22, 106],
  [46, 104],
  [58, 94],
  [86, 121],
];

/** Columns from the back to the front, degrees. */
const columns: readonly number[] = [-68, -43, -16, 12, 40, 72];

export function bollardPauldron(): ShellMesh {
  const builder = new MeshBuilder();
  const net = rows.map(([tilt, reach], k) =>
    columns.map((column, j): Vec3 => {
      const a = (tilt * Math.PI) / 180 + 0.0009 * column * (k - 2);
      const b = (column * Math.PI) / 180;
      const front = 1 + 0.1 * Math.sin(b) + 0.02 * Math.cos(2 * j + k);
      return vec(
        reach * Math.sin(a) * Math.cos(0.55 * b) * front,
        1.08 * reach * Math.sin(b) * front,
        reach * Math.cos(a) * Math.cos(0.8 * b),
      );
    }),
  );
  for (let k = 0; k + 1 < net.length; k++)
    builder.strip(net[k + 1]!, net[k]!, k === 0 || k === 4 ? 'concave' : 'convex');
  return builder.build('Bollard pauldron');
}
