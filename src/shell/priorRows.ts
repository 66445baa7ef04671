import { cornerAngle } from './flexCount';
import type { Hinges } from './hinge';
import { type RuledStrip, stripRows } from './stripRows';
import type { ShellTopology } from './topology';

/**
 * Rows of the smoothness prior. Each row is Σ cₖ θₖ over a few hinges and is wanted near 0:
 * (i) continuation: the bend per width of hinges that carry each other on across a vertex changes little;
 * (ii) a hinge follows one curvature (a symmetric 2 × 2 shape operator) fitted to its neighbourhood.
 * A net laid out in rows and columns takes (i), and (ii) only where nothing carries on; a net without lines takes (ii)
 * everywhere; strips of bent faces have rows of their own, see `stripRows`. Both after the project's own study of open shells; plain bending energy is the wrong prior.
 */
export interface PriorRows {
  /** The net is laid out in lines, see `hasLines`. */
  readonly lines: boolean;
  /** Share of plain bending (squared bends) beside the rows, in squared weight. */
  readonly bending: number;
  /** Row k covers terms start[k] … start[k+1]−1. */
  readonly start: Int32Array;
  readonly hinge: Int32Array;
  readonly coefficient: Float64Array;
}

/** Hinges continue each other when the way straight on differs by less than this from the other hinge, rad. */
const straightOn = Math.PI / 6;
/** Ways on that differ by less are equal, rad: far above rounding, far below what a drawing can show. */
const equallyStraight = 1e-6;
/** Exponent of (width median / width) in the continued quantity; 1.5 did best in the study. */
const widthExponent = 1.5;

/**
 * A net has lines when at least this part of its hinges carries on within this angle, rad. Own family: nets in rows and
 * columns 0.77–1, with corners moved at random by a tenth of an edge 0.67–0.78, nets of random points 0.46–0.58.
 */
const lineShare = 0.65;
const lineTurn = Math.PI / 18;

/**
 * Beside continuation: alone it leaves a valley where a mirror-symmetric net of triangles opens and closes freely
 * (errors of 8–9 % of the size at 1e-4, under 1–2 % at 0.1; at 1 the shell is drawn flat and asymmetric members double
 * their error). Beside one curvature everywhere a tenth of it does, and more draws random nets flat (own family).
 */
const bendingOnLines = 0.1;
const bendingElsewhere = 0.01;

/** A neighbourhood with so many corners is wide enough: two rings of triangles have 14, one ring of hexagons 24. */
const manyCorners = 16;
/** On nets without lines: three rings, and of these what lies within so many mean edges. */
const wideRings = 3;
const wideReach = 1.6;
/** A hinge whose bend answers to curvature with more than so many mean edges has a face like a needle: no good sample. */
const needle = 30;

interface Neighbourhood {
  readonly hinges: number[];
  /** Edge ends, left and right opposite corners, in the plane of the row's own hinge. */
  readonly a: [number, number][];
  readonly b: [number, number][];
  readonly c: [number, number][];
  readonly d: [number, number][];
}

/** Doubled areas of faces, from their flat rings. */
function faceAreas(topology: ShellTopology): Float64Array {
  return Float64Array.from(topology.faces, ({ flat }) => {
    let twice = 0;
    flat.forEach((p, i) => {
      const q = flat[(i + 1) % flat.length]!;
      twice += p.x * q.y - p.y * q.x;
    });
    return Math.abs(twice) / 2;
  });
}

interface Fan {
  readonly edges: readonly number[];
  readonly angles: readonly number[];
  readonly total: number;
  readonly closed: boolean;
}

/**
 * The edges round a vertex in order with the intrinsic direction of each, or null where the faces do not form one fan.
 */
function fanOf(topology: ShellTopology, vertex: number): Fan | null {
  const around = topology.facesOf[vertex]!;
  // Counter-clockwise about the vertex: a face is entered by its edge that starts here and left by the one that ends here.
  const leaving = new Map<number, { face: number; to: number }>();
  const entered = new Set<number>();
  for (const f of around) {
    const { vertices } = topology.faces[f]!;
    const i = vertices.indexOf(vertex);
    const next = vertices[(i + 1) % vertices.length]!;
    const previous = vertices[(i + vertices.length - 1) % vertices.length]!;
    leaving.set(next, { face: f, to: previous });
    entered.add(previous);
  }
  const starts = [...leaving.keys()].filter((v) => !entered.has(v));
  if (starts.length > 1) return null;
  const first = starts[0] ?? Math.min(...leaving.keys());
  const edges: number[] = [];
  const angles: number[] = [];
  let angle = 0;
  let at = first;
  for (let guard = 0; guard <= around.length; guard++) {
    edges.push(topology.edgeAt.get(Math.min(vertex, at) * topology.vertexCount + Math.max(vertex, at))!);
    angles.push(angle);
    const step = leaving.get(at);
    if (!step) break;
    angle += cornerAngle(topology.faces[step.face]!, vertex);
    at = step.to;
    if (at === first) break;
  }
  const closed = starts.length === 0;
  if (angles.length !== around.length + (closed ? 0 : 1)) return null;
  return { edges, angles, total: angle, closed };
}

/**
 * Unfolds the faces within some rings of a hinge into the plane, the hinge's start at the origin along +x; no further
 * ring once there are corners enough.
 */
function unfoldRound(
  topology: ShellTopology,
  hinges: Hinges,
  hinge: number,
  rings: number,
  enough: number,
): Neighbourhood {
  const seat = new Map<number, Map<number, [number, number]>>();
  const place = (face: number, v0: number, p0: [number, number], v1: number, p1: [number, number]) => {
    const { vertices, flat } = topology.faces[face]!;
    const q0 = flat[vertices.indexOf(v0)]!;
    const q1 = flat[vertices.indexOf(v1)]!;
    const turn = Math.atan2(p1[1] - p0[1], p1[0] - p0[0]) - Math.atan2(q1.y - q0.y, q1.x - q0.x);
    const cs = Math.cos(turn);
    const sn = Math.sin(turn);
    const map = new Map<number, [number, number]>();
    vertices.forEach((v, i) => {
      const dx = flat[i]!.x - q0.x;
      const dy = flat[i]!.y - q0.y;
      map.set(v, [p0[0] + dx * cs - dy * sn, p0[1] + dx * sn + dy * cs]);
    });
    seat.set(face, map);
  };
  const home = topology.edges[hinges.edgeOf[hinge]!]!;
  place(home.left, home.a, [0, 0], home.b, [home.length, 0]);
  place(home.right, home.a, [0, 0], home.b, [home.length, 0]);
  let ring = [home.left, home.right];
  const corners = new Set([...topology.faces[home.left]!.vertices, ...topology.faces[home.right]!.vertices]);
  for (let depth = 0; depth < rings && corners.size < enough; depth++) {
    const next: number[] = [];
    for (const face of ring) {
      const { vertices } = topology.faces[face]!;
      const known = seat.get(face)!;
      vertices.forEach((v, i) => {
        const w = vertices[(i + 1) % vertices.length]!;
        const edge =
          topology.edges[topology.edgeAt.get(Math.min(v, w) * topology.vertexCount + Math.max(v, w))!]!;
        const other = edge.left === face ? edge.right : edge.left;
        if (other < 0 || seat.has(other)) return;
        place(other, v, known.get(v)!, w, known.get(w)!);
        next.push(other);
        for (const c of topology.faces[other]!.vertices) corners.add(c);
      });
    }
    ring = next;
  }
  const out: Neighbourhood = { hinges: [], a: [], b: [], c: [], d: [] };
  for (let h = 0; h < hinges.count; h++) {
    const edge = topology.edges[hinges.edgeOf[h]!]!;
    const left = seat.get(edge.left);
    const right = seat.get(edge.right);
    if (!left || !right) continue;
    const a = left.get(edge.a)!;
    const b = left.get(edge.b)!;
    // Two faces laid out along different ways round a vertex may part: then this hinge is no good sample.
    const ra = right.get(edge.a)!;
    const rb = right.get(edge.b)!;
    if (Math.hypot(a[0] - ra[0], a[1] - ra[1]) + Math.hypot(b[0] - rb[0], b[1] - rb[1]) > 0.5 * edge.length)
      continue;
    out.hinges.push(h);
    out.a.push(a);
    out.b.push(b);
    out.c.push(left.get(hinges.corners[h * 4 + 2]!)!);
    out.d.push(right.get(hinges.corners[h * 4 + 3]!)!);
  }
  return out;
}

/** θ of a hinge on the graph of the quadric with shape operator S: linear in (S11, S12, S22), exact to first order. */
function quadricResponse(
  a: [number, number],
  b: [number, number],
  c: [number, number],
  d: [number, number],
): [number, number, number] {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const ux = (b[0] - a[0]) / length;
  const uy = (b[1] - a[1]) / length;
  const local = (p: [number, number]): [number, number] => [
    (p[0] - a[0]) * ux + (p[1] - a[1]) * uy,
    -(p[0] - a[0]) * uy + (p[1] - a[1]) * ux,
  ];
  const [p, q] = local(c);
  const [r, minusS] = local(d);
  const s = -minusS;
  // In the hinge's own axes, then turned into the common ones.
  const k11 = -((p * (length - p)) / q + (r * (length - r)) / s) / 2;
  const k12 = p - r;
  const k22 = (q + s) / 2;
  return [
    k11 * ux * ux - k12 * ux * uy + k22 * uy * uy,
    2 * k11 * ux * uy + k12 * (ux * ux - uy * uy) - 2 * k22 * ux * uy,
    k11 * uy * uy + k12 * ux * uy + k22 * ux * ux,
  ];
}

/** Solves a symmetric 3 × 3 system by elimination with a little damping; null when singular. */
function solve3(m: number[][], right: number[]): number[] | null {
  const a = m.map((row, i) => [...row, right[i]!]);
  for (let k = 0; k < 3; k++) {
    let pivot = k;
    for (let i = k + 1; i < 3; i++) if (Math.abs(a[i]![k]!) > Math.abs(a[pivot]![k]!)) pivot = i;
    [a[k], a[pivot]] = [a[pivot]!, a[k]!];
    const lead = a[k]![k]!;
    if (Math.abs(lead) < 1e-12) return null;
    for (let i = 0; i < 3; i++) {
      if (i === k) continue;
      const f = a[i]![k]! / lead;
      for (let j = k; j < 4; j++) a[i]![j]! -= f * a[k]![j]!;
    }
  }
  return a.map((row, i) => row[3]! / row[i]!);
}

/**
 * Whether most hinges carry each other on: the net is laid out in lines. Of nets with few triangles flatness settles
 * the shape, and they are taken as such too.
 */
function hasLines(topology: ShellTopology, hinges: Hinges): boolean {
  const triangles = topology.faces.filter((f) => f.vertices.length === 3).length;
  if (2 * triangles < topology.faces.length) return true;
  const continued = new Uint8Array(hinges.count);
  for (let v = 0; v < topology.vertexCount; v++) {
    const fan = fanOf(topology, v);
    fan?.edges.forEach((edge, i) => {
      if (straightestOn(fan, hinges, i, lineTurn).length > 0) continued[hinges.hingeOf[edge]!] = 1;
    });
  }
  return continued.reduce((sum, c) => sum + c, 0) >= lineShare * hinges.count;
}

/** @param strips by face, null for faces that are no strip of a bent one */
export function buildPriorRows(
  topology: ShellTopology,
  hinges: Hinges,
  strips: readonly (RuledStrip | null)[] = [],
): PriorRows {
  const areas = faceAreas(topology);
  const width = Float64Array.from({ length: hinges.count }, (_, h) => {
    const e = topology.edges[hinges.edgeOf[h]!]!;
    return (areas[e.left]! + areas[e.right]!) / e.length;
  });
  const sorted = [...width].sort((p, q) => p - q);
  const middle = sorted[Math.floor(sorted.length / 2)] ?? 1;
  const lines = hasLines(topology, hinges);
  const gain = width.map((w) => (lines ? (middle / w) ** widthExponent : 1));

  const start: number[] = [0];
  const hinge: number[] = [];
  const coefficient: number[] = [];
  const continued = new Uint8Array(hinges.count);
  const row = (terms: readonly (readonly [number, number])[]) => {
    for (const [h, c] of terms) {
      hinge.push(h);
      coefficient.push(c);
    }
    start.push(hinge.length);
  };

  const within = stripRows(topology, hinges, strips);
  for (const terms of within.rows) row(terms);
  for (const [h, settled] of within.settled.entries()) if (settled) continued[h] = 1;

  for (let v = 0; lines && v < topology.vertexCount; v++) {
    const fan = fanOf(topology, v);
    if (!fan) continue;
    const { edges } = fan;
    const chosen = edges.map((_, i) => straightestOn(fan, hinges, i, straightOn));
    chosen.forEach((onward, i) => {
      if (onward.length === 0) return;
      const hi = hinges.hingeOf[edges[i]!]!;
      if (within.settled[hi]) return;
      if (continued[hi]! < 3) continued[hi]! += 1;
      const only = onward.length === 1 ? onward[0]! : -1;
      const mutual = only >= 0 && chosen[only]!.length === 1 && chosen[only]![0] === i;
      // Each pair once: from the lower hinge, or from this side when the choice is not mutual.
      if (mutual && hi > hinges.hingeOf[edges[only]!]!) return;
      row([
        [hi, gain[hi]!],
        ...onward.map((j): [number, number] => {
          const hj = hinges.hingeOf[edges[j]!]!;
          return [hj, -gain[hj]! / onward.length];
        }),
      ]);
    });
  }

  const meanEdge = topology.edges.reduce((s, e) => s + e.length, 0) / Math.max(1, topology.edges.length);
  for (let h = 0; h < hinges.count; h++) {
    if (continued[h]! > 0) continue;
    const around = lines
      ? unfoldRound(topology, hinges, h, 2, manyCorners)
      : unfoldRound(topology, hinges, h, wideRings, Number.POSITIVE_INFINITY);
    const responses = around.hinges.map((_, i) =>
      quadricResponse(around.a[i]!, around.b[i]!, around.c[i]!, around.d[i]!),
    );
    const home = hinges.length[h]! / 2;
    const weight = around.hinges.map((other, i) => {
      if (other === h) return 0;
      const dx = ((around.a[i]![0] + around.b[i]![0]) / 2 - home) / meanEdge;
      const dy = (around.a[i]![1] + around.b[i]![1]) / 2 / meanEdge;
      const far = dx * dx + dy * dy;
      if (
        !lines &&
        (far > wideReach * wideReach || responses[i]!.some((k) => Math.abs(k) > needle * meanEdge))
      )
        return 0;
      return Math.exp(-far / 4);
    });
    const normal = [0, 1, 2].map((r) => [0, 1, 2].map((c) => (r === c ? 1e-6 * meanEdge * meanEdge : 0)));
    responses.forEach((k, i) => {
      for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) normal[r]![c]! += weight[i]! * k[r]! * k[c]!;
    });
    const own = responses[around.hinges.indexOf(h)];
    if (!own || weight.filter((w) => w > 0).length < 4) continue;
    const z = solve3(normal, own);
    if (!z) continue;
    const terms: [number, number][] = [[h, gain[h]!]];
    around.hinges.forEach((other, i) => {
      if (other === h) return;
      const k = responses[i]!;
      const c = weight[i]! * (k[0]! * z[0]! + k[1]! * z[1]! + k[2]! * z[2]!);
      if (c !== 0) terms.push([other, -c * gain[h]!]);
    });
    row(terms);
  }
  return {
    lines,
    bending: lines ? bendingOnLines : bendingElsewhere,
    start: Int32Array.from(start),
    hinge: Int32Array.from(hinge),
    coefficient: Float64Array.from(coefficient),
  };
}

/**
 * Places in the fan of the hinges that run straightest on from the hinge at place `from`; none where it turns too much.
 * Two that run on equally well are both given: rounding must not choose between them.
 */
function straightestOn(
  { edges, angles, total, closed }: Fan,
  hinges: Hinges,
  from: number,
  within: number,
): number[] {
  if (hinges.hingeOf[edges[from]!]! < 0) return [];
  const off = edges.map((edge, j) => {
    if (j === from || hinges.hingeOf[edge]! < 0) return Number.POSITIVE_INFINITY;
    const between = Math.abs(angles[j]! - angles[from]!);
    // On a closed fan angles are shares of the vertex's sum, so that a cone's lines still run straight on.
    return closed
      ? Math.abs((Math.min(between, total - between) * 2 * Math.PI) / total - Math.PI)
      : Math.abs(between - Math.PI);
  });
  const least = Math.min(...off);
  if (least >= within) return [];
  return off.flatMap((o, j) => (o <= least + equallyStraight ? [j] : []));
}
