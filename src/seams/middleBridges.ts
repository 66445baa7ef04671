/**
 * Strips that cross the middle: a chin, a bridge between two eyes, a kite between two pieces. Both ends of such a strip
 * are as long as each other and so are the places where they belong, and each single edge could be glued to its own mirror
 * image as well. Every way to join two edges, and their mirror images with them, is weighed with all rims and seams of
 * the middle that it leaves.
 */
import type { Mm } from '../units';
import type { FaceMirror } from './faceMirror';
import type { GluedOutlines, OpenCorner } from './gluedOutlines';
import { looseEvidence, mostPlugEdges } from './matchTolerance';
import { middleChains } from './middleChains';
import { closedFactor, rimFactor } from './openEnds';

type Pair = readonly [number, number];

/** Two seams that are each other's mirror image. */
export interface MiddleWay {
  readonly pairs: readonly [Pair, Pair];
  /** Logarithm of how much likelier they make the whole. */
  readonly gain: number;
  /** Whether they join parts that hang apart. */
  readonly joins: boolean;
}

export const edgesOf = (w: MiddleWay): readonly number[] => w.pairs.flat();

/**
 * All ways to join edges of a half to each other, best first; nothing is glued.
 * @param noise error in length of mates
 * @param reach most difference in length
 * @param mayGlue false for pairs that are ruled out
 */
export function middleWays(
  glued: GluedOutlines,
  mirror: FaceMirror,
  noise: Mm,
  reach: Mm,
  mayGlue: (a: number, b: number) => boolean,
): MiddleWay[] {
  const { half } = glued;
  const { chains, rest } = middleChains(glued, mirror);
  const items = [
    ...chains.flatMap((c) => c.pairs.map((p) => p.pair)),
    ...rest.flatMap((l) => halfOf(l, mirror)),
  ];
  const lengthOf = ([a, b]: Pair) => (half.length[a]! + half.length[b]!) / 2;
  const before = scoreOf(glued, mirror);
  const part = glued.parts();
  const ways: MiddleWay[] = [];
  items.forEach((p, i) => {
    for (const q of items.slice(i + 1)) {
      const d = lengthOf(p) - lengthOf(q);
      if (Math.abs(d) > reach) continue;
      const near = items.filter((o) => Math.abs(lengthOf(o) - lengthOf(p)) < densityWithin).length;
      const density = near / (2 * densityWithin);
      const length = -(d * d) / (2 * noise * noise) - Math.log(noise * Math.sqrt(2 * Math.PI) * density);
      for (const [c, e] of [q, [q[1], q[0]] as const]) {
        const pairs: readonly [Pair, Pair] = [
          [p[0], c],
          [p[1], e],
        ];
        if (!pairs.every(([a, b]) => mayGlue(a, b))) continue;
        const after = scoreWith(glued, mirror, pairs);
        const joins = part[half.piece[p[0]]!] !== part[half.piece[c]!];
        if (after !== null) ways.push({ pairs, gain: length + after - before, joins });
      }
    }
  });
  return ways.sort((p, q) => q.gain - p.gain || p.pairs[0][0] - q.pairs[0][0]);
}

/** Edges of a strip that is cut in two along the middle, with their images on its other half. */
function halfOf(loop: readonly OpenCorner[], mirror: FaceMirror): Pair[] {
  if (loop.length > mostPlugEdges) return [];
  return loop.flatMap(({ into }): Pair[] => {
    const image = mirror.imageOf(into);
    return image > into ? [[into, image]] : [];
  });
}

/** Edges per mm of length are counted within this on either side. */
const densityWithin: Mm = 5;

/** The same with pairs glued; null where they make a handle. Puts all back. */
function scoreWith(glued: GluedOutlines, mirror: FaceMirror, pairs: readonly Pair[]): number | null {
  const made: number[] = [];
  for (const [a, b] of pairs) {
    if (!glued.isOpen(a) || !glued.isOpen(b) || !glued.staysPlain(a, b) || glued.closesOnOneEdge(a, b)) break;
    glued.glue(a, b);
    made.push(a);
  }
  const score = made.length === pairs.length ? scoreOf(glued, mirror) : null;
  for (const a of made) glued.open(a);
  return score;
}

/** How likely all corners are, of one half; and that parts hang together. */
function scoreOf(glued: GluedOutlines, mirror: FaceMirror): number {
  const { chains, rest } = middleChains(glued, mirror);
  let score = chains.reduce((sum, c) => sum + c.score, 0);
  for (const loop of rest) for (const { angle } of loop) score += Math.log(rimFactor(angle)) / 2;
  for (const { angle } of glued.closedCorners()) score += Math.log(closedFactor(angle)) / 2;
  return score - Math.log(looseEvidence) * new Set(glued.parts()).size;
}
