/**
 * A shell whose faces have their inner skin at different depths: panels of different thickness meet in a step. Where
 * faces of one vertex differ, it stands once for each depth, so that sections show the step instead of a slope.
 */
import type { Point3 } from '../math';
import type { Shell } from '../model';
import type { Mm } from '../units';
import { offsetPlaces } from './offset';

export interface SteppedShell {
  /** The same faces in the same order on vertices of their own; the first ones are the shell's. */
  readonly shell: Shell;
  /** By vertex: the vertex of the shell that it is, and its height, + outward. */
  readonly stands: readonly { readonly vertex: number; readonly height: Mm }[];
}

/** @param heightOf height of each face's skin above the shell's surface, + outward; vertices without a face keep 0 */
export function steppedShell(shell: Shell, heightOf: readonly Mm[]): SteppedShell {
  const stands: { vertex: number; height: Mm }[] = shell.vertices.map((_, vertex) => ({ vertex, height: 0 }));
  const at = new Map<number, Map<Mm, number>>();
  const standFor = (vertex: number, height: Mm): number => {
    const known = at.get(vertex);
    const found = known?.get(height);
    if (found !== undefined) return found;
    if (!known) {
      stands[vertex] = { vertex, height };
      at.set(vertex, new Map([[height, vertex]]));
      return vertex;
    }
    known.set(height, stands.length);
    stands.push({ vertex, height });
    return stands.length - 1;
  };
  const faces = shell.faces.map((face, f) => ({
    ...face,
    vertices: face.vertices.map((v) => standFor(v, heightOf[f]!)),
  }));
  const components = shell.components.map((part) => ({
    ...part,
    vertices: [...new Set([...part.vertices, ...part.faces.flatMap((f) => faces[f]!.vertices)])],
  }));
  return {
    shell: { ...shell, vertices: stands.map(({ vertex }) => shell.vertices[vertex]!), faces, components },
    stands,
  };
}

/** Where its vertices stand when those of the shell are at `places`. */
export function steppedPlaces(
  { stands }: SteppedShell,
  places: readonly Point3[],
  vectors: readonly Point3[],
): Point3[] {
  return stands.map(({ vertex, height }) => offsetPlaces([places[vertex]!], [vectors[vertex]!], height)[0]!);
}
