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
  type SteppedShell,
  steppedPlaces,
  steppedShell,
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

/** Depths of the foam, and those inside of each face where panels differ in thickness. */
export interface ShellDepths extends FoamDepths {
  readonly insideOf?: readonly Mm[];
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
  /** The inside with the steps between panels of different thickness; absent where there are none. */
  readonly steps?: { readonly shell: Shell; readonly places: readonly Point3[] };
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
  depths: ShellDepths,
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
  const stepped =
    depths.insideOf &&
    steppedShell(
      shell,
      depths.insideOf.map((depth) => -depth),
    );
  const places = stepped && steppedPlaces(stepped, paper, u);
  return {
    shell,
    scales,
    plane: scaledPlane(brow, scales),
    vectors: u,
    depths,
    inside: stepped && places ? deepestOf(shell, stepped, places) : offsetPlaces(paper, u, -depths.inside),
    paper,
    outside: offsetPlaces(paper, u, depths.outside),
    ...(stepped && places ? { steps: { shell: stepped.shell, places } } : {}),
  };
}

/** Each vertex on the thickest of its panels: no room is counted that one of them takes. */
function deepestOf(shell: Shell, { stands }: SteppedShell, places: readonly Point3[]): Point3[] {
  const deepest = shell.vertices.map((_, v) => v);
  stands.forEach(({ vertex, height }, k) => {
    if (height < stands[deepest[vertex]!]!.height) deepest[vertex] = k;
  });
  return deepest.map((k) => places[k]!);
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
): ClosedSection | null =>
  surface === 'inside' && finished.steps
    ? closedSection(finished.steps.shell, finished.plane, finished.steps.places)
    : closedSection(finished.shell, finished.plane, finished[surface]);

/** The brow section of the inside as the contract has it. */
export function insideBrowOf(finished: FinishedShell, brow: BrowSection): BrowSection | null {
  const { normal } = finished.plane;
  const { shell, places } = finished.steps ?? { shell: finished.shell, places: finished.inside };
  return browSection(
    shell,
    { at: brow.at, tilt: Math.atan2(-normal.y, normal.z), proposed: brow.proposed },
    finished.plane,
    places,
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
