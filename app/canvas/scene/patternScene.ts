/**
 * Steps Pattern, Seams and Size: the drawing at its own size. All three show the same pieces; Pattern shows how every
 * line of the file was read, Seams which edges have a mate, Size leaves room for the girth that is laid over them.
 * Panels shows the pieces as they were cut and joined, with the numbers of their seams.
 */

import { flattenLine } from '../../../src/drawing';
import { boxOf, joinBoxes, type Point, polylineLength } from '../../../src/math';
import {
  type Drawing,
  type Edge,
  type Fold,
  isUnseenFold,
  type Pattern,
  type Piece,
} from '../../../src/model';
import type { BenchLookName } from './looks';
import type { Relations } from './relations';
import { emptyScene, type Label, type Pickable, type Scene, type Spot } from './scene';
import {
  crossTicks,
  depthAt,
  hatchOf,
  heartOf,
  inwards,
  joinedLoop,
  middleOf,
  openLine,
  ring,
  ringOfEdges,
  roomOf,
} from './shapes';
import { StrokeBook } from './strokeBook';

/** Curves of the file are shown to this tolerance, mm: 4 pixels at the nearest zoom. */
const shownFlatness = 0.02;
/** Hatching of tabs: lines apart, and their direction. */
const hatch = { apart: 1.8, angle: Math.PI / 4 } as const;

const foldLook: Readonly<Record<Fold['role'], BenchLookName>> = {
  mountain: 'mountain',
  valley: 'valley',
  unknown: 'softBend',
};

export interface DrawnPattern {
  readonly drawing: Drawing | null;
  readonly pattern: Pattern | null;
  readonly relations: Relations;
  readonly step: 'pattern' | 'seams' | 'size' | 'panels';
  /** A click takes single faces and nothing else. */
  readonly faces?: boolean;
}

export function patternScene(drawn: DrawnPattern): Scene {
  const { drawing, pattern, step } = drawn;
  const book = new StrokeBook();
  const labels: Label[] = [];
  const spots: Spot[] = [];
  const pickables: Pickable[] = [];
  const pieceRings: (readonly Point[])[] = [];
  const tabRings: (readonly Point[])[] = [];

  for (const piece of pattern?.pieces ?? []) {
    pieceRings.push(ringOfEdges(piece.outline), ...piece.holes.map(ringOfEdges));
    addEdges(piece, drawn, book, labels, pickables);
    for (const fold of piece.folds) {
      if (isUnseenFold(fold.id)) continue;
      book.add(foldLook[fold.role], openLine(fold.points));
      pickables.push({ kind: 'fold', id: fold.id, piece: piece.id, points: fold.points, closed: false });
    }
    if (step === 'panels')
      for (const face of piece.faces)
        pickables.push({ kind: 'face', id: face.id, piece: piece.id, points: face.polygon, closed: true });
    const outline = ringOfEdges(piece.outline);
    pickables.push({ kind: 'piece', id: piece.id, piece: piece.id, points: outline, closed: true });
    labels.push(pieceName(piece.name, outline));
    if (step !== 'pattern') continue;
    for (const tab of piece.tabs) {
      pickables.push({ kind: 'tab', id: tab.id, piece: piece.id, points: tab.polygon, closed: true });
      if (tab.kept) continue;
      tabRings.push(tab.polygon);
      book.add('tab', ring(tab.polygon));
      book.add('hatch', ...hatchOf(tab.polygon, hatch.apart, hatch.angle));
    }
  }
  if (step === 'pattern') addFileLines(drawn, book, labels, spots, pickables);

  const boxes = [...(pattern?.pieces ?? []).map((p) => boxOf(p.outline.flatMap((e) => e.points)))];
  if (drawing && (step === 'pattern' || boxes.length === 0)) {
    const points = drawing.lines.flatMap((l) => [l.start, ...l.segments.map((s) => s.to)]);
    if (points.length > 0) boxes.push(boxOf(points));
  }
  return {
    ...emptyScene(step === 'panels' ? 'panels' : 'drawing'),
    areas: [
      { tone: 'piece', rings: pieceRings },
      { tone: 'tab', rings: tabRings },
    ],
    strokes: book.inOrder([
      'hatch',
      'ignored',
      'notes',
      'tab',
      'softBend',
      'valley',
      'mountain',
      'raw',
      'outline',
      'border',
      'borderTick',
      'open',
      'unread',
    ]),
    labels,
    spots,
    pickables,
    selectable: drawn.faces
      ? ['face']
      : step === 'pattern'
        ? ['line', 'edge', 'fold', 'tab', 'piece']
        : step === 'panels'
          ? ['fold', 'edge', 'piece']
          : ['edge', 'fold', 'piece'],
    bounds: boxes.length === 0 ? null : boxes.reduce(joinBoxes),
    drawingScale: 1,
  };
}

function addEdges(
  piece: Piece,
  drawn: DrawnPattern,
  book: StrokeBook,
  labels: Label[],
  pickables: Pickable[],
): void {
  const { relations, step } = drawn;
  const rings = [piece.outline, ...piece.holes].map(ringOfEdges);
  const lookOf = (edge: Edge): BenchLookName => {
    const open = relations.openOf(edge.id);
    return open?.why === 'border' ? 'border' : open && step === 'seams' ? 'open' : 'outline';
  };
  for (const loop of [piece.outline, ...piece.holes]) {
    const looks = loop.map((edge) => ({ points: edge.points, kind: lookOf(edge) }));
    for (const { kind, line } of joinedLoop(looks)) book.add(kind, line);
    for (const edge of looks) if (edge.kind === 'border') book.add('borderTick', ...crossTicks(edge.points));
  }
  for (const edge of [piece.outline, ...piece.holes].flat()) {
    pickables.push({ kind: 'edge', id: edge.id, piece: piece.id, points: edge.points, closed: false });
    const mate = relations.mateOf(edge.id);
    if ((step !== 'seams' && step !== 'panels') || !mate) continue;
    const middle = middleOf(edge.points);
    const leads = relations.isLeading(edge.id);
    labels.push({
      text: String(mate.number),
      at: middle.at,
      off: inwards(middle),
      tone: 'soft',
      size: 'small',
      height: 0,
      // The first of a run may be tighter than the others.
      room: roomAt(edge, rings) * (leads ? 1.6 : 1),
      rank: leads ? 3 : 1,
      boxed: false,
    });
  }
}

/** Words need room along the edge and into the piece. */
const roomAt = (edge: Edge, rings: readonly (readonly Point[])[]) =>
  Math.min(polylineLength(edge.points), depthAt(middleOf(edge.points), rings));

const pieceName = (name: string, outline: readonly Point[]): Label => ({
  text: name,
  at: heartOf(outline),
  off: null,
  tone: 'ink',
  size: 'large',
  height: 0,
  room: roomOf(outline),
  rank: 10,
  boxed: false,
});

/** Everything of the file that is no edge, fold or tab: notes, ignored and unread lines, printed numbers. */
function addFileLines(
  drawn: DrawnPattern,
  book: StrokeBook,
  labels: Label[],
  spots: Spot[],
  pickables: Pickable[],
): void {
  const { drawing, pattern, relations } = drawn;
  const unread = new Map((pattern?.unread ?? []).map((u) => [u.line, u]));
  for (const line of drawing?.lines ?? []) {
    const role = pattern?.roleOfLine[line.id];
    const points = flattenLine(line, shownFlatness);
    const found = unread.has(line.id)
      ? 'unread'
      : pattern === null
        ? 'raw'
        : role === 'notes'
          ? 'notes'
          : role === 'ignore'
            ? 'ignored'
            : null;
    // A line that became an edge or fold is shown by it, but can still be taken where nothing else lies.
    pickables.push({ kind: 'line', id: line.id, piece: null, points, closed: false });
    if (found) book.add(found, openLine(points));
  }
  for (const u of unread.values()) spots.push({ kind: 'cross', at: u.at });
  for (const label of pattern?.labels ?? []) {
    const alone = relations.openOf(label.edge);
    const known = relations.edge(label.edge);
    const amiss = alone?.why === 'number-alone' || alone?.why === 'number-repeated';
    labels.push({
      text: label.text,
      at: label.at,
      off: null,
      tone: amiss ? 'look' : 'soft',
      size: 'small',
      height: label.size,
      room: amiss || !known ? 0 : 1.3 * roomAt(known.edge, [ringOfEdges(known.piece.outline)]),
      rank: amiss ? 6 : 2,
      boxed: amiss,
    });
  }
}
