/** Small patterns made by hand: strips of rectangles between parallel folds, and the walls of prisms. */
import { type Point, point } from '../../src/math';
import { defaultDecisions, type FoamDecisions, type Pattern, type Piece, type Seams } from '../../src/model';

export const marks = defaultDecisions.marks;
export const foamWith = (changes: Partial<FoamDecisions> = {}): FoamDecisions => ({
  ...defaultDecisions.foam,
  ...changes,
});
export const noSeams: Seams = { seams: [], runs: [], open: [], issues: [] };

export function patternOf(pieces: readonly Piece[]): Pattern {
  return {
    size: { width: 500, height: 500, from: { kind: 'physical' } },
    pieces,
    groups: [],
    roleOfLine: {},
    labels: [],
    unread: [],
    issues: [],
  };
}

/**
 * A strip of rectangles of the given widths side by side along x, `height` tall, a fold between each and the next.
 * Edges: `<id>.left`, `.right`, `.top<k>`, `.bottom<k>`; folds `<id>.f<k>`; faces `<id>.q<k>`.
 */
export function stripPiece(
  id: string,
  widths: readonly number[],
  height: number,
  role: 'mountain' | 'valley' = 'mountain',
): Piece {
  const xs = [0];
  for (const width of widths) xs.push(xs.at(-1)! + width);
  const end = xs.at(-1)!;
  const n = widths.length;
  const edge = (name: string, from: Point, to: Point) => ({
    id: `${id}.${name}`,
    points: [from, to],
    curved: false,
  });
  const bottoms = widths.map((_, k) => edge(`bottom${k}`, point(xs[k]!, 0), point(xs[k + 1]!, 0)));
  const tops = widths.map((_, k) => edge(`top${k}`, point(xs[k + 1]!, height), point(xs[k]!, height)));
  return {
    id,
    name: id.toUpperCase(),
    outline: [
      ...bottoms,
      edge('right', point(end, 0), point(end, height)),
      ...tops.reverse(),
      edge('left', point(0, height), point(0, 0)),
    ],
    holes: [],
    folds: widths.slice(1).map((_, k) => ({
      id: `${id}.f${k}`,
      points: [point(xs[k + 1]!, 0), point(xs[k + 1]!, height)],
      role,
      left: `${id}.q${k}`,
      right: `${id}.q${k + 1}`,
    })),
    faces: widths.map((_, k) => ({
      id: `${id}.q${k}`,
      polygon: [point(xs[k]!, 0), point(xs[k + 1]!, 0), point(xs[k + 1]!, height), point(xs[k]!, height)],
      sides: [
        { kind: 'edge', id: `${id}.bottom${k}`, forward: true },
        k === n - 1
          ? { kind: 'edge', id: `${id}.right`, forward: true }
          : { kind: 'fold', id: `${id}.f${k}`, forward: true },
        { kind: 'edge', id: `${id}.top${k}`, forward: true },
        k === 0
          ? { kind: 'edge', id: `${id}.left`, forward: true }
          : { kind: 'fold', id: `${id}.f${k - 1}`, forward: false },
      ],
      holes: [],
    })),
    tabs: [],
  };
}

/** The walls of a prism with n sides as n separate rectangles, each glued to the next. */
export function prismWalls(n: number, width: number, height: number): { pattern: Pattern; seams: Seams } {
  const pieces = Array.from({ length: n }, (_, k) => stripPiece(`w${k}`, [width], height));
  return {
    pattern: patternOf(pieces),
    seams: {
      ...noSeams,
      seams: pieces.map((piece, k) => {
        const next = pieces[(k + 1) % n]!;
        return {
          id: `s${k}`,
          number: k + 1,
          a: { piece: piece.id, edge: `${piece.id}.right` },
          b: { piece: next.id, edge: `${next.id}.left` },
          direction: 'opposed',
          evidence: 'person',
          confidence: 1,
          lengthA: height,
          lengthB: height,
        };
      }),
    },
  };
}
