import { cross, distance, type Point, subtract } from '../math';
import type { ShellFace, ShellTopology } from './topology';

/** Twice the area of a triangle under this part of its longest side squared is a line: rounding and drawing noise. */
const onOneLine = 1e-4;
/** Two joined edges that turn by less run on straight, rad: noise turns an edge of 10 mm by half of it. */
const straight = 5e-3;

/**
 * Motions that keep every face's shape, counted: coordinates less the six of the whole, less what each rigid body fixes,
 * plus what two bodies fix twice. Faces that share three corners off one line are one body, whose n corners cost 3n − 6.
 * An edge between two bodies is fixed twice; of m corners that they share on one line 3m − 5 are. For a disc of
 * triangles that is its border edges − 3. A count, not a rank: special shapes may move more.
 */
export function flexCount(topology: ShellTopology): number {
  const { faces, edges, hinges } = topology;
  const parent = faces.map((_, f) => f);
  const bodyOf = (f: number): number => (parent[f] === f ? f : bodyOf(parent[f]!));
  const join = (f: number, g: number) => {
    const [p, q] = [bodyOf(f), bodyOf(g)];
    parent[Math.max(p, q)] = Math.min(p, q);
  };
  for (const { left, right } of hinges.map((h) => edges[h]!))
    if (bodyOf(left) !== bodyOf(right) && shareATriangle(faces[left]!, faces[right]!)) join(left, right);
  for (;;) {
    const joints = jointsOf(topology, bodyOf);
    const crooked = joints.filter((joint) => !isStraight(topology, bodyOf, joint));
    for (const { body, other } of crooked) join(body, other);
    if (crooked.length > 0) continue;
    const corners = new Map<number, Set<number>>();
    for (const [f, { vertices }] of faces.entries()) {
      const own = corners.get(bodyOf(f)) ?? new Set();
      for (const v of vertices) own.add(v);
      corners.set(bodyOf(f), own);
    }
    let fixed = 0;
    for (const own of corners.values()) fixed += 3 * own.size - 6;
    for (const { shared } of joints) fixed -= shared.size > 2 ? 3 * shared.size - 5 : 1;
    return Math.max(0, 3 * topology.vertexCount - 6 * topology.componentCount - fixed);
  }
}

/** Edges between two bodies that hang together: the corners on them, and those where two of the edges meet. */
interface Joint {
  readonly body: number;
  readonly other: number;
  readonly shared: ReadonlySet<number>;
  readonly middle: readonly number[];
}

function jointsOf({ edges, hinges }: ShellTopology, bodyOf: (face: number) => number): Joint[] {
  const between = new Map<string, { body: number; other: number; ends: number[] }>();
  for (const { a, b, left, right } of hinges.map((h) => edges[h]!)) {
    const [p, q] = [bodyOf(left), bodyOf(right)];
    if (p === q) continue;
    const [body, other] = [Math.min(p, q), Math.max(p, q)];
    const own = between.get(`${body} ${other}`) ?? { body, other, ends: [] };
    own.ends.push(a, b);
    between.set(`${body} ${other}`, own);
  }
  return [...between.values()].map(({ body, other, ends }) => ({
    body,
    other,
    shared: new Set(ends),
    middle: ends.filter((v, i) => ends.indexOf(v) < i),
  }));
}

/** Whether the edges of a joint run on straight where they meet. */
function isStraight(
  topology: ShellTopology,
  bodyOf: (face: number) => number,
  { body, middle }: Joint,
): boolean {
  return middle.every((v) => {
    let turn = 0;
    for (const f of topology.facesOf[v]!) if (bodyOf(f) === body) turn += cornerAngle(topology.faces[f]!, v);
    return Math.abs(turn - Math.PI) < straight;
  });
}

/** Inner angle of a face at a vertex, rad. */
export function cornerAngle({ vertices, flat }: ShellFace, vertex: number): number {
  const i = vertices.indexOf(vertex);
  const n = vertices.length;
  const p = flat[i]!;
  const [next, last] = [subtract(flat[(i + 1) % n]!, p), subtract(flat[(i + n - 1) % n]!, p)];
  const angle = Math.atan2(cross(next, last), next.x * last.x + next.y * last.y);
  return angle < 0 ? angle + 2 * Math.PI : angle;
}

/** Whether two faces share three corners that are not on one line. */
function shareATriangle(a: ShellFace, b: ShellFace): boolean {
  const shared: Point[] = a.vertices.flatMap((v, i) => (b.vertices.includes(v) ? [a.flat[i]!] : []));
  if (shared.length < 3) return false;
  const [p, ...rest] = shared as [Point, ...Point[]];
  const q = rest.reduce((far, r) => (distance(p, r) > distance(p, far) ? r : far));
  const span = distance(p, q);
  return rest.some((r) => Math.abs(cross(subtract(q, p), subtract(r, p))) > onOneLine * span * span);
}
