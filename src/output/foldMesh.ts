/**
 * A pattern as one flat mesh with shared corners, and where each corner lies on the folded shell.
 *
 * Corners are shared along folds only, so both sides of a seam or slit keep corners of their own. Curves are cut into
 * straight steps of equal length, as many on both edges of a seam, so that seams pair step by step. A hole inside a
 * face is tied to its ring by a join edge that is walked to and fro, as the FOLD format asks for.
 */
import { GirthwiseError } from '../base';
import { distance, lerp, type Point, type Point3, pointAlong, polylineLength, ringArea } from '../math';
import type { Face, FaceSide, Pattern, Piece, Seams, Shell, ShellPatch } from '../model';
import { flatPose } from './flatPose';
import { joinHole } from './foldHoles';

export interface FlatMesh {
  readonly vertices: readonly Point[];
  /** The same vertices on the shell; null without a shell, or when a face is not in it. */
  readonly folded: readonly Point3[] | null;
  readonly edges: readonly MeshEdge[];
  readonly faces: readonly MeshFace[];
  /** Pieces (by place in the pattern) that the shell shows to be drawn from inside. */
  readonly turnedOver: ReadonlySet<number>;
}

export interface MeshEdge {
  readonly from: number;
  readonly to: number;
  readonly kind: 'edge' | 'fold' | 'join';
  /** Edge or fold id; empty for a join. */
  readonly of: string;
  /** Which of how many steps along its edge or fold. */
  readonly step: number;
  readonly steps: number;
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
  readonly steps: number;
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
  const patches = new Map((shell?.faces ?? []).map((p) => [p.face, upright(p)]));
  const walked = new Map<string, Walked>();
  for (const face of pattern.pieces.flatMap((p) => p.faces)) {
    const patch = patches.get(face.id);
    if (patch) walkPatch(face, patch, lines, walked);
  }
  const steps = stepsOf(lines, seams, walked);
  const mesh = new MeshMaker(lines, steps, walked, shell);
  for (const [i, piece] of pattern.pieces.entries()) mesh.add(piece, i, patches);
  return mesh.finish(
    pattern,
    new Set(pattern.pieces.flatMap((p, i) => (p.faces.some((f) => patches.get(f.id)?.turned) ? [i] : []))),
  );
}

interface Patch {
  readonly flat: readonly Point[];
  readonly vertices: readonly number[];
  readonly turned: boolean;
}

/** A face of the shell counter-clockwise as drawn; one drawn from inside runs the other way there. */
function upright({ flat, vertices }: ShellPatch): Patch {
  if (ringArea(flat) >= 0) return { flat, vertices, turned: false };
  return { flat: [...flat].reverse(), vertices: [...vertices].reverse(), turned: true };
}

/** Shell vertices along an edge or fold, in its own direction. */
type Walked = readonly number[];

/** Follows the face's sides round its patch and notes which shell vertices each of them has. */
function walkPatch(
  face: Face,
  patch: Patch,
  lines: ReadonlyMap<string, readonly Point[]>,
  walked: Map<string, Walked>,
): void {
  const count = patch.flat.length;
  const sides = withoutSpurs(face.sides);
  let at = 0;
  for (const [k, side] of sides.entries()) {
    // A corner of the shell stands where the next side begins; this one's end may differ by rounding.
    const next = sides[(k + 1) % sides.length]!;
    const points = lines.get(next.id)!;
    const end = next.forward ? points[0]! : points.at(-1)!;
    let to = at + 1;
    while (to < at + count && distance(patch.flat[to % count]!, end) > 0) to++;
    if (distance(patch.flat[to % count]!, end) > 0)
      throw new GirthwiseError('foreign-shell', `The shell's face ${face.id} is not the pattern's`);
    const chain = Array.from({ length: to - at + 1 }, (_, i) => patch.vertices[(at + i) % count]!);
    walked.set(side.id, side.forward ? chain : chain.reverse());
    at = to;
  }
}

/** The ring without folds that end inside the face: it passes them to and fro, and the shell has none of them. */
function withoutSpurs(sides: readonly FaceSide[]): readonly FaceSide[] {
  const out: FaceSide[] = [];
  for (const side of sides) {
    if (side.kind === 'fold' && out.at(-1)?.id === side.id) out.pop();
    else out.push(side);
  }
  while (out.length > 1 && out[0]!.kind === 'fold' && out[0]!.id === out.at(-1)!.id) {
    out.shift();
    out.pop();
  }
  return out;
}

/** Steps of every line: as many on both sides of a seam, and a multiple of the shell's own stretches. */
function stepsOf(
  lines: ReadonlyMap<string, readonly Point[]>,
  seams: Seams,
  walked: ReadonlyMap<string, Walked>,
): Map<string, number> {
  const steps = new Map([...lines].map(([id, points]) => [id, ownSteps(points)]));
  for (const { a, b } of seams.seams) {
    const most = Math.max(steps.get(a.edge) ?? 1, steps.get(b.edge) ?? 1);
    if (steps.has(a.edge)) steps.set(a.edge, most);
    if (steps.has(b.edge)) steps.set(b.edge, most);
  }
  for (const [id, chain] of walked) {
    const stretches = chain.length - 1;
    steps.set(id, Math.ceil(steps.get(id)! / stretches) * stretches);
  }
  return steps;
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
    private readonly steps: ReadonlyMap<string, number>,
    private readonly walked: ReadonlyMap<string, Walked>,
    private readonly shell: Shell | null,
  ) {}

  add(piece: Piece, number: number, patches: ReadonlyMap<string, Patch>): void {
    const sided = new Set(piece.faces.flatMap((f) => f.sides.map((s) => s.id)));
    const free = piece.holes.filter((hole) => hole.every((e) => !sided.has(e.id)));
    for (const face of piece.faces) {
      const patch = patches.get(face.id);
      const pose = patch && this.shell ? flatPose(patch.flat, patch.vertices, this.shell.vertices) : null;
      let ring = this.ringOf(face.sides, pose);
      const inner = free.filter((hole) =>
        face.holes.some((h) => h.some((p) => distance(p, hole[0]!.points[0]!) === 0)),
      );
      for (const hole of inner) {
        const sides = hole.map((e): FaceSide => ({ kind: 'edge', id: e.id, forward: true }));
        ring = joinHole(ring, this.ringOf(sides, pose), this.at);
      }
      if (ring.length >= 3) this.rings.push({ piece: number, face: face.id, ring });
    }
  }

  private ringOf(sides: readonly FaceSide[], pose: ((p: Point) => Point3) | null): RingPlace[] {
    const ring: RingPlace[] = [];
    const spans: { side: FaceSide; from: number; steps: number }[] = [];
    for (const side of sides) {
      const steps = this.steps.get(side.id)!;
      const points = splitLine(this.lines.get(side.id)!, steps);
      spans.push({ side, from: ring.length, steps });
      for (let i = 0; i < steps; i++) {
        const share = side.forward ? i : steps - i;
        const step = side.forward ? i : steps - 1 - i;
        const p = points[share]!;
        const { kind, id: of, forward } = side;
        ring.push({ corner: this.at.length, kind, of, step, steps, forward });
        this.at.push(p);
        this.inSpace.push(this.onShell(side.id, share / steps) ?? pose?.(p) ?? null);
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
    const chain = this.walked.get(line);
    if (!chain || !this.shell) return null;
    const along = share * (chain.length - 1);
    const i = Math.min(chain.length - 2, Math.floor(along));
    const p = this.shell.vertices[chain[i]!]!;
    const q = this.shell.vertices[chain[i + 1]!]!;
    const t = along - i;
    return { x: p.x + (q.x - p.x) * t, y: p.y + (q.y - p.y) * t, z: p.z + (q.z - p.z) * t };
  }

  finish(pattern: Pattern, turnedOver: ReadonlySet<number>): FlatMesh {
    const root = Int32Array.from(this.at, (_, i) => i);
    const find = (v: number): number => {
      let r = v;
      while (root[r] !== r) r = root[r]!;
      root[v] = r;
      return r;
    };
    for (const fold of pattern.pieces.flatMap((p) => p.folds)) {
      const [one, other] = this.chains.get(fold.id) ?? [];
      if (one && other)
        one.forEach((c, i) => {
          const [p, q] = [find(c), find(other[i]!)];
          root[Math.max(p, q)] = Math.min(p, q);
        });
    }
    const vertexOf = new Map<number, number>();
    const vertices: Point[] = [];
    const folded: (Point3 | null)[] = [];
    const vertex = (corner: number): number => {
      const r = find(corner);
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
            steps: r.steps,
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
    return { vertices, folded: this.shell && whole ? folded : null, edges, faces, turnedOver };
  }
}

/** Ends of n steps at equal shares of the length, both ends included and exact. */
function splitLine(points: readonly Point[], steps: number): Point[] {
  const first = points[0]!;
  const last = points.at(-1)!;
  const length = polylineLength(points);
  return Array.from({ length: steps + 1 }, (_, i) => {
    if (i === 0 || i === steps) return i === 0 ? first : last;
    return points.length === 2 ? lerp(first, last, i / steps) : pointAlong(points, (length * i) / steps).at;
  });
}
