/**
 * Draws a placed pattern as SVG text in one of several manners, as different makers draw. Deterministic: the same
 * pattern, manner and seed give the same bytes. Positions are written in the manner's own unit, y down.
 *
 * clean    mm with physical size; one closed outline a piece; mountain and valley by dash, legend, title, names
 * loose    no physical size (96 units an inch meant); shuffled single segments in nested, transformed groups; some
 *          drawn twice; ends off by up to 0.01 mm; tabs; look by style sheet
 * inch     inches; style sheet; tabs and numbers
 * stacked  pages below each other with frames and titles, mm
 * plain    folds drawn exactly like cuts, mm
 */
import { seededRandom } from '../../../src/base';
import type { Point } from '../../../src/math';
import { labelsOf } from './labels';
import type { CurvePart, Truth, TruthEdge, TruthPiece } from './truth';

export type Manner = 'clean' | 'loose' | 'inch' | 'stacked' | 'plain';

export interface WriteOptions {
  readonly manner: Manner;
  readonly seed: number;
  /** Draw mountain and valley apart; false: all folds look alike. */
  readonly foldSigns: boolean;
  /** Print names of pieces. */
  readonly names: boolean;
}

type Look = 'cut' | 'mountain' | 'valley' | 'fold' | 'tab' | 'frame';

interface Stroke {
  readonly look: Look;
  readonly start: Point;
  readonly parts: readonly CurvePart[];
  readonly closed: boolean;
}

/** Folds milder than this are drawn as plain folds, rad. */
const flatFold = 1e-9;

export function writeSvg(truth: Truth, options: WriteOptions): string {
  switch (options.manner) {
    case 'clean':
    case 'stacked':
    case 'plain':
      return writeTidy(truth, options, 1, 'mm');
    case 'inch':
      return writeTidy(truth, options, 1 / 25.4, 'in');
    case 'loose':
      return writeLoose(truth, options);
  }
}

/** Units per mm of drawings without a physical size. */
const perMm = 96 / 25.4;

const decimals = (v: number, n: number): string => {
  const text = v.toFixed(n).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
};

/** Path data of a stroke; `k` units per mm. */
function pathOf(stroke: Stroke, k: number, n: number): string {
  const at = (p: Point) => `${decimals(p.x * k, n)} ${decimals(-p.y * k, n)}`;
  const body = stroke.parts.map((part, i) => {
    // The closing command draws the last straight side.
    if (part.kind === 'line') return stroke.closed && i === stroke.parts.length - 1 ? '' : `L${at(part.to)}`;
    if (part.kind === 'cubic') return `C${at(part.c1)} ${at(part.c2)} ${at(part.to)}`;
    const r = decimals(part.radius * k, n);
    return `A${r} ${r} 0 0 ${part.ccw ? 0 : 1} ${at(part.to)}`;
  });
  return `M${at(stroke.start)}${body.join('')}${stroke.closed ? 'Z' : ''}`;
}

const partsOf = (e: TruthEdge): readonly CurvePart[] =>
  e.curve ?? e.points.slice(1).map((to) => ({ kind: 'line' as const, to }));

/** Strokes of one piece: the outline (round the tabs), the folds, and the bases of tabs. */
function strokesOf(piece: TruthPiece, foldSigns: boolean): Stroke[] {
  const tabs = new Map(piece.tabs.map((t) => [t.edge, t.polygon]));
  const outline: CurvePart[] = piece.outline.flatMap((e) => {
    const tab = tabs.get(e.id);
    if (!tab) return partsOf(e);
    return tab.slice(1).map((to) => ({ kind: 'line' as const, to }));
  });
  const strokes: Stroke[] = [
    { look: 'cut', start: piece.outline[0]!.points[0]!, parts: outline, closed: true },
  ];
  for (const fold of piece.folds) {
    const look =
      !foldSigns || Math.abs(fold.bend) < flatFold ? 'fold' : fold.bend > 0 ? 'mountain' : 'valley';
    const parts = fold.points.slice(1).map((to) => ({ kind: 'line' as const, to }));
    strokes.push({ look, start: fold.points[0]!, parts, closed: false });
  }
  for (const edge of piece.outline)
    if (tabs.has(edge.id))
      strokes.push({
        look: foldSigns ? 'tab' : 'fold',
        start: edge.points[0]!,
        parts: partsOf(edge),
        closed: false,
      });
  return strokes;
}

const dashes: Record<Look, readonly number[]> = {
  cut: [],
  frame: [],
  mountain: [6, 1.2, 0.4, 1.2, 0.4, 1.2],
  valley: [3, 1.5],
  fold: [1, 1],
  tab: [6, 1.2, 0.4, 1.2, 0.4, 1.2],
};
const widths: Record<Look, number> = {
  cut: 0.5,
  frame: 0.2,
  mountain: 0.25,
  valley: 0.25,
  fold: 0.25,
  tab: 0.25,
};
const lookNames: Partial<Record<Look, string>> = {
  cut: 'cut',
  mountain: 'mountain fold',
  valley: 'valley fold',
  fold: 'fold',
};

function writeTidy(truth: Truth, options: WriteOptions, k: number, unit: string): string {
  const n = unit === 'in' ? 6 : 4;
  const plain = options.manner === 'plain';
  const sheet = options.manner === 'inch' || options.manner === 'stacked';
  const num = (v: number) => decimals(v * k, n);
  const lookOf = (look: Look): Look => (plain && look !== 'frame' ? 'cut' : look);
  const used = new Set<Look>();
  const attributes = (look: Look) => {
    used.add(look);
    if (sheet) return `class="${look}"`;
    const dash = dashes[look].length ? ` stroke-dasharray="${dashes[look].map(num).join(' ')}"` : '';
    return `fill="none" stroke="#000" stroke-width="${num(widths[look])}"${dash}`;
  };
  const text = (s: string, p: Point, size: number, angle: number, middle: boolean) => {
    const x = num(p.x);
    const y = num(-p.y);
    const turn =
      Math.abs(angle) < 1e-9 ? '' : ` transform="rotate(${decimals((-angle * 180) / Math.PI, 3)} ${x} ${y})"`;
    return `<text x="${x}" y="${y}" font-size="${num(size)}"${middle ? ' text-anchor="middle"' : ''}${turn}>${s}</text>`;
  };
  const body: string[] = [];
  if (options.manner === 'stacked') {
    truth.pages.forEach((page, i) => {
      const { x, y } = page.corner;
      body.push(
        `<rect x="${num(x + 5)}" y="${num(-y + 5)}" width="${num(page.width - 10)}" height="${num(page.height - 10)}" ${attributes('frame')}/>`,
        text(`${truth.title}, page ${i + 1} of ${truth.pages.length}`, { x: x + 12, y: y - 17 }, 6, 0, false),
      );
    });
  } else body.push(text(truth.title, { x: 12, y: -17 }, 8, 0, false));
  for (const piece of truth.pieces) {
    const lines = strokesOf(piece, options.foldSigns).map(
      (s) => `<path d="${pathOf(s, k, n)}" ${attributes(lookOf(s.look))}/>`,
    );
    body.push(options.manner === 'clean' ? `<g id="${piece.id}">${lines.join('')}</g>` : lines.join(''));
  }
  if (options.manner === 'clean' || options.manner === 'inch')
    body.push(...legend(used, attributes, text, num));
  const labels = labelsOf(truth)
    .filter((l) => l.kind === 'number' || options.names)
    .map((l) => text(l.text, baseline(l.at, l.size, l.angle), l.size, l.angle, true));
  const css = [...used]
    .map((look) => {
      const dash = dashes[look].length ? `;stroke-dasharray:${dashes[look].map(num).join(' ')}` : '';
      return `.${look}{fill:none;stroke:#000;stroke-width:${num(widths[look])}${dash}}`;
    })
    .join('\n');
  return `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="${num(truth.width)}${unit}" height="${num(truth.height)}${unit}" viewBox="0 0 ${num(truth.width)} ${num(truth.height)}">
<title>${truth.title}</title>
${sheet ? `<style>\n${css}\n</style>\n` : ''}${body.join('\n')}
<g font-family="sans-serif" fill="#000">
${labels.join('\n')}
</g>
</svg>
`;
}

/** Start of the baseline that puts the middle of the capitals at the point. */
const baseline = (p: Point, size: number, angle: number): Point => ({
  x: p.x + 0.35 * size * Math.sin(angle),
  y: p.y - 0.35 * size * Math.cos(angle),
});

function legend(
  used: ReadonlySet<Look>,
  attributes: (look: Look) => string,
  text: (s: string, p: Point, size: number, angle: number, middle: boolean) => string,
  num: (v: number) => string,
): string[] {
  const rows = (['cut', 'mountain', 'valley', 'fold'] as const).filter((look) => used.has(look));
  const lines = rows.flatMap((look, i) => {
    const x = 130 + i * 62;
    return [
      `<path d="M${num(x)} ${num(15)}L${num(x + 22)} ${num(15)}" ${attributes(look)}/>`,
      text(lookNames[look]!, { x: x + 25, y: -16.5 }, 4, 0, false),
    ];
  });
  return [`<g id="legend">`, ...lines, '</g>'];
}

/** Most distance of a loose segment's end from its true place, mm. */
const wobble = 0.01;

function writeLoose(truth: Truth, options: WriteOptions): string {
  const random = seededRandom(options.seed);
  const near = (p: Point): Point => {
    const a = random() * 2 * Math.PI;
    const r = wobble * Math.sqrt(random());
    return { x: p.x + r * Math.cos(a), y: p.y + r * Math.sin(a) };
  };
  interface Loose {
    readonly look: Look;
    readonly from: Point;
    readonly part: CurvePart;
  }
  const segments: Loose[] = [];
  for (const piece of truth.pieces)
    for (const stroke of strokesOf(piece, options.foldSigns)) {
      let from = stroke.start;
      for (const part of stroke.parts) {
        segments.push({ look: stroke.look, from, part });
        if (random() < 0.03) segments.push({ look: stroke.look, from, part });
        from = part.to;
      }
    }
  shuffle(segments, random);
  const classes: Record<Look, string> = {
    cut: 's1',
    mountain: 's2',
    valley: 's3',
    fold: 's4',
    tab: 's2',
    frame: 's5',
  };
  const groups: string[] = [];
  const size = 60;
  for (let i = 0; i < segments.length; i += size) {
    // Nested groups that shift, turn and scale; the segments inside are written in their frame.
    const shift = { x: Math.round(random() * 400 - 200), y: Math.round(random() * 400 - 200) };
    const turn = Math.round(random() * 360);
    const zoom = [0.5, 1, 2, 4][Math.floor(random() * 4)]!;
    const c = Math.cos((-turn * Math.PI) / 180);
    const s = Math.sin((-turn * Math.PI) / 180);
    const inside = (p: Point) => {
      const x = p.x * perMm - shift.x;
      const y = -p.y * perMm - shift.y;
      return `${decimals((x * c - y * s) / zoom, 5)} ${decimals((x * s + y * c) / zoom, 5)}`;
    };
    const lines = segments.slice(i, i + size).map(({ look, from, part }) => {
      const a = near(from);
      const b = near(part.to);
      const flip = part.kind === 'line' && random() < 0.5;
      const name = classes[look];
      if (part.kind === 'cubic')
        return `<path class="${name}" d="M${inside(a)}C${inside(part.c1)} ${inside(part.c2)} ${inside(b)}"/>`;
      if (part.kind === 'arc') {
        const r = decimals((part.radius * perMm) / zoom, 5);
        return `<path class="${name}" d="M${inside(a)}A${r} ${r} 0 0 ${part.ccw ? 0 : 1} ${inside(b)}"/>`;
      }
      const [p, q] = flip ? [b, a] : [a, b];
      if (random() < 0.5) return `<path class="${name}" d="M${inside(p)}L${inside(q)}"/>`;
      const [x1, y1] = inside(p).split(' ');
      const [x2, y2] = inside(q).split(' ');
      return `<line class="${name}" x1="${x1}" y1="${y1}" x2="${x2}" y2="${y2}"/>`;
    });
    groups.push(
      `<g transform="translate(${shift.x},${shift.y})"><g transform="rotate(${turn}) scale(${zoom})">\n${lines.join('\n')}\n</g></g>`,
    );
  }
  const labels = labelsOf(truth).filter((l) => l.kind === 'number' || options.names);
  shuffle(labels, random);
  const texts = labels.map((l) => {
    const p = baseline(l.at, l.size, l.angle);
    return `<text transform="translate(${decimals(p.x * perMm, 3)} ${decimals(-p.y * perMm, 3)}) rotate(${decimals((-l.angle * 180) / Math.PI, 3)})" font-size="${decimals(l.size * perMm, 3)}">${l.text}</text>`;
  });
  const w = decimals(truth.width * perMm, 3);
  const h = decimals(truth.height * perMm, 3);
  const dash = (look: Look) => dashes[look].map((v) => decimals(v * perMm, 2)).join(',');
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${w}" height="${h}" viewBox="0 0 ${w} ${h}">
<style>
line, path { fill: none; stroke: black; vector-effect: non-scaling-stroke }
.s1 { stroke-width: 1.4 }
.s2 { stroke-width: 0.8; stroke-dasharray: ${dash('mountain')} }
.s3 { stroke-width: 0.8; stroke-dasharray: ${dash('valley')} }
.s4 { stroke-width: 0.8; stroke-dasharray: ${dash('fold')} }
text { text-anchor: middle; font-family: sans-serif; fill: black }
</style>
${groups.join('\n')}
${texts.join('\n')}
</svg>
`;
}

function shuffle<T>(items: T[], random: () => number): void {
  for (let i = items.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [items[i], items[j]] = [items[j]!, items[i]!];
  }
}
