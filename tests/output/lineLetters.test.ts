/**
 * Single-line lettering in the cutters' SVG, read by parsers that are not ours: saxes for the XML, svgpath for the path
 * data; and held against the same texts in the DXF, read by dxf-parser.
 */
import DxfParser from 'dxf-parser';
import { SaxesParser, type SaxesTagPlain } from 'saxes';
import svgpath from 'svgpath';
import { describe, expect, it } from 'vitest';
import { boxOf, distance, type Point, rotate } from '../../src/math';
import type { Lettering } from '../../src/model';
import { writePanelsDxf, writePanelsSvg } from '../../src/output';
import { markFixture } from '../support/pages';
import { buildFixture, gores, sidesOf } from '../support/panels';

const meta = { title: 'Gannet helm', tracedFace: 'outside', lettering: 'strokes', leadIn: 0 } as const;

interface ReadText {
  /** Names of the groups that it is in, outermost first. */
  readonly groups: readonly string[];
  /** What holds for it of what the groups and the path say. */
  readonly fill: string | undefined;
  readonly stroke: string | undefined;
  readonly closed: boolean;
  /** Points of each stroke, y turned up. */
  readonly strokes: readonly (readonly Point[])[];
  title: string;
}

/** Every path with a title. */
function textsIn(svg: string): ReadText[] {
  const found: ReadText[] = [];
  const open: SaxesTagPlain[] = [];
  let current: ReadText | null = null;
  const parser = new SaxesParser();
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', (tag: SaxesTagPlain) => {
    open.push(tag);
    if (tag.name !== 'path' || !tag.attributes.d) return;
    const last = (name: string) =>
      open.reduce<string | undefined>((v, t) => t.attributes[name] ?? v, undefined);
    current = {
      groups: open.filter((t) => t.name === 'g').map((t) => t.attributes.id ?? ''),
      ...{ fill: last('fill'), stroke: last('stroke'), title: '' },
      ...strokesOf(tag.attributes.d),
    };
  });
  parser.on('text', (text) => {
    if (current && open.at(-1)?.name === 'title') current.title += text;
  });
  parser.on('closetag', (tag) => {
    open.pop();
    if (tag.name !== 'path' || !current) return;
    if (current.title !== '') found.push(current);
    current = null;
  });
  parser.write(svg).close();
  return found;
}

function strokesOf(d: string): { closed: boolean; strokes: Point[][] } {
  const strokes: Point[][] = [];
  let closed = false;
  const path = svgpath(d).abs();
  path.iterate(([command, ...numbers]) => {
    const [x, y] = numbers.slice(-2);
    if (command === 'Z' || command === 'z') closed = true;
    else if (command === 'M') strokes.push([{ x: x!, y: -y! }]);
    else if (command === 'L') strokes.at(-1)!.push({ x: x!, y: -y! });
    else throw new Error(`${command} in a letter`);
  });
  expect(strokes.length).toBeGreaterThan(0);
  return { closed, strokes };
}

/** Open lines of the layers of texts in the DXF. */
const dxfStrokes = (dxf: string): Point[][] =>
  new DxfParser()
    .parseSync(dxf)!
    .entities.filter((e) => e.layer === 'TEXT' || e.layer === 'BEVEL')
    .map((e) => e as unknown as { vertices: Point[]; shape: boolean })
    .filter((path) => !path.shape)
    .map((path) => path.vertices.map(({ x, y }) => ({ x, y })));

const apart = (a: readonly Point[], b: readonly Point[]): number =>
  a.length === b.length ? Math.max(...a.map((p, i) => distance(p, b[i]!))) : Infinity;

describe('single-line lettering in SVG', () => {
  const marked = markFixture(gores(12, 10, 320, 700, -0.12));
  const asked = marked.panels.flatMap((p) => p.lettering);
  const texts = textsIn(writePanelsSvg(marked, meta));

  it('is open strokes without a fill, one path for a text, in groups of their own', () => {
    expect(texts.length).toBeGreaterThan(50);
    for (const text of texts) {
      expect([text.closed, text.fill, text.stroke]).toEqual([false, 'none', '#000000']);
      expect(['letteringLines', 'bevelLines']).toContain(text.groups[0]);
    }
    const titles = (list: readonly Pick<ReadText, 'title'>[]) => list.map((t) => t.title).sort();
    expect(titles(texts)).toEqual(titles(asked.map((l) => ({ title: l.text }))));
    const bevels = asked.filter((l) => l.use === 'bevel');
    expect(texts.filter((t) => t.groups[0] === 'bevelLines')).toHaveLength(bevels.length);
    expect(bevels.length).toBeGreaterThan(0);
    // As outlines there is none of it.
    const filled = textsIn(writePanelsSvg(marked, { ...meta, lettering: 'outlines' }));
    expect(filled.every((t) => t.closed && t.fill === '#000000' && t.stroke === 'none')).toBe(true);
  });

  it('has stroke by stroke what the DXF of the same panels has', () => {
    const others = dxfStrokes(writePanelsDxf(marked, meta));
    const own = texts.flatMap((t) => t.strokes);
    expect(own).toHaveLength(others.length);
    const left = new Set(others);
    let farthest = 0;
    for (const stroke of own) {
      const mate = [...left].find((other) => apart(stroke, other) < 0.001);
      expect(mate).toBeDefined();
      farthest = Math.max(farthest, apart(stroke, mate!));
      left.delete(mate!);
    }
    expect(left.size).toBe(0);
    expect(farthest).toBeGreaterThan(0);
  });

  /** Upright and about its place, as the panel's lettering says where that is. */
  const upright = (text: ReadText, { at, angle }: Lettering) =>
    text.strokes.map((s) => s.map((p) => rotate({ x: p.x - at.x, y: p.y - at.y }, -angle)));
  const placeOf = (text: ReadText): Lettering => {
    const middle = boxOf(text.strokes.flat());
    const centre = { x: (middle.minX + middle.maxX) / 2, y: (middle.minY + middle.maxY) / 2 };
    return asked
      .filter((l) => l.text === text.title)
      .reduce((a, b) => (distance(a.at, centre) < distance(b.at, centre) ? a : b));
  };

  it('is as tall as asked', () => {
    const plain = texts.filter((t) => /^[A-Z0-9]+$/.test(t.title) && !/^[689]+$/.test(t.title));
    expect(plain.length).toBeGreaterThan(30);
    let off = 0;
    for (const text of plain) {
      const lettering = placeOf(text);
      const box = boxOf(upright(text, lettering).flat());
      off = Math.max(off, Math.abs(box.maxY - box.minY - lettering.height));
    }
    expect(off).toBeLessThan(0.001);
  });

  it('tells texts apart: the same text has the same strokes, another one has others', () => {
    const names = ['GULL 1', 'GULL I', 'O80', '080', '5S2Z', 'S52Z', 'B8', '8B'];
    const plates = names.flatMap((name, i) =>
      [0, 1].map((k) => ({
        name,
        loops: [
          sidesOf([
            { x: 300 * i, y: 300 * k },
            { x: 300 * i + 200, y: 300 * k },
            { x: 300 * i + 200, y: 300 * k + 200 },
            { x: 300 * i, y: 300 * k + 200 },
          ]),
        ],
      })),
    );
    const named = markFixture(buildFixture('named', plates, []));
    const shapeOf = (text: ReadText) => {
      const lettering = named.panels
        .flatMap((p) => p.lettering)
        .filter((l) => l.text === text.title)
        .reduce((a, b) =>
          distance(a.at, text.strokes[0]![0]!) < distance(b.at, text.strokes[0]![0]!) ? a : b,
        );
      const strokes = upright(text, lettering);
      const { minX, maxX } = boxOf(strokes.flat());
      return strokes
        .map((s) =>
          s
            .map((p) => `${((p.x - minX) / (maxX - minX)).toFixed(2)},${(p.y / lettering.height).toFixed(2)}`)
            .join(' '),
        )
        .join('/');
    };
    const read = textsIn(writePanelsSvg(named, meta)).filter((t) => names.includes(t.title));
    expect(read).toHaveLength(2 * names.length);
    const shapes = new Map(names.map((n) => [n, new Set(read.filter((t) => t.title === n).map(shapeOf))]));
    for (const [name, own] of shapes) expect(own.size, name).toBe(1);
    expect(new Set([...shapes.values()].flatMap((s) => [...s])).size).toBe(names.length);
  });

  it('leaves a text in outlines that the pen has no letters for', () => {
    const plate = sidesOf([
      { x: 0, y: 0 },
      { x: 200, y: 0 },
      { x: 200, y: 200 },
      { x: 0, y: 200 },
    ]);
    const own = textsIn(
      writePanelsSvg(markFixture(buildFixture('odd', [{ name: 'Ωmega', loops: [plate] }], [])), meta),
    ).find((t) => t.title === 'Ωmega')!;
    expect([own.closed, own.fill, own.groups[0]]).toEqual([true, '#000000', 'lettering']);
  });
});
