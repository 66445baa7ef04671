import { type Point3, point3 } from '../math';
import type { Shell, ShellDecisions } from '../model';

/**
 * The shell turned about the origin: about x (right), then y (front), then z (up), each counter-clockwise seen from
 * the axis' tip, rad. All parts turn together; lengths, bends and findings stay.
 * @returns the same object when nothing turns
 */
export function turnShell(shell: Shell, turned: ShellDecisions['turned']): Shell {
  if (turned.x === 0 && turned.y === 0 && turned.z === 0) return shell;
  const turn = rotation(turned);
  return {
    ...shell,
    vertices: shell.vertices.map(turn),
    softModes: shell.softModes.map((mode) => mode.map(turn)),
    symmetry: shell.symmetry && {
      ...shell.symmetry,
      plane: { ...shell.symmetry.plane, normal: turn(shell.symmetry.plane.normal) },
    },
  };
}

/** Rotation matrices of the three axes one after the other. */
function rotation({ x, y, z }: ShellDecisions['turned']): (p: Point3) => Point3 {
  const [cx, sx, cy, sy, cz, sz] = [
    Math.cos(x),
    Math.sin(x),
    Math.cos(y),
    Math.sin(y),
    Math.cos(z),
    Math.sin(z),
  ];
  return (p) => {
    const y1 = cx * p.y - sx * p.z;
    const z1 = sx * p.y + cx * p.z;
    const x2 = cy * p.x + sy * z1;
    const z2 = cy * z1 - sy * p.x;
    return point3(cz * x2 - sz * y1, sz * x2 + cz * y1, z2);
  };
}
