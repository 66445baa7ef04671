/**
 * The finished shell: the folded pattern scaled, with the surfaces of the foam, and its sections. Thickness does not
 * scale. All lengths mm, axes as those of the shell: x right, y front, z up.
 */
import { type Point3, point3 } from '../math';
import type { BrowDecision, BrowSection, FoamDepths, Plane3, Shell, ShellFit } from '../model';
import {
  browSection,
  type ClosedSection,
  closedSection,
  extentOf,
  offsetPlaces,
  offsetVectors,
  proposeBrow,
} from '../shell';
import type { Mm } from '../units';

export type Scales = ShellFit['scales'];

export const evenScales = (scale: number): Scales => ({ breadth: scale, length: scale, height: scale });

/** The brow section of the pattern's own shell, as decided or proposed; null when the plane misses the shell. */
export function browOf(shell: Shell, decided: BrowDecision): BrowSection | null {
  const proposed = decided.at === null;
  const at = decided.at ?? proposeBrow(shell).at;
  return browSection(shell, { at, tilt: decided.tilt ?? 0, proposed });
}

export interface FinishedShell {
  readonly shell: Shell;
  readonly scales: Scales;
  /** The brow plane of the pattern, carried along with the scaling. */
  readonly plane: Plane3;
  readonly vectors: readonly Point3[];
  readonly depths: FoamDepths;
  readonly inside: readonly Point3[];
  readonly paper: readonly Point3[];
  readonly outside: readonly Point3[];
}

/** The one factor that changes volumes as the three do. */
export const meanScale = ({ breadth, length, height }: Scales): number =>
  breadth === length && length === height ? length : Math.cbrt(breadth * length * height);

/**
 * The shell scaled by axis, with its foam. Parts beside the largest one, which stand as the program put them, keep
 * their shape: they are scaled by the mean of the three.
 * @param vectors offset vectors where they are known already: they stay the same under one scale for all axes
 */
export function finishShell(
  shell: Shell,
  brow: Plane3,
  scales: Scales,
  depths: FoamDepths,
  vectors?: readonly Point3[],
): FinishedShell {
  const own = new Set(shell.components[0]?.vertices ?? []);
  const mean = meanScale(scales);
  const paper = shell.vertices.map((p, v) =>
    own.has(v)
      ? point3(p.x * scales.breadth, p.y * scales.length, p.z * scales.height)
      : point3(p.x * mean, p.y * mean, p.z * mean),
  );
  const u = vectors ?? offsetVectors({ vertices: paper, faces: shell.faces });
  return {
    shell,
    scales,
    plane: scaledPlane(brow, scales),
    vectors: u,
    depths,
    inside: offsetPlaces(paper, u, -depths.inside),
    paper,
    outside: offsetPlaces(paper, u, depths.outside),
  };
}

/** The plane through the scaled points of a plane. */
function scaledPlane({ normal, offset }: Plane3, { breadth, length, height }: Scales): Plane3 {
  const n = point3(normal.x / breadth, normal.y / length, normal.z / height);
  const size = Math.hypot(n.x, n.y, n.z);
  return { normal: point3(n.x / size, n.y / size, n.z / size), offset: offset / size };
}

/** The section of a surface of the finished shell at the brow; null when the plane misses it. */
export const browOn = (
  finished: FinishedShell,
  surface: 'inside' | 'paper' | 'outside',
): ClosedSection | null => closedSection(finished.shell, finished.plane, finished[surface]);

/** The brow section of the inside as the contract has it. */
export function insideBrowOf(finished: FinishedShell, brow: BrowSection): BrowSection | null {
  const { normal } = finished.plane;
  return browSection(
    finished.shell,
    { at: brow.at, tilt: Math.atan2(-normal.y, normal.z), proposed: brow.proposed },
    finished.plane,
    finished.inside,
  );
}

/** Size of a surface of the finished shell along the axes: its largest part. */
export function sizeOf(finished: FinishedShell, surface: 'inside' | 'outside'): Point3 {
  const { least, most } = extentOf(finished.shell, finished[surface]);
  return point3(most.x - least.x, most.y - least.y, most.z - least.z);
}

/** Taut girths at the brow; null where the plane misses the surface. */
export interface BrowGirths {
  readonly inside: Mm | null;
  readonly outside: Mm | null;
}

export const girthsOf = (finished: FinishedShell): BrowGirths => ({
  inside: browOn(finished, 'inside')?.tautGirth ?? null,
  outside: browOn(finished, 'outside')?.tautGirth ?? null,
});
