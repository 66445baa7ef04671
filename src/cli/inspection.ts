/**
 * What `inspect` prints: format "girthwise-inspection", version 1. Lengths in mm, angles in radians, positions on the
 * drawing in mm from the top-left corner of its page, y down. Rings do not repeat their first point.
 */
import type { Issue } from '../base';
import { flattenLine } from '../drawing';
import type { Point } from '../math';
import type { Decisions, Drawing, Edge, Fold, Pattern, Piece, Seam, Seams, Shell } from '../model';
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

export interface Found {
  readonly drawing: Drawing;
  readonly pattern: Pattern;
  readonly seams: Seams;
  readonly shell: Shell | null;
}

export function inspectionOf(
  { drawing, pattern, seams, shell }: Found,
  decisions: Decisions,
  sizeFrom: string,
  issues: readonly Issue[],
  withLines: boolean,
) {
  const put = asDrawn(drawing, decisions);
  const seamOf = new Map(seams.seams.flatMap((s) => [[s.a.edge, s.id] as const, [s.b.edge, s.id] as const]));
  const bendOf = bendsInForce(shell, decisions);
  const edges = new Map<string, Edge>();
  for (const p of pattern.pieces) for (const e of [p.outline, ...p.holes].flat()) edges.set(e.id, e);
  return {
    format: 'girthwise-inspection',
    version: 1,
    size: { width: round(drawing.size.width), height: round(drawing.size.height), from: sizeFrom },
    pieces: pattern.pieces.map((p) => pieceOf(p, seamOf, bendOf, put)),
    seams: seams.seams.flatMap((s) => seamEntry(s, edges, bendOf, put)),
    shell: shell && shellEntry(shell, put),
    notes: notesOf(issues, put),
    ...(withLines ? { lines: drawing.lines.map(lineEntry) } : {}),
  };
}

function pieceOf(piece: Piece, seamOf: ReadonlyMap<string, string>, bendOf: BendOf, put: Put) {
  return {
    id: piece.id,
    outline: all(ringOf(piece.outline), put),
    holes: piece.holes.map((h) => all(ringOf(h), put)),
    faces: piece.faces.map((f) => ({ id: f.id, polygon: all(f.polygon, put) })),
    folds: piece.folds.map((f) => ({
      id: f.id,
      ...endsOf(f.points, false, put),
      role: f.role,
      bend: bendOf(f.id, f.role, f.givenBend),
    })),
    edges: [piece.outline, ...piece.holes]
      .flat()
      .map((e) => ({ id: e.id, ...endsOf(e.points, false, put), seam: seamOf.get(e.id) ?? null })),
    tabs: piece.tabs.map((t) => ({ polygon: all(t.polygon, put) })),
  };
}

function seamEntry(seam: Seam, edges: ReadonlyMap<string, Edge>, bendOf: BendOf, put: Put) {
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
      bend: bendOf(seam.id, 'seam'),
    },
  ];
}

type BendOf = (id: string, kind: Fold['role'] | 'seam', drawn?: Rad) => Rad | null;

/**
 * The person's word for this one, else what the folded shell gives (its `quality` tells how far to trust it), else what
 * the file gives, else the person's word for its kind; null where nobody says.
 */
function bendsInForce(shell: Shell | null, { foam }: Decisions): BendOf {
  const own = (bends: Readonly<Record<string, Rad>>, id: string) =>
    Object.hasOwn(bends, id) ? bends[id] : undefined;
  return (id, kind, drawn) => {
    const bend = own(foam.bends, id) ?? own(shell?.bends ?? {}, id) ?? drawn ?? foam.roleBends[kind];
    return bend === null ? null : round(bend);
  };
}

/** The folded shell: faces as drawn on the page, each with its corners in space (x right, y front, z up). */
function shellEntry(shell: Shell, put: Put) {
  return {
    vertices: shell.vertices.map((p) => [round(p.x), round(p.y), round(p.z)] as const),
    faces: shell.faces.map((f) => ({
      piece: f.piece,
      face: f.face,
      flat: all(f.flat, put),
      vertices: f.vertices,
    })),
    residual: { rms: round(shell.residual.rms), max: round(shell.residual.max) },
    quality: shell.quality,
  };
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
export function summaryOf({ drawing, pattern, seams, shell }: Found, sizeFrom: string): string {
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
    ...(shell ? [shellLine(shell)] : []),
    '',
  ].join('\n');
}

function shellLine(shell: Shell): string {
  const parts = shell.components.length;
  const off = Math.round(shell.residual.max * 1000) / 1000;
  return `Folded up in ${parts === 1 ? 'one part' : `${parts} parts`}: ${shell.quality}, edges off by up to ${off} mm, ${shell.flexes === 1 ? 'one free motion' : `${shell.flexes} free motions`}, shape sure to about ${Math.round(shell.unsure.rms * 10) / 10} mm`;
}
