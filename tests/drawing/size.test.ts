import { describe, expect, it } from 'vitest';
import { readDrawing } from '../../src/drawing';
import { codes, issueOf, lineById, outcomeOf, readFile } from './support';

const svg = (attributes: string, content = '<line id="a" x2="96" stroke="black"/>'): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" ${attributes}>${content}</svg>`;
const lengthOf = (drawing: ReturnType<typeof readFile>, id = 'a'): number => {
  const line = lineById(drawing, id);
  const to = line.segments.at(-1)!.to;
  return Math.hypot(to.x - line.start.x, to.y - line.start.y);
};

describe('files with a physical size', () => {
  it.each([
    ['width="210mm" height="297mm" viewBox="0 0 210 297"', 210, 297, 96],
    ['width="21cm" height="29.7cm" viewBox="0 0 2100 2970"', 210, 297, 9.6],
    ['width="8.5in" height="11in" viewBox="0 0 612 792"', 215.9, 279.4, (96 * 25.4) / 72],
    ['width="612pt" height="792PT" viewBox="0 0 612 792"', 215.9, 279.4, (96 * 25.4) / 72],
    ['width="51pc" height="66pc"', 215.9, 279.4, 25.4],
    ['width="840Q" height="1188q" viewBox="0 0 420 594"', 210, 297, 48],
    ['width="200mm" viewBox="0 0 400 100"', 200, 50, 48],
    ['height="50mm" viewBox="0 0 400 100"', 200, 50, 48],
    ['width="200mm" height="100%" viewBox="0 0 400 100"', 200, 50, 48],
    ['width="200mm" height="auto" viewBox="0 0 400 100"', 200, 50, 48],
    ['style="width:200mm;height:5cm" viewBox="0 0 400 100"', 200, 50, 48],
  ])('%s', (attributes, width, height, length) => {
    const drawing = readFile(svg(attributes));
    expect(drawing.size.from).toEqual({ kind: 'physical' });
    expect(drawing.size.width).toBeCloseTo(width, 9);
    expect(drawing.size.height).toBeCloseTo(height, 9);
    expect(lengthOf(drawing)).toBeCloseTo(length, 9);
    expect(codes(drawing)).toEqual([]);
  });

  it('takes the physical side when the other is in px and disagrees, and says so', () => {
    const drawing = readFile(svg('width="200mm" height="100" viewBox="0 0 400 100"'));
    expect(drawing.size).toMatchObject({ width: 200, height: 50, from: { kind: 'physical' } });
    expect(issueOf(drawing, 'size-mixed').severity).toBe('warning');
    const agreeing = readFile(svg(`width="254mm" height="480" viewBox="0 0 200 100"`));
    expect(codes(agreeing)).toEqual([]);
  });

  it('puts the origin at the top-left corner of the page, y up', () => {
    const drawing = readFile(
      svg(
        'width="100mm" height="50mm" viewBox="10 20 100 50"',
        '<line id="a" x1="10" y1="20" x2="30" y2="60" stroke="red"/>',
      ),
    );
    const line = lineById(drawing, 'a');
    expect(line.start.x).toBeCloseTo(0, 12);
    expect(line.start.y).toBeCloseTo(0, 12);
    expect(line.segments[0]!.to.x).toBeCloseTo(20, 12);
    expect(line.segments[0]!.to.y).toBeCloseTo(-40, 12);
  });

  it('handles a page stretched unevenly and says so', () => {
    const drawing = readFile(
      svg(
        'width="200mm" height="50mm" viewBox="0 0 100 100" preserveAspectRatio="none"',
        '<line id="a" x2="10" y2="10" stroke="black" stroke-width="3"/>',
      ),
    );
    expect(lineById(drawing, 'a').segments[0]!.to).toEqual({ x: 20, y: -5 });
    expect(lineById(drawing, 'a').style.strokeWidth).toBeCloseTo(3, 12);
    expect(issueOf(drawing, 'size-uneven').message).toContain('25 %');
  });

  it('does not use a known length, and says so', () => {
    const outcome = outcomeOf(svg('width="96mm" height="96mm" viewBox="0 0 96 96"'), {
      file: 0,
      size: { kind: 'knownLength', line: '0:1:0', length: 10 },
    });
    if (!outcome.ok) throw new Error();
    expect(outcome.value.size.from).toEqual({ kind: 'physical' });
    expect(lengthOf(outcome.value)).toBeCloseTo(96, 9);
    expect(codes(outcome.value)).toEqual(['known-length-unused']);
  });
});

describe('files without a physical size', () => {
  it.each([
    ['width="192" height="96"', 50.8, 25.4, 25.4],
    ['width="192px" height="96px" viewBox="0 0 384 192"', 50.8, 25.4, 12.7],
    ['viewBox="0 0 192 96"', 50.8, 25.4, 25.4],
    ['width="100%" height="100%" viewBox="0 0 192 96"', 50.8, 25.4, 25.4],
    ['width="96" viewBox="0 0 192 96"', 25.4, 12.7, 12.7],
    ['width="6em" height="3em" viewBox="0 0 96 48"', 25.4, 12.7, 25.4],
    ['', 25.4, 0, 25.4],
  ])('%s is read at 96 per inch and left open', (attributes, width, height, length) => {
    const drawing = readFile(svg(attributes));
    expect(drawing.size.from).toEqual({ kind: 'none' });
    expect(drawing.size.width).toBeCloseTo(width, 9);
    expect(drawing.size.height).toBeCloseTo(height, 9);
    expect(lengthOf(drawing)).toBeCloseTo(length, 9);
    expect(issueOf(drawing, 'size-unknown').severity).toBe('warning');
  });

  it('is read at the units per inch that the person says', () => {
    const drawing = readFile(svg('viewBox="0 0 192 96"'), { file: 0, size: { kind: 'perInch', value: 72 } });
    expect(drawing.size).toMatchObject({ from: { kind: 'perInch', value: 72 } });
    expect(drawing.size.width).toBeCloseTo((192 / 72) * 25.4, 9);
    expect(lengthOf(drawing)).toBeCloseTo((96 / 72) * 25.4, 9);
    expect(codes(drawing)).toEqual([]);
  });

  it('is scaled so that the named line has the given length', () => {
    const content =
      '<line id="a" x2="96" stroke="black"/><circle id="b" cx="30" cy="30" r="10" stroke="black" stroke-width="2"/>';
    const file = svg('viewBox="0 0 192 96"', content);
    const drawing = readFile(file, { file: 0, size: { kind: 'knownLength', line: '0:1:0', length: 120 } });
    expect(lengthOf(drawing)).toBeCloseTo(120, 9);
    expect(drawing.size.width).toBeCloseTo(240, 9);
    expect(lineById(drawing, 'b').style.strokeWidth).toBeCloseTo(2.5, 9);
    const { from } = drawing.size;
    expect(from.kind === 'knownLength' && from.factor).toBeCloseTo(120 / 25.4, 9);
    // A curve: the circle's circumference.
    const byCircle = readFile(file, {
      file: 0,
      size: { kind: 'knownLength', line: '0:2:0', length: 20 * Math.PI },
    });
    // The circle stands for its arcs to 0.0005 mm in 2.6 mm.
    expect(Math.abs(byCircle.size.width - 192)).toBeLessThan(192 * (0.0005 / 2.6));
  });

  it('stays open when the named line is not there', () => {
    const drawing = readFile(svg('viewBox="0 0 192 96"'), {
      file: 0,
      size: { kind: 'knownLength', line: '0:9:0', length: 120 },
    });
    expect(drawing.size.from).toEqual({ kind: 'none' });
    expect(codes(drawing)).toEqual(['size-unknown', 'known-line-missing']);
  });

  it('refuses decisions that make no sense as misuse', () => {
    const source = { name: 'a.svg', svg: svg('viewBox="0 0 1 1"') };
    expect(() => readDrawing(source, { file: 0, size: { kind: 'perInch', value: 0 } })).toThrow(/above 0/);
    expect(() =>
      readDrawing(source, { file: 0, size: { kind: 'knownLength', line: '0:1:0', length: -1 } }),
    ).toThrow(/above 0/);
    expect(() => readDrawing(source, { file: -1, size: { kind: 'ask' } })).toThrow(/File numbers/);
  });
});

describe('sizes written wrongly', () => {
  it('tells an unusable width and goes on', () => {
    for (const width of ['calc(1mm + 2mm)', 'wide', '-5mm', '50vw']) {
      const drawing = readFile(svg(`width="${width}" height="50mm" viewBox="0 0 100 50"`));
      expect(drawing.size.from).toEqual({ kind: 'physical' });
      expect(drawing.size.width).toBeCloseTo(100, 9);
      expect(issueOf(drawing, 'size-unreadable').message).toContain(width);
    }
  });

  it('tells a viewBox with an error and ignores it', () => {
    for (const box of ['0 0 100', '0 0 -100 50', 'a b c d', '0 0 1e999 5']) {
      const drawing = readFile(svg(`width="96px" height="96px" viewBox="${box}"`));
      expect(lengthOf(drawing)).toBeCloseTo(25.4, 9);
      expect(codes(drawing)).toContain('viewbox-bad');
    }
  });

  it('draws nothing where a size of zero turns rendering off', () => {
    for (const attributes of [
      'viewBox="0 0 0 50"',
      'width="0" height="50mm" viewBox="0 0 1 1"',
      'height="0mm"',
    ]) {
      const drawing = readFile(svg(attributes));
      expect(drawing.lines).toEqual([]);
      expect(codes(drawing)).toContain('nothing-drawn');
    }
  });

  it('leaves out what is a percentage of an unknown size, and says so', () => {
    const drawing = readFile(
      svg('', '<rect id="p" width="50%" height="10" stroke="black"/><line id="a" x2="96" stroke="black"/>'),
    );
    expect(drawing.lines.map((l) => l.elementId)).toEqual(['a']);
    expect(issueOf(drawing, 'percent-of-unknown').severity).toBe('error');
  });
});
