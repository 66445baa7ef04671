import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { bollardPattern, drawPattern, gannetPattern, keelPattern, type Manner, middleOf } from '.';

const manners: readonly Manner[] = ['clean', 'loose', 'inch', 'stacked', 'plain'];

describe.each(manners)('manner %s', (manner) => {
  const flat = bollardPattern();
  test('gives the same bytes again', () => {
    expect(drawPattern(bollardPattern(), { manner }).svg).toBe(drawPattern(flat, { manner }).svg);
  });
  test('prints each number twice, unless asked not to', () => {
    const { svg, truth } = drawPattern(flat, { manner, numbers: 'edges' });
    const texts = [...svg.matchAll(/>([0-9]+)<\/text>/g)].map((m) => m[1]!);
    expect(texts).toHaveLength(2 * truth.mates.length);
    for (const number of new Set(texts)) expect(texts.filter((t) => t === number)).toHaveLength(2);
    expect(drawPattern(flat, { manner, numbers: 'none', names: false }).svg).not.toMatch(/>[0-9]+<\/text>/);
  });
});

test('a clean drawing has one closed path a piece and its size in mm', () => {
  const { svg, truth } = drawPattern(gannetPattern(), { manner: 'clean' });
  expect(svg.match(/Z"/g)).toHaveLength(truth.pieces.length);
  expect(svg).toContain(`width="${truth.width}mm"`);
});

test('a loose drawing has no closed path, no size, and more segments than lines', () => {
  const { svg, truth } = drawPattern(gannetPattern(), { manner: 'loose' });
  expect(svg).not.toContain('Z"');
  expect(svg).not.toMatch(/width="[0-9.]+(mm|in)"/);
  const drawn = (svg.match(/class="s/g) ?? []).length;
  const lines = truth.pieces.reduce((n, p) => n + p.outline.length + p.folds.length + 3 * p.tabs.length, 0);
  expect(drawn).toBeGreaterThan(lines);
  expect(drawn).toBeLessThan(1.06 * lines);
});

test('the bracer is drawn with real arcs and cubics', () => {
  const { svg } = drawPattern(keelPattern(), { manner: 'clean' });
  expect(svg.match(/A[0-9.]+ [0-9.]+ 0 0 [01]/g)).toHaveLength(5);
  expect(svg.match(/C/g)!.length).toBeGreaterThanOrEqual(11);
});

test('the shipped samples are what the generator draws, and the brow chain measures 640 mm', () => {
  const folder = new URL('../../../public/samples/', import.meta.url);
  const manifest = JSON.parse(readFileSync(new URL('samples.json', folder), 'utf8')) as {
    id: string;
    files: {
      manner: 'clean' | 'loose' | 'unnumbered';
      file: string;
      measure: { length: number; middles: [number, number][] } | null;
    }[];
  }[];
  const makers = {
    'gannet-helm': gannetPattern,
    'bollard-pauldron': bollardPattern,
    'keel-bracer': keelPattern,
  };
  expect(manifest.map((m) => m.id).sort()).toEqual(Object.keys(makers).sort());
  for (const sample of manifest)
    for (const file of sample.files) {
      const { svg, truth } = drawPattern(
        makers[sample.id as keyof typeof makers](),
        file.manner === 'unnumbered'
          ? { manner: 'loose', numbers: 'none', names: false }
          : { manner: file.manner },
      );
      expect(readFileSync(new URL(file.file, folder), 'utf8')).toBe(svg);
      if (sample.id !== 'gannet-helm') continue;
      expect(file.measure!.length).toBeCloseTo(640, 2);
      const edges = truth.pieces.flatMap((p) => p.outline);
      const found = file.measure!.middles.map(([x, y]) =>
        edges.filter((e) => Math.hypot(middleOf(e).x - x, middleOf(e).y - y) < 0.01),
      );
      expect(found.map((f) => f.length)).toEqual(found.map(() => 1));
      const sum = found.flat().reduce((s, e) => {
        const [p, q] = e.points as [(typeof e.points)[0], (typeof e.points)[0]];
        return s + Math.hypot(q.x - p.x, q.y - p.y);
      }, 0);
      expect(sum).toBeCloseTo(640, 6);
    }
});
