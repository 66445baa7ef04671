import { distance3, dot3, type Point3, point3 } from '../math';
import type { Shell } from '../model';
import type { Mm, Rad } from '../units';
import { browPlane, closedSection } from './brow';
import { hullOrder } from './measures';
import { orientPositions } from './orient';
import type { ShellTopology } from './topology';

/**
 * A known taut girth as rows of the least squares. The tape runs straight between the places where the section's hull
 * crosses edges; each such stretch is asked to have its share of the wanted girth, with weights that make all of them
 * pull with one and the same tension, as a tape does. Places and shares hold for one round and are then taken anew.
 */
export interface KnownGirth {
  /** Height of the plane as a part of the shell's, and its tilt, as for the brow. */
  readonly at: number;
  readonly tilt: Rad;
  readonly girth: Mm;
}

/** Wanted distance between two places on edges: |Σ coefficient · vertex|. */
export interface Tie {
  readonly vertices: readonly number[];
  readonly coefficients: readonly number[];
  readonly length: Mm;
  readonly weight: number;
}

/** A stretch of 1 mm pulls so strongly; met within a millimetre against the smoothness, and far softer than an edge. */
const tapeWeight = 0.3;
/** A place on the hull is on an edge when it is as near as this, mm: rounding. */
const onEdge: Mm = 1e-6;

/** The ties of a girth at these positions; none when the plane misses the shell. */
export function girthTies(
  topology: ShellTopology,
  x: Float64Array,
  mirror: Int32Array | null,
  known: KnownGirth,
): Tie[] {
  const { positions } = orientPositions(topology, x, mirror);
  const shell = bareShell(topology, positions);
  const plane = browPlane(shell, known.at, known.tilt);
  const section = closedSection(shell, plane);
  if (!section) return [];
  const crossings = topology.edges.flatMap((e) => {
    const p = positions[e.a]!;
    const q = positions[e.b]!;
    const hp = dot3(p, plane.normal) - plane.offset;
    const hq = dot3(q, plane.normal) - plane.offset;
    if (hp >= 0 === hq >= 0) return [];
    const t = hp / (hp - hq);
    const at = point3(p.x + (q.x - p.x) * t, p.y + (q.y - p.y) * t, p.z + (q.z - p.z) * t);
    return [{ a: e.a, b: e.b, t, at }];
  });
  const own = crossings.filter((c) => section.points.some((p) => distance3(p, c.at) < onEdge));
  const hull = hullOrder(
    own.map((c) => c.at),
    plane.normal,
  ).map((i) => own[i]!);
  if (hull.length < 3) return [];
  const now = hull.reduce((sum, c, i) => sum + distance3(c.at, hull[(i + 1) % hull.length]!.at), 0);
  return hull.flatMap((c, i) => {
    const d = hull[(i + 1) % hull.length]!;
    const length = distance3(c.at, d.at);
    if (length < onEdge) return [];
    const sum = new Map<number, number>();
    const add = (v: number, w: number) => sum.set(v, (sum.get(v) ?? 0) + w);
    add(c.a, 1 - c.t);
    add(c.b, c.t);
    add(d.a, d.t - 1);
    add(d.b, -d.t);
    return [
      {
        vertices: [...sum.keys()],
        coefficients: [...sum.values()],
        length: (length * known.girth) / now,
        weight: tapeWeight / Math.sqrt(length),
      },
    ];
  });
}

/** Positions as a shell of one part, as far as sections look at it. */
function bareShell(topology: ShellTopology, vertices: readonly Point3[]): Shell {
  const faces = topology.faces.map((f) => ({ piece: '', face: '', flat: f.flat, vertices: f.vertices }));
  const none = { rms: 0, max: 0 };
  return {
    vertices,
    faces,
    bends: {},
    bendSpread: {},
    residual: none,
    rho: 1,
    unsure: { rms: 0, part: 0 },
    wrongSigns: [],
    flexes: 0,
    components: [
      {
        vertices: vertices.map((_, v) => v),
        faces: faces.map((_, f) => f),
        flexes: 0,
        openings: 0,
        residual: none,
        rho: 1,
        unsure: { rms: 0, part: 0 },
      },
    ],
    quality: 'good',
    worst: null,
    symmetry: null,
    softModes: [],
    known: [],
    leftOut: [],
    issues: [],
  };
}
