/**
 * What a thin part lies on, everywhere on one side of the shell: each panel where it is bare, and each layer where nothing
 * lies on it. Together they are the whole skin, each point of it once.
 */
import type { Point } from '../math';
import type { ExtraSide } from '../model';
import { intersectRings, subtractRings, uniteRings } from '../plane';
import type { Mm } from '../units';
import { carry } from './clip';
import { bareHeight, type Ground } from './ground';
import type { LaidFaces } from './layFlat';
import { areaOf, type Region } from './regions';
import type { Laid } from './stack';
import { shaving, sliver } from './tolerance';

type Rings = readonly (readonly Point[])[];

export interface CarriedFace {
  /** What of the face it is, in the coordinates of the face's flat corners; null: all of it. */
  readonly open: Rings | null;
  /** Corners of the face on the panel. */
  readonly ring: readonly Point[];
}

export interface Carrier {
  readonly panel: string;
  /** Of its skin above the paper's surface. */
  readonly height: Mm;
  readonly faces: ReadonlyMap<number, CarriedFace>;
}

/** The panels of the shell first, in the order of its faces, then the layers in theirs. */
export function carriersOf(ground: Ground, laid: Laid, side: ExtraSide): Carrier[] {
  const bare = new Map<string, { height: Mm; faces: Map<number, CarriedFace> }>();
  const layers: typeof bare = new Map();
  ground.seats.forEach((seat, face) => {
    if (!seat) return;
    const skin = bareHeight(ground, face, side);
    const add = (to: typeof bare, panel: string, height: Mm, carried: CarriedFace) => {
      const found = to.get(panel) ?? { height, faces: new Map() };
      to.set(panel, found);
      found.faces.set(face, carried);
    };
    // From the top down: what a higher one covers is taken off those below.
    const covers = [...(laid[side].get(face) ?? [])].sort((a, b) => b.reach - a.reach);
    let above: Rings = [];
    for (const { panel, reach, rings, ring } of covers) {
      const open = above.length > 0 ? subtractRings(rings, above) : rings;
      if (Math.abs(areaOf(open)) > sliver)
        add(layers, panel, side === 'outside' ? skin + reach : skin - reach, { open, ring });
      above = uniteRings([...above, ...rings], 'nonZero');
    }
    const open = above.length > 0 ? subtractRings([ground.patches[face]!.flat], above) : null;
    if (open === null || Math.abs(areaOf(open)) > sliver)
      add(bare, seat.panel, skin, { open, ring: seat.ring });
  });
  return [...bare, ...layers].map(([panel, carrier]) => ({ panel, ...carrier }));
}

/** What of a region lies on a carrier, on a group of its faces that lies flat. */
export function regionOnCarrier(
  { laid, rings }: Region,
  group: LaidFaces,
  ground: Ground,
  { faces }: Carrier,
): Point[][] {
  const parts = group.faces.flatMap((face) => {
    const [here, there] = [laid.rings.get(face), faces.get(face)];
    if (!here || !there) return [];
    const own = intersectRings(rings, [here]);
    const { flat } = ground.patches[face]!;
    const drawn = own.map((ring) => ring.map(carry(here, flat)));
    const kept = there.open ? intersectRings(drawn, there.open) : drawn;
    if (Math.abs(areaOf(kept)) <= sliver) return [];
    return kept.map((ring) => ring.map(carry(flat, group.rings.get(face)!)));
  });
  return uniteRings(parts, 'nonZero').filter((r) => Math.abs(areaOf([r])) > shaving);
}

/** All of a carrier on a group of its faces. */
export const openOn = (group: LaidFaces, ground: Ground, { faces }: Carrier): Point[][] =>
  uniteRings(
    group.faces.flatMap((face) => {
      const { flat } = ground.patches[face]!;
      return (faces.get(face)?.open ?? [flat]).map((ring) => ring.map(carry(flat, group.rings.get(face)!)));
    }),
    'nonZero',
  );
