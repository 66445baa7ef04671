/** Panels as solids, and the volume that two of them take at once. */
import type { Work } from '../base';
import { add3, type Point3, point3, scaleBy3 } from '../math';
import type { BendModel } from '../model';
import type { DryFitSurface, PlacedPanel } from './placing';
import { prismsOf } from './slabs';
import type { Solid, SolidLibrary } from './solidLibrary';

export interface SharedVolume {
  /** Places in the list of panels. */
  readonly a: number;
  readonly b: number;
  readonly volume: number;
  readonly at: Point3;
}

export interface Volumes {
  /** Of all panels together, mm³. */
  readonly foam: number;
  readonly shared: readonly SharedVolume[];
}

const middleOf = ({ places }: DryFitSurface): Point3 =>
  scaleBy3(places.reduce(add3, point3(0, 0, 0)), 1 / Math.max(1, places.length));

/** @throws Cancelled through `work` */
export async function measureVolumes(
  panels: readonly PlacedPanel[],
  surface: DryFitSurface,
  model: BendModel,
  library: SolidLibrary,
  work: Work,
): Promise<Volumes> {
  const middle = middleOf(surface);
  const solids: (Solid | null)[] = [];
  try {
    for (const [k, panel] of panels.entries()) {
      solids.push(library.join(prismsOf(panel, surface, model), middle));
      await work.step(k, 2 * panels.length, 'Making solids of the panels');
    }
    const shared: SharedVolume[] = [];
    for (const [a, solid] of solids.entries()) {
      for (let b = a + 1; solid && b < solids.length; b++) {
        const other = solids[b];
        if (!other || apart(solid, other)) continue;
        const both = solid.shared(other);
        if (both) shared.push({ a, b, ...both });
      }
      await work.step(panels.length + a, 2 * panels.length, 'Measuring where panels overlap');
    }
    return { foam: solids.reduce((sum, s) => sum + (s?.volume ?? 0), 0), shared };
  } finally {
    for (const solid of solids) solid?.free();
  }
}

const apart = ({ box: p }: Solid, { box: q }: Solid): boolean =>
  [0, 1, 2].some((k) => p.max[k]! < q.min[k]! || q.max[k]! < p.min[k]!);
