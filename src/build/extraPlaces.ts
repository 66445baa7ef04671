/**
 * Where extra parts go on the folded shell, as lines in space: the edge of a layer or a stencil, the outline of a
 * band, a strip or a visor with its folds. Lines lie a little outside the shell's surface, so that the face that
 * carries them does not hide them.
 */
import { add3, distance3, dot3, type Point, type Point3, point3, scaleBy3, subtract3 } from '../math';
import type { ExtraSide, FoamResult, LaidOnShell, Shell, StandingOnShell } from '../model';
import { faceNormals } from '../shell';
import type { Mm } from '../units';
import { liftShare, onSide, speck } from './tolerance';

export interface PlaceLine {
  /** The face of the shell that carries it. */
  readonly face: number;
  readonly ends: readonly [Point3, Point3];
}

export interface ExtraPlace {
  readonly side: ExtraSide;
  readonly lines: readonly PlaceLine[];
  /** Lines within it, along which it is folded: drawn lightly always. */
  readonly folds: readonly PlaceLine[];
}

/** What the lines are made from. */
interface Body {
  readonly shell: Shell;
  /** Outward, of length 1. */
  readonly normals: readonly Point3[];
  readonly lift: Mm;
}

/**
 * The places of all extra parts that have one, by the ids of their panels. Lengths are those of `shell`.
 */
export function extraPlaces(
  shell: Shell,
  { onShell = [], standing = [] }: Pick<FoamResult, 'onShell' | 'standing'>,
): Map<string, ExtraPlace> {
  const found = new Map<string, ExtraPlace>();
  if (onShell.length === 0 && standing.length === 0) return found;
  const body = bodyOf(shell);
  for (const laid of onShell)
    found.set(laid.panel, { side: laid.side, lines: edgesOfLaid(laid, body), folds: [] });
  for (const stand of standing) found.set(stand.panel, { side: stand.side, ...edgesStanding(stand, body) });
  return found;
}

function bodyOf(shell: Shell): Body {
  const spread = (of: (p: Point3) => number) => {
    const all = shell.vertices.map(of);
    return Math.max(...all) - Math.min(...all);
  };
  return {
    shell,
    normals: faceNormals(shell),
    lift:
      liftShare *
      Math.hypot(
        spread((p) => p.x),
        spread((p) => p.y),
        spread((p) => p.z),
      ),
  };
}

/** The outline of what is covered, all faces together: where it goes on over a side of a face, there is no edge. */
function edgesOfLaid({ regions }: LaidOnShell, body: Body): PlaceLine[] {
  const lines: PlaceLine[] = [];
  const onSides = new Map<string, { face: number; a: number; b: number; stretches: [number, number][] }>();
  for (const { patch, rings } of regions) {
    const face = body.shell.faces[patch];
    if (!face) continue;
    const { flat, vertices } = face;
    const place = ontoFace(body, patch);
    for (const ring of rings)
      ring.forEach((p, k) => {
        const q = ring[(k + 1) % ring.length]!;
        const i = flat.findIndex((a, j) => liesOn(p, q, a, flat[(j + 1) % flat.length]!));
        if (i < 0) {
          lines.push({ face: patch, ends: [place(p), place(q)] });
          return;
        }
        const next = (i + 1) % flat.length;
        const [a, b] = [vertices[i]!, vertices[next]!];
        const along = [share(p, flat[i]!, flat[next]!), share(q, flat[i]!, flat[next]!)];
        const [s, t] = (a < b ? along : along.map((x) => 1 - x)).sort((x, y) => x - y) as [number, number];
        const key = `${Math.min(a, b)} ${Math.max(a, b)}`;
        const side = onSides.get(key) ?? { face: patch, a: Math.min(a, b), b: Math.max(a, b), stretches: [] };
        side.stretches.push([s, t]);
        onSides.set(key, side);
      });
  }
  for (const { face, a, b, stretches } of onSides.values()) {
    const up = scaleBy3(body.normals[face]!, body.lift);
    const [from, to] = [add3(body.shell.vertices[a]!, up), add3(body.shell.vertices[b]!, up)];
    const length = Math.hypot(to.x - from.x, to.y - from.y, to.z - from.z);
    for (const [s, t] of coveredOnce(stretches))
      if ((t - s) * length > speck) lines.push({ face, ends: [between(from, to, s), between(from, to, t)] });
  }
  return lines;
}

/** The parts of a line that an odd number of stretches cover: one face of two. */
function coveredOnce(stretches: readonly (readonly [number, number])[]): [number, number][] {
  const cuts = [...new Set(stretches.flat())].sort((x, y) => x - y);
  return cuts.slice(1).flatMap((t, i): [number, number][] => {
    const s = cuts[i]!;
    const middle = (s + t) / 2;
    const over = stretches.filter(([from, to]) => from < middle && middle < to).length;
    return over % 2 === 1 ? [[s, t]] : [];
  });
}

const share = (p: Point, a: Point, b: Point): number =>
  ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / ((b.x - a.x) ** 2 + (b.y - a.y) ** 2);

function liesOn(p: Point, q: Point, a: Point, b: Point): boolean {
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  if (length === 0) return false;
  const off = (r: Point) => Math.abs((b.x - a.x) * (r.y - a.y) - (b.y - a.y) * (r.x - a.x)) / length;
  return off(p) < onSide && off(q) < onSide;
}

/** From a face's flat copy to just outside of it in space: the affine map of least squares over its corners. */
function ontoFace({ shell, normals, lift }: Body, face: number): (p: Point) => Point3 {
  const { flat, vertices } = shell.faces[face]!;
  const n = flat.length;
  const m = { x: flat.reduce((s, p) => s + p.x, 0) / n, y: flat.reduce((s, p) => s + p.y, 0) / n };
  const corners = vertices.map((v) => shell.vertices[v]!);
  const middle = scaleBy3(corners.reduce(add3), 1 / n);
  let [xx, xy, yy] = [0, 0, 0];
  let [ux, uy] = [point3(0, 0, 0), point3(0, 0, 0)];
  flat.forEach((p, i) => {
    const [x, y] = [p.x - m.x, p.y - m.y];
    xx += x * x;
    xy += x * y;
    yy += y * y;
    const away = subtract3(corners[i]!, middle);
    ux = add3(ux, scaleBy3(away, x));
    uy = add3(uy, scaleBy3(away, y));
  });
  const det = xx * yy - xy * xy;
  const base = add3(middle, scaleBy3(normals[face]!, lift));
  return (p) => {
    const [x, y] = [p.x - m.x, p.y - m.y];
    const inX = (x * yy - y * xy) / det;
    const inY = (y * xx - x * xy) / det;
    return add3(base, add3(scaleBy3(ux, inX), scaleBy3(uy, inY)));
  };
}

/** The outline of what stands at a rim or along a seam, brought out of the wall where it is behind it. */
function edgesStanding({ outline, folds }: StandingOnShell, body: Body): Pick<ExtraPlace, 'lines' | 'folds'> {
  const middles = body.shell.faces.map(({ vertices }) =>
    scaleBy3(vertices.map((v) => body.shell.vertices[v]!).reduce(add3), 1 / vertices.length),
  );
  const nearest = (p: Point3): number =>
    middles.reduce((best, m, i) => (distance3(m, p) < distance3(middles[best]!, p) ? i : best), 0);
  const free = (p: Point3, face: number): Point3 => {
    const normal = body.normals[face]!;
    const height = dot3(subtract3(p, middles[face]!), normal);
    return add3(p, scaleBy3(normal, Math.max(0, body.lift - height)));
  };
  const freed = (line: readonly Point3[]): PlaceLine[] => {
    const faces = line.map(nearest);
    const out = line.map((p, i) => free(p, faces[i]!));
    return out.slice(1).map((q, i): PlaceLine => ({ face: faces[i]!, ends: [out[i]!, q] }));
  };
  return {
    lines: outline.flatMap((ring) => freed([...ring, ...ring.slice(0, 1)])),
    folds: folds.flatMap(freed),
  };
}

const between = (a: Point3, b: Point3, t: number): Point3 => add3(a, scaleBy3(subtract3(b, a), t));
