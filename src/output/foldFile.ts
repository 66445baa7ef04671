/**
 * Pattern, seams and shell as one FOLD file. Source: FOLD specification 1.2. The key frame is the crease pattern; frame
 * 1 is the same mesh folded up, which inherits everything but its places; frame 2 is the shell glued into one surface.
 *
 * Lengths in mm at the drawing's size, angles in degrees, mountains negative, as the format has it. Where the shell
 * folds up reliably, folds have its angles. Seams have no field in the format; they stand in fields with this program's
 * name before the colon, as the format allows:
 * - `edges_girthwise:mate`: the edge that an edge is glued to, `edges_girthwise:seam`: the number of that seam for
 *   people, `edges_girthwise:seamAngle`: its angle, all null where there is none;
 * - `faces_girthwise:piece`: the piece of a face, `girthwise:pieces`: the names of the pieces;
 * - `faces_girthwise:face` (frame 2): the face of the key frame.
 */
import { cross3, dot3, type Point3, subtract3, unitOf3 } from '../math';
import type { Pattern, Seams, Shell } from '../model';
import type { Rad } from '../units';
import { type FlatMesh, flatMesh, type MeshEdge } from './foldMesh';

export interface FoldMeta {
  readonly title: string;
  /** Take the angles of a shell that folds up doubtfully. */
  readonly trustDoubtful: boolean;
}

type Entry = number | string | null | readonly Entry[];
type Frame = Record<string, Entry | boolean>;

/**
 * Writes the file. The same input gives the same bytes.
 * @param shell null when nothing was folded up: then the crease pattern alone is written, without angles
 */
export function makeFold(pattern: Pattern, seams: Seams, shell: Shell | null, meta: FoldMeta): string {
  const mesh = flatMesh(pattern, seams, shell);
  const angles = shell && (shell.quality === 'good' || meta.trustDoubtful) ? shell : null;
  const frames: Frame[] = [];
  if (shell && mesh.folded) frames.push(foldedFrame(mesh.folded, shell));
  if (shell && shell.faces.length > 0) frames.push(gluedFrame(mesh, shell));
  return textOf(
    {
      file_spec: 1.2,
      file_creator: 'Girthwise',
      file_title: meta.title,
      file_classes: ['singleModel'],
      ...patternFrame(pattern, seams, mesh, angles),
    },
    frames,
  );
}

function patternFrame(pattern: Pattern, seams: Seams, mesh: FlatMesh, shell: Shell | null): Frame {
  const pieceOf = new Map(
    pattern.pieces.flatMap((p, i) =>
      [...p.outline, ...p.holes.flat(), ...p.folds].map((l) => [l.id, i] as const),
    ),
  );
  const drawn = new Map(pattern.pieces.flatMap((p) => p.folds.map((f) => [f.id, f.role] as const)));
  const glued = matesOf(mesh, seams, shell);
  const creases = mesh.edges.map((e): Crease => {
    if (e.kind === 'join') return { assignment: 'J', angle: 0 };
    if (e.kind === 'edge') return { assignment: 'B', angle: 0 };
    const bend = shell?.bends[e.of] ?? null;
    // The angle is that between the faces as drawn, and a piece drawn from inside shows its other side.
    const seen = bend !== null && mesh.turnedOver.has(pieceOf.get(e.of)!) ? -bend : bend;
    return creaseOf(drawn.get(e.of)!, seen, shell?.wrongSigns.includes(e.of) ?? false);
  });
  const joins = mesh.edges.some((e) => e.kind === 'join');
  const convex = mesh.faces.every((f) => isConvex(f.vertices.map((v) => mesh.vertices[v]!)));
  return {
    frame_title: 'Pattern',
    frame_classes: ['creasePattern'],
    frame_attributes: [
      '2D',
      'manifold',
      'orientable',
      'noCuts',
      joins ? 'joins' : 'noJoins',
      convex ? 'convexFaces' : 'nonConvexFaces',
    ],
    frame_unit: 'mm',
    vertices_coords: mesh.vertices.map((p) => [tidy(p.x), tidy(p.y)]),
    edges_vertices: mesh.edges.map((e) => [e.from, e.to]),
    edges_faces: mesh.edges.map((e) => [e.left, e.right]),
    edges_assignment: creases.map((c) => c.assignment),
    ...(shell ? { edges_foldAngle: creases.map((c) => c.angle) } : {}),
    faces_vertices: mesh.faces.map((f) => f.vertices),
    faces_edges: mesh.faces.map((f) => f.edges),
    'edges_girthwise:mate': glued.map((g) => g?.mate ?? null),
    'edges_girthwise:seam': glued.map((g) => g?.number ?? null),
    ...(shell ? { 'edges_girthwise:seamAngle': glued.map((g) => g?.angle ?? null) } : {}),
    'faces_girthwise:piece': mesh.faces.map((f) => f.piece),
    'girthwise:pieces': pattern.pieces.map((p) => p.name),
  };
}

interface Crease {
  readonly assignment: 'B' | 'M' | 'V' | 'F' | 'U' | 'J';
  /** Degrees, mountains negative. */
  readonly angle: number;
}

/**
 * Letter and angle that agree, as the format asks. A fold whose drawn direction the shell clearly breaks goes by the
 * shell; where the shell is merely almost flat, the drawn direction stays and the angle is zero.
 */
function creaseOf(role: 'mountain' | 'valley' | 'unknown', bend: Rad | null, broken: boolean): Crease {
  const angle = bend === null ? 0 : degreesOf(bend);
  const letter = angle === 0 ? null : angle < 0 ? 'M' : 'V';
  if (role === 'unknown' || (broken && letter))
    return { assignment: letter ?? (bend === null ? 'U' : 'F'), angle };
  const assignment = role === 'mountain' ? 'M' : 'V';
  return { assignment, angle: letter === assignment ? angle : 0 };
}

interface Glued {
  readonly mate: number;
  readonly number: number;
  readonly angle: number | null;
}

/** For each edge of the mesh what it is glued to; seams that the shell could not glue have no place here. */
function matesOf(mesh: FlatMesh, seams: Seams, shell: Shell | null): (Glued | null)[] {
  const runOf = new Map(seams.runs.flatMap((r) => r.seams.map((s) => [s, r.number] as const)));
  const glued: (Glued | null)[] = mesh.edges.map(() => null);
  const left = new Set(shell?.leftOut ?? []);
  for (const [i, seam] of seams.seams.entries()) {
    if (left.has(seam.id)) continue;
    const bend = shell?.bends[seam.id];
    const angle = bend === undefined ? null : degreesOf(bend);
    const number = runOf.get(seam.id) ?? seam.number;
    for (const [a, b] of mesh.glued[i]!) {
      if (glued[a] || glued[b] || a === b) continue;
      glued[a] = { mate: b, number, angle };
      glued[b] = { mate: a, number, angle };
    }
  }
  return glued;
}

const doubt = (shell: Shell): Frame =>
  shell.quality === 'good'
    ? {}
    : {
        frame_description: 'This shell folds up doubtfully: do not rely on its angles.',
      };

function foldedFrame(folded: readonly Point3[], shell: Shell): Frame {
  return {
    frame_title: 'Pattern, folded up',
    ...doubt(shell),
    frame_classes: ['foldedForm'],
    frame_attributes: [spaceOf(folded), 'manifold', 'orientable'],
    frame_unit: 'mm',
    frame_parent: 0,
    frame_inherit: true,
    vertices_coords: folded.map(coordsOf),
    'girthwise:quality': shell.quality,
  };
}

/** The shell with its seams closed: angles of seams and folds alike, measured between the faces. */
function gluedFrame(mesh: FlatMesh, shell: Shell): Frame {
  const faceNumber = new Map(mesh.faces.map((f, i) => [f.face, i]));
  const edges: MeshEdge[] = [];
  const edgeAt = new Map<string, MeshEdge>();
  shell.faces.forEach(({ vertices }, f) => {
    vertices.forEach((from, i) => {
      const to = vertices[(i + 1) % vertices.length]!;
      const back = edgeAt.get(`${to} ${from}`);
      if (back) {
        back.right = f;
        return;
      }
      const edge: MeshEdge = { from, to, kind: 'edge', of: '', step: 0, left: f, right: null };
      edgeAt.set(`${from} ${to}`, edge);
      edges.push(edge);
    });
  });
  const normals = shell.faces.map(({ vertices }) => normalOf(vertices.map((v) => shell.vertices[v]!)));
  const creases = edges.map((e): Crease => {
    if (e.left === null || e.right === null) return { assignment: 'B', angle: 0 };
    const along = unitOf3(subtract3(shell.vertices[e.to]!, shell.vertices[e.from]!));
    const [m, n] = [normals[e.left]!, normals[e.right]!];
    // The right face's normal turns away from the left one's round the edge where the fold is convex.
    const bend = Math.atan2(dot3(cross3(m, n), along), dot3(m, n));
    return creaseOf('unknown', bend, false);
  });
  return {
    frame_title: 'Shell, folded up and glued',
    ...doubt(shell),
    frame_classes: ['foldedForm'],
    frame_attributes: [spaceOf(shell.vertices), 'manifold', 'orientable', 'noCuts', 'noJoins'],
    frame_unit: 'mm',
    vertices_coords: shell.vertices.map(coordsOf),
    edges_vertices: edges.map((e) => [e.from, e.to]),
    edges_faces: edges.map((e) => [e.left, e.right]),
    edges_assignment: creases.map((c) => c.assignment),
    edges_foldAngle: creases.map((c) => c.angle),
    faces_vertices: shell.faces.map((f) => f.vertices),
    'faces_girthwise:face': shell.faces.map((f) => faceNumber.get(f.face) ?? null),
    'girthwise:quality': shell.quality,
  };
}

/** Normal of a ring that is flat or nearly so (Newell's sums). */
function normalOf(ring: readonly Point3[]): Point3 {
  const o = ring[0]!;
  let sum: Point3 = { x: 0, y: 0, z: 0 };
  for (let i = 1; i + 1 < ring.length; i++) {
    const n = cross3(subtract3(ring[i]!, o), subtract3(ring[i + 1]!, o));
    sum = { x: sum.x + n.x, y: sum.y + n.y, z: sum.z + n.z };
  }
  return unitOf3(sum);
}

function isConvex(ring: readonly { readonly x: number; readonly y: number }[]): boolean {
  return ring.every((p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    const r = ring[(i + 2) % ring.length]!;
    const turn = (q.x - p.x) * (r.y - q.y) - (q.y - p.y) * (r.x - q.x);
    return turn >= -straight * Math.hypot(q.x - p.x, q.y - p.y) * Math.hypot(r.x - q.x, r.y - q.y);
  });
}

/** Corners that turn back by less than this, rad, are straight: rounding of drawn places. */
const straight = 1e-6;

/** A millionth of a millimetre or degree: lengths that are read back differ by nothing that a fold-up sees. */
const tidy = (value: number): number => Math.round(value * 1e6) / 1e6 + 0;
/** The format's word: 3D only for places that do not all lie at height zero. */
const spaceOf = (places: readonly Point3[]) => (places.every((p) => tidy(p.z) === 0) ? '2D' : '3D');
const coordsOf = (p: Point3): Entry => [tidy(p.x), tidy(p.y), tidy(p.z)];
/** Bend (+ convex) to the format's angle (mountain negative). */
const degreesOf = (bend: Rad): number => tidy((-bend * 180) / Math.PI);

/** One entry of a list per line, so that two files can be compared. */
function textOf(key: Frame, frames: readonly Frame[]): string {
  const list = (value: Entry | boolean): string =>
    Array.isArray(value) && value.length > 0
      ? `[\n${value.map((v) => JSON.stringify(v)).join(',\n')}\n]`
      : JSON.stringify(value);
  const body = (frame: Frame): string[] =>
    Object.entries(frame).map(([name, value]) => `${JSON.stringify(name)}: ${list(value)}`);
  const inner = frames.map((f) => `{\n${body(f).join(',\n')}\n}`).join(',\n');
  return `{\n${[...body(key), ...(frames.length > 0 ? [`"file_frames": [\n${inner}\n]`] : [])].join(',\n')}\n}\n`;
}
