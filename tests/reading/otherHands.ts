/**
 * Draws a placed pattern the way other makers might: each habit can be chosen by itself, so that reading is tried on
 * drawings that the sample generator's own manners do not produce. Units are mm unless `unit` says otherwise.
 */
import { seededRandom } from '../../src/base';
import { add, distance, lerp, type Point, scaleBy, subtract, turnRight, unitOf } from '../../src/math';
import type { Truth, TruthEdge, TruthPiece, TruthTab } from '../support/harbourWatch';
import { middleOf } from '../support/harbourWatch';

export interface Habits {
  readonly seed?: number;
  /** How lines are told apart. `same`: not at all. */
  readonly looks?: 'class' | 'dash' | 'colour' | 'same';
  /** Names of classes say nothing. */
  readonly dullNames?: boolean;
  /** Closed outlines, or every stretch by itself. */
  readonly strokes?: 'paths' | 'segments' | 'faces';
  /** Off by up to this, mm. */
  readonly noise?: number;
  readonly doubles?: number;
  /** Where tabs stand in the drawing. */
  readonly tabs?: 'none' | 'outline' | 'closed' | 'open';
  readonly tabBase?: 'fold' | 'cut' | 'tab' | 'valley';
  readonly tabShape?: 'level' | 'share' | 'steep' | 'inset' | 'careless';
  readonly tabHeight?: number;
  readonly foldSigns?: boolean;
  readonly numbers?: 'none' | 'inside' | 'outside' | 'level' | 'tab' | 'onLine';
  readonly numberSize?: number;
  readonly frames?: 'none' | 'same' | 'thin' | 'double';
  /** Frames run through the legend and the check square. */
  readonly framesCross?: boolean;
  readonly legend?: 'none' | 'open' | 'box';
  readonly fills?: boolean;
  readonly extras?: boolean;
  readonly unit?: 'mm' | 'in' | 'px';
}

interface Line {
  readonly look: string;
  readonly points: readonly Point[];
  readonly closed: boolean;
  readonly fill?: string;
}

const dashOf: Record<string, string> = { mountain: '6 1.5 1 1.5', valley: '4 2', fold: '2 1' };
const colourOf: Record<string, string> = {
  cut: '#000000',
  mountain: '#d00000',
  valley: '#0000d0',
  fold: '#00a000',
  tab: '#888888',
  frame: '#aaaaaa',
  note: '#555555',
};

/** Tabs by these habits on the truth's own choice of edges; none where there is no room, unless careless. */
export function tabsFor(truth: Truth, habits: Habits): Truth {
  if (!habits.tabs || habits.tabs === 'none')
    return { ...truth, pieces: truth.pieces.map((p) => ({ ...p, tabs: [] })) };
  const height = habits.tabHeight ?? 5;
  const chosen = new Set(truth.mates.map(([a, b], i) => (i % 3 === 2 ? b : a)));
  return {
    ...truth,
    pieces: truth.pieces.map((piece) => {
      const tabs: TruthTab[] = [];
      for (const edge of piece.outline) {
        if (!chosen.has(edge.id) || edge.curve) continue;
        const polygon = tabShape(edge, habits, height);
        if (!polygon) continue;
        if (habits.tabShape !== 'careless' && !hasRoom(polygon, piece, tabs)) continue;
        tabs.push({ edge: edge.id, polygon });
      }
      return { ...piece, tabs };
    }),
  };
}

function tabShape(edge: TruthEdge, habits: Habits, height: number): Point[] | null {
  const [a, b] = [edge.points[0]!, edge.points[edge.points.length - 1]!];
  const length = distance(a, b);
  const along = unitOf(subtract(b, a));
  const out = turnRight(along);
  const at = (s: number, h: number) => add(a, add(scaleBy(along, s), scaleBy(out, h)));
  if (length < 3) return null;
  switch (habits.tabShape ?? 'level') {
    case 'share': {
      const h = 0.25 * length;
      return [a, at(0.2 * length, h), at(0.8 * length, h), b];
    }
    case 'steep': {
      const inset = Math.min(height * Math.tan((20 * Math.PI) / 180), 0.45 * length);
      return [a, at(inset, height), at(length - inset, height), b];
    }
    case 'inset': {
      const free = 0.1 * length;
      const inset = Math.min(height, 0.3 * length);
      const h = Math.min(height, 0.5 * length);
      return [
        at(free, 0),
        at(free + inset * 0.8, h),
        at(length - free - inset * 0.8, h),
        at(length - free, 0),
      ];
    }
    case 'careless':
    case 'level': {
      if (length < 2.4 * height) {
        // Short edges get a triangle of the same slope.
        return length / 2 < 1.2 ? null : [a, at(length / 2, length / 2), b];
      }
      return [a, at(height, height), at(length - height, height), b];
    }
  }
}

/** No corner of the tab within the paper or another tab, nor the other way round, and some air between. */
function hasRoom(tab: readonly Point[], piece: TruthPiece, others: readonly TruthTab[]): boolean {
  const grown = tab.slice(1, -1).map((p) => {
    const m = lerp(tab[0]!, tab[tab.length - 1]!, 0.5);
    return add(p, scaleBy(unitOf(subtract(p, m)), 0.7));
  });
  const ring = [tab[0]!, ...grown, tab[tab.length - 1]!];
  const sides = ring.slice(1).map((p, i) => [ring[i]!, p] as const);
  const walls = [
    ...piece.outline.map((e) => [e.points[0]!, e.points[e.points.length - 1]!] as const),
    ...others.flatMap((t) => t.polygon.slice(1).map((p, i) => [t.polygon[i]!, p] as const)),
  ];
  return sides.every(([p, q]) => walls.every(([c, d]) => !crosses(p, q, c, d)));
}

function crosses(a: Point, b: Point, c: Point, d: Point): boolean {
  const side = (p: Point, q: Point, r: Point) => (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
  return side(a, b, c) * side(a, b, d) < -1e-9 && side(c, d, a) * side(c, d, b) < -1e-9;
}

/** SVG text of a placed truth. */
export function drawByHand(truth: Truth, habits: Habits): string {
  const random = seededRandom(habits.seed ?? 1);
  const lines: Line[] = [];
  const texts: string[] = [];
  const k = habits.unit === 'in' ? 1 / 25.4 : habits.unit === 'px' ? 96 / 25.4 : 1;
  const num = (v: number) => (v * k).toFixed(habits.unit === 'in' ? 5 : 4);
  const signs = habits.foldSigns ?? true;
  for (const piece of truth.pieces) drawPiece(piece, habits, signs, lines);
  if (habits.frames && habits.frames !== 'none') frame(truth, habits, lines);
  const say = (text: string, at: Point, size: number, angle: number, anchor = 'middle') => {
    const p = { x: at.x + 0.35 * size * Math.sin(angle), y: at.y - 0.35 * size * Math.cos(angle) };
    texts.push(
      `<text x="${num(p.x)}" y="${num(-p.y)}" font-size="${num(size)}" text-anchor="${anchor}" transform="rotate(${((-angle * 180) / Math.PI).toFixed(3)} ${num(p.x)} ${num(-p.y)})">${text}</text>`,
    );
  };
  if (habits.numbers && habits.numbers !== 'none')
    for (const piece of truth.pieces)
      for (const edge of piece.outline) {
        if (edge.number === '') continue;
        const { at, angle } = numberPlace(edge, piece, habits);
        say(edge.number, at, habits.numberSize ?? 2.5, angle);
      }
  if (habits.legend && habits.legend !== 'none') legend(habits, signs, lines, say);
  if (habits.extras) extras(truth, lines, say);
  const drawn = scatter(lines, habits, random).map((l) => element(l, habits, num));
  const w = truth.width;
  const h = truth.height;
  const size =
    habits.unit === 'px'
      ? `width="${num(w)}" height="${num(h)}"`
      : `width="${num(w)}${habits.unit ?? 'mm'}" height="${num(h)}${habits.unit ?? 'mm'}"`;
  return `<svg xmlns="http://www.w3.org/2000/svg" ${size} viewBox="0 0 ${num(w)} ${num(h)}">
<style>${css(habits, num)}</style>
${drawn.join('\n')}
${texts.join('\n')}
</svg>`;
}

function drawPiece(piece: TruthPiece, habits: Habits, signs: boolean, lines: Line[]): void {
  const tabOf = new Map(piece.tabs.map((t) => [t.edge, t.polygon]));
  const outline: Point[] = [];
  for (const e of piece.outline) {
    outline.push(...e.points.slice(0, -1));
    const tab = tabOf.get(e.id);
    if (!tab || habits.tabs !== 'outline') continue;
    if (distance(tab[0]!, e.points[0]!) > 0.01) outline.push(tab[0]!);
    outline.push(...tab.slice(1, -1));
    if (distance(tab[tab.length - 1]!, e.points[e.points.length - 1]!) > 0.01)
      outline.push(tab[tab.length - 1]!);
  }
  if (habits.fills)
    lines.push({
      look: 'fill',
      points: piece.outline.flatMap((e) => e.points.slice(0, -1)),
      closed: true,
      fill: '#eeeedd',
    });
  if (habits.strokes === 'faces') {
    for (const f of piece.faces) lines.push({ look: 'cut', points: f.polygon, closed: true });
  } else {
    lines.push({ look: 'cut', points: outline, closed: true });
    for (const f of piece.folds)
      lines.push({
        look: signs && Math.abs(f.bend) > 1e-9 ? (f.bend > 0 ? 'mountain' : 'valley') : 'fold',
        points: f.points,
        closed: false,
      });
  }
  for (const t of piece.tabs) {
    const base = [t.polygon[0]!, t.polygon[t.polygon.length - 1]!];
    if (habits.tabs === 'closed') lines.push({ look: 'tab', points: t.polygon, closed: true });
    else {
      if (habits.tabs === 'open') lines.push({ look: 'tab', points: t.polygon, closed: false });
      if (habits.tabs === 'outline')
        lines.push({
          look: signs || habits.tabBase !== 'valley' ? (habits.tabBase ?? 'fold') : 'fold',
          points: base,
          closed: false,
        });
    }
  }
}

function numberPlace(edge: TruthEdge, piece: TruthPiece, habits: Habits): { at: Point; angle: number } {
  const a = edge.points[0]!;
  const b = edge.points[edge.points.length - 1]!;
  const along = unitOf(subtract(b, a));
  const out = turnRight(along);
  const size = habits.numberSize ?? 2.5;
  const m = middleOf(edge);
  const angle = Math.atan2(along.y, along.x);
  switch (habits.numbers) {
    case 'outside':
      return { at: add(m, scaleBy(out, 0.9 * size)), angle };
    case 'level':
      return { at: add(m, scaleBy(out, -1.0 * size)), angle: 0 };
    case 'onLine':
      return { at: m, angle };
    case 'tab': {
      const tab = piece.tabs.find((t) => t.edge === edge.id);
      return { at: add(m, scaleBy(out, tab ? 1.1 * size : -0.8 * size)), angle };
    }
    default:
      return {
        at: add(m, scaleBy(out, -0.8 * size)),
        angle: angle > Math.PI / 2 || angle < -Math.PI / 2 ? angle + Math.PI : angle,
      };
  }
}

function frame(truth: Truth, habits: Habits, lines: Line[]): void {
  const pages =
    truth.pages.length > 0
      ? truth.pages
      : [{ corner: { x: 0, y: 0 }, width: truth.width, height: truth.height }];
  for (const page of pages) {
    const { x, y } = page.corner;
    const rect = (inset: number): Point[] => [
      { x: x + inset, y: y - inset },
      { x: x + page.width - inset, y: y - inset },
      { x: x + page.width - inset, y: y - page.height + inset },
      { x: x + inset, y: y - page.height + inset },
    ];
    const look = habits.frames === 'thin' ? 'frame' : 'cut';
    lines.push({ look, points: rect(habits.framesCross ? 4 : 0.6), closed: true });
    if (habits.frames === 'double')
      lines.push({ look, points: rect(habits.framesCross ? 1 : 0.2), closed: true });
  }
}

type Say = (text: string, at: Point, size: number, angle: number, anchor?: string) => void;

function legend(habits: Habits, signs: boolean, lines: Line[], say: Say): void {
  const rows = signs ? ['cut', 'mountain', 'valley'] : ['cut', 'fold'];
  const words: Record<string, string> = {
    cut: 'cut line',
    mountain: 'mountain fold',
    valley: 'valley fold',
    fold: 'fold line',
  };
  rows.forEach((look, i) => {
    const y = -6 - 5 * i;
    lines.push({
      look,
      points: [
        { x: 20, y },
        { x: 40, y },
      ],
      closed: false,
    });
    say(words[look]!, { x: 44, y }, 3, 0, 'start');
  });
  if (habits.legend === 'box') {
    say('Legend', { x: 12, y: -4 }, 3, 0);
    lines.push({
      look: 'cut',
      points: [
        { x: 6, y: -1 },
        { x: 90, y: -1 },
        { x: 90, y: -20 },
        { x: 6, y: -20 },
      ],
      closed: true,
    });
  }
}

/** Check square, scale bar, arrow, note with leader. */
function extras(truth: Truth, lines: Line[], say: Say): void {
  const x = truth.width - 70;
  lines.push({
    look: 'cut',
    points: [
      { x, y: -2 },
      { x: x + 50, y: -2 },
      { x: x + 50, y: -52 },
      { x, y: -52 },
    ],
    closed: true,
  });
  say('50 mm', { x: x + 25, y: -27 }, 4, 0);
  const y = -truth.height + 6;
  lines.push({
    look: 'note',
    points: [
      { x: 20, y },
      { x: 120, y },
    ],
    closed: false,
  });
  lines.push({
    look: 'note',
    points: [
      { x: 20, y: y - 2 },
      { x: 20, y: y + 2 },
    ],
    closed: false,
  });
  lines.push({
    look: 'note',
    points: [
      { x: 120, y: y - 2 },
      { x: 120, y: y + 2 },
    ],
    closed: false,
  });
  say('10 cm', { x: 70, y: y + 3 }, 3, 0);
  lines.push({
    look: 'note',
    points: [
      { x: 150, y },
      { x: 150, y: y + 12 },
    ],
    closed: false,
  });
  lines.push({
    look: 'note',
    points: [
      { x: 148, y: y + 9 },
      { x: 150, y: y + 12 },
      { x: 152, y: y + 9 },
    ],
    closed: false,
  });
  say('grain', { x: 158, y: y + 6 }, 3, 0);
}

function scatter(lines: readonly Line[], habits: Habits, random: () => number): Line[] {
  const noise = habits.noise ?? 0;
  const near = (p: Point): Point =>
    noise === 0 ? p : { x: p.x + (2 * random() - 1) * noise, y: p.y + (2 * random() - 1) * noise };
  if (habits.strokes !== 'segments') return lines.map((l) => ({ ...l, points: l.points.map(near) }));
  const out: Line[] = [];
  for (const l of lines) {
    if (l.fill) {
      out.push(l);
      continue;
    }
    const ring = l.closed ? [...l.points, l.points[0]!] : l.points;
    for (let i = 1; i < ring.length; i++) {
      const times = random() < (habits.doubles ?? 0) ? 2 : 1;
      for (let n = 0; n < times; n++) {
        const pair = [near(ring[i - 1]!), near(ring[i]!)];
        out.push({ look: l.look, points: random() < 0.5 ? pair : pair.reverse(), closed: false });
      }
    }
  }
  for (let i = out.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [out[i], out[j]] = [out[j]!, out[i]!];
  }
  return out;
}

function element(l: Line, habits: Habits, num: (v: number) => string): string {
  const d = `M${l.points.map((p) => `${num(p.x)} ${num(-p.y)}`).join('L')}${l.closed ? 'Z' : ''}`;
  if (l.fill) return `<path d="${d}" fill="${l.fill}" stroke="none"/>`;
  return `<path class="${className(l.look, habits)}" d="${d}"/>`;
}

const dull: Record<string, string> = {
  cut: 'a',
  mountain: 'b',
  valley: 'c',
  fold: 'd',
  tab: 'e',
  frame: 'f',
  note: 'g',
};
const className = (look: string, habits: Habits) =>
  habits.looks === 'same' && look !== 'note'
    ? 'a'
    : habits.looks === 'class' && !habits.dullNames
      ? look
      : dull[look]!;

function css(habits: Habits, num: (v: number) => string): string {
  const looks = habits.looks ?? 'dash';
  return ['cut', 'mountain', 'valley', 'fold', 'tab', 'frame', 'note']
    .map((look) => {
      const name = className(look, habits);
      const dash = looks === 'dash' || looks === 'class' ? dashOf[look] : undefined;
      const thin = look === 'frame' || look === 'note' || (look !== 'cut' && look !== 'tab');
      const width = looks === 'same' && look !== 'note' ? 0.4 : thin ? 0.2 : 0.4;
      const colour = looks === 'colour' ? colourOf[look]! : '#000';
      return `.${name}{fill:none;stroke:${colour};stroke-width:${num(width)}${
        dash
          ? `;stroke-dasharray:${dash
              .split(' ')
              .map((v) => num(Number(v)))
              .join(' ')}`
          : ''
      }}`;
    })
    .join('\n');
}
