import { analyseBlocks, type BlockPattern, blockIndex } from '../math';
import type { Rad } from '../units';
import type { Tie } from './girthTies';
import type { Hinges } from './hinge';
import type { PriorRows } from './priorRows';
import { type Seats, seatsOf } from './seats';
import type { ShellTopology } from './topology';

/**
 * The least-squares system of a fold-up: lengths of edges and of all diagonals of polygons, planarity of polygons,
 * one-sided fold signs, bend terms and the smoothness prior, all over vertex positions in mm. Here are its rows, and where
 * each lands in the normal matrix of 3 × 3 blocks; `evaluate` fills it, `descend` takes the steps.
 */
export interface Weights {
  /** Fold signs: ws, and the margin m in rad: wanted s·θ ≥ m. */
  readonly sign: number;
  readonly margin: number;
  /** Coarse bend term w (θ − s·t): weight and target angle; unsigned hinges use +0.5 for s. */
  readonly bend: number;
  readonly target: number;
  /** Smoothness prior, Huber with width `huber` rad; 0 = off. */
  readonly prior: number;
  readonly huber: number;
}

/**
 * One hinge's bend as somebody gives it. `known` is held with its weight in every step; `hint` counts beside the
 * smoothness prior, in its weight, and gives way like a row of it where lengths say otherwise.
 */
export interface KnownBend {
  readonly hinge: number;
  readonly bend: number;
  readonly weight: number;
  readonly as: 'known' | 'hint';
}

/**
 * Hinges within faces, over which a face may bend as far as folds do that drawings leave out. The pull towards flat
 * counts beside the smoothness and grows with the angle itself, not its square, so that few of them bend.
 */
export interface MildHinges {
  /** 1 for hinges within a face. */
  readonly virtual: Uint8Array;
  /** They bend no further, rad; as firm as fold signs. */
  readonly limit: Rad;
  /** Cost of a bend as a part of 2 rad, against the smoothness; see `evaluate`. */
  readonly pull: number;
}

/** A wanted distance between two vertices. */
export interface KnownDistance {
  readonly a: number;
  readonly b: number;
  readonly length: number;
  readonly weight: number;
}

export interface System {
  readonly topology: ShellTopology;
  readonly hinges: Hinges;
  readonly pattern: BlockPattern;
  /** Length rows: pairs of vertices and rest lengths; the first `edgeRows` are the edges in order. */
  readonly pairA: Int32Array;
  readonly pairB: Int32Array;
  readonly rest: Float64Array;
  readonly pairWeight: Float64Array;
  readonly edgeRows: number;
  /** Planarity rows: four vertices each, the fourth in the plane of the others. */
  readonly planar: Int32Array;
  /** Where the fourth lies between the others on the flat face. */
  readonly planarWeights: Float64Array;
  /** +1 mountain, −1 valley, 0 unknown, per hinge. */
  readonly signs: Int8Array;
  /** Virtual diagonals of faces that may bend a little; null where faces stay flat. */
  readonly mild: MildHinges | null;
  readonly prior: PriorRows | null;
  readonly knownBends: readonly KnownBend[];
  /** Wanted distances between places on edges, and their block tables. */
  readonly ties: readonly Tie[];
  readonly tieTable: readonly Int32Array[];
  /** Mirror partner of each vertex about x = 0, or null: every step is then symmetric. */
  readonly mirror: Int32Array | null;
  /** Rows of the matrix that partners share; null where each vertex has its own. */
  readonly seats: Seats | null;
  /** Block tables, see `tableFor`. */
  readonly pairTable: Int32Array;
  readonly planarTable: Int32Array;
  readonly hingeTable: Int32Array;
  readonly priorVertices: readonly Int32Array[];
  readonly priorTable: readonly Int32Array[];
  /** For each prior row and term, where the hinge's four corners stand in the row's vertex list. */
  readonly priorSlots: readonly Int32Array[];
  /** Room for the gradient of the longest prior row. */
  readonly rowBuffer: Float64Array;
}

/** For k vertices: the block of each pair i ≤ j as 2 × index + transposed, in the order (0,0) (0,1) … (1,1) …. */
function tableFor(pattern: BlockPattern, vertices: ArrayLike<number>): number[] {
  const out: number[] = [];
  for (let i = 0; i < vertices.length; i++) {
    for (let j = i; j < vertices.length; j++) {
      const { index, transposed } = blockIndex(pattern, vertices[i]!, vertices[j]!);
      out.push(index * 2 + (transposed ? 1 : 0));
    }
  }
  return out;
}

export function buildSystem(
  topology: ShellTopology,
  hinges: Hinges,
  signs: Int8Array,
  prior: PriorRows | null,
  known: {
    readonly bends?: readonly KnownBend[];
    readonly distances?: readonly KnownDistance[];
    readonly ties?: readonly Tie[];
    readonly mild?: MildHinges | null;
  } = {},
  mirror: Int32Array | null = null,
): System {
  const pairs: [number, number, number, number][] = topology.edges.map((e) => [e.a, e.b, e.length, 1]);
  const edgeRows = pairs.length;
  const planar: number[] = [];
  const planarWeights: number[] = [];
  for (const { vertices, flat } of topology.faces) {
    const n = vertices.length;
    for (let i = 0; i < n; i++) {
      for (let j = i + 2; j < n; j++) {
        if (i === 0 && j === n - 1) continue;
        pairs.push([
          vertices[i]!,
          vertices[j]!,
          Math.hypot(flat[i]!.x - flat[j]!.x, flat[i]!.y - flat[j]!.y),
          1,
        ]);
      }
    }
    if (n < 4) continue;
    // The three corners that span most area carry the plane; every other corner lies in it.
    const base = widestTriple(flat);
    for (let i = 0; i < n; i++) {
      if (base.includes(i)) continue;
      const [p, q, r] = base.map((k) => flat[k]!) as [(typeof flat)[0], (typeof flat)[0], (typeof flat)[0]];
      const s = flat[i]!;
      const det = (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
      const v = ((s.x - p.x) * (r.y - p.y) - (s.y - p.y) * (r.x - p.x)) / det;
      const w = ((q.x - p.x) * (s.y - p.y) - (q.y - p.y) * (s.x - p.x)) / det;
      planarWeights.push(1 - v - w, v, w);
      planar.push(vertices[base[0]!]!, vertices[base[1]!]!, vertices[base[2]!]!, vertices[i]!);
    }
  }
  for (const d of known.distances ?? []) pairs.push([d.a, d.b, d.length, d.weight]);

  return systemOfRows({
    topology,
    hinges,
    signs,
    size: topology.vertexCount,
    rows: { pairs, planar, planarWeights },
    edgeRows,
    prior,
    knownBends: known.bends ?? [],
    ties: known.ties ?? [],
    mild: known.mild ?? null,
    mirror,
  });
}

/** The system of given rows over `size` vertices: finds the matrix pattern and where each row lands in it. */
export function systemOfRows(input: {
  readonly topology: ShellTopology;
  readonly hinges: Hinges;
  readonly signs: Int8Array;
  readonly size: number;
  readonly rows: {
    /** Two vertices, rest length, weight. */
    readonly pairs: readonly (readonly [number, number, number, number])[];
    readonly planar: readonly number[];
    readonly planarWeights: readonly number[];
  };
  readonly edgeRows: number;
  readonly prior: PriorRows | null;
  readonly knownBends: readonly KnownBend[];
  readonly ties?: readonly Tie[];
  readonly mild?: MildHinges | null;
  readonly mirror: Int32Array | null;
}): System {
  const { topology, hinges, signs, edgeRows, prior, mirror } = input;
  const { pairs, planar, planarWeights } = input.rows;
  const seats = mirror ? seatsOf(mirror) : null;
  const rowsOf = (list: readonly number[]): readonly number[] => {
    if (!seats) return list;
    const rows: number[] = [];
    for (const v of list) if (!rows.includes(seats.of[v]!)) rows.push(seats.of[v]!);
    return rows;
  };
  const meet: [number, number][] = [];
  const clique = (list: ArrayLike<number>) => {
    for (let i = 0; i < list.length; i++)
      for (let j = i + 1; j < list.length; j++) meet.push([list[i]!, list[j]!]);
  };
  const pairRows = pairs.map(([a, b]) => rowsOf([a, b]));
  const planarRows = Array.from({ length: planar.length / 4 }, (_, r) =>
    rowsOf(planar.slice(r * 4, r * 4 + 4)),
  );
  const hingeRows = Array.from({ length: hinges.count }, (_, h) =>
    rowsOf([...hinges.corners.subarray(h * 4, h * 4 + 4)]),
  );
  for (const list of [...pairRows, ...planarRows, ...hingeRows]) clique(list);
  const priorVertices: Int32Array[] = [];
  const priorSlots: Int32Array[] = [];
  if (prior) {
    for (let k = 0; k + 1 < prior.start.length; k++) {
      const slots: number[] = [];
      const seen = new Map<number, number>();
      for (let t = prior.start[k]!; t < prior.start[k + 1]!; t++) {
        for (let c = 0; c < 4; c++) {
          const corner = hinges.corners[prior.hinge[t]! * 4 + c]!;
          const v = seats ? seats.of[corner]! : corner;
          if (!seen.has(v)) seen.set(v, seen.size);
          slots.push(seen.get(v)!);
        }
      }
      const list = Int32Array.from(seen.keys());
      clique(list);
      priorVertices.push(list);
      priorSlots.push(Int32Array.from(slots));
    }
  }
  const ties = input.ties ?? [];
  const tieRows = ties.map((tie) => rowsOf([...tie.vertices]));
  for (const list of tieRows) clique(list);
  const pattern = analyseBlocks(seats ? seats.size : input.size, meet);
  const tablesOf = (lists: readonly (readonly number[])[], room: number): Int32Array => {
    const out = new Int32Array(lists.length * room);
    lists.forEach((list, k) => {
      out.set(tableFor(pattern, list), k * room);
    });
    return out;
  };
  return {
    topology,
    hinges,
    pattern,
    pairA: Int32Array.from(pairs, (p) => p[0]),
    pairB: Int32Array.from(pairs, (p) => p[1]),
    rest: Float64Array.from(pairs, (p) => p[2]),
    pairWeight: Float64Array.from(pairs, (p) => p[3]),
    edgeRows,
    planar: Int32Array.from(planar),
    planarWeights: Float64Array.from(planarWeights),
    signs,
    mild: input.mild ?? null,
    prior,
    knownBends: input.knownBends,
    ties,
    tieTable: tieRows.map((list) => Int32Array.from(tableFor(pattern, list))),
    mirror,
    seats,
    pairTable: tablesOf(pairRows, 3),
    planarTable: tablesOf(planarRows, 10),
    hingeTable: tablesOf(hingeRows, 10),
    priorVertices,
    priorTable: priorVertices.map((list) => Int32Array.from(tableFor(pattern, list))),
    priorSlots,
    rowBuffer: new Float64Array(3 * Math.max(1, ...priorVertices.map((list) => list.length))),
  };
}

/** The same rows with a matrix row for each vertex, for motions that are not symmetric. */
export function withoutMirror(system: System): System {
  const { topology, hinges, signs, edgeRows, prior, planar, planarWeights, knownBends, ties, mild } = system;
  if (!system.mirror) return system;
  const pairs = Array.from(
    system.pairA,
    (a, k) => [a, system.pairB[k]!, system.rest[k]!, system.pairWeight[k]!] as const,
  );
  return systemOfRows({
    topology,
    hinges,
    signs,
    size: topology.vertexCount,
    rows: { pairs, planar: [...planar], planarWeights: [...planarWeights] },
    edgeRows,
    prior,
    knownBends,
    ties,
    mild,
    mirror: null,
  });
}

function widestTriple(flat: readonly { x: number; y: number }[]): [number, number, number] {
  let best: [number, number, number] = [0, 1, 2];
  let most = -1;
  for (let i = 0; i < flat.length; i++) {
    for (let j = i + 1; j < flat.length; j++) {
      for (let k = j + 1; k < flat.length; k++) {
        const p = flat[i]!;
        const area = Math.abs(
          (flat[j]!.x - p.x) * (flat[k]!.y - p.y) - (flat[j]!.y - p.y) * (flat[k]!.x - p.x),
        );
        if (area > most * (1 + 1e-9)) {
          most = area;
          best = [i, j, k];
        }
      }
    }
  }
  return best;
}
