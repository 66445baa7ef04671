/** Where a helmet is padded: at front, back and both sides along the brow, and under the crown. */
import { add3, dot3, type Point3, point3, scaleBy3 } from '../math';
import type { Plane3, Shell } from '../model';
import { faceNormals } from '../shell';
import type { Mm, Rad } from '../units';

export interface PaddingRegion {
  readonly name: 'Front' | 'Back' | 'Left' | 'Right' | 'Crown';
  /** Faces of the pattern, each once. */
  readonly faces: readonly string[];
}

/** A pad along the brow spans this much to either side of its direction; common practice, no source. */
const span: Rad = (28 * Math.PI) / 180;
/** And reaches so far below and above the brow plane. */
const below: Mm = 15;
const above: Mm = 45;
/** Under the crown: faces that lean less than this from level, and lie so near to the middle, as a part of the reach. */
const level: Rad = (40 * Math.PI) / 180;
const crownReach = 0.6;

/**
 * The faces of each pad, by their middles; regions without faces are left out.
 * @param places the shell's vertices at the final size: x right, y front, z up
 * @param brow the brow plane at that size
 */
export function paddingRegions(shell: Shell, places: readonly Point3[], brow: Plane3): PaddingRegion[] {
  const normals = faceNormals({ vertices: places, faces: shell.faces });
  const own = new Set(shell.components[0]?.faces ?? []);
  const faces = shell.faces.flatMap(({ face, vertices }, i) => {
    if (!own.has(i)) return [];
    const sum = vertices.reduce((total, v) => add3(total, places[v]!), point3(0, 0, 0));
    const middle = scaleBy3(sum, 1 / vertices.length);
    return [{ face, middle, normal: normals[i]!, height: dot3(middle, brow.normal) - brow.offset }];
  });
  const band = faces.filter((f) => f.height >= -below && f.height <= above);
  if (band.length === 0) return [];
  const xs = band.map((f) => f.middle.x);
  const ys = band.map((f) => f.middle.y);
  const centre = { x: (Math.min(...xs) + Math.max(...xs)) / 2, y: (Math.min(...ys) + Math.max(...ys)) / 2 };
  const reach = Math.max(...xs) - centre.x;
  const towards = (angle: Rad) =>
    band.filter(({ middle, normal }) => {
      const off = Math.atan2(middle.y - centre.y, middle.x - centre.x) - angle;
      const outward = normal.x * (middle.x - centre.x) + normal.y * (middle.y - centre.y) > 0;
      return outward && Math.abs(Math.atan2(Math.sin(off), Math.cos(off))) <= span;
    });
  const crown = faces.filter(
    ({ middle, normal, height }) =>
      height > above &&
      normal.z >= Math.cos(level) &&
      Math.hypot(middle.x - centre.x, middle.y - centre.y) <= crownReach * reach,
  );
  const named: readonly [PaddingRegion['name'], typeof faces][] = [
    ['Front', towards(Math.PI / 2)],
    ['Back', towards(-Math.PI / 2)],
    ['Left', towards(Math.PI)],
    ['Right', towards(0)],
    ['Crown', crown],
  ];
  return named.flatMap(([name, list]) =>
    list.length === 0 ? [] : [{ name, faces: [...new Set(list.map((f) => f.face))] }],
  );
}
