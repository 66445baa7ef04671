/** Sets the pieces of a pattern out on pages in shelves: each moved and turned, never mirrored, boxes 8 mm apart. */
import { seededRandom } from '../../../src/base';
import { type Box, boxOf, type Point, rotate } from '../../../src/math';
import type { CurvePart, Truth, TruthPage, TruthPiece } from './truth';

export interface PlaceOptions {
  /** Page width, mm. */
  readonly width: number;
  /** Page height, mm; null: one page as high as needed. */
  readonly height: number | null;
  /** Left free along the page border, and above for titles, mm. */
  readonly margin: number;
  readonly head: number;
  /** Distance between stacked pages, mm. */
  readonly pageGap: number;
  /** Turn each piece by a random angle and shuffle the pieces. */
  readonly loose: boolean;
  readonly seed: number;
}

const pieceGap = 8;
/** Room for the title and the legend, mm. */
const legendWidth = 380;

/** The same pattern with positions on the drawing: origin at the top-left corner, y up (so y ≤ 0). */
export function placePieces(truth: Truth, options: PlaceOptions): Truth {
  const random = seededRandom(options.seed);
  let pieces = truth.pieces.map((p) => (options.loose ? movePiece(p, random() * 2 * Math.PI, 0, 0) : p));
  const heightOf = (p: TruthPiece) => {
    const b = pieceBox(p);
    return b.maxY - b.minY;
  };
  const order = pieces.map((p, i) => ({ p, i, key: options.loose ? random() : -heightOf(p) }));
  order.sort((a, b) => (Math.abs(a.key - b.key) < 1e-6 ? a.i - b.i : a.key - b.key));
  const { margin, head, width } = options;
  const placed = new Map<string, TruthPiece>();
  let page = 0;
  let x = margin;
  let y = margin + head;
  let shelf = 0;
  let bottom = 0;
  let rightmost = 0;
  const pageTop = (n: number) => (options.height === null ? 0 : n * (options.height + options.pageGap));
  for (const { p } of order) {
    const box = pieceBox(p);
    const w = box.maxX - box.minX;
    const h = box.maxY - box.minY;
    if (w > width - 2 * margin) throw new Error(`Piece ${p.id} is wider than the page`);
    if (x + w > width - margin) {
      x = margin;
      y += shelf + pieceGap;
      shelf = 0;
    }
    if (options.height !== null && y + h > options.height - margin) {
      page++;
      x = margin;
      y = margin + head;
      shelf = 0;
      if (y + h > options.height - margin) throw new Error(`Piece ${p.id} is higher than the page`);
    }
    placed.set(p.id, { ...movePiece(p, 0, x - box.minX, -(pageTop(page) + y) - box.maxY), page });
    bottom = Math.max(bottom, y + h);
    rightmost = Math.max(rightmost, x + w);
    shelf = Math.max(shelf, h);
    x += w + pieceGap;
  }
  pieces = truth.pieces.map((p) => placed.get(p.id)!);
  const height = options.height ?? Math.ceil(bottom + margin);
  // A single page is no wider than its pieces need, with room for the title and legend.
  const used =
    options.height === null ? Math.min(width, Math.max(legendWidth, Math.ceil(rightmost + margin))) : width;
  const pages: TruthPage[] = [];
  for (let n = 0; n <= page; n++) pages.push({ corner: { x: 0, y: -pageTop(n) }, width: used, height });
  return { ...truth, pieces, pages, width: used, height: pageTop(page) + height };
}

/** Bounds of a piece with its tabs. */
function pieceBox(piece: TruthPiece): Box {
  return boxOf([...piece.outline.flatMap((e) => e.points), ...piece.tabs.flatMap((t) => t.polygon)]);
}

/** The piece turned counter-clockwise about the origin and then moved. */
function movePiece(piece: TruthPiece, angle: number, dx: number, dy: number): TruthPiece {
  const move = (p: Point): Point => {
    const r = angle === 0 ? p : rotate(p, angle);
    return { x: r.x + dx, y: r.y + dy };
  };
  return mapPiece(piece, move);
}

function mapPiece(piece: TruthPiece, move: (p: Point) => Point): TruthPiece {
  const part = (c: CurvePart): CurvePart =>
    c.kind === 'cubic' ? { ...c, c1: move(c.c1), c2: move(c.c2), to: move(c.to) } : { ...c, to: move(c.to) };
  return {
    ...piece,
    outline: piece.outline.map((e) => ({
      ...e,
      points: e.points.map(move),
      ...(e.curve ? { curve: e.curve.map(part) } : {}),
    })),
    folds: piece.folds.map((f) => ({ ...f, points: f.points.map(move) })),
    faces: piece.faces.map((f) => ({ ...f, polygon: f.polygon.map(move) })),
    tabs: piece.tabs.map((t) => ({ ...t, polygon: t.polygon.map(move) })),
    heart: move(piece.heart),
  };
}
