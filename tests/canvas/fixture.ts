/** A small pattern by hand: two pieces side by side, one seam, a border, an edge without a mate, a fold, a tab. */
import type { Edge, Pattern, Piece, Seams } from '../../src/model';

const edge = (id: string, ...points: readonly (readonly [number, number])[]): Edge => ({
  id,
  points: points.map(([x, y]) => ({ x, y })),
  curved: points.length > 2,
});

/** A square of 40 mm with a fold from its lower left to its upper right corner, and a tab on its top edge. */
const left: Piece = {
  id: 'pA',
  name: 'A',
  outline: [
    edge('A1', [0, -40], [40, -40]),
    edge('A2', [40, -40], [40, 0]),
    edge('A3', [40, 0], [0, 0]),
    edge('A4', [0, 0], [0, -40]),
  ],
  holes: [],
  folds: [
    {
      id: 'fA',
      points: [
        { x: 0, y: -40 },
        { x: 40, y: 0 },
      ],
      role: 'mountain',
      left: 'qA2',
      right: 'qA1',
    },
  ],
  faces: [],
  tabs: [
    {
      id: 'tA',
      edge: 'A3',
      kept: false,
      polygon: [
        { x: 40, y: 0 },
        { x: 35, y: 6 },
        { x: 5, y: 6 },
        { x: 0, y: 0 },
      ],
    },
  ],
};

/** A triangle to its right. */
const right: Piece = {
  id: 'pB',
  name: 'B',
  outline: [
    edge('B1', [60, -40], [100, -40]),
    edge('B2', [100, -40], [60, 0]),
    edge('B3', [60, 0], [60, -40]),
  ],
  holes: [],
  folds: [],
  faces: [],
  tabs: [],
};

export const pattern: Pattern = {
  size: { width: 210, height: 297, from: { kind: 'physical' } },
  pieces: [left, right],
  groups: [],
  roleOfLine: { l1: 'notes', l2: 'outline' },
  labels: [{ edge: 'A1', text: '17', at: { x: 20, y: -36 }, size: 3, angle: 0, source: 't1' }],
  unread: [{ line: 'l3', at: { x: 120, y: -10 }, reason: 'dangling', length: 20 }],
  issues: [],
};

export const seams: Seams = {
  seams: [
    {
      id: 'A2+B3',
      number: 1,
      a: { piece: 'pA', edge: 'A2' },
      b: { piece: 'pB', edge: 'B3' },
      direction: 'opposed',
      evidence: 'number',
      confidence: 1,
      lengthA: 40,
      lengthB: 40,
    },
  ],
  runs: [{ id: 'run1', number: 7, seams: ['A2+B3'] }],
  open: [
    { piece: 'pA', edge: 'A1', why: 'number-alone', label: '17', candidates: [] },
    { piece: 'pA', edge: 'A4', why: 'border', label: '', candidates: [] },
    { piece: 'pB', edge: 'B2', why: 'no-evidence', label: '', candidates: [] },
  ],
  issues: [],
};
