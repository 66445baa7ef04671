/**
 * Slits where foam bends doubly. The rule: at a point inside a panel the angles of the faces round it, laid flat, sum to
 * less than a full turn (a bulge). A cut from there to the outline opens, by the missing angle times its length, at its
 * mouth. Where that is more than foam gives (the misfit limit) and no more than the widest dart, a slit is proposed along
 * the shortest way over folds to the outline, the widest first. More than a full turn (a saddle) would lie on itself when
 * slit, so such points are told and left to splitting.
 */
import type { Pattern } from '../model';
import { angleAt, type Ground, runEnds } from './block';
import type { Mirror } from './mirror';
import { partsOf } from './parts';

export interface Relief {
  readonly after: readonly boolean[];
  /** Panels with a point that no slit within the limits relieves. */
  readonly beyond: readonly string[];
}

export function reliefState(
  pattern: Pattern,
  ground: Ground,
  cut: readonly boolean[],
  mirror: Mirror | null,
  isFrozen: (h: number) => boolean,
): Relief {
  const { surface, limits } = ground;
  const after = [...cut];
  const beyond = new Set<string>();
  const settled = new Set<number>();
  const partAt = new Map<number, { id: string; faces: ReadonlySet<number> }>();
  const parts = partsOf(pattern, surface, cut);
  for (const part of parts) {
    const faces = new Set(part.faces);
    for (const f of part.faces) partAt.set(f, { id: part.id, faces });
  }
  const fans = new Map<number, { angle: number; faces: number[] }>();
  surface.faces.forEach(({ vertices, flat }, f) => {
    vertices.forEach((v, i) => {
      const fan = fans.get(v) ?? { angle: 0, faces: [] };
      fan.angle += angleAt(flat, i);
      fan.faces.push(f);
      fans.set(v, fan);
    });
  });
  const hingesAt = new Map<number, number[]>();
  surface.hinges.forEach((_, h) => {
    for (const v of runEnds(surface, h)) hingesAt.set(v, [...(hingesAt.get(v) ?? []), h]);
  });
  const onRim = rimVertices(ground);
  /** All round it faces of one panel hang together, nothing is cut and nothing open. */
  const inside = (v: number) =>
    !onRim.has(v) && (hingesAt.get(v) ?? []).length > 1 && hingesAt.get(v)!.every((h) => !after[h]);
  for (;;) {
    let next: { v: number; way: number[]; width: number } | null = null;
    for (const [v, fan] of fans) {
      if (settled.has(v) || !inside(v)) continue;
      const missing = 2 * Math.PI - fan.angle;
      const way = shortestOut(ground, hingesAt, v, inside, isFrozen);
      const length = way?.reduce((sum, h) => sum + ground.lengths[h]!, 0) ?? 0;
      const width = Math.abs(2 * length * Math.sin(missing / 2));
      if (way && width <= limits.misfit) continue;
      if (!way || missing < 0 || width > limits.dart) {
        if (Math.abs(missing) * Math.max(length, 1) > limits.misfit)
          beyond.add(partAt.get(fan.faces[0]!)!.id);
        settled.add(v);
        continue;
      }
      if (!next || width > next.width + 1e-9) next = { v, way, width };
    }
    if (!next) return { after, beyond: [...beyond] };
    settled.add(next.v);
    for (const h of next.way) {
      after[h] = true;
      const image = mirror?.hinge[h] ?? -1;
      if (image >= 0 && !isFrozen(image)) after[image] = true;
    }
  }
}

/** Vertices with an open side. */
function rimVertices({ surface }: Ground): ReadonlySet<number> {
  const rim = new Set<number>();
  surface.faces.forEach(({ vertices }, f) => {
    vertices.forEach((v, i) => {
      if (surface.twin[surface.start[f]! + i]! >= 0) return;
      rim.add(v).add(vertices[(i + 1) % vertices.length]!);
    });
  });
  return rim;
}

/** Shortest way over whole hinges to a vertex that is not inside; Dijkstra, for a graph this small without a heap. */
function shortestOut(
  { surface, lengths }: Ground,
  hingesAt: ReadonlyMap<number, readonly number[]>,
  from: number,
  inside: (v: number) => boolean,
  isFrozen: (h: number) => boolean,
): number[] | null {
  const reached = new Map<number, { length: number; by: number; before: number }>([
    [from, { length: 0, by: -1, before: -1 }],
  ]);
  const done = new Set<number>();
  for (;;) {
    let at = -1;
    for (const [v, { length }] of reached)
      if (!done.has(v) && (at < 0 || length < reached.get(at)!.length)) at = v;
    if (at < 0) return null;
    if (!inside(at)) {
      const way: number[] = [];
      for (let v = at; v !== from; v = reached.get(v)!.before) way.push(reached.get(v)!.by);
      return way;
    }
    done.add(at);
    for (const h of hingesAt.get(at) ?? []) {
      if (isFrozen(h)) continue;
      const [p, q] = runEnds(surface, h);
      const to = p === at ? q : p;
      const length = reached.get(at)!.length + lengths[h]!;
      if (length < (reached.get(to)?.length ?? Number.POSITIVE_INFINITY))
        reached.set(to, { length, by: h, before: at });
    }
  }
}
