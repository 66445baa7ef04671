/** Laws of reading drawings: what must not change the result, and what must change it in step. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import svgpath from 'svgpath';
import { describe, expect, it } from 'vitest';
import { flattenLine, readDrawing } from '../../src/drawing';
import type { Drawing, DrawingLine, Segment } from '../../src/model';

const page = (content: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" viewBox="0 0 400 300" fill="none" stroke="black" stroke-width=".3">${content}</svg>`;

function read(svg: string): Drawing {
  const outcome = readDrawing({ name: 'law.svg', svg }, { file: 0, size: { kind: 'ask' } });
  if (!outcome.ok) throw new Error(outcome.issues.map((i) => i.message).join());
  return outcome.value;
}

const number = fc.integer({ min: -4000, max: 4000 }).map((n) => n / 20);
const positive = fc.integer({ min: 1, max: 800 }).map((n) => n / 20);

/** One command of path data with its numbers; arcs only where asked for. */
const command = (arcs: boolean) => {
  const numbers = (n: number) => fc.array(number, { minLength: n, maxLength: n });
  const plain = [
    ['L', 2],
    ['l', 2],
    ['H', 1],
    ['v', 1],
    ['C', 6],
    ['c', 6],
    ['S', 4],
    ['q', 4],
    ['T', 2],
  ] as const;
  const choices = plain.map(([letter, n]) => numbers(n).map((v) => `${letter}${v.join(' ')}`));
  const arc = fc
    .tuple(positive, positive, number, fc.boolean(), fc.boolean(), number, number)
    .map(
      ([rx, ry, tilt, large, sweep, x, y]) =>
        `A${rx} ${ry} ${tilt} ${large ? 1 : 0} ${sweep ? 1 : 0} ${x} ${y}`,
    );
  return arcs ? fc.oneof(...choices, arc) : fc.oneof(...choices);
};
const subpath = (arcs: boolean) =>
  fc
    .tuple(number, number, fc.array(command(arcs), { minLength: 1, maxLength: 6 }), fc.boolean())
    .map(([x, y, commands, close]) => `M${x} ${y}${commands.join('')}${close ? 'Z' : ''}`);
const pathData = (arcs: boolean) =>
  fc.array(subpath(arcs), { minLength: 1, maxLength: 4 }).map((parts) => parts.join(''));
const straightShape = fc.oneof(
  pathData(false).map((d) => `<path d="${d}"/>`),
  fc
    .tuple(number, number, positive, positive)
    .map(([x, y, w, h]) => `<rect x="${x}" y="${y}" width="${w}" height="${h}"/>`),
  fc
    .tuple(number, number, number, number)
    .map(([a, b, c, d]) => `<line x1="${a}" y1="${b}" x2="${c}" y2="${d}"/>`),
  fc
    .array(number, { minLength: 4, maxLength: 12 })
    .map((p) => `<polygon points="${p.slice(0, p.length - (p.length % 2)).join(',')}"/>`),
);
const roundShape = fc.oneof(
  pathData(true).map((d) => `<path d="${d}"/>`),
  fc
    .tuple(number, number, positive, positive)
    .map(([x, y, a, b]) => `<ellipse cx="${x}" cy="${y}" rx="${a}" ry="${b}"/>`),
  fc
    .tuple(number, number, positive, positive, positive)
    .map(([x, y, w, h, r]) => `<rect x="${x}" y="${y}" width="${w}" height="${h}" rx="${r}"/>`),
);

/** All points that define a line, in order. */
const points = (line: DrawingLine) => [
  line.start,
  ...line.segments.flatMap((s: Segment) => (s.kind === 'line' ? [s.to] : [s.c1, s.c2, s.to])),
];

function expectSameLines(a: readonly DrawingLine[], b: readonly DrawingLine[], tolerance: number): void {
  expect(b.length).toBe(a.length);
  a.forEach((line, i) => {
    const [p, q] = [points(line), points(b[i]!)];
    expect(q.length).toBe(p.length);
    expect(b[i]!.closed).toBe(line.closed);
    p.forEach((v, k) => {
      const w = q[k]!;
      const size = Math.max(1, Math.abs(v.x), Math.abs(v.y));
      expect(Math.hypot(v.x - w.x, v.y - w.y) / size).toBeLessThan(tolerance);
    });
  });
}

/** A transform as text, and what it does to a point of the drawing (y up). */
const affine = fc
  .tuple(
    fc.integer({ min: -30, max: 30 }),
    fc.integer({ min: -30, max: 30 }),
    fc.integer({ min: -30, max: 30 }),
    fc.integer({ min: -30, max: 30 }),
    number,
    number,
  )
  .map(([a, b, c, d, e, f]) => [a / 10, b / 10, c / 10, d / 10, e, f] as const)
  .filter(([a, b, c, d]) => Math.abs(a * d - b * c) > 0.05);
const mapLine = (
  line: DrawingLine,
  [a, b, c, d, e, f]: readonly [number, number, number, number, number, number],
): DrawingLine => {
  const map = (p: { x: number; y: number }) => ({
    x: a * p.x - c * p.y + e,
    y: -(b * p.x - d * p.y + f),
  });
  return {
    ...line,
    start: map(line.start),
    segments: line.segments.map((s) =>
      s.kind === 'line'
        ? { kind: 'line', to: map(s.to) }
        : { kind: 'cubic', c1: map(s.c1), c2: map(s.c2), to: map(s.to) },
    ),
  };
};

describe('transforms', () => {
  it('putting everything into a group with a transform transforms the result', () => {
    fc.assert(
      fc.property(fc.array(straightShape, { minLength: 1, maxLength: 5 }), affine, (shapes, m) => {
        const plain = read(page(shapes.join('')));
        const moved = read(page(`<g transform="matrix(${m.join(' ')})">${shapes.join('')}</g>`));
        expectSameLines(
          plain.lines.map((l) => mapLine(l, m)),
          moved.lines,
          1e-9,
        );
        const scale = Math.sqrt(Math.abs(m[0] * m[3] - m[1] * m[2]));
        moved.lines.forEach((l, i) => {
          expect(l.style.strokeWidth).toBeCloseTo(plain.lines[i]!.style.strokeWidth * scale, 9);
        });
      }),
      { numRuns: 80 },
    );
  });

  it('turning and moving leaves even the pieces of arcs as they are; scaling keeps them to 0.001 mm', () => {
    fc.assert(
      fc.property(
        fc.array(roundShape, { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 0, max: 359 }),
        number,
        positive,
        (shapes, turn, dx, k) => {
          const plain = read(page(shapes.join('')));
          const radians = (turn * Math.PI) / 180;
          const [cos, sin] = [Math.cos(radians), Math.sin(radians)];
          const turned = read(
            page(`<g transform="translate(${dx} 5) rotate(${turn})">${shapes.join('')}</g>`),
          );
          expectSameLines(
            plain.lines.map((l) => mapLine(l, [cos, sin, -sin, cos, dx, 5])),
            turned.lines,
            1e-9,
          );
          const factor = Math.min(4, k);
          const scaled = read(page(`<g transform="scale(${factor})">${shapes.join('')}</g>`));
          expect(scaled.lines.length).toBe(plain.lines.length);
          scaled.lines.forEach((line, i) => {
            const ours = flattenLine(line, 0.01);
            const theirs = flattenLine(mapLine(plain.lines[i]!, [factor, 0, 0, factor, 0, 0]), 0.0005);
            for (const p of ours.filter((_, n) => n % 7 === 0)) {
              let best = Number.POSITIVE_INFINITY;
              for (let n = 1; n < theirs.length; n++) {
                const [a, b] = [theirs[n - 1]!, theirs[n]!];
                const square = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
                const t =
                  square === 0
                    ? 0
                    : Math.max(
                        0,
                        Math.min(1, ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / square),
                      );
                best = Math.min(best, Math.hypot(p.x - a.x - t * (b.x - a.x), p.y - a.y - t * (b.y - a.y)));
              }
              // 0.0005 mm for each side (times the scale for the enlarged one) and for the corners of the reference.
              expect(best).toBeLessThan(0.0005 + 0.0005 * Math.max(1, factor) + 0.0005);
            }
          });
        },
      ),
      { numRuns: 25 },
    );
  });

  it('a use is a moved copy', () => {
    fc.assert(
      fc.property(fc.array(roundShape, { minLength: 1, maxLength: 4 }), number, number, (shapes, x, y) => {
        const used = read(
          page(`<defs><g id="a">${shapes.join('')}</g></defs><use href="#a" x="${x}" y="${y}"/>`),
        );
        const moved = read(page(`<g transform="translate(${x} ${y})">${shapes.join('')}</g>`));
        expectSameLines(moved.lines, used.lines, 1e-12);
      }),
      { numRuns: 40 },
    );
  });

  it('a page of other units with a viewBox to match is the same drawing', () => {
    fc.assert(
      fc.property(
        fc.array(straightShape, { minLength: 1, maxLength: 4 }),
        fc.constantFrom(
          ['40cm', '30cm'],
          ['1600Q', '1200Q'],
          ['15.748031496062993in', '11.811023622047244in'],
        ),
        (shapes, [w, h]) => {
          const svg = page(shapes.join(''));
          const other = svg.replace('width="400mm" height="300mm"', `width="${w}" height="${h}"`);
          expectSameLines(read(svg).lines, read(other).lines, 1e-9);
        },
      ),
      { numRuns: 30 },
    );
  });
});

describe('ways to write the same', () => {
  it('one path of several subpaths equals several paths', () => {
    fc.assert(
      fc.property(fc.array(subpath(true), { minLength: 1, maxLength: 5 }), (parts) => {
        const together = read(page(`<path d="${parts.join(' ')}"/>`));
        const apart = read(page(parts.map((d) => `<path d="${d}"/>`).join('')));
        expectSameLines(apart.lines, together.lines, 1e-12);
      }),
      { numRuns: 100 },
    );
  });

  it('absolute and relative commands, long and smooth, are the same', () => {
    fc.assert(
      fc.property(pathData(true), (d) => {
        const plain = read(page(`<path d="${d}"/>`));
        const relative = read(page(`<path d="${svgpath(d).rel().toString()}"/>`));
        const long = read(page(`<path d="${svgpath(d).abs().unshort().toString()}"/>`));
        // Near-degenerate arcs magnify rounding: a micrometre in a metre.
        expectSameLines(plain.lines, relative.lines, 1e-6);
        expectSameLines(plain.lines, long.lines, 1e-6);
      }),
      { numRuns: 100 },
    );
  });

  it('the order of attributes does not matter', () => {
    const attributes = [
      'id="p"',
      'd="M1 1h5"',
      'stroke="red"',
      'stroke-width="2"',
      'class="a b"',
      'transform="scale(2)"',
      'style="opacity:.5"',
      'stroke-dasharray="1 2"',
      'visibility="visible"',
    ];
    const usual = read(page(`<style>.a{stroke:blue}</style><path ${attributes.join(' ')}/>`));
    fc.assert(
      fc.property(fc.shuffledSubarray(attributes, { minLength: attributes.length }), (shuffled) => {
        expect(read(page(`<style>.a{stroke:blue}</style><path ${shuffled.join(' ')}/>`)).lines).toEqual(
          usual.lines,
        );
      }),
      { numRuns: 30 },
    );
  });

  it('attributes, style attribute and style sheet say the same', () => {
    const property = fc.record({
      stroke: fc.constantFrom('red', '#123', 'rgb(1,2,3)', 'hsl(40,50%,50%)', 'none', 'currentColor'),
      fill: fc.constantFrom('none', 'blue', '#abcdef'),
      'stroke-width': fc.constantFrom('0', '.3', '2px', '1mm', '.2em', '1%'),
      'stroke-dasharray': fc.constantFrom('none', '3', '3,1', '1 2 3', '1mm 5%'),
      opacity: fc.constantFrom('1', '.5', '20%'),
      color: fc.constantFrom('teal', '#fff'),
      visibility: fc.constantFrom('visible', 'hidden'),
    });
    fc.assert(
      fc.property(property, (style) => {
        const entries = Object.entries(style);
        const css = entries.map(([k, v]) => `${k}:${v}`).join(';');
        const shape = (more: string) => `<path d="M1 1h9v9" ${more}/>`;
        const byAttribute = read(page(shape(entries.map(([k, v]) => `${k}="${v}"`).join(' '))));
        const byStyle = read(page(shape(`style="${css}"`)));
        const bySheet = read(page(`${shape('class="c"')}<style>.c{${css}}</style>`));
        const looks = (d: Drawing) => d.lines.map((l) => ({ ...l.style, className: '' }));
        expect(looks(byStyle)).toEqual(looks(byAttribute));
        expect(looks(bySheet)).toEqual(looks(byAttribute));
      }),
      { numRuns: 100 },
    );
  });
});

describe('damaged files', () => {
  const folder = join(__dirname, '../corpus/svg');
  const files = readdirSync(folder).filter((f) => f.endsWith('.svg'));

  /** Reads a file with some characters replaced; says whether it could be read. */
  function readDamaged(file: string, svg: string): boolean {
    const outcome = readDrawing({ name: file, svg }, { file: 0, size: { kind: 'ask' } });
    if (!outcome.ok) {
      expect(outcome.issues.length).toBeGreaterThan(0);
      return false;
    }
    for (const line of outcome.value.lines) {
      for (const p of points(line)) expect(Number.isFinite(p.x + p.y)).toBe(true);
      expect(line.style.strokeWidth).toBeGreaterThanOrEqual(0);
      expect(line.segments.length).toBeGreaterThan(0);
      if (line.closed) expect(line.segments.at(-1)!.to).toEqual(line.start);
    }
    for (const text of outcome.value.texts) {
      expect(Number.isFinite(text.at.x + text.centre.y + text.angle)).toBe(true);
    }
    return true;
  }
  const place = fc.double({ min: 0, max: 0.999999, noNaN: true });

  it('end in a drawing or in an issue, never in an exception', () => {
    expect(files.length).toBeGreaterThanOrEqual(40);
    const what = fc.constantFrom(
      '',
      '<',
      '"',
      '0',
      '-',
      '}',
      '{',
      ';',
      '&',
      '%',
      'e9',
      '/',
      ' ',
      '\u0000',
      ')',
      'g',
    );
    fc.assert(
      fc.property(
        fc.constantFrom(...files),
        fc.array(fc.tuple(place, what), { minLength: 1, maxLength: 4 }),
        (file, edits) => {
          let svg = readFileSync(join(folder, file), 'utf8');
          for (const [where, by] of edits) {
            const at = Math.floor(where * svg.length);
            svg = svg.slice(0, at) + by + svg.slice(at + (by === '' ? 40 : 1));
          }
          readDamaged(file, svg);
        },
      ),
      { numRuns: 300, seed: 20 },
    );
  });

  it('with wrong numbers are read as far as they make sense', () => {
    let readable = 0;
    const what = fc.constantFrom(
      '',
      '-',
      '.',
      'e9',
      'e-9',
      'e999',
      '%',
      'mm',
      ',',
      ' ',
      '00',
      '99999999',
      'x',
      'NaN',
      '#',
      ';',
      '(',
    );
    fc.assert(
      fc.property(
        fc.constantFrom(...files),
        fc.array(fc.tuple(place, what), { minLength: 1, maxLength: 12 }),
        (file, edits) => {
          let svg = readFileSync(join(folder, file), 'utf8');
          for (const [where, by] of edits) {
            // Digits inside the drawing's attributes, not in its namespaces or its document type.
            const digits = [...svg.matchAll(/\d/g)]
              .map((m) => m.index)
              .filter((i) => i > svg.indexOf('viewBox'));
            if (digits.length === 0) return;
            const at = digits[Math.floor(where * digits.length)]!;
            svg = svg.slice(0, at) + by + svg.slice(at + 1);
          }
          if (readDamaged(file, svg)) readable++;
        },
      ),
      { numRuns: 300, seed: 21 },
    );
    expect(readable).toBeGreaterThan(250);
  });
});
