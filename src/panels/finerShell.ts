/** The shell of a pattern whose faces drawn lines have divided: the same shape, with the new corners on it. */
import { cross3, distance, dot3, type Point, type Point3, point3, subtract3, unitOf3 } from '../math';
import { type AddedVertex, drawnBy, isRuling, rootOf, type Shell, wholeOf } from '../model';
import { faceNormals } from '../shell';
import type { Rad } from '../units';
import { inside, offSegment } from './crossing';
import { weightsIn } from './meanValue';
import { seen } from './place';
import { cornersOf, type Surface } from './surface';
import { samePlace } from './tolerance';

export interface FinerShell {
  /** Its faces are still those before; vertices, components and bends are those of the finer surface. */
  readonly shell: Shell;
  readonly added: readonly AddedVertex[];
  /** Vertex of `shell` of each vertex of the surface. */
  readonly vertexOf: ReadonlyMap<number, number>;
}

/**
 * @param shell folded before anything was drawn
 * @param surface of the pattern with all drawn lines
 */
export function finerShell(shell: Shell, surface: Surface): FinerShell {
  const patches = new Map<string, Shell['faces'][number][]>();
  for (const face of shell.faces) {
    const key = `${face.piece} ${face.face}`;
    patches.set(key, [...(patches.get(key) ?? []), face]);
  }
  // Of several faces at a vertex the one that needs fewest corners of the shell says where it lies.
  const best = new Map<number, AddedVertex>();
  for (const { piece, face, vertices, flat, over } of surface.faces) {
    const own = patches.get(`${piece} ${rootOf(face)}`) ?? [];
    if (own.length === 0) continue;
    vertices.forEach((v, i) => {
      const there = meanOf(own, seen(flat[i]!, over));
      if (there.length < (best.get(v)?.length ?? Number.POSITIVE_INFINITY)) best.set(v, there);
    });
  }
  const added: AddedVertex[] = [];
  const vertexOf = new Map<number, number>();
  for (const [v, mean] of [...best].sort((p, q) => p[0] - q[0])) {
    if (mean.length === 1) vertexOf.set(v, mean[0]!.vertex);
    else {
      vertexOf.set(v, shell.vertices.length + added.length);
      added.push(mean);
    }
  }
  const bends: Record<string, Rad> = { ...shell.bends };
  const bendSpread: Record<string, Rad> = { ...shell.bendSpread };
  for (const { id } of surface.hinges) {
    if (drawnBy(id) !== null) bends[id] = 0;
    for (let at = wholeOf(id); at !== null && bends[id] === undefined; at = wholeOf(at)) {
      const [bend, spread] = [shell.bends[at], shell.bendSpread[at]];
      if (bend !== undefined) bends[id] = bend;
      if (spread !== undefined) bendSpread[id] = spread;
    }
  }
  const home = new Map<number, number>();
  shell.components.forEach((c, k) => {
    for (const v of c.vertices) home.set(v, k);
  });
  const meanIn = (places: readonly Point3[], mean: AddedVertex) => meanPlace(places, mean);
  const vertices = [...shell.vertices, ...added.map((m) => meanIn(shell.vertices, m))];
  Object.assign(bends, rulingBends(surface, vertices, vertexOf));
  return {
    added,
    vertexOf,
    shell: {
      ...shell,
      vertices,
      bends,
      bendSpread,
      components: shell.components.map((c, k) => ({
        ...c,
        vertices: [
          ...c.vertices,
          ...added.flatMap((m, i) => (home.get(m[0]!.vertex) === k ? [shell.vertices.length + i] : [])),
        ],
      })),
      symmetry: shell.symmetry && {
        ...shell.symmetry,
        pairs: [...shell.symmetry.pairs, ...pairsOf(shell.symmetry, vertices, shell.vertices.length)],
      },
      softModes: shell.softModes.map((mode) => [...mode, ...added.map((m) => meanIn(mode, m))]),
    },
  };
}

/** How far the strips of bent faces bend against each other, by the fold along their ruling. */
function rulingBends(
  surface: Surface,
  vertices: readonly Point3[],
  vertexOf: ReadonlyMap<number, number>,
): Record<string, Rad> {
  const placeOf = (v: number) => vertices[vertexOf.get(v) ?? -1];
  const normalOf = (f: number) => {
    const ring = surface.faces[f]!.vertices.map(placeOf);
    if (ring.some((p) => !p)) return null;
    return faceNormals({ vertices: ring.map((p) => p!), faces: [{ vertices: ring.map((_, i) => i) }] })[0]!;
  };
  const out: Record<string, Rad> = {};
  for (const { id, a } of surface.hinges) {
    if (!isRuling(id)) continue;
    const chain = surface.chains[a]!;
    const side = surface.start[chain.face]! + chain.first;
    const [p, q] = cornersOf(surface, chain).map((i) => placeOf(surface.faces[chain.face]!.vertices[i]!));
    const [m, n] = [normalOf(chain.face), normalOf(surface.faceOf[surface.twin[side]!]!)];
    if (!p || !q || !m || !n) continue;
    out[id] = Math.atan2(dot3(cross3(m, n), unitOf3(subtract3(q, p))), dot3(m, n));
  }
  return out;
}

/**
 * A point of a face as a mean of the corners of the flat part that it lies in, told with as few as it takes. Beside all
 * strips of a bent face, where a curve bulges beyond its chord, it is taken on the chord.
 */
function meanOf(patches: readonly Shell['faces'][number][], p: Point): AddedVertex {
  const found = patches.map(({ flat, vertices, part }) => {
    const rim = Math.min(...flat.map((a, i) => offSegment(p, a, flat[(i + 1) % flat.length]!)));
    const within = inside(flat, p);
    return { flat, vertices, rim, off: within ? 0 : rim, beside: part !== undefined && !within };
  });
  const least = Math.min(...found.map((f) => f.off));
  let best: AddedVertex = [];
  for (const { flat, vertices, rim, off, beside } of found) {
    if (off > least + samePlace) continue;
    const corner = flat.findIndex((q) => distance(p, q) <= samePlace);
    if (corner >= 0) return [{ vertex: vertices[corner]!, weight: 1 }];
    const near = rim <= samePlace || beside ? onRim(flat, p) : p;
    const mean = weightsIn(flat, near).flatMap((weight, i) =>
      weight === 0 ? [] : [{ vertex: vertices[i]!, weight }],
    );
    if (best.length === 0 || mean.length < best.length) best = mean;
  }
  return best;
}

/** The nearest point on the rim of a ring. */
function onRim(ring: readonly Point[], p: Point): Point {
  let [best, off] = [p, Number.POSITIVE_INFINITY];
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    const size = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
    const t = size === 0 ? 0 : ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / size;
    const s = Math.min(1, Math.max(0, t));
    const q = { x: a.x + s * (b.x - a.x), y: a.y + s * (b.y - a.y) };
    const d = distance(p, q);
    if (d < off) [best, off] = [q, d];
  });
  return best;
}

/** The mean of places by its weights. */
export function meanPlace(places: readonly Point3[], mean: AddedVertex): Point3 {
  let [x, y, z] = [0, 0, 0];
  for (const { vertex, weight } of mean) {
    const p = places[vertex]!;
    x += weight * p.x;
    y += weight * p.y;
    z += weight * p.z;
  }
  return point3(x, y, z);
}

/** New vertices that are mirror images of each other, or lie in the mirror plane. */
function pairsOf(
  { plane }: NonNullable<Shell['symmetry']>,
  vertices: readonly Point3[],
  from: number,
): (readonly [number, number])[] {
  const { normal: n, offset } = plane;
  const done = new Set<number>();
  const pairs: (readonly [number, number])[] = [];
  for (let v = from; v < vertices.length; v++) {
    if (done.has(v)) continue;
    const p = vertices[v]!;
    const off = 2 * (n.x * p.x + n.y * p.y + n.z * p.z - offset);
    const image = point3(p.x - off * n.x, p.y - off * n.y, p.z - off * n.z);
    for (let w = v; w < vertices.length; w++) {
      const q = vertices[w]!;
      if (done.has(w) || Math.hypot(q.x - image.x, q.y - image.y, q.z - image.z) > mirrorSlack) continue;
      pairs.push([v, w]);
      done.add(v).add(w);
      break;
    }
  }
  return pairs;
}

/** A drawn point and the one on the other half are images of each other within this, mm: a line drawn twice by hand
 *  differs by more, a mirrored one by less. */
const mirrorSlack = 0.1;
