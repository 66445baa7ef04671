/** The openings of the shell, and which one a part means. */
import { distance3, type Point3, point3 } from '../math';
import type { OpeningChoice, Pattern, Seams, Shell } from '../model';
import { type Opening, openingsOf, type ShellSide, shellSides } from '../shell';

/** Edges of the pattern along an opening, in the order of the shell's sides. */
export const edgesAlong = ({ vertices }: Opening, sides: readonly ShellSide[]): string[] => {
  const own = new Set(vertices);
  return [
    ...new Set(sides.flatMap((s) => (s.kind === 'open' && own.has(s.from) && own.has(s.to) ? [s.id] : []))),
  ];
};

/** The opening that shares most edges with those given; null when none does. */
export function openingWith(
  shell: Shell,
  sides: readonly ShellSide[],
  edges: readonly string[],
): Opening | null {
  const wanted = new Set(edges);
  let best: Opening | null = null;
  let most = 0;
  for (const opening of openingsOf(shell)) {
    const shared = edgesAlong(opening, sides).filter((e) => wanted.has(e)).length;
    if (shared > most) {
      most = shared;
      best = opening;
    }
  }
  return best;
}

/**
 * The openings to choose from, largest first.
 * @param places the shell's vertices at the final size
 */
export function openingChoices(
  pattern: Pattern,
  seams: Seams,
  shell: Shell,
  places: readonly Point3[],
): OpeningChoice[] {
  const sides = shellSides(shell, pattern, seams);
  const centre = middleOf(places);
  return openingsOf(shell)
    .map((opening) => {
      const points = opening.vertices.map((v) => places[v]!);
      const girth = points.reduce((sum, p, i) => sum + distance3(p, points[(i + 1) % points.length]!), 0);
      return { edges: edgesAlong(opening, sides), girth, where: whereOf(middleOf(points), centre) };
    })
    .filter(({ edges }) => edges.length > 0)
    .sort((a, b) => b.girth - a.girth);
}

function middleOf(points: readonly Point3[]): Point3 {
  let [x, y, z] = [0, 0, 0];
  for (const p of points) {
    x += p.x / points.length;
    y += p.y / points.length;
    z += p.z / points.length;
  }
  return point3(x, y, z);
}

function whereOf(middle: Point3, centre: Point3): OpeningChoice['where'] {
  const [x, y, z] = [middle.x - centre.x, middle.y - centre.y, middle.z - centre.z];
  const most = Math.max(Math.abs(x), Math.abs(y), Math.abs(z));
  if (most === Math.abs(z)) return z < 0 ? 'bottom' : 'top';
  if (most === Math.abs(y)) return y < 0 ? 'back' : 'front';
  return x < 0 ? 'left' : 'right';
}
