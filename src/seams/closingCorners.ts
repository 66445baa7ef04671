/**
 * Corners that close: ways to go round a corner of the shell from piece to piece over candidate pairs until the first
 * piece is met again, with all angles together near a full turn. Each is a vote for all its pairs at once.
 */
import { endAngle, type HalfEdges } from './halfEdges';
import { mostDefect, searchSteps, usualDefect } from './matchTolerance';
import { type CandidatePairs, otherOf } from './mateCandidates';

/** Closing corners, flat: the links of corner c are `links[from[c]] … links[from[c + 1] − 1]`. */
export interface ClosingCorners {
  readonly count: number;
  readonly from: Int32Array;
  /** 2·pair + 1 when the corner is at the start of the pair's lower edge, 2·pair when at its end. */
  readonly links: Int32Array;
  /** From 0 to 1: how well the angles close. */
  readonly weight: Float64Array;
  /** False when the search was cut short. */
  readonly complete: boolean;
}

/**
 * @param usable pairs that may be part of a corner
 * @param mostRound most pieces round a corner
 */
export function closingCorners(
  h: HalfEdges,
  pairs: CandidatePairs,
  usable: (pair: number) => boolean,
  mostRound: number,
): ClosingCorners {
  const from: number[] = [0];
  const links: number[] = [];
  const weight: number[] = [];
  const options = pairs.ofEdge.map((all) => all.filter(usable));
  let steps = 0;
  const path: number[] = [];
  const visited = new Uint8Array(h.count);
  const full = 2 * Math.PI;
  let first = 0;

  /** Goes on from the corner at the end of `at`; `first` is the lowest edge that ends here. */
  const goOn = (at: number, left: number, sum: number): void => {
    const out = h.next[at]!;
    // Most ways end here: no mate of the last edge makes the angles close.
    if (left === 0 && Math.abs(sum - full) > mostDefect) {
      steps += options[out]!.length;
      return;
    }
    for (const pair of options[out]!) {
      if (++steps > searchSteps) return;
      const into = otherOf(pairs, pair, out);
      const link = 2 * pair + (pairs.low[pair] === out ? 1 : 0);
      if (into === first) {
        if (left !== 0) continue;
        for (const l of path) links.push(l);
        links.push(link);
        from.push(links.length);
        weight.push(Math.exp(-Math.abs(sum - full) / usualDefect));
        continue;
      }
      if (left === 0 || into < first || visited[into]) continue;
      const next = sum + endAngle(h, into);
      if (next > full + mostDefect) continue;
      visited[into] = 1;
      path.push(link);
      goOn(into, left - 1, next);
      path.pop();
      visited[into] = 0;
    }
  };
  // Few pieces round a corner first: should the search be cut short, the surest corners are there.
  for (let round = 1; round <= mostRound && steps <= searchSteps; round++) {
    for (first = 0; first < h.count; first++) {
      visited[first] = 1;
      goOn(first, round - 1, endAngle(h, first));
      visited[first] = 0;
    }
  }
  return {
    count: weight.length,
    from: Int32Array.from(from),
    links: Int32Array.from(links),
    weight: Float64Array.from(weight),
    complete: steps <= searchSteps,
  };
}
