/**
 * Where the lines of a pattern lie on its shell. The shell knows faces as rings of corners on the drawing; a face that
 * bends without a fold is there in several flat strips. Here the corners along every edge and fold are found again.
 */
import { distance, lerp, type Point, type Point3, polylineLength, ringArea } from '../math';
import type { Face, Pattern, Shell, ShellPatch } from '../model';
import type { Mm } from '../units';
import { flatPose } from './flatPose';

/** A corner of the shell on a line, by its share of the line's length. */
export interface LineBreak {
  readonly share: number;
  readonly vertex: number;
}

export interface ShellLines {
  /** Corners along each edge and fold, from share 0 to 1; lines that the shell lacks are missing. */
  readonly breaks: ReadonlyMap<string, readonly LineBreak[]>;
  /** The place in space of a point inside a face of the pattern; null where the shell lacks the face. */
  inside(face: string, p: Point): Point3 | null;
  /** Faces that the shell shows to be drawn from inside. */
  readonly turnedOver: ReadonlySet<string>;
}

/** The shell works out corners from the ends of lines, to rounding; no two corners of a drawing lie so close. */
export const sameCorner: Mm = 1e-6;

interface Patch {
  readonly flat: readonly Point[];
  readonly vertices: readonly number[];
}

export function shellLines(pattern: Pattern, shell: Shell): ShellLines {
  const patchesOf = new Map<string, Patch[]>();
  const turnedOver = new Set<string>();
  for (const patch of shell.faces) {
    if (ringArea(patch.flat) < 0) turnedOver.add(patch.face);
    patchesOf.set(patch.face, [...(patchesOf.get(patch.face) ?? []), upright(patch)]);
  }
  const breaks = new Map<string, readonly LineBreak[]>();
  for (const piece of pattern.pieces) {
    const lines = new Map(
      [...piece.outline, ...piece.holes.flat(), ...piece.folds].map((l) => [l.id, l.points] as const),
    );
    for (const face of piece.faces)
      for (const [id, found] of breaksOfFace(face, patchesOf.get(face.id) ?? [], lines))
        breaks.set(id, found);
  }
  return {
    breaks,
    turnedOver,
    inside(face, p) {
      const patches = patchesOf.get(face) ?? [];
      const own = patches.find((patch) => holds(patch.flat, p)) ?? patches[0];
      return (own && flatPose(own.flat, own.vertices, shell.vertices)?.(p)) ?? null;
    },
  };
}

/** A face of the shell counter-clockwise as drawn; one drawn from inside runs the other way there. */
function upright({ flat, vertices }: ShellPatch): Patch {
  return ringArea(flat) >= 0
    ? { flat, vertices }
    : { flat: [...flat].reverse(), vertices: [...vertices].reverse() };
}

interface Side {
  readonly from: Point;
  readonly to: Point;
  readonly start: number;
  readonly end: number;
}

/**
 * The corners along each side of a face. A stretch of the shell belongs to a side when both its ends lie on the line
 * and it runs along it as the side does; what two strips of the face share is inside it.
 */
function breaksOfFace(
  face: Face,
  patches: readonly Patch[],
  lines: ReadonlyMap<string, readonly Point[]>,
): Map<string, readonly LineBreak[]> {
  const key = (p: Point, q: Point) => `${p.x} ${p.y} ${q.x} ${q.y}`;
  const sides = patches.flatMap(({ flat, vertices }) =>
    flat.map((from, i): Side => {
      const j = (i + 1) % flat.length;
      return { from, to: flat[j]!, start: vertices[i]!, end: vertices[j]! };
    }),
  );
  const keys = new Set(sides.map((s) => key(s.from, s.to)));
  const outer = patches.length > 1 ? sides.filter((s) => !keys.has(key(s.to, s.from))) : sides;
  const found = new Map<string, readonly LineBreak[]>();
  for (const side of face.sides) {
    const line = lines.get(side.id)!;
    const stretches = outer
      .flatMap((s) => {
        const [p, q] = side.forward ? [s.from, s.to] : [s.to, s.from];
        const [v, w] = side.forward ? [s.start, s.end] : [s.end, s.start];
        const ahead = sharesAt(line, p).flatMap((a) => sharesAt(line, q).map((b) => [a, b] as const));
        const best = ahead.filter(([a, b]) => b > a).sort((x, y) => x[1] - x[0] - (y[1] - y[0]))[0];
        return best ? [{ at: best[0], to: best[1], v, w }] : [];
      })
      .sort((a, b) => a.at - b.at);
    const chain: LineBreak[] = [];
    for (const { at, to, v, w } of stretches) {
      if (chain.length === 0) chain.push({ share: at, vertex: v });
      if (chain.at(-1)!.vertex !== v) break;
      chain.push({ share: to, vertex: w });
    }
    if (chain[0]?.share === 0 && chain.at(-1)!.share === 1) found.set(side.id, chain);
  }
  return found;
}

/** Shares of a line's length at which it passes through a point: none, one, or both ends of a closed line. */
function sharesAt(line: readonly Point[], p: Point): number[] {
  const shares: number[] = [];
  if (distance(p, line[0]!) <= sameCorner) shares.push(0);
  if (distance(p, line.at(-1)!) <= sameCorner) shares.push(1);
  if (shares.length > 0) return shares;
  const whole = polylineLength(line);
  let done = 0;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1]!, line[i]!];
    const length = distance(a, b);
    const along = length > 0 ? ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length : 0;
    if (along >= 0 && along <= length && distance(p, lerp(a, b, along / length)) <= sameCorner)
      return [(done + along) / whole];
    done += length;
  }
  return [];
}

function holds(ring: readonly Point[], p: Point): boolean {
  let odd = false;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) odd = !odd;
  });
  return odd;
}
