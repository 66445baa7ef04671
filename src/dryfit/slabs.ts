/** Panels as slabs of foam between their skins, for the solid library. */
import { dot3, type Point3, subtract3 } from '../math';
import type { BendModel } from '../model';
import type { Mm } from '../units';
import { cornerAt, type DryFitSurface, type PlacedPanel } from './placing';
import type { Prism } from './solidLibrary';
import { onePlane } from './tolerance';

/** A corner of a slab: of a face, by its place in the face's ring. */
interface SlabCorner {
  readonly face: number;
  readonly corner: number;
}

/** The slabs of a panel's faces between its skins; faces that lie in one plane make one. */
export function prismsOf(panel: PlacedPanel, { patches }: DryFitSurface, model: BendModel): Prism[] {
  const { heights, corners, outline } = panel.body;
  const borders = new Set(
    outline.flatMap(({ face, side, seam }) => (seam === null ? [`${face} ${side}`] : [])),
  );
  return slabsOf(panel).map((slab) => {
    const isBorder = slab.map(({ face, corner }) => borders.has(`${face} ${corner}`));
    const skin = (height: Mm) => {
      const at = (h: Mm) => slab.map(({ face, corner }) => cornerAt(panel, face, corner, h, model));
      return withoutTurnedBorders(at(height), at(0), isBorder);
    };
    return {
      lower: skin(heights.inside),
      upper: skin(heights.outside),
      flat: slab.map(({ face, corner }) => corners[panel.faces[face]!.ring[corner]!]!),
      corners: slab.map(({ face, corner }) => patches[panel.faces[face]!.patch]!.vertices[corner]!),
    };
  });
}

/**
 * Where a cut comes in along a border past a corner that is no more than a place on it, the border ends at the cut: the
 * corner goes there.
 * @param isBorder of the side from each corner to the next
 */
function withoutTurnedBorders(
  skin: readonly Point3[],
  neutral: readonly Point3[],
  isBorder: readonly boolean[],
): Point3[] {
  const n = skin.length;
  const found = [...skin];
  // Outward from the cut, since it may have passed several.
  for (const [step, from] of [
    [1, 0],
    [-1, n - 1],
  ] as const)
    for (let k = 0, i = from; k < 2 * n; k++, i = (i + step + n) % n) {
      const next = (i + step + n) % n;
      const [side, beyond] = step === 1 ? [i, next] : [next, (next + n - 1) % n];
      const isCut = found[i] !== skin[i] || !isBorder[i] || !isBorder[(i + n - 1) % n];
      if (!isCut || !isBorder[side] || !isBorder[beyond]) continue;
      const way = dot3(subtract3(found[next]!, found[i]!), subtract3(neutral[next]!, neutral[i]!));
      if (way < 0) found[next] = found[i]!;
    }
  return found;
}

/**
 * Rings of corners. Foam does not know of a ruling that bends nowhere: a bevel deeper than the strip beside it goes on
 * into the next one, which as a slab of its own would stand out beyond the cut.
 */
function slabsOf({ faces }: PlacedPanel): SlabCorner[][] {
  const sideAt = new Map<string, SlabCorner>();
  faces.forEach(({ ring }, face) => {
    ring.forEach(
      (node, corner) => void sideAt.set(`${node} ${ring[(corner + 1) % ring.length]!}`, { face, corner }),
    );
  });
  const across = ({ face, corner }: SlabCorner) => {
    const { ring } = faces[face]!;
    return sideAt.get(`${ring[(corner + 1) % ring.length]!} ${ring[corner]!}`);
  };
  const free = new Set(faces.keys());
  return faces.flatMap((first, f) => {
    if (!free.delete(f)) return [];
    const own = new Set([f]);
    for (const face of own)
      for (const corner of faces[face]!.ring.keys()) {
        const other = across({ face, corner })?.face;
        if (other === undefined || dot3(first.normal, faces[other]!.normal) < Math.cos(onePlane)) continue;
        if (free.delete(other)) own.add(other);
      }
    const whole = own.size > 1 ? ringRound(own, faces, across) : null;
    return whole
      ? [whole]
      : [...own].map((face) => [...faces[face]!.ring.keys()].map((corner) => ({ face, corner })));
  });
}

/** The one line round some faces; null where there are several, or it comes to a corner twice. */
function ringRound(
  own: ReadonlySet<number>,
  faces: PlacedPanel['faces'],
  across: (side: SlabCorner) => SlabCorner | undefined,
): SlabCorner[] | null {
  const from = new Map<number, SlabCorner>();
  let count = 0;
  for (const face of own)
    for (const [corner, node] of faces[face]!.ring.entries()) {
      const other = across({ face, corner });
      if (other && own.has(other.face)) continue;
      from.set(node, { face, corner });
      count++;
    }
  const start = from.keys().next().value;
  if (start === undefined) return null;
  const ring: SlabCorner[] = [];
  let node = start;
  do {
    const side = from.get(node)!;
    ring.push(side);
    const { ring: nodes } = faces[side.face]!;
    node = nodes[(side.corner + 1) % nodes.length]!;
  } while (node !== start && ring.length < count);
  return node === start && ring.length === count && from.size === count ? ring : null;
}
