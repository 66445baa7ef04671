/**
 * A still picture of a folded shell: the lines that a viewer far away sees (parallel projection), those behind other
 * faces left out. A side is cut where it goes behind a face: in the picture plane a side meets a triangle in one
 * stretch, and the difference of their depths is linear along it, so the hidden stretch is found in closed form
 * (hidden-line removal after Roberts 1963, from memory). Lines are mm at the shell's size.
 */
import { cross3, dot3, type Point3, point3, subtract3 } from '../math';
import type { Shell, ShellPicture, ShellPictureStroke } from '../model';
import type { Rad } from '../units';
import type { ShellSide } from './lines';

/** Where the viewer stands: `azimuth` 0 in front, + towards the wearer's right; `elevation` 0 level, + above. */
export interface ViewDirection {
  readonly azimuth: Rad;
  readonly elevation: Rad;
}

/** Unit vectors of a view: right and up on the picture, and from the shell to the viewer. */
export interface ViewAxes {
  readonly right: Point3;
  readonly up: Point3;
  readonly towards: Point3;
}

export function viewAxes({ azimuth, elevation }: ViewDirection): ViewAxes {
  const level = Math.cos(elevation);
  const towards = point3(Math.sin(azimuth) * level, Math.cos(azimuth) * level, Math.sin(elevation));
  const right = point3(-Math.cos(azimuth), Math.sin(azimuth), 0);
  return { right, up: cross3(towards, right), towards };
}

/** From the front, a little to the wearer's right and above: face, side and crown are all to be seen. */
export const pictureView: ViewDirection = { azimuth: Math.PI / 6, elevation: Math.PI / 9 };

/**
 * A face hides what lies behind it by more than this part of the shell's size. Ten times more, and corners of thin
 * rims show through; ten times less, and rounding hides lines that lie on the face itself.
 */
const behindShare = 1e-3;
/** Visible stretches shorter than this part of the size are no more than a speck. */
const speckShare = 2e-3;

interface Seen {
  readonly x: number;
  readonly y: number;
  /** Towards the viewer. */
  readonly z: number;
}

interface Triangle {
  readonly face: number;
  readonly corners: readonly [Seen, Seen, Seen];
  readonly minX: number;
  readonly maxX: number;
  readonly minY: number;
  readonly maxY: number;
  /** Depth over the picture plane: z = base + dx·x + dy·y. */
  readonly base: number;
  readonly dx: number;
  readonly dy: number;
}

/** The shell turned to the viewer. */
interface Scene {
  readonly axes: ViewAxes;
  readonly seen: readonly Seen[];
  /** Lower left corner of the picture. */
  readonly low: Seen;
  readonly width: number;
  readonly height: number;
  readonly size: number;
  readonly triangles: readonly Triangle[];
}

const turnedTo = (p: Point3, axes: ViewAxes): Seen => ({
  x: dot3(p, axes.right),
  y: dot3(p, axes.up),
  z: dot3(p, axes.towards),
});

function sceneOf(shell: Shell, view: ViewDirection): Scene | null {
  const axes = viewAxes(view);
  const seen = shell.vertices.map((p) => turnedTo(p, axes));
  if (seen.length === 0 || shell.faces.length === 0) return null;
  const used = shell.faces.flatMap((f) => f.vertices.map((v) => seen[v]!));
  const low = lowest(used);
  const high = lowest(used.map((p) => ({ x: -p.x, y: -p.y, z: -p.z })));
  const [width, height] = [-high.x - low.x, -high.y - low.y];
  const size = Math.hypot(width, height, -high.z - low.z);
  return { axes, seen, low, width, height, size, triangles: trianglesOf(shell, seen) };
}

type SeenLine = Pick<ShellPictureStroke, 'from' | 'to'>;

/**
 * What of lines in space is seen from `view`, behind no face of the shell, on the same picture as `pictureOf` draws:
 * mm from its lower left corner. What lies off the shell may lie off the picture.
 */
export function linesSeen(
  shell: Shell,
  view: ViewDirection,
  lines: readonly (readonly [Point3, Point3])[],
): SeenLine[] {
  const scene = sceneOf(shell, view);
  return scene
    ? lines.flatMap(([p, q]) => partsSeen(turnedTo(p, scene.axes), turnedTo(q, scene.axes), [], scene))
    : [];
}

/** The lines from end to end, on the same picture, as if the shell were of glass. */
export function linesThrough(
  shell: Shell,
  view: ViewDirection,
  lines: readonly (readonly [Point3, Point3])[],
): SeenLine[] {
  const scene = sceneOf(shell, view);
  if (!scene) return [];
  const glass = { ...scene, triangles: [] };
  return lines.flatMap(([p, q]) => partsSeen(turnedTo(p, scene.axes), turnedTo(q, scene.axes), [], glass));
}

/** The stretches of a line that are seen, without specks; `own` are the faces that it is a side of. */
function partsSeen(a: Seen, b: Seen, own: readonly number[], { low, size, triangles }: Scene): SeenLine[] {
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  if (length < speckShare * size) return [];
  const at = (t: number) => ({ x: a.x + (b.x - a.x) * t - low.x, y: a.y + (b.y - a.y) * t - low.y });
  return visibleParts(a, b, own, triangles, behindShare * size)
    .filter(([from, to]) => (to - from) * length >= speckShare * size)
    .map(([from, to]) => ({ from: at(from), to: at(to) }));
}

/** Draws the shell as seen from `view`; `sides` are those of `shellSides`. A shell without faces gives no lines. */
export function pictureOf(shell: Shell, sides: readonly ShellSide[], view: ViewDirection): ShellPicture {
  const scene = sceneOf(shell, view);
  if (!scene) return { width: 0, height: 0, strokes: [] };
  const { axes, seen, width, height } = scene;
  const front = shell.faces.map((_, face) => dot3(normalOf(shell, face), axes.towards) >= 0);
  const strokes: ShellPictureStroke[] = [];
  for (const { side, faces } of joined(sides)) {
    const a = seen[side.from]!;
    const b = seen[side.to]!;
    const rim = side.kind === 'open' || (faces.length === 2 && front[faces[0]!] !== front[faces[1]!]);
    // A ruling is seen only where the shell turns away from the viewer.
    if (side.kind === 'ruling' && !rim) continue;
    const kind = rim || side.kind === 'ruling' ? 'rim' : side.kind;
    for (const part of partsSeen(a, b, faces, scene)) strokes.push({ kind, ...part, id: side.id });
  }
  return { width, height, strokes };
}

const lowest = (points: readonly Seen[]): Seen =>
  points.reduce((p, q) => ({ x: Math.min(p.x, q.x), y: Math.min(p.y, q.y), z: Math.min(p.z, q.z) }));

/** Each line once, with the one or two faces beside it. */
function joined(sides: readonly ShellSide[]): { side: ShellSide; faces: number[] }[] {
  const found = new Map<string, { side: ShellSide; faces: number[] }>();
  for (const side of sides) {
    const key = `${side.id} ${Math.min(side.from, side.to)} ${Math.max(side.from, side.to)}`;
    const same = found.get(key);
    if (same) same.faces.push(side.face);
    else found.set(key, { side, faces: [side.face] });
  }
  return [...found.values()];
}

/** Twice the area vector of a face (Newell): outwards, whatever the number of corners. */
function normalOf(shell: Shell, face: number): Point3 {
  const points = shell.faces[face]!.vertices.map((v) => shell.vertices[v]!);
  const origin = points[0]!;
  return points.reduce(
    (sum, p, i) => {
      const n = cross3(subtract3(p, origin), subtract3(points[(i + 1) % points.length]!, origin));
      return point3(sum.x + n.x, sum.y + n.y, sum.z + n.z);
    },
    point3(0, 0, 0),
  );
}

/** Faces as fans; triangles seen edge-on hide nothing. */
function trianglesOf(shell: Shell, seen: readonly Seen[]): Triangle[] {
  const triangles: Triangle[] = [];
  shell.faces.forEach(({ vertices }, face) => {
    for (let i = 1; i + 1 < vertices.length; i++) {
      const a = seen[vertices[0]!]!;
      let b = seen[vertices[i]!]!;
      let c = seen[vertices[i + 1]!]!;
      const twice = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
      const longest = Math.hypot(b.x - a.x, b.y - a.y) + Math.hypot(c.x - a.x, c.y - a.y);
      if (Math.abs(twice) < 1e-6 * longest * longest) continue;
      const dx = ((b.z - a.z) * (c.y - a.y) - (c.z - a.z) * (b.y - a.y)) / twice;
      const dy = ((c.z - a.z) * (b.x - a.x) - (b.z - a.z) * (c.x - a.x)) / twice;
      if (twice < 0) [b, c] = [c, b];
      triangles.push({
        face,
        corners: [a, b, c],
        minX: Math.min(a.x, b.x, c.x),
        maxX: Math.max(a.x, b.x, c.x),
        minY: Math.min(a.y, b.y, c.y),
        maxY: Math.max(a.y, b.y, c.y),
        base: a.z - dx * a.x - dy * a.y,
        dx,
        dy,
      });
    }
  });
  return triangles;
}

/** Stretches of the side from a to b, as parts 0..1 of it, that no triangle hides. */
function visibleParts(
  a: Seen,
  b: Seen,
  own: readonly number[],
  triangles: readonly Triangle[],
  behind: number,
): [number, number][] {
  const [minX, maxX] = a.x < b.x ? [a.x, b.x] : [b.x, a.x];
  const [minY, maxY] = a.y < b.y ? [a.y, b.y] : [b.y, a.y];
  const hidden: [number, number][] = [];
  for (const t of triangles) {
    if (t.minX > maxX || t.maxX < minX || t.minY > maxY || t.maxY < minY || own.includes(t.face)) continue;
    const stretch = hiddenBy(a, b, t, behind);
    if (stretch) hidden.push(stretch);
  }
  hidden.sort((p, q) => p[0] - q[0] || p[1] - q[1]);
  const parts: [number, number][] = [];
  let reached = 0;
  for (const [from, to] of hidden) {
    if (from > reached) parts.push([reached, from]);
    reached = Math.max(reached, to);
  }
  if (reached < 1) parts.push([reached, 1]);
  return parts;
}

/** The stretch of a side that a triangle hides, or null: where all four linear conditions hold at once. */
function hiddenBy(a: Seen, b: Seen, t: Triangle, behind: number): [number, number] | null {
  let from = 0;
  let to = 1;
  const keepPositive = (atStart: number, atEnd: number): boolean => {
    if (atStart <= 0 && atEnd <= 0) return false;
    if (atStart < 0) from = Math.max(from, atStart / (atStart - atEnd));
    else if (atEnd < 0) to = Math.min(to, atStart / (atStart - atEnd));
    return from < to;
  };
  const depth = (p: Seen) => t.base + t.dx * p.x + t.dy * p.y - p.z - behind;
  if (!keepPositive(depth(a), depth(b))) return null;
  for (let i = 0; i < 3; i++) {
    const p = t.corners[i]!;
    const q = t.corners[(i + 1) % 3]!;
    const inside = (s: Seen) => (q.x - p.x) * (s.y - p.y) - (q.y - p.y) * (s.x - p.x);
    if (!keepPositive(inside(a), inside(b))) return null;
  }
  return [from, to];
}
