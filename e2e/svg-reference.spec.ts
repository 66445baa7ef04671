/**
 * The browser as the reference for reading SVG: every file of the corpus is parsed and laid out by Chromium, and each
 * drawn element is compared with what the drawing reader makes of the same text. The application is not involved.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, type Page, test } from '@playwright/test';
import { flattenLine, lineLength, readDrawing } from '../src/drawing';
import { colourNames } from '../src/drawing/colourNames';
import type { Drawing, DrawingLine, DrawingText } from '../src/model';
import {
  type MeasuredElement,
  type MeasuredFile,
  type MeasuredText,
  type MeasuredUse,
  measureInPage,
} from './svgMeasure';

const folder = join(import.meta.dirname, '../tests/corpus/svg');
const files = readdirSync(folder)
  .filter((f) => f.endsWith('.svg'))
  .sort();

const mmPerPx = 25.4 / 96;
/** Bound on the distance between a place by the browser and by the reader, mm. */
const bound = 0.02;
/** The browser keeps coordinates in single precision (24 bits): each user coordinate is off by up to this part. */
const singlePrecision = 2 ** -23;

/** Relative difference of stroke widths and dashes; the browser prints them with six digits. */
const styleBound = 1e-4;
/** The browser keeps the alpha of a colour as a byte. */
const opacityBound = 0.003;

/**
 * Texts: starts after the first character of a chunk depend on the advances, which are estimated at 0.55 em here and
 * are the font's there; middles are estimates by design. In em.
 */
const startBound = 0.25;
const middleBound = 0.25;
const middleBoundPerCharacter = 0.06;

const sum = { elements: 0, shapes: 0, uses: 0, texts: 0, furthest: 0, furthestOf: '' };

/** The size that the drawing gets where the file leaves it to its surroundings; null where the file says it. */
function givenSize(svg: string, drawing: Drawing): { width: string; height: string } | null {
  const root = /<(?:\w+:)?svg\b[^>]*>/.exec(svg)![0];
  const both = ['width', 'height'].every((n) => new RegExp(`\\s${n}=["'][^"'%]+["']`).test(root));
  return both ? null : { width: `${drawing.size.width}mm`, height: `${drawing.size.height}mm` };
}

async function measure(page: Page, svg: string, size: ReturnType<typeof givenSize>): Promise<MeasuredFile> {
  await page.setContent('<!doctype html><body style="margin:0"></body>');
  return page.evaluate(measureInPage, { svg, size });
}

function read(name: string, svg: string): Drawing {
  const outcome = readDrawing({ name, svg }, { file: 0, size: { kind: 'ask' } });
  if (!outcome.ok) throw new Error(`${name}: ${outcome.issues.map((i) => i.message).join(' ')}`);
  return outcome.value;
}

/** Corners of the lines of one element, drawn one after the other, each with the length up to it. */
function chain(lines: readonly DrawingLine[]) {
  const xs: number[] = [];
  const ys: number[] = [];
  const along: number[] = [];
  for (const line of lines) {
    flattenLine(line, 0.0005).forEach((p, i) => {
      const last = xs.length - 1;
      const step = i === 0 ? 0 : Math.hypot(p.x - xs[last]!, p.y - ys[last]!);
      along.push((along.at(-1) ?? 0) + step);
      xs.push(p.x);
      ys.push(p.y);
    });
  }
  return { xs, ys, along };
}

function distanceTo({ xs, ys, along }: ReturnType<typeof chain>, x: number, y: number): number {
  let best = Number.POSITIVE_INFINITY;
  for (let i = 1; i < xs.length; i++) {
    if (along[i] === along[i - 1]) {
      best = Math.min(best, Math.hypot(x - xs[i]!, y - ys[i]!), Math.hypot(x - xs[i - 1]!, y - ys[i - 1]!));
      continue;
    }
    const dx = xs[i]! - xs[i - 1]!;
    const dy = ys[i]! - ys[i - 1]!;
    const t = Math.max(0, Math.min(1, ((x - xs[i - 1]!) * dx + (y - ys[i - 1]!) * dy) / (dx * dx + dy * dy)));
    best = Math.min(best, Math.hypot(x - xs[i - 1]! - t * dx, y - ys[i - 1]! - t * dy));
  }
  return best;
}

function note(distance: number, what: string): void {
  if (distance > sum.furthest) {
    sum.furthest = distance;
    sum.furthestOf = what;
  }
}

/** Single precision of the browser's user coordinates, as mm on the page. */
const floatNoise = (m: MeasuredElement): number => 4 * singlePrecision * m.largestCoordinate * m.scale;

/** Differences found, one sentence each; all files are compared before the test fails. */
class Differences {
  readonly list: string[] = [];

  atMost(value: number, limit: number, what: string): void {
    if (!(value <= limit))
      this.list.push(`${what}: off by ${value.toPrecision(3)}, at most ${limit.toPrecision(3)}`);
  }

  same(ours: unknown, theirs: unknown, what: string): void {
    if (ours !== theirs) this.list.push(`${what}: ${String(ours)} here, ${String(theirs)} in the browser`);
  }
}

function compareShape(
  found: Differences,
  what: string,
  m: MeasuredElement,
  lines: readonly DrawingLine[],
): void {
  const tolerance = bound + floatNoise(m);
  const ours = chain(lines);
  // The page's y runs down, the drawing's up.
  const furthest = Math.max(...m.samples.map(([x, y]) => distanceTo(ours, x, -y)));
  note(furthest - floatNoise(m), what);
  found.atMost(furthest, tolerance, `${what}: points of the browser's line`);
  if (m.corners) {
    const box = [Math.min(...ours.xs), -Math.max(...ours.ys), Math.max(...ours.xs), -Math.min(...ours.ys)];
    const off = Math.max(...m.corners.map((side, i) => Math.abs(side - box[i]!)));
    note(off - floatNoise(m), what);
    found.atMost(off, tolerance, `${what}: bounding box`);
  }
  if (!m.similar) return;
  // Along straight lines lengths agree too. Curves are measured by the browser along chords that may stand half a
  // user unit off the curve, so their lengths are only compared roughly.
  const length = lines.reduce((l, line) => l + lineLength(line), 0);
  const straight = lines.every((l) => l.segments.every((s) => s.kind === 'line'));
  const rough = straight ? 1e-5 * length : 0.02 * length + 0.5 * m.scale;
  found.atMost(Math.abs(m.length * m.scale - length), tolerance + rough, `${what}: length`);
}

function compareStyle(found: Differences, what: string, m: MeasuredElement, line: DrawingLine): void {
  const { style } = line;
  found.same(style.stroke, m.stroke, `${what}: stroke`);
  if (line.element !== 'line') found.same(style.fill, m.fill, `${what}: fill`);
  const part = (a: number, b: number): number => Math.abs(a - b) / Math.max(1, Math.abs(b));
  found.atMost(part(style.strokeWidth, m.strokeWidth), styleBound, `${what}: stroke width`);
  found.atMost(Math.abs(style.opacity - m.opacity), opacityBound, `${what}: opacity`);
  found.same(style.dash.length, m.dash.length, `${what}: number of dashes`);
  style.dash.forEach((d, i) => {
    found.atMost(part(d, m.dash[i] ?? Number.NaN), styleBound, `${what}: dash ${i}`);
  });
}

function compareUse(found: Differences, what: string, u: MeasuredUse, lines: readonly DrawingLine[]): void {
  found.same(lines.length > 0, u.box !== null, `${what}: draws something`);
  if (!u.box || lines.length === 0) return;
  sum.uses++;
  const { a, b, c, d, e, f } = u.toUser;
  const points = lines.flatMap((l) => flattenLine(l, 0.0005));
  const xs = points.map((p) => (a * p.x - c * p.y) / mmPerPx + e);
  const ys = points.map((p) => (b * p.x - d * p.y) / mmPerPx + f);
  const box = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
  const off = Math.max(...box.map((side, i) => Math.abs(side - u.box![i]!))) * u.scale;
  note(off, what);
  found.atMost(off, bound, `${what}: bounding box`);
}

/** The texts of one element: no character lost, the first where the browser puts it, the middle about right. */
function compareText(found: Differences, what: string, m: MeasuredText, texts: readonly DrawingText[]): void {
  const ours = texts
    .map((t) => t.text)
    .join('')
    .replaceAll(' ', '');
  const theirs = m.characters.map((c) => c.character).join('');
  found.same(ours, theirs, `${what}: characters`);
  if (ours !== theirs) return;
  sum.texts += texts.length;
  let first = 0;
  for (const text of texts) {
    const count = text.text.replaceAll(' ', '').length;
    const cells = m.characters.slice(first, first + count);
    first += count;
    if (text.anchor === 'start') {
      const [x, y] = cells[0]!.start;
      found.atMost(
        Math.hypot(text.at.x - x, -text.at.y - y),
        bound + text.size * startBound,
        `${what}: start`,
      );
    }
    const middle = (i: 0 | 1): number => {
      const all = cells.map((c) => c.middle[i]);
      return (Math.min(...all) + Math.max(...all)) / 2;
    };
    const off = Math.hypot(text.centre.x - middle(0), -text.centre.y - middle(1)) / text.size;
    found.atMost(off, middleBound + middleBoundPerCharacter * count, `${what}: middle, em`);
  }
}

async function compareFile(page: Page, file: string, found: Differences): Promise<void> {
  let svg = readFileSync(join(folder, file), 'utf8');
  const drawing = read(file, svg);
  // Without the namespace a browser shows nothing at all; the reader takes such files as if it were there.
  if (!/xmlns(?::\w+)?=/.test(svg)) svg = svg.replace('<svg', '<svg xmlns="http://www.w3.org/2000/svg"');
  const measured = await measure(page, svg, givenSize(svg, drawing));
  found.same('', measured.error, `${file}: well-formed`);
  const byElement = new Map<number, DrawingLine[]>();
  for (const line of drawing.lines) {
    const order = line.id.split(':')[1]!;
    if (order.includes('.')) continue;
    byElement.set(Number(order), [...(byElement.get(Number(order)) ?? []), line]);
  }
  if (measured.elements.length === 0) found.list.push(`${file}: nothing to compare`);
  for (const m of measured.elements) {
    const what = `${file} #${m.order} ${m.name}${m.id ? ` ${m.id}` : ''}`;
    const lines = byElement.get(m.order) ?? [];
    byElement.delete(m.order);
    found.same(lines.length > 0, m.visible, `${what}: visible`);
    sum.elements++;
    if (!m.visible || lines.length === 0) continue;
    sum.shapes++;
    compareShape(found, what, m, lines);
    compareStyle(found, what, m, lines[0]!);
  }
  found.same([...byElement.keys()].join(), '', `${file}: lines of elements that the browser does not have`);
  for (const m of measured.texts) {
    const texts = drawing.texts.filter((t) => t.id.startsWith(`0:${m.order}:`));
    compareText(found, `${file} #${m.order} text ${m.id}`, m, texts);
  }
  for (const u of measured.uses) {
    const lines = drawing.lines.filter((l) => l.id.startsWith(`0:${u.order}.`));
    compareUse(found, `${file} #${u.order} use`, u, lines);
  }
}

test('drawings are read as the browser shows them', async ({ page }) => {
  test.setTimeout(300_000);
  await page.route('**/*', (route) => route.abort());
  const found = new Differences();
  for (const file of files) await test.step(file, () => compareFile(page, file, found));
  console.log(
    `${files.length} files: ${sum.elements} elements compared, ${sum.shapes} of them drawn, ${sum.uses} uses and ${sum.texts} texts; ` +
      `furthest ${sum.furthest.toFixed(4)} mm beyond single precision (${sum.furthestOf})`,
  );
  expect(found.list).toEqual([]);
  expect(files.length).toBeGreaterThanOrEqual(40);
  expect(sum.shapes).toBeGreaterThan(300);
  expect(sum.uses).toBeGreaterThan(25);
  expect(sum.texts).toBeGreaterThan(35);
});

test('named colours are those of the browser', async ({ page }) => {
  await page.setContent('<!doctype html><body></body>');
  const names = [...colourNames.keys()];
  const theirs = await page.evaluate((list) => {
    return list.map((name) => {
      document.body.style.color = '';
      document.body.style.color = name;
      return getComputedStyle(document.body).color;
    });
  }, names);
  expect(names.length).toBe(148);
  names.forEach((name, i) => {
    const parts = /^rgb\((\d+), (\d+), (\d+)\)$/.exec(theirs[i]!)!.slice(1).map(Number);
    expect(colourNames.get(name), name).toBe(parts.map((p) => p.toString(16).padStart(2, '0')).join(''));
  });
});
