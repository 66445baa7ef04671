import { cross3, dot3, type Point3, point3, scaleBy3, subtract3, unitOf3 } from '../math';
import { borderLoops, type ShellTopology } from './topology';

/** A shell put upright, and how directions were turned for it. */
export interface Upright {
  readonly positions: readonly Point3[];
  readonly turn: (direction: Point3) => Point3;
}

/**
 * Which way a shell stands, as a proposal: up is away from the largest opening (that one is worn at the bottom), front
 * lies in the mirror plane, on the side of the next opening if there is one, else on the side that bulges more. A
 * closed shell keeps its longest axis upright.
 */
export function orientPositions(
  topology: ShellTopology,
  x: Float64Array,
  mirror: Int32Array | null,
): Upright {
  const points = Array.from({ length: topology.vertexCount }, (_, v) =>
    point3(x[v * 3]!, x[v * 3 + 1]!, x[v * 3 + 2]!),
  );
  const middle = meanOf(points);
  const loops = borderLoops(topology).map((loop) => loop.map((e) => points[topology.edges[e]!.a]!));
  // Mirrored fold-ups already have their plane at x = 0.
  const across = mirror ? point3(1, 0, 0) : null;
  const flat = (p: Point3) => (across ? subtract3(p, scaleBy3(across, dot3(p, across))) : p);

  let up = loops[0] ? flat(loopNormal(loops[0])) : point3(0, 0, 0);
  if (loops[0] && dot3(up, subtract3(middle, meanOf(loops[0]))) < 0) up = scaleBy3(up, -1);
  if (Math.hypot(up.x, up.y, up.z) < 1e-9) up = flat(longestAxis(points, middle, across));
  up = unitOf3(up);
  const level = (p: Point3) => {
    const q = flat(p);
    return subtract3(q, scaleBy3(up, dot3(q, up)));
  };
  let front = across
    ? cross3(up, across)
    : level(loops[1] ? subtract3(meanOf(loops[1]), middle) : longestAxis(points, middle, up));
  if (Math.hypot(front.x, front.y, front.z) < 1e-9) front = level(point3(0.3, 0.5, 0.8));
  front = unitOf3(front);
  const ahead = (p: Point3) => dot3(subtract3(p, middle), front);
  if (loops[1]) {
    if (ahead(meanOf(loops[1])) < 0) front = scaleBy3(front, -1);
  } else if (points.reduce((sum, p) => sum + ahead(p) ** 3, 0) < 0) front = scaleBy3(front, -1);
  const side = cross3(front, up);
  const base = Math.min(...points.map((p) => dot3(subtract3(p, middle), up)));
  const turn = (d: Point3) => point3(dot3(d, side), dot3(d, front), dot3(d, up));
  return {
    positions: points.map((p) => {
      const q = turn(subtract3(p, middle));
      return point3(q.x, q.y, q.z - base);
    }),
    turn,
  };
}

function meanOf(points: readonly Point3[]): Point3 {
  let x = 0;
  let y = 0;
  let z = 0;
  for (const p of points) {
    x += p.x;
    y += p.y;
    z += p.z;
  }
  const n = Math.max(1, points.length);
  return point3(x / n, y / n, z / n);
}

/** Normal of a closed loop by the area of its three projections (Newell's sum). */
function loopNormal(loop: readonly Point3[]): Point3 {
  let n = point3(0, 0, 0);
  const o = loop[0]!;
  for (let i = 1; i + 1 < loop.length; i++) {
    const c = cross3(subtract3(loop[i]!, o), subtract3(loop[i + 1]!, o));
    n = point3(n.x + c.x, n.y + c.y, n.z + c.z);
  }
  return n;
}

/** Axis of largest spread square to `square`, by power iteration. */
function longestAxis(points: readonly Point3[], middle: Point3, square: Point3 | null): Point3 {
  let axis = point3(0.31, 0.47, 0.83);
  for (let round = 0; round < 60; round++) {
    let sum = point3(0, 0, 0);
    for (const p of points) {
      const d = subtract3(p, middle);
      const s = dot3(d, axis);
      sum = point3(sum.x + d.x * s, sum.y + d.y * s, sum.z + d.z * s);
    }
    if (square) sum = subtract3(sum, scaleBy3(square, dot3(sum, square)));
    const next = unitOf3(sum);
    if (dot3(next, next) === 0) break;
    axis = next;
  }
  return axis;
}
