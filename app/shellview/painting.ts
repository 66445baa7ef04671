/** From the shell's state to lists of triangles and lines for the stage. Pure. */
import { cross3, type Point3, point3, subtract3, unitOf3 } from '../../src/math';
import { lineLooks } from '../../src/model';
import type { ShellSide } from '../../src/shell';
import type { Mm } from '../../src/units';
import type { ShellModel } from './model';
import { addBendMarks, addDashed, addHatch, addTicks, inwardsOf } from './strokes';
import type { Rgb } from './theme';

export interface Triangles {
  readonly places: Float32Array;
  readonly colours: Float32Array;
}

/** Light from the front, right and above; faces turned away keep most of their colour, so that lines stay legible. */
const light = unitOf3(point3(0.35, 0.6, 0.72));
const darkest = 0.8;

const cornerAt = (places: Float64Array, corner: number): Point3 =>
  point3(places[3 * corner]!, places[3 * corner + 1]!, places[3 * corner + 2]!);

/** Corners of a face, in order. */
export function ringOf(model: ShellModel, places: Float64Array, face: number): Point3[] {
  const { starts } = model.folding;
  const ring: Point3[] = [];
  for (let c = starts[face]!; c < starts[face + 1]!; c++) ring.push(cornerAt(places, c));
  return ring;
}

export function normalOfRing(ring: readonly Point3[]): Point3 {
  const o = ring[0]!;
  let sum = point3(0, 0, 0);
  for (let i = 1; i + 1 < ring.length; i++) {
    const n = cross3(subtract3(ring[i]!, o), subtract3(ring[i + 1]!, o));
    sum = point3(sum.x + n.x, sum.y + n.y, sum.z + n.z);
  }
  return unitOf3(sum);
}

/** Places of all corners when the shell's vertices are elsewhere: reshaped, breathing. */
export function placesOf(model: ShellModel, vertices: readonly Point3[]): Float64Array {
  const out = new Float64Array(3 * model.folding.starts.at(-1)!);
  let c = 0;
  for (const f of model.shell.faces)
    for (const v of f.vertices) {
      const p = vertices[v]!;
      out[c++] = p.x;
      out[c++] = p.y;
      out[c++] = p.z;
    }
  return out;
}

/** These faces as triangles, shaded. */
export function trianglesOf(
  model: ShellModel,
  places: Float64Array,
  faces: Iterable<number>,
  colourOf: (face: number) => Rgb,
): Triangles {
  const at: number[] = [];
  const colours: number[] = [];
  for (const face of faces) {
    const ring = ringOf(model, places, face);
    const n = normalOfRing(ring);
    const lit = darkest + ((1 - darkest) * (1 + n.x * light.x + n.y * light.y + n.z * light.z)) / 2;
    const [r, g, b] = colourOf(face).map((v) => v * lit) as [number, number, number];
    for (let i = 1; i + 1 < ring.length; i++)
      for (const p of [ring[0]!, ring[i]!, ring[i + 1]!]) {
        at.push(p.x, p.y, p.z);
        colours.push(r, g, b);
      }
  }
  return { places: new Float32Array(at), colours: new Float32Array(colours) };
}

export interface ShellLines {
  readonly rim: number[];
  readonly ticks: number[];
  readonly seam: number[];
  readonly mountain: number[];
  readonly valley: number[];
  readonly flat: number[];
}

/** Ends of a side. */
export function endsOf(model: ShellModel, places: Float64Array, side: ShellSide): [Point3, Point3] {
  const { starts } = model.folding;
  const n = starts[side.face + 1]! - starts[side.face]!;
  return [
    cornerAt(places, starts[side.face]! + side.corner),
    cornerAt(places, starts[side.face]! + ((side.corner + 1) % n)),
  ];
}

const tickHalf: Mm = 1.6;
const tickApart: Mm = 9;

/**
 * All lines by kind. `stretch` lengthens dashes and ticks where the view is far away, as on the bench. Seams are there
 * once for each of their edges, folds once.
 */
export function linesOf(model: ShellModel, places: Float64Array, stretch: number): ShellLines {
  const out: ShellLines = { rim: [], ticks: [], seam: [], mountain: [], valley: [], flat: [] };
  const done = new Set<string>();
  for (const side of model.sides) {
    const [p, q] = endsOf(model, places, side);
    switch (side.kind) {
      case 'open': {
        out.rim.push(p.x, p.y, p.z, q.x, q.y, q.z);
        const inwards = inwardsOf(p, q, normalOfRing(ringOf(model, places, side.face)));
        addTicks(out.ticks, p, q, inwards, tickHalf * stretch, tickApart * stretch);
        break;
      }
      case 'ruling':
        break;
      case 'seam':
        out.seam.push(p.x, p.y, p.z, q.x, q.y, q.z);
        break;
      default: {
        const key = `${side.id} ${Math.min(side.from, side.to)} ${Math.max(side.from, side.to)}`;
        if (done.has(key)) break;
        done.add(key);
        const look = side.kind === 'flat' ? lineLooks.softBend : lineLooks[side.kind];
        const dash = look.dash.map((d) => d * stretch);
        addDashed(out[side.kind], p, q, dash);
      }
    }
  }
  return out;
}

/** The marks of all bends, on both faces beside each fold and seam. */
export function bendMarksOf(model: ShellModel, places: Float64Array, long: Mm): number[] {
  const out: number[] = [];
  for (const side of model.sides) {
    if (side.bend === null) continue;
    const [p, q] = endsOf(model, places, side);
    addBendMarks(out, p, q, inwardsOf(p, q, normalOfRing(ringOf(model, places, side.face))), side.bend, long);
  }
  return out;
}

/** Outlines of these sides as whole lines. */
export function wholeLines(model: ShellModel, places: Float64Array, sides: readonly ShellSide[]): number[] {
  return sides.flatMap((side) => endsOf(model, places, side).flatMap((p) => [p.x, p.y, p.z]));
}

/** Outline of a set of faces: their sides but for the folds between them. */
export function outlineOf(model: ShellModel, places: Float64Array, faces: readonly number[]): number[] {
  return wholeLines(
    model,
    places,
    faces.flatMap((f) => model.sidesOf(f).filter((s) => s.edge !== null)),
  );
}

/** Hatching of the faces where the room at some corner is under `least`. */
export function tightHatch(
  model: ShellModel,
  places: Float64Array,
  roomOf: readonly Mm[],
  least: Mm,
  apart: Mm,
): number[] {
  const out: number[] = [];
  model.shell.faces.forEach((f, face) => {
    if (!f.vertices.some((v) => (roomOf[v] ?? Number.POSITIVE_INFINITY) < least)) return;
    const ring = ringOf(model, places, face);
    addHatch(out, ring, normalOfRing(ring), apart);
  });
  return out;
}

/** A line of points as stretches; closed: back to the first. */
export function chainOf(points: readonly Point3[], closed: boolean): number[] {
  const out: number[] = [];
  points.forEach((p, i) => {
    const q = points[i + 1] ?? (closed ? points[0] : undefined);
    if (q) out.push(p.x, p.y, p.z, q.x, q.y, q.z);
  });
  return out;
}
