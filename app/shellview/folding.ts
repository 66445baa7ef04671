/**
 * The way from the flat pieces to the folded shell. Every piece keeps its own tree of faces: the root face turns and
 * moves from its place on the drawing to its place in the shell, each further face turns about the fold that it hangs
 * on, by a part of its bend. What is left of the way at the end (folds that close a ring, rounding) is added in
 * proportion, and corners that belong together inside a piece are one point, so pieces never come apart inside:
 * 0 is the drawing exactly, 1 the shell exactly.
 */
import { add3, boxOf, cross3, dot3, type Point3, point3, scaleBy3, subtract3, unitOf3 } from '../../src/math';
import type { Shell } from '../../src/model';
import type { ShellSide } from '../../src/shell';

export interface Folding {
  /** Where each face's corners begin in the list of all corners; one entry more than there are faces. */
  readonly starts: readonly number[];
  /** Places of all corners, x, y, z one after another, at a part 0 to 1 of the way. */
  at(part: number): Float64Array;
}

/** p ↦ turn(p − from) + to. */
interface Pose {
  readonly turn: (p: Point3) => Point3;
  readonly from: Point3;
  readonly to: Point3;
}

interface Hinge {
  readonly parent: number;
  readonly face: number;
  /** On the flat: a point of the fold and its direction along the parent's side. */
  readonly foot: Point3;
  readonly axis: Point3;
  readonly angle: number;
}

const apply = (pose: Pose, p: Point3): Point3 => add3(pose.turn(subtract3(p, pose.from)), pose.to);

/** Rotation about a unit axis (Rodrigues). */
function turnAbout(axis: Point3, angle: number): (p: Point3) => Point3 {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return (p) =>
    add3(add3(scaleBy3(p, c), scaleBy3(cross3(axis, p), s)), scaleBy3(axis, dot3(axis, p) * (1 - c)));
}

const meanOf = (points: readonly Point3[]): Point3 =>
  scaleBy3(points.reduce(add3, point3(0, 0, 0)), 1 / Math.max(1, points.length));

/** Twice the area vector (Newell). */
function areaOf(points: readonly Point3[]): Point3 {
  const o = points[0] ?? point3(0, 0, 0);
  return points.reduce(
    (sum, p, i) => add3(sum, cross3(subtract3(p, o), subtract3(points[(i + 1) % points.length]!, o))),
    point3(0, 0, 0),
  );
}

/**
 * @param sides those of `shellSides` for this shell.
 * The flat pieces stand upright before the middle of the shell, seen from the front as on the drawing.
 */
export function foldingOf(shell: Shell, sides: readonly ShellSide[]): Folding {
  const starts = [0];
  for (const f of shell.faces) starts.push(starts.at(-1)! + f.vertices.length);
  const folded = shell.faces.map((f) => f.vertices.map((v) => shell.vertices[v]!));
  const flat = standUp(shell);
  const roots: number[] = [];
  const hinges = hang(shell, sides, flat, folded, roots);
  const groups = groupsOf(shell, sides, starts);

  const hung = (part: number): Point3[] => {
    const poses = new Map<number, Pose>();
    for (const root of roots) poses.set(root, rootPose(flat[root]!, folded[root]!, part));
    for (const { parent, face, foot, axis, angle } of hinges) {
      const below = poses.get(parent)!;
      const turn = turnAbout(axis, angle * part);
      poses.set(face, { turn: (p) => below.turn(turn(p)), from: foot, to: apply(below, foot) });
    }
    return shell.faces.flatMap((_, f) => flat[f]!.map((p) => apply(poses.get(f)!, p)));
  };
  const target = folded.flat();
  const atEnd = hung(1);
  const rest = target.map((p, i) => subtract3(p, atEnd[i]!));

  return {
    starts,
    at(part) {
      const t = Math.min(1, Math.max(0, part));
      // The ends are copied: rounding has no say in what is exactly flat and what exactly folded.
      const places =
        t === 0 ? flat.flat() : t === 1 ? target : hung(t).map((p, i) => add3(p, scaleBy3(rest[i]!, t)));
      const out = new Float64Array(places.length * 3);
      for (const [i, p] of places.entries()) out.set([p.x, p.y, p.z], 3 * i);
      if (t > 0 && t < 1) for (const group of groups) share(out, group);
      return out;
    },
  };
}

/** Corners of one group take their mean. */
function share(out: Float64Array, group: readonly number[]): void {
  for (let k = 0; k < 3; k++) {
    const mean = group.reduce((sum, c) => sum + out[3 * c + k]!, 0) / group.length;
    for (const c of group) out[3 * c + k] = mean;
  }
}

/** The drawing, upright in the plane across the middle of the shell: its x to the viewer's right, its y up. */
function standUp(shell: Shell): Point3[][] {
  const corners = shell.faces.flatMap((f) => f.flat);
  if (corners.length === 0) return [];
  const box = boxOf(corners);
  const xz = boxOf(shell.vertices.map((p) => ({ x: p.x, y: p.z })));
  const ys = boxOf(shell.vertices.map((p) => ({ x: p.y, y: 0 })));
  const middle = point3((xz.minX + xz.maxX) / 2, (ys.minX + ys.maxX) / 2, (xz.minY + xz.maxY) / 2);
  return shell.faces.map((f) =>
    f.flat.map((p) =>
      point3(
        middle.x - (p.x - (box.minX + box.maxX) / 2),
        middle.y,
        middle.z + (p.y - (box.minY + box.maxY) / 2),
      ),
    ),
  );
}

/** Faces of each piece hung on each other by its folds, from the largest face outwards; parents come first. */
function hang(
  shell: Shell,
  sides: readonly ShellSide[],
  flat: readonly (readonly Point3[])[],
  folded: readonly (readonly Point3[])[],
  roots: number[],
): Hinge[] {
  const area = folded.map((points) => Math.hypot(...Object.values(areaOf(points))));
  const acrossOf = facesAcross(shell, sides);
  const order = shell.faces.map((_, f) => f).sort((a, b) => area[b]! - area[a]! || a - b);
  const done = new Set<number>();
  const hinges: Hinge[] = [];
  for (const root of order) {
    if (done.has(root)) continue;
    roots.push(root);
    done.add(root);
    const queue = [root];
    for (let parent = queue.shift(); parent !== undefined; parent = queue.shift()) {
      for (const { side, face } of acrossOf(parent)) {
        if (done.has(face)) continue;
        done.add(face);
        queue.push(face);
        const n = shell.faces[parent]!.vertices.length;
        const next = (side.corner + 1) % n;
        const foot = flat[parent]![side.corner]!;
        const axis = unitOf3(subtract3(flat[parent]![next]!, foot));
        const along = unitOf3(subtract3(folded[parent]![next]!, folded[parent]![side.corner]!));
        const here = unitOf3(areaOf(folded[parent]!));
        const there = unitOf3(areaOf(folded[face]!));
        const angle = Math.atan2(dot3(cross3(here, there), along), dot3(here, there));
        hinges.push({ parent, face, foot, axis, angle });
      }
    }
  }
  return hinges;
}

/** For each face, the faces of its piece beyond its folds. */
function facesAcross(
  shell: Shell,
  sides: readonly ShellSide[],
): (face: number) => readonly { readonly side: ShellSide; readonly face: number }[] {
  const byLine = new Map<string, ShellSide[]>();
  for (const side of sides) {
    if (side.edge !== null) continue;
    const key = lineKey(shell, side);
    byLine.set(key, [...(byLine.get(key) ?? []), side]);
  }
  const across = new Map<number, { side: ShellSide; face: number }[]>();
  for (const pair of byLine.values())
    for (const side of pair)
      for (const other of pair)
        if (other.face !== side.face)
          across.set(side.face, [...(across.get(side.face) ?? []), { side, face: other.face }]);
  return (face) => across.get(face) ?? [];
}

const lineKey = (shell: Shell, side: ShellSide): string =>
  `${shell.faces[side.face]!.piece} ${side.id} ${Math.min(side.from, side.to)} ${Math.max(side.from, side.to)}`;

/** Corners that are one point of a piece: those at the same end of a fold, from face to face. */
function groupsOf(shell: Shell, sides: readonly ShellSide[], starts: readonly number[]): number[][] {
  const root = Int32Array.from({ length: starts.at(-1)! }, (_, i) => i);
  const find = (c: number): number => {
    let r = c;
    while (root[r] !== r) r = root[r]!;
    return r;
  };
  const first = new Map<string, ShellSide>();
  const cornerOf = (side: ShellSide, vertex: number): number => {
    const { vertices } = shell.faces[side.face]!;
    const here = side.from === vertex ? side.corner : (side.corner + 1) % vertices.length;
    return starts[side.face]! + here;
  };
  for (const side of sides) {
    if (side.edge !== null || side.from === side.to) continue;
    const key = lineKey(shell, side);
    const other = first.get(key);
    if (!other) {
      first.set(key, side);
      continue;
    }
    for (const vertex of [side.from, side.to]) {
      const [a, b] = [find(cornerOf(side, vertex)), find(cornerOf(other, vertex))];
      if (a !== b) root[Math.max(a, b)] = Math.min(a, b);
    }
  }
  const groups = new Map<number, number[]>();
  for (let c = 0; c < root.length; c++) groups.set(find(c), [...(groups.get(find(c)) ?? []), c]);
  return [...groups.values()].filter((g) => g.length > 1);
}

/** A part of the way of a rigid face: the middle straight, the turn about one axis. */
function rootPose(flat: readonly Point3[], folded: readonly Point3[], part: number): Pose {
  const from = meanOf(flat);
  const to = meanOf(folded);
  const { axis, angle } = turnBetween(frameOf(flat), frameOf(folded));
  return {
    turn: turnAbout(axis, angle * part),
    from,
    to: add3(from, scaleBy3(subtract3(to, from), part)),
  };
}

/** Orthonormal frame of a face: along its first side as far as that lies in the face, across, and outwards. */
function frameOf(points: readonly Point3[]): readonly [Point3, Point3, Point3] {
  const out = unitOf3(areaOf(points));
  const first = subtract3(points[1]!, points[0]!);
  const along = unitOf3(subtract3(first, scaleBy3(out, dot3(first, out))));
  return [along, cross3(out, along), out];
}

/** Axis and angle of the turn that takes one frame to another; the axis of no turn is arbitrary. */
function turnBetween(
  from: readonly [Point3, Point3, Point3],
  to: readonly [Point3, Point3, Point3],
): { axis: Point3; angle: number } {
  const row = (k: 'x' | 'y' | 'z', l: 'x' | 'y' | 'z') =>
    from.reduce((sum, f, i) => sum + to[i]![k] * f[l], 0);
  const trace = row('x', 'x') + row('y', 'y') + row('z', 'z');
  const skew = point3(
    row('z', 'y') - row('y', 'z'),
    row('x', 'z') - row('z', 'x'),
    row('y', 'x') - row('x', 'y'),
  );
  const angle = Math.atan2(Math.hypot(skew.x, skew.y, skew.z), trace - 1);
  if (angle < 1e-9) return { axis: point3(0, 0, 1), angle: 0 };
  if (Math.PI - angle > 1e-6) return { axis: unitOf3(skew), angle };
  // Half a turn: R = 2aaᵀ − 1, and the column with the largest diagonal entry is the safest.
  const columns = (['x', 'y', 'z'] as const).map((k) => point3(row('x', k), row('y', k), row('z', k)));
  const units = [point3(1, 0, 0), point3(0, 1, 0), point3(0, 0, 1)];
  const best = [0, 1, 2].reduce((b, k) => {
    const size = (i: number) => dot3(columns[i]!, units[i]!);
    return size(k) > size(b) ? k : b;
  }, 0);
  return { axis: unitOf3(add3(columns[best]!, units[best]!)), angle };
}
