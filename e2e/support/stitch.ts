/**
 * Pages taped together by their registration marks, as a maker does it on a table, and panels looked for on them. Page
 * names say which pages lie side by side: a letter for the column, a number for the row.
 */
import { findFrame, findMarks, lineAcross, type Picture, type Spot } from './picture';

export interface TapedPage {
  readonly name: string;
  readonly picture: Picture;
  /** Where its upper-left corner lies on the table, mm. */
  readonly corner: Spot;
  /** What lies within its frame, on the picture, mm. */
  readonly frame: {
    readonly left: number;
    readonly top: number;
    readonly right: number;
    readonly bottom: number;
  };
}

export interface Taped {
  readonly pages: readonly TapedPage[];
  /** How far two shared marks stay apart at worst, mm. */
  readonly worstMark: number;
  /** Pairs of pages that share marks. */
  readonly joints: number;
}

/** Lays the first page down and tapes the others to it, one after another. */
export function tape(named: readonly { readonly name: string; readonly picture: Picture }[]): Taped {
  const sheets = named.map(({ name, picture }) => {
    const cell = /^([A-Z])(\d+)$/.exec(name);
    if (!cell) throw new Error(`${name} is no page of a grid.`);
    return {
      name,
      picture,
      column: cell[1]!.charCodeAt(0),
      row: Number(cell[2]),
      marks: findMarks(picture),
      frame: findFrame(picture),
    };
  });
  type Sheet = (typeof sheets)[number];
  const middle = (s: Sheet) => ({
    x: (s.frame.left + s.frame.right) / 2,
    y: (s.frame.top + s.frame.bottom) / 2,
  });
  /** Marks that two neighbours share: those along the side where they overlap. */
  const shared = (a: Sheet, b: Sheet): (readonly [Spot, Spot])[] => {
    const beside = a.row === b.row;
    const own = (s: Sheet, far: boolean) => {
      const edge = s.marks.map((m) => (beside ? m.x : m.y));
      const at = far ? Math.max(...edge) : Math.min(...edge);
      const c = beside ? middle(s).x : middle(s).y;
      if (far ? at < c : at > c) return [];
      return s.marks.filter((m) => Math.abs((beside ? m.x : m.y) - at) < 1);
    };
    const alongside = (m: Spot) => (beside ? m.y : m.x);
    const pairs = own(a, true).flatMap((m): (readonly [Spot, Spot])[] => {
      const twin = own(b, false).find((n) => Math.abs(alongside(m) - alongside(n)) < 1);
      return twin ? [[m, twin]] : [];
    });
    // Two marks fix a page, three check it; ink of a panel may hide one.
    if (pairs.length < 2) throw new Error(`${a.name} and ${b.name} share ${pairs.length} marks.`);
    return pairs;
  };
  const joints = sheets.flatMap((a) =>
    sheets
      .filter(
        (b) =>
          (b.row === a.row && b.column === a.column + 1) || (b.column === a.column && b.row === a.row + 1),
      )
      .map((b) => ({ a, b, marks: shared(a, b) })),
  );
  const corners = new Map<string, Spot>([[sheets[0]!.name, { x: 0, y: 0 }]]);
  for (let round = 0; round < sheets.length; round++) {
    for (const { a, b, marks } of joints) {
      const mean = (f: (pair: readonly [Spot, Spot]) => number) =>
        marks.reduce((sum, pair) => sum + f(pair), 0) / marks.length;
      const [dx, dy] = [mean(([p, q]) => p.x - q.x), mean(([p, q]) => p.y - q.y)];
      const [at, to] = [corners.get(a.name), corners.get(b.name)];
      if (at && !to) corners.set(b.name, { x: at.x + dx, y: at.y + dy });
      if (!at && to) corners.set(a.name, { x: to.x - dx, y: to.y - dy });
    }
  }
  const pages = sheets.map(({ name, picture, frame }) => {
    const corner = corners.get(name);
    if (!corner) throw new Error(`${name} is taped to nothing.`);
    return { name, picture, corner, frame };
  });
  const worstMark = joints.reduce((worst, { a, b, marks }) => {
    const [at, to] = [corners.get(a.name)!, corners.get(b.name)!];
    return marks.reduce(
      (w, [p, q]) => Math.max(w, Math.hypot(at.x + p.x - to.x - q.x, at.y + p.y - to.y - q.y)),
      worst,
    );
  }, 0);
  return { pages, worstMark, joints: joints.length };
}

/** Where an outline lies on the table: quarter turns, then a move. */
export interface Found {
  readonly turn: number;
  readonly move: Spot;
}

export interface Comparison {
  readonly found: Found;
  /** Part of the outline that could be compared: its line stands alone there, on a page that shows it. */
  readonly compared: number;
  /** Pages that show some of it. */
  readonly pages: readonly string[];
  /** Furthest that the middle of the printed line is from the outline, mm, on any page that shows the place. */
  readonly worst: number;
}

const turned = (p: Spot, turn: number): Spot =>
  turn === 0 ? p : turn === 1 ? { x: -p.y, y: p.x } : turn === 2 ? { x: -p.x, y: -p.y } : { x: p.y, y: -p.x };

/** Looks for the outline on the taped pages and compares every millimetre of it. */
export function compareOutline(taped: Taped, ring: readonly Spot[]): Comparison {
  const places = along(ring, 1);
  let found = coarse(taped, along(ring, ringLength(ring) / 48));
  for (const reach of [2, 1.2, 0.8, 0.8]) found = nearer(found, offsets(taped, places, found, reach));
  const last = offsets(taped, places, found, 0.8);
  return {
    found,
    compared: new Set(last.map((o) => o.place)).size / places.length,
    pages: [...new Set(last.map((o) => o.page))].sort(),
    worst: last.reduce((w, o) => Math.max(w, Math.abs(o.off)), 0),
  };
}

/** How far a printed line is from the outline, along the outline's normal. */
interface Offset {
  readonly place: number;
  readonly page: string;
  readonly normal: Spot;
  readonly off: number;
}

/** Widths of a printed outline that stands alone, mm: 0.5 mm and the soft rims. Wider is two lines that touch. */
const thin = 0.38;
const thick = 0.66;

function offsets(taped: Taped, places: readonly Place[], found: Found, reach: number): Offset[] {
  return places.flatMap((p, place) => {
    const at = put(p.at, found);
    const normal = turned(p.normal, found.turn);
    return taped.pages
      .filter((page) => shows(page, at, 0.8))
      .flatMap((page): Offset[] => {
        const line = lineAcross(page.picture, on(page, at), normal, reach);
        if (!line || line.width < thin || line.width > thick) return [];
        return [{ place, page: page.name, normal, off: line.off }];
      });
  });
}

/** Moved so that the offsets get as small as they can (least squares). */
function nearer(found: Found, all: readonly Offset[]): Found {
  let [xx, xy, yy, x, y] = [0, 0, 0, 0, 0];
  for (const { normal: n, off } of all) {
    xx += n.x * n.x;
    xy += n.x * n.y;
    yy += n.y * n.y;
    x += n.x * off;
    y += n.y * off;
  }
  const det = xx * yy - xy * xy;
  if (det === 0) throw new Error('The outline was not found on the pages.');
  return {
    turn: found.turn,
    move: {
      x: found.move.x + (yy * x - xy * y) / det,
      y: found.move.y + (xx * y - xy * x) / det,
    },
  };
}

const put = (p: Spot, { turn, move }: Found): Spot => {
  const q = turned(p, turn);
  return { x: q.x + move.x, y: q.y + move.y };
};

const on = (page: TapedPage, at: Spot): Spot => ({ x: at.x - page.corner.x, y: at.y - page.corner.y });

/** Is the place within the page's frame by more than the rim? */
function shows(page: TapedPage, at: Spot, rim: number): boolean {
  const { x, y } = on(page, at);
  const f = page.frame;
  return x > f.left + rim && x < f.right - rim && y > f.top + rim && y < f.bottom - rim;
}

const ringLength = (ring: readonly Spot[]): number =>
  ring.reduce((sum, p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    return sum + Math.hypot(q.x - p.x, q.y - p.y);
  }, 0);

interface Place {
  readonly at: Spot;
  readonly normal: Spot;
}

/** Places along a ring, so far apart at most. */
function along(ring: readonly Spot[], step: number): Place[] {
  return ring.flatMap((p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    const length = Math.hypot(q.x - p.x, q.y - p.y);
    if (length === 0) return [];
    const n = Math.max(1, Math.ceil(length / step));
    const normal = { x: -(q.y - p.y) / length, y: (q.x - p.x) / length };
    return Array.from({ length: n }, (_, k) => {
      const t = (k + 0.5) / n;
      return { at: { x: p.x + (q.x - p.x) * t, y: p.y + (q.y - p.y) * t }, normal };
    });
  });
}

/** The best place to a millimetre: on a map of distances to ink over the whole table. */
function coarse(taped: Taped, places: readonly Place[]): Found {
  const { pages } = taped;
  const minX = Math.min(...pages.map((p) => p.corner.x + p.frame.left));
  const minY = Math.min(...pages.map((p) => p.corner.y + p.frame.top));
  const wide = Math.ceil(Math.max(...pages.map((p) => p.corner.x + p.frame.right)) - minX) + 1;
  const high = Math.ceil(Math.max(...pages.map((p) => p.corner.y + p.frame.bottom)) - minY) + 1;
  const far = 6;
  const map = new Float32Array(wide * high).fill(far);
  for (const { picture, corner, frame } of pages) {
    const { perMm, width, pixels } = picture;
    for (let j = Math.ceil((frame.top + 0.6) * perMm); j < (frame.bottom - 0.6) * perMm; j++)
      for (let i = Math.ceil((frame.left + 0.6) * perMm); i < (frame.right - 0.6) * perMm; i++)
        if (pixels[j * width + i]! < 128) {
          const [x, y] = [i / perMm + corner.x - minX, j / perMm + corner.y - minY];
          map[Math.round(y) * wide + Math.round(x)] = 0;
        }
  }
  spread(map, wide, high);
  let best: Found & { cost: number } = { turn: 0, move: { x: 0, y: 0 }, cost: Number.POSITIVE_INFINITY };
  for (let turn = 0; turn < 4; turn++) {
    const points = places.map((p) => turned(p.at, turn));
    const [left, top] = [Math.min(...points.map((p) => p.x)), Math.min(...points.map((p) => p.y))];
    const [right, bottom] = [Math.max(...points.map((p) => p.x)), Math.max(...points.map((p) => p.y))];
    for (let y = 0; y + bottom - top < high - 1; y++) {
      for (let x = 0; x + right - left < wide - 1; x++) {
        let cost = 0;
        for (const p of points) {
          cost += map[Math.round(p.y - top + y) * wide + Math.round(p.x - left + x)]!;
          if (cost >= best.cost) break;
        }
        if (cost < best.cost) best = { turn, move: { x: minX + x - left, y: minY + y - top }, cost };
      }
    }
  }
  return best;
}

/** Distances to the nearest 0 from what is 0 now, in two sweeps. */
function spread(map: Float32Array, wide: number, high: number): void {
  const reach = (i: number, from: number, cost: number) => {
    map[i] = Math.min(map[i]!, map[from]! + cost);
  };
  const sweep = (ys: readonly number[], xs: readonly number[], d: 1 | -1) => {
    for (const y of ys)
      for (const x of xs) {
        const i = y * wide + x;
        const row = y - d >= 0 && y - d < high;
        if (x - d >= 0 && x - d < wide) reach(i, i - d, 1);
        if (row) reach(i, i - d * wide, 1);
        if (row && x > 0) reach(i, i - d * wide - 1, Math.SQRT2);
        if (row && x < wide - 1) reach(i, i - d * wide + 1, Math.SQRT2);
      }
  };
  const [ys, xs] = [[...Array(high).keys()], [...Array(wide).keys()]];
  sweep(ys, xs, 1);
  sweep([...ys].reverse(), [...xs].reverse(), -1);
}
