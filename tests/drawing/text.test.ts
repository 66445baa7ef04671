import { describe, expect, it } from 'vitest';
import { codes, issueOf, read, readFile, textOf } from './support';

/** Texts on a page whose user units are mm, filled black. */
const texts = (content: string) => read(`<g fill="black" stroke="none" font-size="10">${content}</g>`);
const strings = (content: string): string[] => texts(content).texts.map((t) => t.text);

describe('what a text says', () => {
  it('collapses white space and decodes character references', () => {
    expect(strings('<text>\n  left \t cheek\n</text>')).toEqual(['left cheek']);
    expect(strings('<text>a &amp; b&#x42;&#67;&lt;</text>')).toEqual(['a & bBC<']);
    expect(strings('<text><![CDATA[7 < 8]]></text>')).toEqual(['7 < 8']);
    expect(strings('<text>  </text><text/>')).toEqual([]);
    expect(strings('<text>1<title>no</title><desc>no</desc>2</text>')).toEqual(['12']);
  });

  it('joins characters that are placed one by one and follow each other', () => {
    expect(strings('<text x="10 15.5 21" y="20">123</text>')).toEqual(['123']);
    expect(strings('<text><tspan x="10" y="20">1</tspan><tspan x="15.5" y="20">2</tspan></text>')).toEqual([
      '12',
    ]);
    expect(strings('<text x="10 16 22 27" y="5 5 5 5">1<tspan>2</tspan>34</text>')).toEqual(['1234']);
  });

  it('keeps apart what stands apart, and loses nothing', () => {
    expect(strings('<text x="10 80" y="20">12</text>')).toEqual(['1', '2']);
    expect(strings('<text x="10" y="20">12<tspan dx="30">13</tspan></text>')).toEqual(['12', '13']);
    expect(strings('<text><tspan x="0" y="10">12</tspan><tspan x="15" y="10">13</tspan></text>')).toEqual([
      '12',
      '13',
    ]);
    expect(
      strings('<text><tspan x="0" dy="1.2em">first</tspan><tspan x="0" dy="1.2em">second</tspan></text>'),
    ).toEqual(['first', 'second']);
    expect(strings('<text x="10" y="10">4<tspan dy="-3" font-size="5">2</tspan></text>')).toEqual(['42']);
    expect(strings('<text x="0 5.5 11" y="0 0 40">123</text>')).toEqual(['12', '3']);
  });

  it('leaves out what is hidden or not painted', () => {
    const drawing = texts(
      '<text display="none">1</text><text visibility="hidden">2</text><text fill="none">3</text><text fill="none" stroke="red">4</text><text opacity="0">5</text>',
    );
    expect(drawing.texts.map((t) => [t.text, t.fill])).toEqual([['4', '']]);
    expect(issueOf(drawing, 'lines-hidden').message).toMatch(/^4 /);
  });
});

describe('where a text stands', () => {
  it('gives anchor point, estimated middle and size in mm, y up', () => {
    const text = textOf(texts('<text x="50" y="40">12</text>'), '12');
    expect(text.at).toEqual({ x: 50, y: -40 });
    expect(text.anchor).toBe('start');
    expect(text.size).toBeCloseTo(10, 12);
    // Two characters of 0.55 em; the middle stands 0.35 em above the baseline.
    expect(text.centre.x).toBeCloseTo(55.5, 9);
    expect(text.centre.y).toBeCloseTo(-36.5, 9);
    expect(text.angle).toBeCloseTo(0, 12);
  });

  it.each([
    ['start', 61],
    ['middle', 50],
    ['end', 39],
  ] as const)('text-anchor %s', (anchor, x) => {
    const text = textOf(texts(`<text x="50" y="40" text-anchor="${anchor}">1234</text>`), '1234');
    expect(text.anchor).toBe(anchor);
    expect(text.at.x).toBeCloseTo(50, 12);
    expect(text.centre.x).toBeCloseTo(x, 9);
  });

  it('anchors each chunk on its own', () => {
    const drawing = texts(
      '<text text-anchor="middle"><tspan x="50" y="10">12</tspan><tspan x="90" y="10">3456</tspan></text>',
    );
    expect(textOf(drawing, '12').centre.x).toBeCloseTo(50, 9);
    expect(textOf(drawing, '3456').centre.x).toBeCloseTo(90, 9);
    const single = textOf(texts('<text text-anchor="middle" x="50 55.5" y="10">12</text>'), '12');
    expect(single).toMatchObject({ anchor: 'start' });
    expect(single.centre.x).toBeCloseTo(52.75, 9);
  });

  it('turns with transforms and with rotate', () => {
    const turned = textOf(texts('<text transform="translate(50 40) rotate(90)">12</text>'), '12');
    expect(turned.angle).toBeCloseTo(-Math.PI / 2, 12);
    expect(turned.centre.x).toBeCloseTo(50 + 3.5, 9);
    expect(turned.centre.y).toBeCloseTo(-(40 + 5.5), 9);
    const glyph = textOf(texts('<text x="50" y="40" rotate="90">1</text>'), '1');
    expect(glyph.angle).toBeCloseTo(-Math.PI / 2, 12);
    expect(glyph.centre.x).toBeCloseTo(50 + 3.5, 9);
    expect(glyph.centre.y).toBeCloseTo(-(40 + 2.75), 9);
    const scaled = textOf(texts('<text transform="scale(3)">1</text>'), '1');
    expect(scaled.size).toBeCloseTo(30, 9);
  });

  it('follows a path', () => {
    const drawing = texts(
      '<path id="t" d="M0 50 H100 V90" transform="translate(10 0)"/><text><textPath href="#t" startOffset="50%">12</textPath></text>',
    );
    const text = textOf(drawing, '12');
    // Half of 140 along: 70 right of the path's start at 10; two characters of 5.5.
    expect(text.at.x).toBeCloseTo(80, 9);
    expect(text.centre.x).toBeCloseTo(85.5, 9);
    expect(text.centre.y).toBeCloseTo(-46.5, 9);
    const down = textOf(
      texts(
        '<path id="t" d="M10 0 V90"/><text><textPath xlink:href="#t" startOffset="20">12</textPath></text>',
      ),
      '12',
    );
    expect(down.angle).toBeCloseTo(-Math.PI / 2, 12);
    expect(down.centre.y).toBeCloseTo(-25.5, 9);
    expect(down.centre.x).toBeCloseTo(13.5, 9);
    expect(
      codes(texts('<text><textPath href="#none">12</textPath></text><path d="M0 0h9" stroke="red"/>')),
    ).toEqual(['text-path-missing']);
  });

  it.each([
    ['12pt', (12 / 72) * 25.4],
    ['5mm', 5],
    ['2em', 20],
    ['150%', 15],
    ['2rem', 32],
    ['.5cm', 5],
    ['large', 18],
    ['larger', 12],
  ])('font-size %s', (size, mm) => {
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="96px" height="96px" font-size="16"><g font-size="10"><text y="20" style="font-size:${size}">1</text></g></svg>`;
    const drawing = readFile(svg);
    // Absolute units are themselves at 96 px per inch; the others are px here.
    const expected = /pt|mm|cm/.test(size) ? mm : (mm * 25.4) / 96;
    expect(drawing.texts[0]!.size).toBeCloseTo(expected, 9);
  });

  it('puts the middle where the baseline is set to be', () => {
    const central = textOf(texts('<text x="50" y="40" dominant-baseline="central">1</text>'), '1');
    expect(central.centre.y).toBeCloseTo(-40, 9);
  });

  it('carries groups, class, colour and place in the file', () => {
    const drawing = texts('<g id="numbers"><text class="n" fill="red">7</text></g>');
    expect(textOf(drawing, '7')).toMatchObject({ groups: ['numbers'], className: 'n', fill: '#ff0000' });
    expect(textOf(drawing, '7').source).toMatchObject({ line: 1 });
    expect(textOf(drawing, '7').id).toBe('0:3:0');
  });
});
