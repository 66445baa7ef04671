/**
 * The shell that parts lie on, at its final size: faces and their neighbours, and for each face the panel of foam that
 * holds it with the skins of that foam.
 */
import { boxOf, type Point, type Point3, point, subtract3 } from '../math';
import type { ExtraSide, Panel, Pattern, Seams, Shell, ShellPatch } from '../model';
import { offsetPlaces, offsetVectors, type ShellSide, shellSides } from '../shell';
import type { Mm, Rad } from '../units';

/** What the parts are made from. */
export interface GroundInput {
  readonly pattern: Pattern;
  readonly seams: Seams;
  readonly shell: Shell;
  /** The shell's vertices on the paper's surface at the final size. */
  readonly places: readonly Point3[];
  readonly panels: readonly Panel[];
}

/** Where a face lies on a flat panel. */
export interface Seat {
  readonly panel: string;
  /** Corners of the face in the panel's own space, in the order of the face's vertices. */
  readonly ring: readonly Point[];
  /** Heights of the panel's skins above the paper's surface. */
  readonly inside: Mm;
  readonly outside: Mm;
}

export interface Ground {
  readonly patches: readonly ShellPatch[];
  readonly places: readonly Point3[];
  readonly sides: readonly ShellSide[];
  /** The face whose side runs from a to b, and the corner that it starts at. */
  readonly sideAt: (a: number, b: number) => { readonly face: number; readonly corner: number } | null;
  /** Null for a face of a panel that was made from its flat drawing alone. */
  readonly seats: readonly (Seat | null)[];
  /** Outlines of the panels as they are traced, by id. */
  readonly outlines: ReadonlyMap<string, readonly (readonly Point[])[]>;
  /** The vertices at a depth, + outward. */
  readonly at: (depth: Mm) => readonly Point3[];
}

export function readGround({ pattern, seams, shell, places, panels }: GroundInput): Ground {
  const count = shell.vertices.length;
  const sides = new Map<number, { face: number; corner: number }>();
  shell.faces.forEach(({ vertices }, face) => {
    vertices.forEach((v, corner) => {
      sides.set(v * count + vertices[(corner + 1) % vertices.length]!, { face, corner });
    });
  });
  const vectors = offsetVectors({ vertices: places, faces: shell.faces });
  const kept = new Map<Mm, readonly Point3[]>();
  return {
    patches: shell.faces,
    places,
    sides: shellSides(shell, pattern, seams),
    sideAt: (a, b) => sides.get(a * count + b) ?? null,
    seats: seatsOf(shell.faces.length, panels),
    outlines: new Map(panels.map((p) => [p.id, p.outlines.traced] as const)),
    at: (depth) => {
      let found = kept.get(depth);
      if (!found) {
        found = offsetPlaces(places, vectors, depth);
        kept.set(depth, found);
      }
      return found;
    },
  };
}

function seatsOf(count: number, panels: readonly Panel[]): (Seat | null)[] {
  const seats: (Seat | null)[] = Array.from({ length: count }, () => null);
  for (const { id, body, outlines } of panels) {
    if (!body) continue;
    // A body is seen from outside; the panel of a piece that was drawn from inside lies the other way round.
    const own = boxOf(outlines.inside.flat());
    const far = (turn: 1 | -1) => {
      const box = boxOf(body.corners.map((p) => point(turn * p.x, p.y)));
      return Math.abs(box.minX - own.minX) + Math.abs(box.maxX - own.maxX);
    };
    const turn = far(1) <= far(-1) ? 1 : -1;
    for (const { patch, ring } of body.faces)
      seats[patch] = {
        panel: id,
        ring: ring.map((corner) => {
          const p = body.corners[corner]!;
          return point(turn * p.x, p.y);
        }),
        inside: body.depth + body.heights.inside,
        outside: body.depth + body.heights.outside,
      };
  }
  return seats;
}

/** Height of the shell's own skin at a face that has a seat. */
export const bareHeight = (ground: Ground, face: number, side: ExtraSide): Mm => {
  const seat = ground.seats[face]!;
  return side === 'outside' ? seat.outside : seat.inside;
};

/** The angle of a face at one of its corners, with the vertices at these places. */
export function cornerAngle({ vertices }: ShellPatch, corner: number, places: readonly Point3[]): Rad {
  const n = vertices.length;
  const at = places[vertices[corner]!]!;
  const p = subtract3(places[vertices[(corner + 1) % n]!]!, at);
  const q = subtract3(places[vertices[(corner + n - 1) % n]!]!, at);
  const cross = Math.hypot(p.y * q.z - p.z * q.y, p.z * q.x - p.x * q.z, p.x * q.y - p.y * q.x);
  return Math.atan2(cross, p.x * q.x + p.y * q.y + p.z * q.z);
}

/**
 * The angle on the surface at vertex `at`, counter-clockwise from the side towards `from` to the side towards `to`;
 * null when a border lies between.
 */
export function fanAngle(
  ground: Ground,
  at: number,
  from: number,
  to: number,
  places: readonly Point3[],
): Rad | null {
  let sum = 0;
  for (let cur = from, steps = 0; steps < ground.patches.length; steps++) {
    const side = ground.sideAt(at, cur);
    if (!side) return null;
    const patch = ground.patches[side.face]!;
    const n = patch.vertices.length;
    sum += cornerAngle(patch, side.corner, places);
    cur = patch.vertices[(side.corner + n - 1) % n]!;
    if (cur === to) return sum;
  }
  return null;
}
