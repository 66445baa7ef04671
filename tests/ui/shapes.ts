/** Small patterns and seams for the tests of the screens' helpers. */
import type { Issue } from '../../src/base';
import type { Edge, Fold, OpenEdge, Pattern, Piece, Seam, Seams } from '../../src/model';

export const edge = (id: string, from: [number, number], to: [number, number]): Edge => ({
  id,
  points: [
    { x: from[0], y: from[1] },
    { x: to[0], y: to[1] },
  ],
  curved: false,
});

export const fold = (id: string, role: Fold['role']): Fold => ({
  id,
  points: [
    { x: 0, y: 0 },
    { x: 10, y: 10 },
  ],
  role,
  left: 'f1',
  right: 'f2',
});

/** A rectangle with its lower left corner at x, 0. */
export function rectangle(
  name: string,
  x: number,
  width: number,
  height: number,
  more: Partial<Piece> = {},
): Piece {
  return {
    id: `piece-${name}`,
    name,
    outline: [
      edge(`${name}-below`, [x, 0], [x + width, 0]),
      edge(`${name}-right`, [x + width, 0], [x + width, height]),
      edge(`${name}-above`, [x + width, height], [x, height]),
      edge(`${name}-left`, [x, height], [x, 0]),
    ],
    holes: [],
    folds: [],
    faces: [],
    tabs: [],
    ...more,
  };
}

export const patternOf = (pieces: readonly Piece[], more: Partial<Pattern> = {}): Pattern => ({
  size: { width: 210, height: 297, from: { kind: 'physical' } },
  pieces,
  groups: [],
  roleOfLine: {},
  labels: [],
  unread: [],
  issues: [],
  ...more,
});

export const seam = (id: string, a: string, b: string, more: Partial<Seam> = {}): Seam => ({
  id,
  number: 1,
  a: { piece: 'piece-A', edge: a },
  b: { piece: 'piece-B', edge: b },
  direction: 'opposed',
  evidence: 'number',
  confidence: 1,
  lengthA: 50,
  lengthB: 50,
  ...more,
});

export const open = (edgeId: string, more: Partial<OpenEdge> = {}): OpenEdge => ({
  piece: 'piece-A',
  edge: edgeId,
  why: 'no-evidence',
  label: '',
  candidates: [],
  ...more,
});

export const seamsOf = (seams: readonly Seam[], more: Partial<Seams> = {}): Seams => ({
  seams,
  runs: seams.map((s, i) => ({ id: `run${i + 1}`, number: i + 1, seams: [s.id] })),
  open: [],
  issues: [],
  ...more,
});

export const issue = (
  stage: Issue['stage'],
  severity: Issue['severity'],
  more: Partial<Issue> = {},
): Issue => ({
  code: 'some-finding',
  severity,
  stage,
  message: 'Something was found.',
  remedy: '',
  place: {},
  ...more,
});
