import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { factsOf, walkAlong } from '../../app/canvas/bench/facts';
import { hintOf } from '../../app/canvas/bench/hint';
import { isMarked, ringOf } from '../../app/canvas/bench/placeMark';
import { type OverlayInputs, overlayOf } from '../../app/canvas/overlay/overlay';
import { planLabels } from '../../app/canvas/paint/labelPlan';
import { parseColour, themeFrom, themeVariables } from '../../app/canvas/paint/theme';
import { lengthWriter, sceneOf } from '../../app/canvas/scene';
import { SceneIndex } from '../../app/canvas/scene/pick';
import type { Label } from '../../app/canvas/scene/scene';
import { createEditor } from '../../app/document/editor';
import { noResults } from '../../app/document/session';
import { defaultDecisions, type ProjectDocument } from '../../src/model';
import { pattern, seams } from './fixture';

const document: ProjectDocument = {
  title: 'Keel bracer',
  sources: [],
  decisions: defaultDecisions,
  lengthUnit: 'mm',
};
const { scene, relations } = sceneOf({
  step: 'seams',
  results: { ...noResults, pattern, seams },
  document,
});
const index = new SceneIndex(scene.pickables);

const overlay = (more: Partial<OverlayInputs>) =>
  overlayOf({
    scene,
    index,
    relations,
    selection: [],
    hovered: null,
    pairFrom: null,
    cursor: null,
    girth: { kind: 'none' },
    preview: null,
    pulse: [],
    threads: true,
    length: lengthWriter(document),
    ...more,
  });
const looks = (o: ReturnType<typeof overlay>) => o.strokes.map((s) => `${s.look} ${s.lines.length}`);

describe('overlay', () => {
  it('joins two edges that may be mates, whatever their seams say, and nothing when one is gone', () => {
    const o = overlay({ likely: { from: 'A2', to: 'A1' } });
    expect(looks(o)).toEqual(['mate 1', 'first 1']);
    expect(o.threads).toHaveLength(1);
    expect(o.arrows).toHaveLength(2);
    expect(overlay({ likely: { from: 'A2', to: 'gone' } }).threads).toEqual([]);
  });

  it('joins an edge under the pointer to its mate, with heads at the shared corner', () => {
    const o = overlay({ hovered: 'A2' });
    expect(looks(o)).toEqual(['mate 1', 'hover 1']);
    expect(o.threads[0]).toMatchObject({ from: { x: 40, y: -20 }, to: { x: 60, y: -20 } });
    // A2 runs upwards from its start, B3 downwards to its end: both heads point upwards from below.
    expect(o.arrows).toEqual([
      { at: { x: 40, y: -30 }, along: { x: 0, y: 1 } },
      { at: { x: 60, y: -30 }, along: { x: 0, y: 1 } },
    ]);
  });

  it('lights both edges of a seam or run that is pointed at in a table', () => {
    expect(looks(overlay({ hovered: 'run1' }))).toEqual(['mate 1', 'hover 2']);
    expect(overlay({ hovered: 'A2+B3' }).threads).toHaveLength(1);
  });

  it('draws no threads where the step has none, nor for an edge without a mate', () => {
    expect(overlay({ hovered: 'A2', threads: false }).threads).toEqual([]);
    expect(overlay({ hovered: 'A1' }).threads).toEqual([]);
  });

  it('fills a selected piece and joins a selected seam once', () => {
    expect(overlay({ selection: ['pA'] }).areas).toHaveLength(1);
    expect(overlay({ selection: ['A2', 'B3'] }).threads).toHaveLength(1);
    expect(overlay({ selection: ['A2+B3'] }).threads).toHaveLength(1);
  });

  it('shows the thread of a pair being made instead of the one it would replace', () => {
    const o = overlay({
      hovered: 'A2',
      pairFrom: 'B2',
      preview: { kind: 'thread', from: 'B2', to: 'A2' },
    });
    expect(o.threads).toHaveLength(1);
    expect(o.threads[0]?.from).toEqual({ x: 80, y: -20 });
    expect(looks(o)).toContain('first 1');
  });

  it('writes the lengths of a girth along edges and of tapes', () => {
    const chain = overlay({ girth: { kind: 'edges', edges: ['A1', 'B1', 'gone'] } });
    expect(looks(chain)).toEqual(['chain 2']);
    expect(chain.labels.map((l) => l.text)).toEqual(['40 mm', '40 mm']);
    const from = { x: 0, y: 0 };
    const tape = overlay({
      girth: { kind: 'tape', parts: [[from, { x: 30, y: 40 }]] },
      preview: { kind: 'tape', from, to: { x: 12, y: 0 } },
    });
    expect(tape.labels.map((l) => l.text)).toEqual(['50 mm', '12 mm']);
  });

  it('says nothing about ids that are not in the scene', () => {
    const o = overlay({ selection: ['x'], hovered: 'y', cursor: 'z', pairFrom: 'w', pulse: ['v'] });
    expect(o.strokes).toEqual([]);
    expect(o.threads).toEqual([]);
  });
});

describe('facts and hints', () => {
  const editor = createEditor(() => 0, {
    document,
    documentId: 'd',
    results: { ...noResults, pattern, seams },
  });
  const facts = (scale = 1) =>
    factsOf({
      session: editor.session.getState(),
      scene,
      index,
      relations,
      scale,
      length: lengthWriter(document),
    });

  it('reach 6 pixels with a mouse and 12 with a finger, whatever the zoom', () => {
    for (const scale of [0.5, 1, 8]) {
      const hit = (pixels: number, pointer: 'mouse' | 'touch') =>
        facts(scale).hitAt({ x: -pixels / scale, y: -20 }, ['edge'], pointer)?.id ?? null;
      expect(hit(5.9, 'mouse')).toBe('A4');
      expect(hit(6.1, 'mouse')).toBeNull();
      expect(hit(11.9, 'touch')).toBe('A4');
      expect(hit(12.1, 'touch')).toBeNull();
    }
  });

  it('snap to a corner within 8 pixels', () => {
    expect(facts(2).snap({ x: 43, y: 0 }, 'mouse')).toEqual({ x: 40, y: 0 });
    expect(facts(2).snap({ x: 45, y: 0 }, 'mouse')).toEqual({ x: 45, y: 0 });
  });

  it('walk round and round', () => {
    expect(walkAlong(['a', 'b'], null, 'next')).toBe('a');
    expect(walkAlong(['a', 'b'], 'b', 'next')).toBe('a');
    expect(walkAlong(['a', 'b'], 'a', 'previous')).toBe('b');
    expect(walkAlong(['a', 'b'], 'gone', 'previous')).toBe('b');
    expect(walkAlong([], 'a', 'next')).toBeNull();
  });

  it('tell how far a pair or a girth has come', () => {
    expect(hintOf('select', facts())).toBeNull();
    expect(hintOf('pair', facts())?.text).toBe('Pick an edge, then its mate');
    editor.setPairFrom('A1');
    expect(hintOf('pair', facts())).toEqual({
      text: 'Edge 1 of piece A, 40 mm, no mate yet: now pick its mate',
      actions: ['drop'],
    });
    editor.decide('girth', (d) => ({
      ...d,
      fit: { ...d.fit, girth: { kind: 'edges', edges: ['A1', 'A2'] } },
    }));
    expect(hintOf('chain', facts())?.text).toBe('Girth 80 mm, 2 edges');
  });
});

describe('a place that was asked for', () => {
  const camera = { scale: 2, x: 0, y: 0 };
  const place = { ids: [], box: { minX: 10, minY: 10, maxX: 20, maxY: 20 }, begin: 1000 };

  it('is ringed: the ring closes in, stays and fades; under reduced motion it only stays', () => {
    const rings = [1000, 1300, 1600, 3100].map((now) => ringOf(place, camera, now, false)!);
    expect(rings[0]!.radius).toBeGreaterThan(rings[1]!.radius);
    expect(rings[1]!.radius).toBeGreaterThan(rings[2]!.radius);
    expect(rings[3]!.strength).toBeLessThan(rings[2]!.strength);
    const still = [1000, 1300, 3100].map((now) => ringOf(place, camera, now, true));
    expect(new Set(still.map((r) => JSON.stringify(r))).size).toBe(1);
    expect(isMarked(place, 3100)).toBe(true);
    expect(isMarked(place, 3300)).toBe(false);
  });
});

describe('labels', () => {
  const measure = (text: string, type: number) => text.length * type * 0.6;
  const label = (more: Partial<Label>): Label => ({
    text: '12',
    at: { x: 0, y: 0 },
    off: null,
    tone: 'ink',
    size: 'small',
    height: 0,
    room: 0,
    rank: 1,
    boxed: false,
    ...more,
  });
  const texts = (labels: readonly Label[], scale: number) =>
    planLabels(labels, scale, measure).map((p) => p.label.text);

  it('give way to more important ones', () => {
    expect(texts([label({ text: 'a' }), label({ text: 'b', rank: 5 })], 1)).toEqual(['b']);
  });

  it('wait until the thing that they name has room for them', () => {
    expect(texts([label({ room: 10 })], 1)).toEqual([]);
    expect(texts([label({ room: 10 })], 3)).toEqual(['12']);
    expect(texts([label({ until: 1.2 })], 1.2)).toEqual([]);
  });

  it('grow with lettering that is drawn, from the smallest legible size', () => {
    expect(planLabels([label({ height: 3 })], 1, measure)[0]?.type).toBe(11);
    expect(planLabels([label({ height: 3 })], 8, measure)[0]?.type).toBe(24);
  });

  it('never lie over each other, wherever they are', () => {
    const place = fc.record({
      x: fc.double({ min: -300, max: 300, noNaN: true }),
      y: fc.double({ min: -300, max: 300, noNaN: true }),
    });
    const some = fc.array(
      fc.tuple(place, fc.integer({ min: 1, max: 9 }), fc.boolean(), fc.constantFrom('7', 'L14', '24.5 mm')),
      { maxLength: 60 },
    );
    fc.assert(
      fc.property(some, fc.double({ min: 0.1, max: 5, noNaN: true }), (list, scale) => {
        const planned = planLabels(
          list.map(([at, rank, boxed, text]) => label({ at, rank, boxed, text })),
          scale,
          measure,
        );
        if (list.length > 0) expect(planned.length).toBeGreaterThan(0);
        planned.forEach((a, i) => {
          for (const b of planned.slice(i + 1)) {
            const apart =
              Math.abs(a.x - b.x) >= (a.width + b.width) / 2 ||
              Math.abs(a.y - b.y) >= (a.height + b.height) / 2;
            expect(apart).toBe(true);
          }
        });
      }),
    );
  });
});

describe('theme', () => {
  const css = readFileSync(resolve(__dirname, '../../app/ui/theme.css'), 'utf8');
  const blocks = css.split(/:root/).slice(1);
  const light = blocks[0] ?? '';
  const dark = blocks.find((b) => b.startsWith('[data-theme="dark"]')) ?? '';
  const read = (block: string) => (name: string) =>
    new RegExp(`\\n\\s*${name}:\\s*([^;]+);`).exec(block)?.[1] ?? '';

  it('finds every colour of the bench in both themes of the page', () => {
    for (const block of [light, dark]) {
      const theme = themeFrom(read(block));
      expect(Object.keys(theme.colours)).toHaveLength(themeVariables.length);
    }
  });

  it('keeps ink and marks legible on the bench and on pieces (WCAG 2.2: text 4.5, marks 3)', () => {
    for (const block of [light, dark]) {
      const { colours } = themeFrom(read(block));
      for (const ground of ['--bench', '--piece'] as const) {
        expect(contrast(colours['--ink'], colours[ground])).toBeGreaterThan(4.5);
        expect(contrast(colours['--ink-soft'], colours[ground])).toBeGreaterThan(4.5);
        expect(contrast(colours['--accent'], colours[ground])).toBeGreaterThan(4.5);
        expect(contrast(colours['--look-mark'], colours[ground])).toBeGreaterThan(3);
      }
      expect(contrast(colours['--look'], colours['--look-soft'])).toBeGreaterThan(4.5);
    }
  });

  it('reads the ways in which style sheets write a colour', () => {
    expect(parseColour('#fff')).toEqual([1, 1, 1, 1]);
    expect(parseColour(' #14595b ')?.[0]).toBeCloseTo(20 / 255);
    expect(parseColour('rgb(0 0 0 / 60%)')).toEqual([0, 0, 0, 0.6]);
    expect(parseColour('rgba(255, 0, 0, 0.5)')).toEqual([1, 0, 0, 0.5]);
    expect(parseColour('var(--ink)')).toBeNull();
    expect(() => themeFrom(() => '')).toThrow('--bench');
  });
});

type Colour = readonly [number, number, number, number];

/** Contrast ratio of two opaque colours: WCAG 2.2, "contrast ratio" and "relative luminance". */
function contrast(a: Colour, b: Colour): number {
  const channel = (v: number) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
  const light = ([r, g, bl]: Colour) => 0.2126 * channel(r) + 0.7152 * channel(g) + 0.0722 * channel(bl);
  const [p, q] = [light(a), light(b)];
  return (Math.max(p, q) + 0.05) / (Math.min(p, q) + 0.05);
}
