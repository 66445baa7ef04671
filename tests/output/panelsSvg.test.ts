import { SaxesParser, type SaxesTagPlain } from 'saxes';
import { describe, expect, it } from 'vitest';
import { boxOf, distance, type Point, ringArea } from '../../src/math';
import { lineLooks, type MarkedPanels } from '../../src/model';
import { type SvgMeta, writePanelsSvg } from '../../src/output';
import { markFixture } from '../support/pages';
import { buildFixture, gores, largePlate, sidesOf } from '../support/panels';

const outside: SvgMeta = { title: 'Gannet helm', tracedFace: 'outside' };
const marked = markFixture(gores(5, 5, 180, 500, 0.2));

interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: Element[];
  text: string;
}

/** The drawing as a tree; the parser throws where the XML is not well formed. */
function read(svg: string): Element {
  const parser = new SaxesParser();
  const top: Element = { name: '', attributes: {}, children: [], text: '' };
  const stack = [top];
  parser.on('error', (error) => {
    throw error;
  });
  parser.on('opentag', (tag: SaxesTagPlain) => {
    const element = { name: tag.name, attributes: tag.attributes, children: [], text: '' };
    stack.at(-1)!.children.push(element);
    stack.push(element);
  });
  parser.on('text', (text) => {
    stack.at(-1)!.text += text;
  });
  parser.on('closetag', () => void stack.pop());
  parser.write(svg).close();
  return top.children[0]!;
}

const group = (svg: Element, id: string): Element | undefined =>
  svg.children.find((c) => c.attributes.id === id);

/** Points of a path of straight lines, y turned up again. */
function pointsOf(d: string): Point[] {
  return d
    .replace(/^M|Z$/g, '')
    .split('L')
    .map((pair) => pair.split(' ').map(Number))
    .map(([x, y]) => ({ x: x!, y: -y! }));
}

const everything = (element: Element): Element[] => [element, ...element.children.flatMap(everything)];

describe('the panels drawing', () => {
  it('is in millimetres: one unit of the drawing is one millimetre', () => {
    const svg = read(writePanelsSvg(marked, outside));
    const [x, y, width, height] = svg.attributes.viewBox!.split(' ').map(Number);
    expect(svg.attributes.width).toBe(`${width}mm`);
    expect(svg.attributes.height).toBe(`${height}mm`);
    const points = everything(svg)
      .filter((e) => e.name === 'path')
      .flatMap((e) =>
        e.attributes
          .d!.split('M')
          .filter((s) => s !== '')
          .flatMap((s) => pointsOf(s)),
      );
    const box = boxOf(points);
    expect(box.minX).toBeGreaterThanOrEqual(x!);
    expect(box.maxX).toBeLessThanOrEqual(x! + width!);
    expect(-box.maxY).toBeGreaterThanOrEqual(y!);
    expect(-box.minY).toBeLessThanOrEqual(y! + height!);
  });

  it('reads back to the same outlines, each one closed path', () => {
    const svg = read(writePanelsSvg(marked, outside));
    const cuts = group(svg, 'cut')!;
    expect(cuts.children.map((g) => g.attributes['data-panel'])).toEqual(
      marked.panels.map((p) => p.panel.id),
    );
    cuts.children.forEach((g, i) => {
      const { panel } = marked.panels[i]!;
      expect(g.attributes['data-name']).toBe(panel.name);
      expect(g.children).toHaveLength(panel.outlines.traced.length);
      g.children.forEach((path, k) => {
        expect(path.attributes.d!.endsWith('Z')).toBe(true);
        const points = pointsOf(path.attributes.d!);
        const ring = panel.outlines.traced[k]!;
        expect(points).toHaveLength(ring.length);
        ring.forEach((p, n) => {
          expect(distance(points[n]!, p)).toBeLessThan(0.0001);
        });
      });
    });
  });

  it('groups lines by kind, with the dash and width of the kind', () => {
    const svg = read(writePanelsSvg(marked, outside));
    for (const kind of ['cut', 'border', 'mountain', 'valley', 'notch'] as const) {
      const g = group(svg, kind)!;
      expect(Number(g.attributes['stroke-width'])).toBe(lineLooks[kind].width);
      expect((g.attributes['stroke-dasharray'] ?? '').split(' ').filter(Boolean).map(Number)).toEqual([
        ...lineLooks[kind].dash,
      ]);
    }
    expect(group(svg, 'softBend')).toBeUndefined();
  });

  it('tells of every notch its seam, edge and distance', () => {
    const svg = read(writePanelsSvg(marked, outside));
    const found = everything(group(svg, 'notch')!).filter((e) => e.name === 'path');
    const notches = marked.panels.flatMap((p) => p.notches);
    expect(found).toHaveLength(notches.length);
    found.forEach((e, i) => {
      expect(e.attributes['data-seam']).toBe(notches[i]!.seam);
      expect(e.attributes['data-edge']).toBe(notches[i]!.edge);
      expect(Number(e.attributes['data-along'])).toBeCloseTo(notches[i]!.along, 4);
    });
  });

  it('draws letters as outlines with their text as title, bevels in a group of their own', () => {
    const svg = read(writePanelsSvg(marked, outside));
    const texts = (id: string) =>
      everything(group(svg, id)!)
        .filter((e) => e.name === 'path')
        .map((e) => e.children[0]!.text);
    const lettering = marked.panels.flatMap((p) => p.lettering);
    const bevels = lettering.filter((l) => l.use === 'bevel').map((l) => l.text);
    expect(bevels.length).toBeGreaterThan(0);
    expect(texts('bevel')).toEqual(bevels);
    expect(texts('lettering')).toEqual(lettering.filter((l) => l.use !== 'bevel').map((l) => l.text));
    expect(everything(svg).some((e) => e.name === 'text')).toBe(false);
  });

  it('gives every element that has an id its own', () => {
    const ids = everything(read(writePanelsSvg(marked, outside))).flatMap((e) => e.attributes.id ?? []);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('mirrors the inside face, outlines turned over, letters not', () => {
    const svg = read(writePanelsSvg(marked, { ...outside, tracedFace: 'inside' }));
    const first = pointsOf(group(svg, 'cut')!.children[0]!.children[0]!.attributes.d!);
    const ring = marked.panels[0]!.panel.outlines.traced[0]!;
    ring.forEach((p, i) => {
      expect(distance(first[i]!, { x: -p.x, y: p.y })).toBeLessThan(0.0001);
    });
    const letter = everything(group(svg, 'lettering')!).find((e) => e.name === 'path')!;
    const drawn = pointsOf(letter.attributes.d!.split('Z')[0]!);
    const own = marked.panels[0]!.lettering[0]!.rings[0]!;
    expect(Math.sign(ringArea(drawn))).toBe(Math.sign(ringArea(own)));
    expect(svg.children.find((c) => c.name === 'desc')!.text).toContain('mirrored');
  });

  it('moves panels apart only when they overlap as they stand', () => {
    const square = (x: number): Point[] => [
      { x, y: 0 },
      { x: x + 60, y: 0 },
      { x: x + 60, y: 60 },
      { x, y: 60 },
    ];
    const two = (x: number): MarkedPanels =>
      markFixture(
        buildFixture(
          'two',
          [
            { name: 'A', loops: [sidesOf(square(0))] },
            { name: 'B', loops: [sidesOf(square(x))] },
          ],
          [],
        ),
      );
    const boxes = (svg: string) =>
      group(read(svg), 'cut')!.children.map((g) => boxOf(pointsOf(g.children[0]!.attributes.d!)));
    const [, still] = boxes(writePanelsSvg(two(70), outside));
    expect(still!.minX).toBeCloseTo(70, 4);
    for (const x of [0, 20, 59]) {
      const [a, b] = boxes(writePanelsSvg(two(x), outside));
      expect(a!.maxX <= b!.minX || b!.maxX <= a!.minX || a!.maxY <= b!.minY || b!.maxY <= a!.minY).toBe(true);
      expect(b!.maxX - b!.minX).toBeCloseTo(60, 4);
    }
    // A small panel in the hole of a larger one overlaps nothing; one on its material does.
    const ringed = (x: number) =>
      markFixture(
        buildFixture(
          'ringed',
          [
            {
              name: 'Ring',
              loops: [
                sidesOf([
                  { x: 0, y: 0 },
                  { x: 200, y: 0 },
                  { x: 200, y: 200 },
                  { x: 0, y: 200 },
                ]),
                sidesOf([
                  { x: 60, y: 60 },
                  { x: 60, y: 140 },
                  { x: 140, y: 140 },
                  { x: 140, y: 60 },
                ]),
              ],
            },
            {
              name: 'Plug',
              loops: [
                sidesOf([
                  { x, y: 80 },
                  { x: x + 40, y: 80 },
                  { x: x + 40, y: 120 },
                  { x, y: 120 },
                ]),
              ],
            },
          ],
          [],
        ),
      );
    expect(writePanelsSvg(ringed(80), outside)).not.toContain('moved apart');
    expect(writePanelsSvg(ringed(10), outside)).toContain('moved apart');
    expect(writePanelsSvg(markFixture(largePlate()), outside)).not.toContain('moved apart');
  });

  it('escapes names and titles', () => {
    const ring = sidesOf([
      { x: 0, y: 0 },
      { x: 90, y: 0 },
      { x: 90, y: 90 },
      { x: 0, y: 90 },
    ]);
    const odd = markFixture(buildFixture('odd', [{ name: 'Fin & "Gill" <2>', loops: [ring] }], []));
    const svg = read(writePanelsSvg(odd, { ...outside, title: 'Keel <&> bracer' }));
    expect(svg.children[0]!.text).toBe('Keel <&> bracer');
    expect(group(svg, 'cut')!.children[0]!.attributes['data-name']).toBe('Fin & "Gill" <2>');
  });

  it('is a valid empty drawing without panels', () => {
    const svg = read(writePanelsSvg({ panels: [], issues: [] }, outside));
    expect(svg.children.map((c) => c.name)).toEqual(['title', 'desc']);
    expect(svg.attributes.width).toBe('10mm');
  });

  it('is the same for the same panels', () => {
    expect(writePanelsSvg(marked, outside)).toBe(writePanelsSvg(structuredClone(marked), outside));
  });
});
