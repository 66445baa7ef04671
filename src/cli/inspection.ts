/**
 * What `inspect` prints: format "girthwise-inspection", version 1. Lengths in mm, angles in radians, positions on the
 * drawing in mm from the top-left corner of its page, y down. Rings do not repeat their first point.
 */
import type { Issue } from '../base';
import { flattenLine } from '../drawing';
import type { Point } from '../math';
import type { Decisions, Drawing, Edge, Fold, Pattern, Piece, Seam, Seams } from '../model';
import type { Mm, Rad } from '../units';

export type Pair = readonly [number, number];

/** Millionths of a millimetre are kept: far below any drawing's own precision, and files stay readable. */
export const round = (value: number): number => {
  const rounded = Math.round(value * 1e6) / 1e6;
  return rounded === 0 ? 0 : rounded;
};

/** Where a point is printed. */
export type Put = (p: Point) => Pair;
/** y down. */
export const plainly: Put = (p) => [round(p.x), round(-p.y)];
const all = (points: readonly Point[], put: Put): Pair[] => points.map(put);

/** A pattern drawn from inside is mirrored within its page's width when it is read; positions are given as drawn. */
const asDrawn = (drawing: Drawing, decisions: Decisions): Put =>
  decisions.reading.drawnFromInside ? (p) => [round(drawing.size.width - p.x), round(-p.y)] : plainly;

/** How far the points of `--lines` may stand off the curve. */
const lineTolerance: Mm = 0.05;

export interface Note {
  readonly code: string;
  readonly severity: string;
  readonly message: string;
  readonly at: Pair | null;
}

export const notesOf = (issues: readonly Issue[], put: Put = plainly): Note[] =>
  issues.map((i) => ({
    code: i.code,
    severity: i.severity,
    message: i.remedy ? `${i.message} ${i.remedy}` : i.message,
    at: i.place.at ? (i.stage === 'drawing' ? plainly : put)(i.place.at) : null,
  }));

/** The edges of a loop as one ring: each edge's end is the next one's start. */
export function ringOf(edges: readonly { readonly points: readonly Point[] }[]): Point[] {
  return edges.flatMap((e) => e.points.slice(0, -1));
}

/** Which ends meet: with `opposed` sides a's start meets b's end. */
export function endsOf(points: readonly Point[], turned: boolean, put: Put): { from: Pair; to: Pair } {
  const first = put(points[0]!);
  const last = put(points.at(-1)!);
  return turned ? { from: last, to: first } : { from: first, to: last };
}

export function inspectionOf(
  drawing: Drawing,
  pattern: Pattern,
  seams: Seams,
  decisions: Decisions,
  sizeFrom: string,
  issues: readonly Issue[],
  withLines: boolean,
) {
  const put = asDrawn(drawing, decisions);
  const seamOf = new Map(seams.seams.flatMap((s) => [[s.a.edge, s.id] as const, [s.b.edge, s.id] as const]));
  const edges = new Map<string, Edge>();
  for (const p of pattern.pieces) for (const e of [p.outline, ...p.holes].flat()) edges.set(e.id, e);
  return {
    format: 'girthwise-inspection',
    version: 1,
    size: { width: round(drawing.size.width), height: round(drawing.size.height), from: sizeFrom },
    pieces: pattern.pieces.map((p) => pieceOf(p, seamOf, decisions, put)),
    seams: seams.seams.flatMap((s) => seamEntry(s, edges, decisions, put)),
    shell: null,
    notes: notesOf(issues, put),
    ...(withLines ? { lines: drawing.lines.map(lineEntry) } : {}),
  };
}

function pieceOf(piece: Piece, seamOf: ReadonlyMap<string, string>, decisions: Decisions, put: Put) {
  return {
    id: piece.id,
    outline: all(ringOf(piece.outline), put),
    holes: piece.holes.map((h) => all(ringOf(h), put)),
    faces: piece.faces.map((f) => ({ id: f.id, polygon: all(f.polygon, put) })),
    folds: piece.folds.map((f) => ({
      id: f.id,
      ...endsOf(f.points, false, put),
      role: f.role,
      bend: bendOf(f.id, f.role, decisions),
    })),
    edges: [piece.outline, ...piece.holes]
      .flat()
      .map((e) => ({ id: e.id, ...endsOf(e.points, false, put), seam: seamOf.get(e.id) ?? null })),
    tabs: piece.tabs.map((t) => ({ polygon: all(t.polygon, put) })),
  };
}

function seamEntry(seam: Seam, edges: ReadonlyMap<string, Edge>, decisions: Decisions, put: Put) {
  const a = edges.get(seam.a.edge);
  const b = edges.get(seam.b.edge);
  if (!a || !b) return [];
  return [
    {
      id: seam.id,
      a: { piece: seam.a.piece, edge: seam.a.edge, ...endsOf(a.points, false, put) },
      b: { piece: seam.b.piece, edge: seam.b.edge, ...endsOf(b.points, seam.direction === 'opposed', put) },
      evidence: seam.evidence,
      confidence: round(seam.confidence),
      bend: bendOf(seam.id, 'seam', decisions),
    },
  ];
}

/** The bend that the person gave: its own, or its kind's; null while nobody has. */
function bendOf(id: string, kind: Fold['role'] | 'seam', decisions: Decisions): Rad | null {
  const { bends, roleBends } = decisions.foam;
  return (Object.hasOwn(bends, id) ? bends[id] : undefined) ?? roleBends[kind];
}

function lineEntry(line: Drawing['lines'][number]) {
  return {
    element: line.element,
    points: all(flattenLine(line, lineTolerance), plainly),
    closed: line.closed,
    style: {
      dash: line.style.dash.map(round),
      width: round(line.style.strokeWidth),
      class: line.style.className,
    },
  };
}

/** The same in words. */
export function summaryOf(drawing: Drawing, pattern: Pattern, seams: Seams, sizeFrom: string): string {
  const count = (n: number, one: string, many = `${one}s`) => `${n} ${n === 1 ? one : many}`;
  const sum = (of: (p: Piece) => number) => pattern.pieces.reduce((n, p) => n + of(p), 0);
  const mm = (n: number) => Math.round(n * 10) / 10;
  return [
    `Page ${mm(drawing.size.width)} x ${mm(drawing.size.height)} mm (${sizeFrom})`,
    `${count(pattern.pieces.length, 'piece')}, ${count(
      sum((p) => p.faces.length),
      'face',
    )}, ${count(
      sum((p) => p.folds.length),
      'fold',
    )}, ${count(
      sum((p) => p.tabs.length),
      'tab',
    )}, ${count(pattern.labels.length, 'number')}, ${count(pattern.unread.length, 'unread line')}`,
    `${count(seams.seams.length, 'seam')} in ${count(seams.runs.length, 'run')}, ${count(seams.open.length, 'open edge')}`,
    '',
  ].join('\n');
}
