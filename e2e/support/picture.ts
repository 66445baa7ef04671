/**
 * Measuring on a drawn page as with a ruler on paper: where long straight lines lie, where the check square's sides are,
 * where registration marks are. Places in mm from the picture's upper-left corner, y down.
 */
export interface Picture {
  readonly width: number;
  readonly height: number;
  /** Row by row from the top, 0 is black. */
  readonly pixels: Uint8Array;
  /** Pixels per mm. */
  readonly perMm: number;
}

export interface Spot {
  readonly x: number;
  readonly y: number;
}

export function readPgm(data: Buffer, dotsPerInch: number): Picture {
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(data.subarray(0, 64).toString('latin1'));
  if (!head) throw new Error('This is no grey picture.');
  const [width, height] = [Number(head[1]), Number(head[2])];
  const pixels = new Uint8Array(data.subarray(head[0].length, head[0].length + width * height));
  if (pixels.length !== width * height) throw new Error('The picture is cut short.');
  return { width, height, pixels, perMm: dotsPerInch / 25.4 };
}

/** Darker than this is ink. */
const ink = 128;

/** A straight line along an axis: its place across, and where it begins and ends along, mm. */
interface Line {
  readonly at: number;
  readonly from: number;
  readonly to: number;
}

/** Unbroken lines along an axis with a length in a range, in order of their place. */
function straightLines(picture: Picture, axis: 'across' | 'down', least: number, most: number): Line[] {
  const { width, height, pixels, perMm } = picture;
  const [ranks, length] = axis === 'across' ? [height, width] : [width, height];
  const index = (rank: number, i: number) => (axis === 'across' ? rank * width + i : i * width + rank);
  const groups: { ranks: number[]; from: number; to: number }[] = [];
  for (let rank = 0; rank < ranks; rank++) {
    let start = -1;
    for (let i = 0; i <= length; i++) {
      const dark = i < length && pixels[index(rank, i)]! < ink;
      if (dark && start < 0) start = i;
      if (dark || start < 0) continue;
      const mm = (i - start) / perMm;
      if (mm >= least && mm <= most) {
        // Next to the last rank of a group and over the same stretch: the same line, a pixel further. Other ink may
        // lengthen it in some ranks, so the stretch that all of them share counts.
        const last = groups.find(
          (g) =>
            rank - g.ranks.at(-1)! <= 1 && Math.min(g.to, i) - Math.max(g.from, start) > 0.95 * (i - start),
        );
        if (last) {
          last.ranks.push(rank);
          last.from = Math.max(last.from, start);
          last.to = Math.min(last.to, i);
        } else groups.push({ ranks: [rank], from: start, to: i });
      }
      start = -1;
    }
  }
  return groups
    .map(({ ranks: own, from, to }) => {
      // Middle of the ink over the line's width, its soft rims included.
      let [sum, weight] = [0, 0];
      for (let rank = Math.max(0, own[0]! - 1); rank <= Math.min(ranks - 1, own.at(-1)! + 1); rank++) {
        for (let i = from; i < to; i++) {
          const dark = 255 - pixels[index(rank, i)]!;
          sum += dark * (rank + 0.5);
          weight += dark;
        }
      }
      return { at: sum / weight / perMm, from: from / perMm, to: to / perMm };
    })
    .sort((a, b) => a.at - b.at);
}

/** The page's frame: the outermost lines that run over most of the picture. */
export function findFrame(picture: Picture): { left: number; top: number; right: number; bottom: number } {
  const wide = picture.width / picture.perMm;
  const high = picture.height / picture.perMm;
  const rows = straightLines(picture, 'across', 0.8 * wide, wide);
  const columns = straightLines(picture, 'down', 0.8 * high, high);
  const [top, bottom, left, right] = [rows[0], rows.at(-1), columns[0], columns.at(-1)];
  if (!top || !bottom || !left || !right) throw new Error('The page has no frame.');
  return { left: left.at, top: top.at, right: right.at, bottom: bottom.at };
}

/** Sides of the check square: of the inner one (100 mm) and the outer one (4 in). */
export interface Square {
  readonly inner: { readonly across: number; readonly up: number };
  readonly outer: { readonly across: number; readonly up: number };
}

/**
 * Finds the check square by its lines: two nested squares share their lower-left corner, so three lines across begin at
 * the same place and three lines up end at the same place.
 */
export function measureSquare(picture: Picture): Square {
  const [least, most] = [97, 105];
  const across = straightLines(picture, 'across', least, most);
  const up = straightLines(picture, 'down', least, most);
  const same = 0.4;
  for (const base of across) {
    const rows = across.filter((l) => Math.abs(l.from - base.from) < same && l.at <= base.at);
    const columns = up.filter((l) => Math.abs(l.to - base.at) < same && l.at >= base.from - same);
    if (rows.length !== 3 || columns.length !== 3) continue;
    const [outerTop, innerTop] = [rows[0]!.at, rows[1]!.at];
    const [left, innerRight, outerRight] = [columns[0]!.at, columns[1]!.at, columns[2]!.at];
    return {
      inner: { across: innerRight - left, up: base.at - innerTop },
      outer: { across: outerRight - left, up: base.at - outerTop },
    };
  }
  throw new Error(`No check square in ${JSON.stringify({ across, up })}`);
}

/** Registration marks: a cross in a circle of this radius, the cross reaching further, mm. */
const circle = 2.5;
const arm = 4;
const rays = 32;

/** Centres of the registration marks, in reading order. */
export function findMarks(picture: Picture): Spot[] {
  const { width, height, pixels, perMm } = picture;
  const dark = (x: number, y: number, reach: number) => {
    const [cx, cy] = [Math.round(x), Math.round(y)];
    for (let j = cy - reach; j <= cy + reach; j++)
      for (let i = cx - reach; i <= cx + reach; i++)
        if (i >= 0 && j >= 0 && i < width && j < height && pixels[j * width + i]! < ink) return true;
    return false;
  };
  const isMark = (x: number, y: number) => {
    for (const [dx, dy] of [
      [1, 0],
      [-1, 0],
      [0, 1],
      [0, -1],
    ] as const)
      for (let d = 0.4; d < arm - 0.2; d += 0.4)
        if (!dark(x + dx * d * perMm, y + dy * d * perMm, 0)) return false;
    for (let k = 0; k < rays; k++) {
      const a = (2 * Math.PI * k) / rays;
      if (!dark(x + circle * perMm * Math.cos(a), y + circle * perMm * Math.sin(a), 1)) return false;
    }
    // Light between the arms: a blot is no mark. A panel's line may cross one or two of the four places.
    let light = 0;
    for (const [dx, dy] of [
      [1, 1],
      [-1, 1],
      [1, -1],
      [-1, -1],
    ] as const)
      if (!dark(x + dx * 1.1 * perMm, y + dy * 1.1 * perMm, 1)) light++;
    return light >= 2;
  };
  const found: { x: number; y: number; n: number }[] = [];
  const rim = Math.ceil(arm * perMm);
  for (let y = rim; y < height - rim; y++) {
    for (let x = rim; x < width - rim; x++) {
      if (pixels[y * width + x]! >= ink || !isMark(x, y)) continue;
      const near = found.find((f) => Math.hypot(f.x / f.n - x, f.y / f.n - y) < perMm);
      if (near) {
        near.x += x;
        near.y += y;
        near.n++;
      } else found.push({ x, y, n: 1 });
    }
  }
  return found.map((f) => ({ x: (f.x / f.n + 0.5) / perMm, y: (f.y / f.n + 0.5) / perMm }));
}

/**
 * The line that a needle through a place meets nearest to it: how far its middle is along the needle's direction (a unit
 * vector), and how wide it is along it, mm. Null: none within the reach.
 */
export function lineAcross(
  picture: Picture,
  at: Spot,
  direction: Spot,
  reach: number,
): { readonly off: number; readonly width: number } | null {
  const { width, height, pixels, perMm } = picture;
  const step = 0.25 / perMm;
  const isDark = (d: number) => {
    const x = Math.floor((at.x + d * direction.x) * perMm);
    const y = Math.floor((at.y + d * direction.y) * perMm);
    return x >= 0 && y >= 0 && x < width && y < height && pixels[y * width + x]! < ink;
  };
  for (let d = 0; d <= reach; d += step) {
    const hit = isDark(d) ? d : isDark(-d) ? -d : null;
    if (hit === null) continue;
    let [from, to] = [hit, hit];
    while (from > -reach - 1 && isDark(from - step)) from -= step;
    while (to < reach + 1 && isDark(to + step)) to += step;
    return { off: (from + to) / 2, width: to - from + step };
  }
  return null;
}

/**
 * Strips of a given breadth that lie along an axis of the page: for each, the places along it of all lines that cross it
 * from side to side, ends included, mm. A strip next to another has its own entry; so has each of several in a row.
 */
export function crossedStrips(picture: Picture, breadth: number): number[][] {
  // Lines are half a millimetre wide at most, and their ends stand out by half of that on each side.
  const [least, most] = [breadth - 0.3, breadth + 0.8];
  /** Lines of one strip begin at the same place. */
  const same = 0.6;
  const along = (axis: 'across' | 'down') => {
    const strips: Line[][] = [];
    for (const line of straightLines(picture, axis, least, most)) {
      const strip = strips.find((s) => Math.abs(s[0]!.from - line.from) < same);
      if (strip) strip.push(line);
      else strips.push([line]);
    }
    return strips.map((s) => s.map((l) => l.at)).filter((s) => s.length > 1);
  };
  return [...along('across'), ...along('down')];
}
