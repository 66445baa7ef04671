/**
 * The only door to the solid library (manifold-3d, Apache-2.0, compiled to WebAssembly; 0.54 MB, loaded on demand). It
 * keeps places in single precision, so solids are handed over about a middle of their own.
 */
import type { Manifold, ManifoldToplevel } from 'manifold-3d';
import { type Point3, subtract3 } from '../math';
import type { Mm } from '../units';
import { leastPrism } from './tolerance';

/** A slab between two rings of corners, the lower counter-clockwise seen from the upper. */
export interface Prism {
  readonly lower: readonly Point3[];
  readonly upper: readonly Point3[];
  /** The ring drawn flat, to cut both ends into triangles. */
  readonly flat: readonly { readonly x: Mm; readonly y: Mm }[];
  /** One number for each corner that all prisms agree on: sides that two prisms share are cut along the same diagonal. */
  readonly corners: readonly number[];
}

export interface Box3 {
  readonly min: readonly [Mm, Mm, Mm];
  readonly max: readonly [Mm, Mm, Mm];
}

/** A solid in the library's memory, until `free`. */
export interface Solid {
  readonly volume: number;
  readonly box: Box3;
  /** Volume that both take, mm³, and a place in it. */
  shared(other: Solid): { readonly volume: number; readonly at: Point3 } | null;
  free(): void;
}

export interface SolidLibrary {
  /** All prisms in one. Prisms without volume are left out; null when none is left. */
  join(prisms: readonly Prism[], middle: Point3): Solid | null;
}

let library: Promise<SolidLibrary> | null = null;

/** Loads the library once; after a failure again. */
export function loadSolidLibrary(): Promise<SolidLibrary> {
  library ??= start().catch((error: unknown) => {
    library = null;
    throw error;
  });
  return library;
}

async function start(): Promise<SolidLibrary> {
  const { default: open } = await import('manifold-3d');
  const top = await open();
  top.setup();
  return { join: (prisms, middle) => join(top, prisms, middle) };
}

/** What a `Solid` of this module is made of. */
const insideOf = new WeakMap<Solid, Manifold>();

function join(top: ManifoldToplevel, prisms: readonly Prism[], middle: Point3): Solid | null {
  const parts: Manifold[] = [];
  for (const prism of prisms) {
    const part = prismOf(top, prism, middle);
    if (part.volume() > leastPrism) parts.push(part);
    else part.delete();
  }
  if (parts.length === 0) return null;
  const whole = parts.length === 1 ? parts[0]! : top.Manifold.union(parts);
  // Results are reckoned when they are asked for, so the parts may go only after the first question.
  const volume = whole.volume();
  if (parts.length > 1) for (const part of parts) part.delete();
  return solidOf(whole, volume, middle);
}

function solidOf(whole: Manifold, volume: number, middle: Point3): Solid {
  const { min, max } = whole.boundingBox();
  const solid: Solid = {
    volume,
    box: { min: [...min], max: [...max] },
    shared(other) {
      const mate = insideOf.get(other);
      if (!mate) throw new Error('a solid that was freed, or is not of this library');
      const both = whole.intersect(mate);
      const taken = both.volume();
      const box = both.boundingBox();
      both.delete();
      if (!(taken > 0)) return null;
      return {
        volume: taken,
        at: {
          x: (box.min[0] + box.max[0]) / 2 + middle.x,
          y: (box.min[1] + box.max[1]) / 2 + middle.y,
          z: (box.min[2] + box.max[2]) / 2 + middle.z,
        },
      };
    },
    free() {
      insideOf.delete(solid);
      whole.delete();
    },
  };
  insideOf.set(solid, whole);
  return solid;
}

function prismOf(top: ManifoldToplevel, { lower, upper, flat, corners }: Prism, middle: Point3): Manifold {
  const n = lower.length;
  const places = [...lower, ...upper].flatMap((p) => {
    const q = subtract3(p, middle);
    return [q.x, q.y, q.z];
  });
  const triangles: number[] = [];
  const caps = n === 3 ? [[0, 1, 2]] : top.triangulate([flat.map((p) => [p.x, p.y] as [number, number])]);
  for (const [a, b, c] of caps as [number, number, number][]) triangles.push(a, c, b, n + a, n + b, n + c);
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    // From the lower place of the corner with the smaller number to the upper one of the other.
    if (corners[i]! < corners[j]!) triangles.push(i, j, n + j, i, n + j, n + i);
    else triangles.push(i, j, n + i, j, n + j, n + i);
  }
  return top.Manifold.ofMesh(
    new top.Mesh({
      numProp: 3,
      vertProperties: new Float32Array(places),
      triVerts: new Uint32Array(triangles),
    }),
  );
}
