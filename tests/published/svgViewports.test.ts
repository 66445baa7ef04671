/**
 * Values printed in specifications: SVG 2 (w3c/svgwg, master/coords.html at 000d58e, and the images of its examples)
 * and CSS Values and Units 4, section 5.2. Drawings are our own; the numbers are theirs.
 */
import { describe, expect, it } from 'vitest';
import { readDrawing } from '../../src/drawing';
import type { Drawing, DrawingLine } from '../../src/model';

const pxToMm = 25.4 / 96;

function read(svg: string): Drawing {
  const outcome = readDrawing({ name: 'example.svg', svg }, { file: 0, size: { kind: 'ask' } });
  if (!outcome.ok) throw new Error(outcome.issues[0]!.message);
  return outcome.value;
}
const root = (attributes: string, content: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" ${attributes}>${content}</svg>`;

/** Bounds of a line's corners in px, y down. */
function box(line: DrawingLine) {
  const points = [line.start, ...line.segments.map((s) => s.to)];
  const xs = points.map((p) => p.x / pxToMm);
  const ys = points.map((p) => -p.y / pxToMm);
  const [x, y] = [Math.min(...xs), Math.min(...ys)];
  return { x, y, width: Math.max(...xs) - x, height: Math.max(...ys) - y };
}
const expectBox = (line: DrawingLine, x: number, y: number, width: number, height: number): void => {
  const b = box(line);
  expect(b.x).toBeCloseTo(x, 9);
  expect(b.y).toBeCloseTo(y, 9);
  expect(b.width).toBeCloseTo(width, 9);
  expect(b.height).toBeCloseTo(height, 9);
};

describe('SVG 2, "The viewBox attribute", example ViewBox', () => {
  const rect = '<rect width="1500" height="1000"/><path d="M750 100 L250 900"/>';
  it('300 × 200 px with viewBox 0 0 1500 1000: "scales both X and Y by 0.2"', () => {
    const { lines } = read(
      root(
        'width="300px" height="200px" viewBox="0 0 1500 1000" preserveAspectRatio="none" stroke="black"',
        rect,
      ),
    );
    expectBox(lines[0]!, 0, 0, 300, 200);
    expectBox(lines[1]!, 250 * 0.2, 100 * 0.2, 500 * 0.2, 800 * 0.2);
  });

  it('150 × 200 px: "scales X by 0.1 and Y by 0.2"', () => {
    const { lines } = read(
      root(
        'width="150px" height="200px" viewBox="0 0 1500 1000" preserveAspectRatio="none" stroke="black"',
        rect,
      ),
    );
    expectBox(lines[0]!, 0, 0, 150, 200);
    expectBox(lines[1]!, 250 * 0.1, 100 * 0.2, 500 * 0.1, 800 * 0.2);
  });
});

describe('SVG 2, "The preserveAspectRatio attribute"', () => {
  // "Align the min-x of the viewBox with the smallest X value of the viewport", "the midpoint X value with the
  // midpoint X value", "min-x + width with the maximum X value", and the same for y.
  const aligned = { Min: 0, Mid: 0.5, Max: 1 } as const;
  const cases = Object.entries(aligned).flatMap(([x, u]) =>
    Object.entries(aligned).flatMap(([y, v]) =>
      [
        [100, 50],
        [50, 100],
      ].flatMap(([w, h]) =>
        (['', ' meet', ' slice'] as const).map((fit) => ({ x, y, u, v, w: w!, h: h!, fit })),
      ),
    ),
  );

  it.each(cases)('x$x Y$y $fit in $w × $h', ({ x, y, u, v, w, h, fit }) => {
    const svg = root(
      'width="200px" height="200px" stroke="black"',
      `<svg x="10" y="20" width="${w}" height="${h}" viewBox="-3 7 30 30" preserveAspectRatio="x${x}Y${y}${fit}"><rect x="-3" y="7" width="30" height="30"/></svg>`,
    );
    const side = fit === ' slice' ? Math.max(w, h) : Math.min(w, h);
    expectBox(read(svg).lines[0]!, 10 + u * (w - side), 20 + v * (h - side), side, side);
  });

  it('"xMidYMid (the default)", "meet (the default)"', () => {
    const inner = (more: string) =>
      read(
        root(
          'width="99px" height="99px" stroke="black"',
          `<svg width="60" height="30" viewBox="0 0 10 10" ${more}><rect width="10" height="10"/></svg>`,
        ),
      ).lines;
    expect(inner('')[0]!.segments).toEqual(inner('preserveAspectRatio="xMidYMid meet"')[0]!.segments);
    expectBox(inner('')[0]!, 15, 0, 30, 30);
  });

  it('"if attribute viewBox is not provided, then preserveAspectRatio is ignored"', () => {
    const svg = root(
      'width="99px" height="99px" stroke="black"',
      '<svg width="60" height="30" preserveAspectRatio="xMaxYMax slice"><rect width="10" height="10"/></svg>',
    );
    expectBox(read(svg).lines[0]!, 0, 0, 10, 10);
  });

  it('"For preserveAspectRatio on all other elements the defer portion of the attribute is ignored"', () => {
    const svg = root(
      'width="99px" height="99px" stroke="black"',
      '<svg width="60" height="30" viewBox="0 0 10 10" preserveAspectRatio="defer xMinYMin"><rect width="10" height="10"/></svg>',
    );
    expectBox(read(svg).lines[0]!, 0, 0, 30, 30);
  });
});

describe('SVG 2, viewBox errors', () => {
  it('"A value of zero disables rendering of the element"', () => {
    expect(
      read(
        root(
          'width="9px" height="9px" stroke="red"',
          '<svg viewBox="0 0 0 9"><path d="M0 0h9"/></svg><svg viewBox="0 0 9 0"><path d="M0 0h9"/></svg>',
        ),
      ).lines,
    ).toEqual([]);
  });
  it('"A negative value for width or height is an error"', () => {
    const { issues } = read(
      root('width="9px" height="9px" stroke="red"', '<svg viewBox="0 0 -9 9"><path d="M0 0h9"/></svg>'),
    );
    expect(issues.filter((i) => i.code === 'viewbox-bad' && i.severity === 'error')).toHaveLength(1);
  });
});

describe('SVG 2, "Establishing a new viewport"', () => {
  it('4 × 3 in with an inner drawing at 25 %, 25 %, 50 % × 50 %', () => {
    const svg = root(
      'width="4in" height="3in" stroke="black"',
      '<svg x="25%" y="25%" width="50%" height="50%"><rect width="100%" height="100%"/></svg>',
    );
    expectBox(read(svg).lines[0]!, 96, 72, 192, 144);
  });
});

describe('SVG 2, "Units", example Units (96 per inch, viewBox 0 0 4000 2000 in 400 × 200 px)', () => {
  const units = (content: string) =>
    read(root('width="400px" height="200px" viewBox="0 0 4000 2000" stroke="red" font-size="150"', content))
      .lines;

  it('4 in is "exactly the same size" as 384 user units, 2.5 em at 150 as 375, and 10 % as 400 and 200', () => {
    const [inches, px, ems, ofEms, percent, ofPercent] = units(
      '<rect width="4in" height="2in" stroke-width=".4in"/><rect width="384" height="192" stroke-width="38.4"/>' +
        '<rect width="2.5em" height="1.25em" stroke-width=".25em"/><rect width="375" height="187.5" stroke-width="37.5"/>' +
        '<rect width="10%" height="10%" stroke-width="1%"/><rect width="400" height="200" stroke-width="31.62"/>',
    );
    for (const [a, b] of [
      [inches, px],
      [ems, ofEms],
      [percent, ofPercent],
    ]) {
      expect(box(a!).width).toBeCloseTo(box(b!).width, 9);
      expect(box(a!).height).toBeCloseTo(box(b!).height, 9);
    }
    expect(inches!.style.strokeWidth).toBeCloseTo(px!.style.strokeWidth, 9);
    expect(ems!.style.strokeWidth).toBeCloseTo(ofEms!.style.strokeWidth, 9);
    // ".01*sqrt(4000*4000+2000*2000)/sqrt(2), or 31.62" user units, of 0.1 px each.
    expect(percent!.style.strokeWidth / pxToMm / 0.1).toBeCloseTo(31.62, 2);
  });
});

describe('SVG 2, transforms', () => {
  it('example NewCoordSys: after translate(50,50) the coordinate (30,30) is (80,80)', () => {
    const [line] = read(
      root(
        'width="400px" height="150px" stroke="black"',
        '<g transform="translate(50,50)"><line x1="30" y1="30" x2="40" y2="40"/></g>',
      ),
    ).lines;
    expectBox(line!, 80, 80, 10, 10);
  });

  it('example Nested: translate(50,90), rotate(-45), translate(130,160) together', () => {
    const [line] = read(
      root(
        'width="400px" height="150px" stroke="black"',
        '<g transform="translate(50,90)"><g transform="rotate(-45)"><g transform="translate(130,160)"><path d="M0 0L1 0"/></g></g></g>',
      ),
    ).lines;
    // SVG 1.1, section 7.5 prints .707 −.707 .707 .707 255.03 111.21 (from memory): sums of the rounded cosine, so
    // 290 · 0.00011 = 0.03 short of the exact value.
    expect(line!.start.x / pxToMm).toBeCloseTo(255.03, 1);
    expect(-line!.start.y / pxToMm).toBeCloseTo(111.21, 1);
    expect((line!.segments[0]!.to.x - line!.start.x) / pxToMm).toBeCloseTo(Math.SQRT1_2, 9);
    expect(-(line!.segments[0]!.to.y - line!.start.y) / pxToMm).toBeCloseTo(-Math.SQRT1_2, 9);
  });
});

describe('SVG 2, "Bounding boxes", example bbox-calc', () => {
  it('use-1 is {30, 30, 40, 40}; what is display: none shows nothing', () => {
    const { lines } = read(
      root(
        'xmlns:xlink="http://www.w3.org/1999/xlink" width="200px" height="200px"',
        '<defs><rect id="rect-1" x="20" y="20" width="40" height="40" fill="blue"/></defs><g><use xlink:href="#rect-1" x="10" y="10"/><g display="none"><rect x="10" y="10" width="100" height="100" fill="red"/></g></g>',
      ),
    );
    expect(lines).toHaveLength(1);
    expectBox(lines[0]!, 30, 30, 40, 40);
  });
});

describe('CSS Values and Units 4, section 5.2', () => {
  // 1in = 2.54cm = 96px; 1mm = 1/10 cm; 1Q = 1/40 cm; 1pc = 1/6 in; 1pt = 1/72 in; 1px = 1/96 in.
  it.each([
    ['1in', 96],
    ['2.54cm', 96],
    ['25.4mm', 96],
    ['101.6Q', 96],
    ['6pc', 96],
    ['72pt', 96],
    ['96px', 96],
    ['1IN', 96],
  ])('%s is %s px, as a page and as a length', (length, px) => {
    const drawing = read(
      root(`width="${length}" height="${length}"`, `<rect width="${length}" height="${length}"/>`),
    );
    expect(drawing.size.width).toBeCloseTo(25.4, 9);
    expect(box(drawing.lines[0]!).width).toBeCloseTo(px, 9);
  });
});
