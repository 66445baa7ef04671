/**
 * A join by hand, before it is made: which of its seams close, and where a misfit opens as a relief dart instead. The
 * person's word counts for what is joined, so that of the limits only the misfit and the width of darts hold.
 */
import { isPartOf, type PanelEdit, type PanelLimits, type Pattern, type Seams, sourceLineId } from '../model';
import type { Mm } from '../units';
import { type Block, type Ground, groundTriangles } from './block';
import { dartsWithin, type TriedDart } from './darts';
import { State } from './fewest';
import { layFlat } from './flat';
import { partsOf } from './parts';
import { standsUp, type Upright } from './rimJoins';
import { type CutState, replay } from './state';
import { cornersOf, type Surface } from './surface';

export interface JoinPlan {
  /** Seams that close. */
  readonly close: readonly string[];
  /** Darts of the panels that come out, those that were there before included. */
  readonly darts: readonly TriedDart[];
  /** Panels before and after. */
  readonly before: number;
  readonly after: number;
  /** By how much foam has to give along an edge of these panels. */
  readonly misfit: Mm;
  /** No dart within the limit takes the misfit up: all of it is left to the foam. */
  readonly forced: boolean;
  /** What is sewn to the rim of a hole stands up from it: such seams stay seams. */
  readonly upright: Upright | null;
}

/** @param lines seams (or cut folds) that the person joins */
export function planJoin(
  pattern: Pattern,
  seams: Seams,
  { edits, limits }: { readonly edits: readonly PanelEdit[]; readonly limits: PanelLimits },
  lines: readonly string[],
): JoinPlan {
  const state = replay(pattern, seams, edits, lines);
  const { surface, cut } = state;
  const wanted = lines.map(sourceLineId);
  const hinges = surface.hinges.flatMap((h, i) =>
    cut[i] && wanted.some((w) => isPartOf(h.id, w)) ? [i] : [],
  );
  const parts = partsOf(state.pattern, surface, cut).filter((p) => p.faces.length > 0);
  const partOf = new Map(parts.flatMap((p, k) => p.faces.map((f) => [f, k] as const)));
  const homes = (h: number) => {
    const { a, b } = surface.hinges[h]!;
    return [partOf.get(surface.chains[a]!.face)!, partOf.get(surface.chains[b]!.face)!] as const;
  };
  const touched = [...new Set(hinges.flatMap((h) => homes(h)))];
  const ground = openGround(surface, limits);
  const blocks = touched.map((k): Block => {
    const { faces, lead } = parts[k]!;
    return { key: k, faces, at: layFlat(surface, faces, cut, lead).corners, normal: { x: 0, y: 0, z: 1 } };
  });
  const after = [...cut];
  // Both sides on one panel already: a dart that the person closes.
  for (const h of hinges) if (homes(h)[0] === homes(h)[1]) after[h] = false;
  const open = cut.map((c, h) => c && hinges.includes(h));
  const joins = new State(ground, blocks, open);
  let forced = false;
  for (;;) {
    // The longest common line first: the surest place.
    const length = (shared: readonly number[]) => shared.reduce((sum, h) => sum + ground.lengths[h]!, 0);
    const pair = [...joins.pairs()].sort((p, q) => length(q.shared) - length(p.shared))[0];
    if (!pair) break;
    const made = joins.attempt(pair.a, pair.b);
    if (made) {
      for (const h of made.closed) after[h] = false;
      joins.take(pair.a, pair.b, made);
      continue;
    }
    forced = true;
    for (const h of pair.shared) after[h] = false;
    const faces = [...pair.a.faces, ...pair.b.faces].sort((p, q) => p - q);
    const block = {
      ...{ key: joins.nextKey(), faces, normal: pair.a.normal },
      at: layFlat(surface, faces, after, faces[0]!).corners,
    };
    joins.take(pair.a, pair.b, { block, closed: pair.shared });
  }
  const out = partsOf(state.pattern, surface, after).filter((p) => p.faces.length > 0);
  const own = new Set(touched.flatMap((k) => parts[k]!.faces));
  const results = out
    .filter((p) => p.faces.some((f) => own.has(f)))
    .map((p) => {
      const flat = layFlat(surface, p.faces, after, p.lead);
      return { misfit: flat.misfit, darts: dartsWithin(surface, p.faces, after, flat.corners) };
    });
  return {
    close: hinges.filter((h) => !after[h]).map((h) => surface.hinges[h]!.id),
    darts: results.flatMap((r) => r.darts),
    before: parts.length,
    after: out.length,
    misfit: Math.max(0, ...results.map((r) => r.misfit)),
    forced,
    upright: uprightIn({ ...state, cut: after }, state.bridged),
  };
}

const uprightIn = (state: Parameters<typeof standsUp>[0], holes: CutState['bridged']): Upright | null =>
  holes.reduce<Upright | null>((found, hole) => found ?? standsUp(state, hole), null);

/** Nothing counts but the misfit and the width of darts. */
function openGround(surface: Surface, { misfit, dart }: PanelLimits): Ground {
  return {
    surface,
    normals: surface.faces.map(() => ({ x: 0, y: 0, z: 1 })),
    areas: surface.faces.map(() => 1),
    bends: surface.hinges.map(() => 0),
    lengths: surface.hinges.map((h) => {
      const chain = surface.chains[h.a]!;
      const { flat } = surface.faces[chain.face]!;
      const corners = cornersOf(surface, chain).map((i) => flat[i]!);
      return corners
        .slice(1)
        .reduce((sum, p, i) => sum + Math.hypot(p.x - corners[i]!.x, p.y - corners[i]!.y), 0);
    }),
    triangles: groundTriangles(surface),
    sheet: null,
    limits: { misfit, dart, bend: Math.PI, spread: Math.PI, reach: Number.POSITIVE_INFINITY },
  };
}
