/** Rings as a panel of foam, cut square. */
import { cross, dot, type Point, subtract } from '../math';
import type { ExtraPart, FoamDecisions, Panel, PanelEdge, PanelFold, PanelGuide } from '../model';
import { offsetRings } from '../plane';
import type { Mm } from '../units';
import { edgeTurn, mitreLimit } from './tolerance';

export interface FlatPart {
  readonly id: string;
  readonly name: string;
  /** Outline counter-clockwise first, holes clockwise. */
  readonly rings: readonly (readonly Point[])[];
  readonly quantity: number;
  readonly thickness: Mm;
  readonly folds: readonly PanelFold[];
  readonly guides: readonly PanelGuide[];
}

/** What stencils are cut from. */
const stencilMaterial = 'card or film';

export function asPanel(part: ExtraPart, flat: FlatPart, foam: FoamDecisions): Panel {
  const grown = foam.kerf / 2;
  const traced =
    grown > 0 ? offsetRings(flat.rings, grown, { kind: 'mitre', limit: mitreLimit }) : flat.rings;
  const material =
    part.kind === 'stencil'
      ? { material: stencilMaterial }
      : foam.material !== '' && flat.thickness === foam.thickness
        ? { material: foam.material }
        : {};
  return {
    id: flat.id,
    name: flat.name,
    pieces: [],
    quantity: flat.quantity,
    mirrored: false,
    thickness: flat.thickness,
    ...material,
    loops: traced.map((ring, loop) => edgesOf(ring, `${flat.id}:${loop}`, grown)),
    folds: flat.folds,
    outlines: { inside: flat.rings, traced, outside: flat.rings },
    extra: { kind: part.kind, part: part.id },
    ...(flat.guides.length > 0 ? { guides: flat.guides } : {}),
  };
}

/** A ring taken apart at its corners. */
function edgesOf(ring: readonly Point[], id: string, shift: Mm): PanelEdge[] {
  const n = ring.length;
  const corners = ring.flatMap((p, i) => {
    const a = subtract(p, ring[(i + n - 1) % n]!);
    const b = subtract(ring[(i + 1) % n]!, p);
    return Math.abs(Math.atan2(cross(a, b), dot(a, b))) > edgeTurn ? [i] : [];
  });
  const starts = corners.length > 0 ? corners : [0];
  return starts.map((from, k) => {
    const to = starts[(k + 1) % starts.length]!;
    const steps = (to - from + n - 1) % n;
    const points = Array.from({ length: steps + 2 }, (_, i) => ring[(from + i) % n]!);
    return { id: `${id}.${k}`, seam: null, shift, bevel: 0, bend: null, points, curved: points.length > 2 };
  });
}
