/**
 * The rim that a half shares with its mirror image, proposed: open edges of the folded half that lie in one plane with
 * all of the half on one side of it. Of all such planes through three corners of the rim the one with the longest rim.
 */
import { cross3, dot3, norm3, type Point3, scaleBy3, subtract3 } from '../math';
import type { Pattern, Seams, Shell } from '../model';
import { shellSides } from '../shell';
import type { Mm } from '../units';

export interface ProposedRim {
  readonly edges: readonly string[];
  readonly length: Mm;
  /** Farthest that a corner of the rim lies off the plane. */
  readonly off: Mm;
}

/** Corners lie in the plane within this part of the shell's size: a half is folded up without its other half, and flexes. */
const planeSlack = 0.02;

/** @returns null when no plane holds a rim of at least three edges */
export function proposeRim(shell: Shell, pattern: Pattern, seams: Seams): ProposedRim | null {
  const at = shell.vertices;
  const open = shellSides(shell, pattern, seams).flatMap((s) =>
    s.kind === 'open' && s.edge !== null ? [{ edge: s.edge, p: at[s.from]!, q: at[s.to]! }] : [],
  );
  const used = new Set(shell.faces.flatMap((f) => f.vertices));
  const all = [...used].map((v) => at[v]!);
  const size = sizeOf(all);
  const slack = planeSlack * size;
  const length = ({ p, q }: (typeof open)[number]) => norm3(subtract3(q, p));
  let best: ProposedRim | null = null;
  for (let i = 0; i < open.length; i++)
    for (let j = i + 1; j < open.length; j++) {
      const [one, two] = [open[i]!, open[j]!];
      const across = subtract3(two.p, one.p);
      const normal = cross3(subtract3(one.q, one.p), across);
      const long = norm3(normal);
      // Too short a base tells no plane.
      if (long < 0.1 * size * length(one)) continue;
      const n = scaleBy3(normal, 1 / long);
      const off = (r: Point3) => dot3(n, subtract3(r, one.p));
      const rim = open.filter((s) => Math.abs(off(s.p)) <= slack && Math.abs(off(s.q)) <= slack);
      const total = rim.reduce((sum, s) => sum + length(s), 0);
      if (rim.length < 3 || total <= (best?.length ?? 0) + 1e-9) continue;
      const offs = all.map(off);
      if (Math.min(...offs) < -slack && Math.max(...offs) > slack) continue;
      best = {
        edges: [...new Set(rim.map((s) => s.edge))],
        length: total,
        off: Math.max(...rim.flatMap((s) => [Math.abs(off(s.p)), Math.abs(off(s.q))])),
      };
    }
  return best;
}

function sizeOf(points: readonly Point3[]): Mm {
  const span = (pick: (p: Point3) => number) => {
    const all = points.map(pick);
    return all.length === 0 ? 0 : Math.max(...all) - Math.min(...all);
  };
  return Math.hypot(
    span((p) => p.x),
    span((p) => p.y),
    span((p) => p.z),
  );
}
