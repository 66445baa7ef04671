/**
 * Registration marks: a cross in a circle in the middle of every overlap, at both its ends and halfway, so that any two
 * pages that touch share three marks. Marks at the ends are shared by all pages that meet there.
 */
import type { Point } from '../math';
import type { PageStroke, RegistrationMark } from '../model';
import type { Mm } from '../units';
import { type Cell, type Grid, stepX, stepY } from './grid';

/** Marks of a page in layout space. */
export interface SharedMark {
  readonly id: string;
  readonly at: Point;
}

/** Marks for every page of the grid, keyed "column row"; only those that two of the given pages share. */
export function sharedMarks(grid: Grid, cells: readonly Cell[]): Map<string, SharedMark[]> {
  const key = (c: Cell) => `${c.column} ${c.row}`;
  const there = new Set(cells.map(key));
  const marks = new Map<string, SharedMark[]>(cells.map((c) => [key(c), []]));
  const half = grid.overlap / 2;
  const lineX = (i: number) => grid.corner.x + i * stepX(grid) + half;
  const lineY = (j: number) => grid.corner.y - j * stepY(grid) - half;
  const add = (id: string, at: Point, pages: readonly Cell[]) => {
    const sharing = pages.filter((p) => there.has(key(p)));
    if (sharing.length < 2) return;
    for (const page of sharing) marks.get(key(page))?.push({ id, at });
  };
  for (let j = 0; j <= grid.rows; j++) {
    for (let i = 0; i <= grid.columns; i++) {
      add(`${i}.${j}`, { x: lineX(i), y: lineY(j) }, [
        { column: i - 1, row: j - 1 },
        { column: i, row: j - 1 },
        { column: i - 1, row: j },
        { column: i, row: j },
      ]);
      add(`${i}.${j}v`, { x: lineX(i), y: (lineY(j) + lineY(j + 1)) / 2 }, [
        { column: i - 1, row: j },
        { column: i, row: j },
      ]);
      add(`${i}.${j}h`, { x: (lineX(i) + lineX(i + 1)) / 2, y: lineY(j) }, [
        { column: i, row: j - 1 },
        { column: i, row: j },
      ]);
    }
  }
  return marks;
}

/** Size of the mark's circle; the cross reaches 1.6 times as far, within the overlap. */
export const markRadius = (overlap: Mm): Mm => Math.min(2.5, 0.28 * overlap);
const crossReach = 1.6;
const circlePoints = 48;

/** The mark's strokes round a point of page space. */
export function markStrokes(at: Point, radius: Mm): PageStroke[] {
  const circle = Array.from({ length: circlePoints }, (_, i) => {
    const a = (2 * Math.PI * i) / circlePoints;
    return { x: at.x + radius * Math.cos(a), y: at.y + radius * Math.sin(a) };
  });
  const reach = crossReach * radius;
  return [
    { kind: 'registration', points: circle, closed: true },
    {
      kind: 'registration',
      points: [
        { x: at.x - reach, y: at.y },
        { x: at.x + reach, y: at.y },
      ],
      closed: false,
    },
    {
      kind: 'registration',
      points: [
        { x: at.x, y: at.y - reach },
        { x: at.x, y: at.y + reach },
      ],
      closed: false,
    },
  ];
}

/** The page's own record of a mark. */
export const recordOf = (mark: SharedMark, at: Point): RegistrationMark => ({
  id: mark.id,
  at,
  layoutAt: mark.at,
});
