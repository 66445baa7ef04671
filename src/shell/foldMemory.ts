/**
 * Connected parts that were folded up lately, by what they were folded from. Checking seams folds up what the shell is
 * folded from next, and a change in one part leaves the others as they are.
 */
import type { FoldedUp } from './foldResult';
import type { FoldInput } from './foldUp';

export interface FoldMemory {
  /**
   * The kept answer for an equal input, else `make()`'s, which is kept. Nothing is kept when it fails or is cancelled. A
   * shell that was settled from one near it is kept like one folded from the start.
   */
  recall(input: FoldInput, make: () => Promise<FoldedUp>): Promise<FoldedUp>;
}

/** A pattern of many loose pieces has as many parts; more than this are forgotten, the longest unused first. */
const mostKept = 64;

export function rememberFolds(): FoldMemory {
  const kept = new Map<string, FoldedUp>();
  return {
    async recall(input, make) {
      const key = keyOf(input);
      const folded = kept.get(key) ?? (await make());
      kept.delete(key);
      kept.set(key, folded);
      for (const oldest of kept.keys()) {
        if (kept.size <= mostKept) break;
        kept.delete(oldest);
      }
      return folded;
    },
  };
}

/** Everything that folding depends on: numbers are written so that they read back to the same double. */
function keyOf({ topology, signOfEdge, ...rest }: FoldInput): string {
  const faces = topology.faces.map((face) => [face.vertices, face.flat.flatMap((p) => [p.x, p.y])]);
  return JSON.stringify([faces, [...signOfEdge], rest]);
}
