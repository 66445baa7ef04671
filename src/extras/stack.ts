/** What lies on the skins of the shell already, so that later layers stand on it. */
import type { Point } from '../math';
import type { ExtraSide } from '../model';
import { intersectRings } from '../plane';
import type { Mm } from '../units';
import type { Ground, Seat } from './ground';
import type { LaidFaces } from './layFlat';
import { areaOf, faceByFace } from './regions';
import { carriesFrom } from './tolerance';

interface Cover {
  /** What of the face is covered, in the coordinates of its flat corners. */
  readonly rings: readonly (readonly Point[])[];
  /** How far it reaches beyond the skin of the face. */
  readonly reach: Mm;
  readonly panel: string;
  /** The face on that panel. */
  readonly ring: readonly Point[];
}

type SideLaid = ReadonlyMap<number, readonly Cover[]>;

export interface Laid {
  readonly outside: SideLaid;
  readonly inside: SideLaid;
}

export const noLayers: Laid = { outside: new Map(), inside: new Map() };

interface OnFace {
  readonly face: number;
  readonly rings: readonly (readonly Point[])[];
}

/** The topmost of what carries a part there: whatever lies under more than a sliver of it. */
function under(covers: readonly Cover[] | undefined, rings: OnFace['rings']): Cover | null {
  // Copies of faces that are drawn from inside run clockwise.
  const size = Math.abs(areaOf(rings));
  const carrying = (covers ?? []).filter(
    (c) => Math.abs(areaOf(intersectRings(c.rings, rings))) > carriesFrom * size,
  );
  return carrying.reduce<Cover | null>((best, c) => (best && best.reach > c.reach ? best : c), null);
}

/** How far what lies under a part reaches beyond the skin, by face. */
export function reachOf(laid: Laid, side: ExtraSide, on: readonly OnFace[]): Map<number, Mm> {
  return new Map(
    on.flatMap(({ face, rings }) => {
      const cover = under(laid[side].get(face), rings);
      return cover ? [[face, cover.reach] as const] : [];
    }),
  );
}

/** Panels that carry a flat part, and where each face is on them: layers below, else the shell's own. */
export function covering(
  ground: Ground,
  laid: Laid,
  side: ExtraSide,
  group: LaidFaces,
  rings: readonly (readonly Point[])[],
): ReadonlyMap<number, Pick<Seat, 'panel' | 'ring'>> {
  return new Map(
    faceByFace(group.faces, group.rings, rings, (f) => ground.patches[f]!.flat).map(
      ({ face, rings: own }) => {
        const seat = ground.seats[face]!;
        return [face, under(laid[side].get(face), own) ?? seat] as const;
      },
    ),
  );
}

/** The same with one more part on it. */
export function laidOn(
  laid: Laid,
  side: ExtraSide,
  on: readonly OnFace[],
  coverOf: (face: number) => Omit<Cover, 'rings'>,
): Laid {
  const next = new Map(laid[side]);
  for (const { face, rings } of on) next.set(face, [...(next.get(face) ?? []), { rings, ...coverOf(face) }]);
  return { ...laid, [side]: next };
}
