/**
 * A pattern as one flat mesh with shared corners, and where each corner lies on the folded shell.
 *
 * Corners are shared along folds only, so both sides of a seam or slit keep corners of their own. Curves are cut into
 * straight steps of equal length, as many on both edges of a seam, so that seams pair step by step. A hole inside a
 * face is tied to its ring by a join edge that is walked to and fro, as the FOLD format asks for.
 */
import { DisjointSets, distance, type Point, type Point3, pointAlong, polylineLength } from '../math';
import type { FaceSide, Pattern, Piece, Seam, Seams, Shell } from '../model';
import { joinHole } from './foldHoles';
import { type ShellLines, sameCorner, shellLines } from './shellLines';

export interface FlatMesh {
  readonly vertices: readonly Point[];
  /** The same vertices on the shell; null without a shell, or when a face is not in it. */
  readonly folded: readonly Point3[] | null;
  readonly edges: readonly MeshEdge[];
  readonly faces: readonly MeshFace[];
  /** Pieces (by place in the pattern) that the shell shows to be drawn from inside. */
  readonly turnedOver: ReadonlySet<number>;
  /** For each seam, in order, the pairs of edges that it glues; none where its sides do not fit each other. */
  readonly glued: readonly (readonly (readonly [number, number])[])[];
}

export interface MeshEdge {
  readonly from: number;
  readonly to: number;
  readonly kind: 'edge' | 'fold' | 'join';
  /** Edge or fold id; empty for a join. */
  readonly of: string;
  /** Which step along its edge or fold. */
  readonly step: number;
  /** Faces to the left and right. */
  left: number | null;
  right: number | null;
}

export interface MeshFace {
  readonly piece: number;
  readonly face: string;
  /** Counter-clockwise; side i runs from vertex i to vertex i + 1. */
  readonly vertices: readonly number[];
  readonly edges: readonly number[];
}

/** A place of a face's ring, with the side that begins there. */
export interface RingPlace {
  readonly corner: number;
  readonly kind: MeshEdge['kind'];
  readonly of: string;
  readonly step: number;
  readonly forward: boolean;
}

/** A step turns at most so far, rad: 3° keeps a curve of 50 mm radius within 0.02 mm of its steps. */
const turnPerStep = Math.PI / 60;
const mostSteps = 240;

export function flatMesh(pattern: Pattern, seams: Seams, shell: Shell | null): FlatMesh {
  const lines = new Map<string, readonly Point[]>();
  for (const piece of pattern.pieces) {
    for (const e of [...piece.outline, ...piece.holes.flat()]) lines.set(e.id, e.points);
    for (const f of piece.folds) lines.set(f.id, f.points);
  }
  const known = shell ? shellLines(pattern, shell) : null;
  const shares = stepsOf(lines, seams.seams, known);
  const mesh = new MeshMaker(lines, shares, known, shell);
  for (const [i, piece] of pattern.pieces.entries()) mesh.add(piece, i);
  return mesh.finish(pattern, seams.seams);
}

/** The stretch of an edge that a seam glues, as shares of its length. */
function partOf(line: readonly Point[], part: Seam['partA']): readonly [number, number] {
  const length = polylineLength(line);
  return part && length > 0 ? [Math.max(0, part[0] / length), Math.min(1, part[1] / length)] : [0, 1];
}

/** Shares that differ by less are one place: a thousandth of a millimetre on a metre. */
const sameShare = 1e-6;

/**
 * Where every line is cut into steps, as shares of its length. Cuts stand where the shell has corners and where seams
 * of parts of an edge end; between them curves get steps of their own, as many on both sides of a seam.
 */
function stepsOf(
  lines: ReadonlyMap<string, readonly Point[]>,
  seams: readonly Seam[],
  known: ShellLines | null,
): Map<string, readonly number[]> {
  const cuts = new Map(
    [...lines.keys()].map((id) => [id, known?.breaks.get(id)?.map((b) => b.share) ?? [0, 1]]),
  );
  const cutAt = (id: string, share: number) => {
    const list = cuts.get(id)!;
    if (list.every((s) => Math.abs(s - share) > sameShare)) list.push(share);
    list.sort((a, b) => a - b);
  };
  const usable = seams.filter((s) => lines.has(s.a.edge) && lines.has(s.b.edge));
  for (const { a, b, partA, partB } of usable) {
    for (const share of partOf(lines.get(a.edge)!, partA)) cutAt(a.edge, share);
    for (const share of partOf(lines.get(b.edge)!, partB)) cutAt(b.edge, share);
  }
  const counts = new Map(
    [...cuts].map(([id, list]) => {
      const own = ownSteps(lines.get(id)!);
      return [id, list.slice(1).map((s, i) => Math.max(1, Math.ceil(own * (s - list[i]!) - 1e-9)))] as const;
    }),
  );
  for (const seam of usable) {
    const [one, other] = sidesOf(seam, lines, cuts);
    if (one.length !== other.length) continue;
    for (const [k, i] of one.entries()) {
      const most = Math.max(counts.get(seam.a.edge)![i]!, counts.get(seam.b.edge)![other[k]!]!);
      counts.get(seam.a.edge)![i] = most;
      counts.get(seam.b.edge)![other[k]!] = most;
    }
  }
  return new Map(
    [...cuts].map(([id, list]) => {
      const shares = list.slice(1).flatMap((to, i) => {
        const [from, n] = [list[i]!, counts.get(id)![i]!];
        return Array.from({ length: n }, (_, k) => from + ((to - from) * k) / n);
      });
      return [id, [...shares, 1]];
    }),
  );
}

/** The stretches between cuts that a seam glues, on both sides in the order in which they meet. */
function sidesOf(
  { a, b, partA, partB, direction }: Seam,
  lines: ReadonlyMap<string, readonly Point[]>,
  cuts: ReadonlyMap<string, readonly number[]>,
): readonly [number[], number[]] {
  const within = (id: string, part: Seam['partA']) => {
    const [from, to] = partOf(lines.get(id)!, part);
    const list = cuts.get(id)!;
    return list.slice(1).flatMap((s, i) => (list[i]! > from - sameShare && s < to + sameShare ? [i] : []));
  };
  const other = within(b.edge, partB);
  return [within(a.edge, partA), direction === 'opposed' ? other.reverse() : other];
}

function ownSteps(points: readonly Point[]): number {
  let turn = 0;
  for (let i = 1; i + 1 < points.length; i++) {
    const [p, q, r] = [points[i - 1]!, points[i]!, points[i + 1]!];
    const [ux, uy, vx, vy] = [q.x - p.x, q.y - p.y, r.x - q.x, r.y - q.y];
    turn += Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy));
  }
  return Math.max(1, Math.min(mostSteps, Math.ceil(turn / turnPerStep - 1e-9)));
}

class MeshMaker {
  private readonly at: Point[] = [];
  private readonly inSpace: (Point3 | null)[] = [];
  private readonly rings: { piece: number; face: string; ring: RingPlace[] }[] = [];
  /** Corners along each line, in its own direction: two lists for a fold. */
  private readonly chains = new Map<string, number[][]>();

  constructor(
    private readonly lines: ReadonlyMap<string, readonly Point[]>,
    private readonly shares: ReadonlyMap<string, readonly number[]>,
    private readonly known: ShellLines | null,
    private readonly shell: Shell | null,
  ) {}

  add(piece: Piece, number: number): void {
    const sided = new Set(piece.faces.flatMap((f) => f.sides.map((s) => s.id)));
    const free = piece.holes.filter((hole) => hole.every((e) => !sided.has(e.id)));
    for (const face of piece.faces) {
      let ring = this.ringOf(face.sides, face.id);
      const inner = free.filter((hole) =>
        face.holes.some((h) => h.some((p) => distance(p, hole[0]!.points[0]!) <= sameCorner)),
      );
      for (const hole of inner) {
        const sides = hole.map((e): FaceSide => ({ kind: 'edge', id: e.id, forward: true }));
        ring = joinHole(ring, this.ringOf(sides, face.id), this.at);
      }
      if (ring.length >= 3) this.rings.push({ piece: number, face: face.id, ring });
    }
  }

  private ringOf(sides: readonly FaceSide[], face: string): RingPlace[] {
    const ring: RingPlace[] = [];
    const spans: { side: FaceSide; from: number; steps: number }[] = [];
    for (const side of sides) {
      const shares = this.shares.get(side.id)!;
      const steps = shares.length - 1;
      const points = placesAt(this.lines.get(side.id)!, shares);
      spans.push({ side, from: ring.length, steps });
      for (let i = 0; i < steps; i++) {
        const place = side.forward ? i : steps - i;
        const step = side.forward ? i : steps - 1 - i;
        const p = points[place]!;
        const { kind, id: of, forward } = side;
        ring.push({ corner: this.at.length, kind, of, step, forward });
        this.at.push(p);
        this.inSpace.push(this.onShell(side.id, shares[place]!) ?? this.known?.inside(face, p) ?? null);
      }
    }
    for (const { side, from, steps } of spans) {
      const chain = Array.from({ length: steps + 1 }, (_, i) => ring[(from + i) % ring.length]!.corner);
      if (!side.forward) chain.reverse();
      this.chains.set(side.id, [...(this.chains.get(side.id) ?? []), chain]);
    }
    return ring;
  }

  /** The place on the shell at a share of a line's length. */
  private onShell(line: string, share: number): Point3 | null {
    const breaks = this.known?.breaks.get(line);
    if (!breaks || !this.shell) return null;
    const i = Math.max(
      1,
      breaks.findIndex((b) => b.share >= share),
    );
    const [from, to] = [breaks[i - 1]!, breaks[i]!];
    const p = this.shell.vertices[from.vertex]!;
    const q = this.shell.vertices[to.vertex]!;
    const t = (share - from.share) / (to.share - from.share);
    return { x: p.x + (q.x - p.x) * t, y: p.y + (q.y - p.y) * t, z: p.z + (q.z - p.z) * t };
  }

  finish(pattern: Pattern, seams: readonly Seam[]): FlatMesh {
    const alike = new DisjointSets(this.at.length);
    for (const fold of pattern.pieces.flatMap((p) => p.folds)) {
      const [one, other] = this.chains.get(fold.id) ?? [];
      if (one && other) one.forEach((c, i) => void alike.join(c, other[i]!));
    }
    const vertexOf = new Map<number, number>();
    const vertices: Point[] = [];
    const folded: (Point3 | null)[] = [];
    const vertex = (corner: number): number => {
      const r = alike.find(corner);
      let v = vertexOf.get(r);
      if (v === undefined) {
        v = vertices.length;
        vertexOf.set(r, v);
        vertices.push(this.at[r]!);
        folded.push(this.inSpace[r]!);
      }
      return v;
    };
    const edges: MeshEdge[] = [];
    const edgeAt = new Map<string, number>();
    const faces = this.rings.map(({ piece, face, ring }, f): MeshFace => {
      const corners = ring.map((r) => vertex(r.corner));
      const sides = ring.map((r, i) => {
        const [a, b] = [corners[i]!, corners[(i + 1) % ring.length]!];
        const key = r.kind === 'join' ? `join ${Math.min(a, b)} ${Math.max(a, b)}` : `${r.of} ${r.step}`;
        let e = edgeAt.get(key);
        if (e === undefined) {
          e = edges.length;
          edgeAt.set(key, e);
          const [from, to] = r.forward ? [a, b] : [b, a];
          edges.push({
            from,
            to,
            kind: r.kind,
            of: r.of,
            step: r.step,
            left: null,
            right: null,
          });
        }
        if (r.forward) edges[e]!.left = f;
        else edges[e]!.right = f;
        return e;
      });
      return { piece, face, vertices: corners, edges: sides };
    });
    const whole = folded.every((p) => p !== null);
    const turnedOver = new Set(
      pattern.pieces.flatMap((p, i) => (p.faces.some((f) => this.known?.turnedOver.has(f.id)) ? [i] : [])),
    );
    const glued = seams.map((seam) => {
      if (!this.lines.has(seam.a.edge) || !this.lines.has(seam.b.edge)) return [];
      const [one, other] = sidesOf(seam, this.lines, this.shares);
      if (one.length !== other.length) return [];
      return one.flatMap((step, k): (readonly [number, number])[] => {
        const a = edgeAt.get(`${seam.a.edge} ${step}`);
        const b = edgeAt.get(`${seam.b.edge} ${other[k]!}`);
        return a === undefined || b === undefined ? [] : [[a, b]];
      });
    });
    return { vertices, folded: this.shell && whole ? folded : null, edges, faces, turnedOver, glued };
  }
}

/** Places on a line at shares of its length; those of its ends are exact. */
function placesAt(points: readonly Point[], shares: readonly number[]): Point[] {
  const length = polylineLength(points);
  return shares.map((share) =>
    share === 0 ? points[0]! : share === 1 ? points.at(-1)! : pointAlong(points, length * share).at,
  );
}
