import { polygonNormal, type ShellMesh } from './shellMesh';
import { dot3, minus, type Vec3 } from './vec3';

/** Largest distance of a quad's fourth corner from the plane of the others for it to stay one face, mm. Rounding of
 *  coordinates near 200 mm leaves about 1e-13; ten times larger still unfolds to better than 1e-9. */
const flatWithin = 1e-11;

/** Collects corners and faces; corners at exactly the same place are one corner. */
export class MeshBuilder {
  private readonly vertices: Vec3[] = [];
  private readonly faces: number[][] = [];
  private readonly at = new Map<string, number>();

  corner(p: Vec3): number {
    // Adding 0 turns −0 into 0, so that both sides of a mirror plane share their corners.
    const q = { x: p.x + 0, y: p.y + 0, z: p.z + 0 };
    const key = `${q.x},${q.y},${q.z}`;
    const old = this.at.get(key);
    if (old !== undefined) return old;
    this.vertices.push(q);
    this.at.set(key, this.vertices.length - 1);
    return this.vertices.length - 1;
  }

  /** A flat face, counter-clockwise from outside; corners that coincide with their neighbour are dropped. */
  face(...points: readonly Vec3[]): void {
    const loop = points.map((p) => this.corner(p));
    const clean = loop.filter((v, i) => v !== loop[(i + 1) % loop.length]);
    if (clean.length >= 3) this.faces.push(clean);
  }

  /**
   * Four corners in order: one face when flat, else two triangles. `diagonal` 'convex' picks the split that bulges
   * outwards, 'concave' the one that makes a valley.
   */
  quad(a: Vec3, b: Vec3, c: Vec3, d: Vec3, diagonal: 'convex' | 'concave' = 'convex'): void {
    const same = (p: Vec3, q: Vec3) => p.x === q.x && p.y === q.y && p.z === q.z;
    if (same(a, b) || same(b, c) || same(c, d) || same(d, a)) {
      this.face(a, b, c, d);
      return;
    }
    const height = dot3(polygonNormal([a, b, c]), minus(d, a));
    if (Math.abs(height) < flatWithin) this.face(a, b, c, d);
    else if (height < 0 === (diagonal === 'convex')) {
      this.face(a, b, c);
      this.face(a, c, d);
    } else {
      this.face(b, c, d);
      this.face(b, d, a);
    }
  }

  /**
   * Triangles (or flat quads) between two rows that run side by side, seen from outside left to right along both,
   * `lower` below `upper`. Rows of equal length give quads; else the shorter next diagonal is taken.
   */
  strip(lower: readonly Vec3[], upper: readonly Vec3[], diagonal: 'convex' | 'concave' = 'convex'): void {
    if (lower.length === upper.length) {
      for (let i = 0; i + 1 < lower.length; i++)
        this.quad(lower[i]!, lower[i + 1]!, upper[i + 1]!, upper[i]!, diagonal);
      return;
    }
    let i = 0;
    let j = 0;
    while (i + 1 < lower.length || j + 1 < upper.length) {
      const alongLower = (i + 1) / (lower.length - 1);
      const alongUpper = (j + 1) / (upper.length - 1);
      if (j + 1 >= upper.length || (i + 1 < lower.length && alongLower <= alongUpper)) {
        this.face(lower[i]!, lower[i + 1]!, upper[j]!);
        i++;
      } else {
        this.face(lower[i]!, upper[j + 1]!, upper[j]!);
        j++;
      }
    }
  }

  /** Number of faces so far. */
  get size(): number {
    return this.faces.length;
  }

  build(name: string): ShellMesh {
    return { name, vertices: this.vertices, faces: this.faces };
  }
}

/** Corners of a half this near to the mirror plane lie in it, mm: sines and cosines leave 1e-14. */
const onMirrorPlane = 1e-9;

/**
 * A shell from its half with x ≥ 0, the exact mirror image of that half, and faces across the middle (which must be
 * their own mirror images).
 */
export function mirrorHalf(
  name: string,
  half: ShellMesh,
  middle: readonly (readonly Vec3[])[] = [],
): ShellMesh {
  const builder = new MeshBuilder();
  const pointsOf = (loop: readonly number[]) =>
    loop.map((v) => {
      const p = half.vertices[v]!;
      return Math.abs(p.x) < onMirrorPlane ? { ...p, x: 0 } : p;
    });
  for (const loop of half.faces) builder.face(...pointsOf(loop));
  for (const loop of half.faces)
    builder.face(...pointsOf([...loop].reverse()).map((p) => ({ x: -p.x, y: p.y, z: p.z })));
  for (const points of middle) builder.face(...points);
  return builder.build(name);
}
