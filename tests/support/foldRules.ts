/**
 * The rules of the FOLD specification 1.2 (doc/spec.md of the format's repository) that a file can break, checked field
 * by field. Each rule quotes or follows a sentence of the specification.
 */

const assignments = new Set(['B', 'M', 'V', 'F', 'U', 'C', 'J']);
const units = new Set(['unit', 'in', 'pt', 'm', 'cm', 'mm', 'um', 'nm']);
const fileClasses = new Set(['singleModel', 'multiModel', 'animation', 'diagrams']);
const frameClasses = new Set(['creasePattern', 'foldedForm', 'graph', 'linkage']);
const attributes = new Set(
  '2D 3D abstract manifold nonManifold orientable nonOrientable selfTouching nonSelfTouching selfIntersecting nonSelfIntersecting cuts noCuts joins noJoins convexFaces nonConvexFaces'.split(
    ' ',
  ),
);
const known = new Set(
  'frame_author frame_title frame_description frame_classes frame_attributes frame_unit frame_parent frame_inherit vertices_coords vertices_vertices vertices_edges vertices_faces edges_vertices edges_faces edges_assignment edges_foldAngle edges_length faces_vertices faces_edges faces_faces faceOrders edgeOrders'.split(
    ' ',
  ),
);
const knownOfFile = new Set(
  'file_spec file_creator file_author file_title file_description file_classes file_frames'.split(' '),
);

export interface FoldFrameJson {
  [name: string]: unknown;
  frame_classes: string[];
  frame_attributes: string[];
  vertices_coords: number[][];
  edges_vertices: [number, number][];
  edges_faces: (number | null)[][];
  edges_assignment: string[];
  edges_foldAngle?: number[];
  faces_vertices: number[][];
  faces_edges: number[][];
}

/** All frames with what they inherit. */
export function foldFrames(text: string): FoldFrameJson[] {
  const root = JSON.parse(text) as Record<string, unknown>;
  const frames = [root, ...((root.file_frames as Record<string, unknown>[] | undefined) ?? [])];
  const whole = (i: number): Record<string, unknown> => {
    const own = frames[i]!;
    return own.frame_inherit === true ? { ...whole(own.frame_parent as number), ...own } : own;
  };
  return frames.map((_, i) => whole(i) as FoldFrameJson);
}

/** Every rule that the text breaks, as a sentence. */
export function brokenRules(text: string): string[] {
  const broken: string[] = [];
  const say = (ok: boolean, what: string) => {
    if (!ok) broken.push(what);
  };
  const root = JSON.parse(text) as Record<string, unknown>;
  say(root.file_spec === 1.2, 'file_spec is the version, a number');
  say(typeof root.file_creator === 'string', 'file_creator is recommended for files output by software');
  for (const c of (root.file_classes as string[] | undefined) ?? [])
    say(fileClasses.has(c) || c.includes(':'), `file class ${c} is standard or has a colon`);
  const raw = [root, ...((root.file_frames as Record<string, unknown>[] | undefined) ?? [])];
  raw.forEach((frame, i) => {
    for (const name of Object.keys(frame)) {
      const reserved = !name.includes(':');
      say(
        !reserved || known.has(name) || (i === 0 && knownOfFile.has(name)),
        `${name} is no field of frame ${i}`,
      );
    }
    say(i > 0 || (!('frame_parent' in frame) && !('frame_inherit' in frame)), 'the key frame has no parent');
  });
  foldFrames(text).forEach((frame, i) => {
    for (const what of rulesOfFrame(frame)) broken.push(`frame ${i}: ${what}`);
  });
  return broken;
}

function rulesOfFrame(frame: FoldFrameJson): string[] {
  const broken: string[] = [];
  const say = (ok: boolean, what: string) => {
    if (!ok && !broken.includes(what)) broken.push(what);
  };
  const { vertices_coords, edges_vertices, edges_faces, edges_assignment, faces_vertices } = frame;
  const has = (name: string) => frame.frame_attributes.includes(name);
  for (const c of frame.frame_classes) say(frameClasses.has(c) || c.includes(':'), `class ${c}`);
  for (const a of frame.frame_attributes) say(attributes.has(a) || a.includes(':'), `attribute ${a}`);
  say(units.has(frame.frame_unit as string), 'frame_unit is a standard value');
  const flat = vertices_coords.every((c) => (c[2] ?? 0) === 0);
  say(!has('2D') || flat, '2D: z coordinates are all implicitly or explicitly 0');
  say(!has('3D') || !flat || has('2D'), '3D: the coordinates do not lie in 2D');
  for (const c of vertices_coords)
    say(
      c.length >= 2 && c.every((v) => Number.isFinite(v)),
      'vertices_coords: arrays of two or more numbers',
    );
  const isVertex = (v: number) => Number.isInteger(v) && v >= 0 && v < vertices_coords.length;
  const isFace = (f: number | null) =>
    f === null || (Number.isInteger(f) && f >= 0 && f < faces_vertices.length);
  for (const e of edges_vertices) say(e.length === 2 && e.every(isVertex), 'edges_vertices: two vertex ids');
  for (const [name, list] of Object.entries(frame)) {
    const rows = name.startsWith('edges_')
      ? edges_vertices.length
      : name.startsWith('faces_')
        ? faces_vertices.length
        : name.startsWith('vertices_')
          ? vertices_coords.length
          : null;
    if (rows !== null) say((list as unknown[]).length === rows, `${name} has one entry for each`);
  }
  // Directed sides of faces, from which left and right follow.
  const left = new Map<string, Set<number>>();
  faces_vertices.forEach((ring, f) => {
    say(ring.length >= 3 && ring.every(isVertex), 'faces_vertices: rings of vertex ids');
    ring.forEach((v, i) => {
      const key = `${v}>${ring[(i + 1) % ring.length]!}`;
      left.set(key, (left.get(key) ?? new Set()).add(f));
      const edge = frame.faces_edges?.[f]?.[i];
      if (!frame.faces_edges) return;
      const ends = edges_vertices[edge!];
      say(
        [v, ring[(i + 1) % ring.length]!].every((end) => ends?.includes(end)),
        'faces_edges[f][i] connects faces_vertices[f][i] and [i + 1]',
      );
    });
  });
  // In a folded form the order of a face tells which way its normal points, so it may look clockwise.
  if (frame.frame_classes.includes('creasePattern'))
    for (const ring of faces_vertices) {
      const area = ring.reduce((sum, v, i) => {
        const [p, q] = [vertices_coords[v]!, vertices_coords[ring[(i + 1) % ring.length]!]!];
        return sum + p[0]! * q[1]! - q[0]! * p[1]!;
      }, 0);
      say(area > 0, 'faces run counterclockwise');
    }
  edges_vertices.forEach(([a, b], e) => {
    const [l, r] = edges_faces[e]!;
    say(
      edges_faces[e]!.length === 2 && isFace(l!) && isFace(r!),
      'edges_faces: left and right, null for none',
    );
    if (l != null) say(left.get(`${a}>${b}`)?.has(l) ?? false, 'the first of edges_faces lies to the left');
    if (r != null) say(left.get(`${b}>${a}`)?.has(r) ?? false, 'the second of edges_faces lies to the right');
    const letter = edges_assignment[e]!;
    say(assignments.has(letter), `assignment ${letter}`);
    const sides = [l, r].filter((f) => f != null).length;
    say((letter === 'B') === (sides === 1), 'a boundary edge has only one incident face');
    say(letter !== 'J' || has('joins'), 'joins are told in frame_attributes');
    say(letter !== 'C' || has('cuts'), 'cuts are told in frame_attributes');
    const angle = frame.edges_foldAngle?.[e];
    if (angle === undefined) return;
    say(angle >= -180 && angle <= 180, 'fold angles lie within ±180°');
    const agrees = letter === 'V' ? angle >= 0 : letter === 'M' ? angle <= 0 : angle === 0;
    say(agrees, `positive for valleys, negative for mountains, zero else (${letter} ${angle})`);
  });
  return broken;
}
