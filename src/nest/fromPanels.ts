/** The panels of a job as nesting wants them. */
import { type Point, ringArea } from '../math';
import type { Panel } from '../model';
import { uniteRings } from '../plane';
import type { Rad } from '../units';
import { mirrorRegion, type Region } from './forms';
import type { AllowedTurns, LockedPose, NestPanel } from './types';

/** What is decided about panels on sheets; what is said of one panel goes before what is said of all. */
export interface NestRules {
  readonly turns: AllowedTurns;
  readonly turnsOf: Readonly<Record<string, AllowedTurns>>;
  /** Foam with two equal faces: panels without bevels may be turned over. */
  readonly facesAlike: boolean;
  /** What is said of single panels. */
  readonly turnOverOf?: Readonly<Record<string, boolean>>;
  readonly locked: Readonly<Record<string, readonly LockedPose[]>>;
}

/** Id of the mirrored twin of a panel on a sheet. */
export const twinId = (panel: string) => `${panel}/mirrored`;

/** Id of the panel that a twin is the twin of; its own of any other. */
export const plainIdOf = (id: string) => (id.endsWith('/mirrored') ? id.slice(0, -'/mirrored'.length) : id);

/** A bevel smaller than this is cut square. */
const leastBevel: Rad = 1e-6;

/** A panel with a slanted edge, which can't be turned over. */
export const isBevelled = ({ loops }: Panel): boolean =>
  loops.some((loop) => loop.some((edge) => Math.abs(edge.bevel) > leastBevel));

/**
 * Every panel takes the room of its inside face, its outside face and the traced face together, so that no bevelled
 * edge is cut into its neighbour. A panel with a mirrored twin gives two. A panel with bevelled edges is never turned
 * over: its bevels would lean the wrong way.
 */
export function nestPanelsOf(panels: readonly Panel[], rules: NestRules): NestPanel[] {
  return panels.flatMap((panel) => {
    const { inside, traced, outside } = panel.outlines;
    const rings = uniteRings([...inside, ...traced, ...outside], 'positive');
    const outlines = rings.filter((r) => ringArea(r) > 0).sort((a, b) => ringArea(b) - ringArea(a));
    const outline = outlines[0];
    if (!outline) return [];
    const region: Region = { outline, holes: rings.filter((r) => ringArea(r) < 0 && within(r, outline)) };
    const bevelled = isBevelled(panel);
    const one = (id: string, its: Region): NestPanel => ({
      ...its,
      id,
      name: panel.name,
      thickness: panel.thickness,
      ...(panel.material ? { material: panel.material } : {}),
      quantity: panel.quantity,
      turns: rules.turnsOf[panel.id] ?? rules.turns,
      mayMirror: (rules.turnOverOf?.[panel.id] ?? rules.facesAlike) && !bevelled,
      locked: rules.locked[id] ?? [],
    });
    const plain = one(panel.id, region);
    return panel.mirrored ? [plain, one(twinId(panel.id), mirrorRegion(region))] : [plain];
  });
}

/** Rings of a union do not cross: one corner tells. */
function within(ring: readonly Point[], outline: readonly Point[]): boolean {
  const p = ring[0]!;
  let inside = false;
  for (let i = 0; i < outline.length; i++) {
    const a = outline[i]!;
    const b = outline[(i + 1) % outline.length]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) * (b.x - a.x)) / (b.y - a.y)) inside = !inside;
  }
  return inside;
}
