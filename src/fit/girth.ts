/** The pattern's own girth, as measured on the drawing at 100 %. */
import { distance, type Point, polylineLength } from '../math';
import type { FitDecisions, Pattern } from '../model';
import type { Mm } from '../units';

/** Length of a chain of edges or folds, by id, mm. An id that comes twice counts once; unknown ids count nothing. */
export function edgeChainLength(pattern: Pattern, edges: readonly string[]): Mm {
  const lengths = lineLengths(pattern);
  return [...new Set(edges)].reduce((sum, id) => sum + (lengths.get(id) ?? 0), 0);
}

/** Length of straight parts laid on the drawing with the tape, mm: their sum, as they lie. The pattern does not change
 *  it; the argument says which drawing the places belong to. */
export function tapeLength(_pattern: Pattern, parts: readonly (readonly [Point, Point])[]): Mm {
  return parts.reduce((sum, [from, to]) => sum + distance(from, to), 0);
}

/** The girth that was asked for, and the ids that were asked for in vain or twice. */
export interface MeasuredGirth {
  /** Null when nothing is measured. */
  readonly girth: Mm | null;
  /** How it was measured, for the working: "12 edges and folds". */
  readonly how: string;
  readonly unknown: readonly string[];
  readonly repeated: readonly string[];
}

/** Measures the girth as the person decided. */
export function measureGirth(pattern: Pattern, asked: FitDecisions['girth']): MeasuredGirth {
  const none = { unknown: [], repeated: [] };
  switch (asked.kind) {
    case 'none':
      return { girth: null, how: '', ...none };
    case 'typed':
      return { girth: positive(asked.length), how: 'as typed', ...none };
    case 'tape': {
      const parts = asked.parts.length;
      const girth = positive(tapeLength(pattern, asked.parts));
      return { girth, how: `sum of ${counted(parts, 'part')} of the tape`, ...none };
    }
    case 'edges': {
      const lengths = lineLengths(pattern);
      const once = [...new Set(asked.edges)];
      const known = once.filter((id) => lengths.has(id));
      return {
        girth: positive(edgeChainLength(pattern, known)),
        how: `sum of ${counted(known.length, 'edge or fold', 'edges and folds')}`,
        unknown: once.filter((id) => !lengths.has(id)),
        repeated: once.filter((id) => asked.edges.indexOf(id) !== asked.edges.lastIndexOf(id)),
      };
    }
  }
}

const positive = (length: Mm): Mm | null => (length > 0 && Number.isFinite(length) ? length : null);

const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

function lineLengths(pattern: Pattern): Map<string, Mm> {
  const lengths = new Map<string, Mm>();
  for (const piece of pattern.pieces)
    for (const line of [...piece.outline, ...piece.holes.flat(), ...piece.folds])
      lengths.set(line.id, polylineLength(line.points));
  return lengths;
}
