/** The mirror image of every face and hinge, by the symmetry of the shell; −1 where there is none. */
import type { Shell } from '../model';
import type { Surface } from './surface';

export interface Mirror {
  readonly face: readonly number[];
  readonly hinge: readonly number[];
}

/** Null where the shell has no symmetry, or no face has an image. */
export function mirrorOf(
  shell: Shell,
  surface: Surface,
  vertexOf: ReadonlyMap<number, number>,
): Mirror | null {
  if (!shell.symmetry) return null;
  const partner = new Map(shell.symmetry.pairs.flatMap(([a, b]) => [[a, b] as const, [b, a] as const]));
  const name = (vertices: readonly number[]) => [...vertices].sort((p, q) => p - q).join(' ');
  const places = surface.faces.map((f) => f.vertices.map((v) => vertexOf.get(v) ?? -1));
  const faceAt = new Map(places.map((vertices, f) => [name(vertices), f]));
  const face = places.map((vertices) => faceAt.get(name(vertices.map((v) => partner.get(v) ?? -1))) ?? -1);
  if (face.every((f) => f < 0)) return null;
  const endsOf = (h: number, image: boolean) => {
    const chain = surface.chains[surface.hinges[h]!.a]!;
    const ring = places[chain.face]!;
    const ends = [ring[chain.first]!, ring[(chain.first + chain.count) % ring.length]!];
    return name(image ? ends.map((v) => partner.get(v) ?? -1) : ends);
  };
  const hingeAt = new Map(surface.hinges.map((_, h) => [endsOf(h, false), h]));
  return { face, hinge: surface.hinges.map((_, h) => hingeAt.get(endsOf(h, true)) ?? -1) };
}
