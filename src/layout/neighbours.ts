/** The edges that a page shares: a thin line where the neighbour's frame will lie, and the neighbour's name. */
import type { Box, Point } from '../math';
import type { Lettering, LetterShapes, PageStroke } from '../model';
import type { Mm, Rad } from '../units';
import type { InkMap } from './inkMap';
import { type PageFormat, toPage } from './pageFormat';
import type { PageDraft } from './pageInk';

/** Places along an edge that the name may take, clear of the marks at ends and middle. */
const places = [0.27, 0.73, 0.2, 0.8, 0.34, 0.66];
const tallest: Mm = 2.6;

/** Strokes and letters for all four sides; page space. The ink map learns where the names stand. */
export function drawNeighbours(
  draft: PageDraft,
  format: PageFormat,
  font: LetterShapes,
  ink: InkMap,
): { strokes: PageStroke[]; lettering: Lettering[] } {
  const { box, neighbours } = draft;
  const { overlap } = format;
  const onPage = (p: Point) => toPage(format, { x: box.minX, y: box.minY }, p);
  const height = Math.min(tallest, 0.4 * overlap);
  const strokes: PageStroke[] = [];
  const lettering: Lettering[] = [];
  const sides: { name: string; inner: [Point, Point]; from: Point; to: Point; angle: Rad; out: Point }[] = [
    {
      name: neighbours.left,
      inner: vertical(box.minX + overlap, box),
      from: { x: box.minX + overlap / 2, y: box.minY },
      to: { x: box.minX + overlap / 2, y: box.maxY },
      angle: Math.PI / 2,
      out: { x: -1, y: 0 },
    },
    {
      name: neighbours.right,
      inner: vertical(box.maxX - overlap, box),
      from: { x: box.maxX - overlap / 2, y: box.minY },
      to: { x: box.maxX - overlap / 2, y: box.maxY },
      angle: Math.PI / 2,
      out: { x: 1, y: 0 },
    },
    {
      name: neighbours.above,
      inner: horizontal(box.maxY - overlap, box),
      from: { x: box.minX, y: box.maxY - overlap / 2 },
      to: { x: box.maxX, y: box.maxY - overlap / 2 },
      angle: 0,
      out: { x: 0, y: 1 },
    },
    {
      name: neighbours.below,
      inner: horizontal(box.minY + overlap, box),
      from: { x: box.minX, y: box.minY + overlap / 2 },
      to: { x: box.maxX, y: box.minY + overlap / 2 },
      angle: 0,
      out: { x: 0, y: -1 },
    },
  ];
  for (const side of sides) {
    if (side.name === '') continue;
    strokes.push({ kind: 'frame', points: side.inner.map(onPage), closed: false });
    const half = font.widthOf(side.name, height) / 2;
    const size = height * 0.9;
    const gap = 0.5 * height;
    // Name and triangle together, centred on the place, along the edge.
    const reach = half + gap / 2 + size / 2;
    let best: { at: Point; cost: number } | null = null;
    for (const part of places) {
      const at = {
        x: side.from.x + (side.to.x - side.from.x) * part,
        y: side.from.y + (side.to.y - side.from.y) * part,
      };
      const cost = ink.inkIn(nameBox(at, reach, height, side.angle));
      if (best === null || cost < best.cost) best = { at, cost };
    }
    const { at } = best!;
    ink.addBox(nameBox(at, reach, height, side.angle), 20);
    const along = { x: Math.cos(side.angle), y: Math.sin(side.angle) };
    const shift = (by: Mm): Point => ({ x: at.x + along.x * by, y: at.y + along.y * by });
    lettering.push(
      font.letter(side.name, onPage(shift(half - reach)), height, side.angle, 'detail', ''),
      triangle(onPage(shift(reach - size / 2)), size, side.out),
    );
  }
  ink.refresh();
  return { strokes, lettering };
}

const vertical = (x: Mm, box: Box): [Point, Point] => [
  { x, y: box.minY },
  { x, y: box.maxY },
];
const horizontal = (y: Mm, box: Box): [Point, Point] => [
  { x: box.minX, y },
  { x: box.maxX, y },
];

function nameBox(at: Point, reach: Mm, height: Mm, angle: Rad): Box {
  const upright = angle !== 0;
  const w = upright ? height : reach + 1;
  const h = upright ? reach + 1 : height;
  return { minX: at.x - w, maxX: at.x + w, minY: at.y - h, maxY: at.y + h };
}

/** A filled triangle that points to where the neighbour lies. */
function triangle(at: Point, size: Mm, out: Point): Lettering {
  const side = { x: -out.y, y: out.x };
  const corner = (a: number, b: number): Point => ({
    x: at.x + (out.x * a + side.x * b) * size,
    y: at.y + (out.y * a + side.y * b) * size,
  });
  const angle = Math.atan2(out.y, out.x) - Math.PI / 2;
  return {
    text: 'neighbour',
    use: 'detail',
    rings: [[corner(-0.45, -0.4), corner(0.65, 0), corner(-0.45, 0.4)]],
    at,
    angle,
    height: size,
    of: '',
  };
}
