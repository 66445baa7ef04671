/**
 * Step Foam: every panel over its scaled paper piece. Wide: the traced outline that will be cut. Thin: the paper's
 * outline. Dotted: the other face of the foam, so that the distance between the two is the bevel as it lies.
 */
import { boxOf, joinBoxes, type Point, polylineLength, scaleBy } from '../../../src/math';
import type { FoamResult, Panel, PanelEdge, Pattern } from '../../../src/model';
import type { Rad } from '../../../src/units';
import type { BenchLookName } from './looks';
import type { Relations } from './relations';
import { emptyScene, type Label, type Pickable, type Scene, type Spot } from './scene';
import {
  crossTicks,
  depthAt,
  heartOf,
  inwards,
  middleOf,
  openLine,
  ring,
  ringOfEdges,
  roomOf,
} from './shapes';
import { StrokeBook } from './strokeBook';

/** Bevels under half a degree are square for a knife. */
const squareWithin: Rad = Math.PI / 360;

export const panelFoldLook: Readonly<Record<Panel['folds'][number]['role'], BenchLookName>> = {
  mountain: 'mountain',
  valley: 'valley',
  unknown: 'softBend',
};

export interface DrawnFoam {
  readonly pattern: Pattern | null;
  readonly foam: FoamResult | null;
  readonly scale: number;
  readonly traced: 'outside' | 'inside';
  readonly relations: Relations;
}

export function foamScene(drawn: DrawnFoam): Scene {
  const { pattern, foam, scale } = drawn;
  const book = new StrokeBook();
  const labels: Label[] = [];
  const spots: Spot[] = [];
  const pickables: Pickable[] = [];
  const fills: (readonly Point[])[] = [];
  const unset = new Set(foam?.unsetBends ?? []);

  for (const piece of pattern?.pieces ?? []) {
    for (const loop of [piece.outline, ...piece.holes]) {
      book.add('paper', ring(ringOfEdges(loop).map((p) => scaleBy(p, scale))));
    }
  }
  for (const panel of foam?.panels ?? []) {
    const piece = panel.id;
    fills.push(...panel.outlines.traced);
    const other = drawn.traced === 'outside' ? panel.outlines.inside : panel.outlines.outside;
    for (const r of other) book.add('otherFace', ring(r));
    for (const { points, closed } of panel.guides ?? [])
      book.add('placement', closed ? ring(points) : openLine(points));
    for (const fold of panel.folds) {
      book.add(panelFoldLook[fold.role], openLine(fold.points));
      if (unset.has(fold.id)) markUnset(fold.points, book, spots);
      pickables.push({ kind: 'fold', id: fold.id, piece, points: fold.points, closed: false });
    }
    // The outline after clean-up is what is cut; the edges as they were shifted are what can be picked.
    for (const r of panel.outlines.traced) book.add('outline', ring(r));
    for (const edge of panel.loops.flat()) {
      addEdge(edge, panel, unset, book, labels, spots, pickables);
    }
    const outline = panel.outlines.traced[0];
    if (!outline) continue;
    pickables.push({ kind: 'piece', id: piece, piece, points: outline, closed: true });
    labels.push({
      text: panel.quantity > 1 ? `${panel.name} ×${panel.quantity}` : panel.name,
      at: heartOf(outline),
      off: null,
      tone: 'ink',
      size: 'large',
      height: 0,
      room: roomOf(outline),
      rank: 10,
      boxed: false,
    });
  }

  const outlines = (foam?.panels ?? []).flatMap((p) => p.outlines.traced.slice(0, 1));
  const papers = (pattern?.pieces ?? []).map((p) => ringOfEdges(p.outline).map((q) => scaleBy(q, scale)));
  const boxes = [...outlines, ...papers].map(boxOf);
  return {
    ...emptyScene('panels'),
    areas: [{ tone: 'piece', rings: fills }],
    strokes: book.inOrder([
      'unset',
      'paper',
      'otherFace',
      'placement',
      'softBend',
      'valley',
      'mountain',
      'outline',
      'borderTick',
    ]),
    labels,
    spots,
    pickables,
    bounds: boxes.length === 0 ? null : boxes.reduce(joinBoxes),
    drawingScale: scale,
  };
}

function addEdge(
  edge: PanelEdge,
  { id: piece, outlines: { traced: rings }, extra }: Panel,
  unset: ReadonlySet<string>,
  book: StrokeBook,
  labels: Label[],
  spots: Spot[],
  pickables: Pickable[],
): void {
  if (edge.points.length < 2) return;
  pickables.push({ kind: 'edge', id: edge.id, piece, points: edge.points, closed: false });
  if (edge.seam === null && extra) return;
  if (edge.seam === null) {
    book.add('borderTick', ...crossTicks(edge.points));
    return;
  }
  if (unset.has(edge.seam)) {
    markUnset(edge.points, book, spots);
    return;
  }
  if (Math.abs(edge.bevel) < squareWithin) return;
  const middle = middleOf(edge.points);
  labels.push({
    text: degrees(edge.bevel),
    at: middle.at,
    off: inwards(middle),
    tone: 'soft',
    size: 'small',
    height: 0,
    room: Math.min(polylineLength(edge.points), depthAt(middle, rings)),
    rank: 1,
    boxed: false,
  });
}

/** An amber band under the line and a question mark on it: told by shape, not by colour alone. */
function markUnset(points: readonly Point[], book: StrokeBook, spots: Spot[]): void {
  book.add('unset', openLine(points));
  spots.push({ kind: 'question', at: middleOf(points).at });
}

/** "12.5°"; an over-cut (the cut flares out) has a minus. */
function degrees(bevel: Rad): string {
  const rounded = Math.round((Math.abs(bevel) * 1800) / Math.PI) / 10;
  return `${bevel < 0 ? '−' : ''}${rounded}°`;
}
