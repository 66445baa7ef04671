/** Places of the pattern on the folded shell, for measuring there. Pure. */
import { distance, distance3, type Point, type Point3 } from '../../../src/math';
import type { EdgeEnd, Pattern, Shell } from '../../../src/model';

/** Corners of faces are the very ends of edges, or joined to them by the reading's tolerance of a tenth of a millimetre. */
const sameCorner = 0.5;

/** Where an end of an edge lies on the folded shell; null where the shell has no such corner. */
export function endOnShell(pattern: Pattern, shell: Shell, { edge, end }: EdgeEnd): Point3 | null {
  for (const piece of pattern.pieces) {
    const own = [piece.outline, ...piece.holes].flat().find((e) => e.id === edge);
    if (!own) continue;
    const at = end === 'start' ? own.points[0] : own.points[own.points.length - 1];
    return at ? cornerAt(shell, piece.id, at) : null;
  }
  return null;
}

function cornerAt(shell: Shell, piece: string, at: Point): Point3 | null {
  let best: { readonly off: number; readonly vertex: number } | null = null;
  for (const patch of shell.faces) {
    if (patch.piece !== piece) continue;
    patch.flat.forEach((corner, i) => {
      const off = distance(corner, at);
      const vertex = patch.vertices[i];
      if (vertex !== undefined && off <= sameCorner && (!best || off < best.off)) best = { off, vertex };
    });
  }
  return best ? (shell.vertices[(best as { vertex: number }).vertex] ?? null) : null;
}

/** Straight distance between two ends of edges on the folded shell, mm; null where one of them is not on it. */
export function distanceOnShell(pattern: Pattern, shell: Shell, from: EdgeEnd, to: EdgeEnd): number | null {
  const a = endOnShell(pattern, shell, from);
  const b = endOnShell(pattern, shell, to);
  return a && b ? distance3(a, b) : null;
}
