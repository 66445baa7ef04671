/**
 * The cutters' drawings read back by a DXF parser that is not ours (dxf-parser), and compared with the panels and with
 * the SVG of the same panels.
 */
import DxfParser from 'dxf-parser';
import { SaxesParser, type SaxesTagPlain } from 'saxes';
import { describe, expect, it } from 'vitest';
import { boxOf, distance, type Point, ringArea } from '../../src/math';
import { type MarkedPanels, placePoints, type Sheet, sheetPlacing } from '../../src/model';
import {
  type DxfMeta,
  dxfLayers,
  writePanelsDxf,
  writePanelsSvg,
  writeSheetDxf,
  writeSheetSvg,
} from '../../src/output';
import { markFixture } from '../support/pages';
import { buildFixture, family, gores, largePlate, sidesOf } from '../support/panels';

const meta: DxfMeta = { title: 'Gannet helm', tracedFace: 'outside', lettering: 'outlines', leadIn: 0 };

interface ReadPath {
  readonly layer: string;
  readonly closed: boolean;
  readonly points: Point[];
}

function read(dxf: string): ReadPath[] {
  const drawing = new DxfParser().parseSync(dxf);
  if (!drawing) throw new Error('the parser found no drawing');
  return drawing.entities.map((entity) => {
    expect(entity.type).toBe('POLYLINE');
    const path = entity as unknown as { vertices: Point[]; shape: boolean; layer: string };
    return {
      layer: path.layer,
      closed: path.shape,
      points: path.vertices.map(({ x, y }) => ({ x, y })),
    };
  });
}

/** Outlines of the group of cuts in an SVG, y turned up. */
function svgCuts(svg: string): Point[][] {
  const cuts: Point[][] = [];
  const groups: string[] = [];
  const parser = new SaxesParser();
  parser.on('opentag', (tag: SaxesTagPlain) => {
    groups.push(tag.attributes.id ?? '');
    const { d } = tag.attributes;
    if (tag.name !== 'path' || !d || !groups.includes('cut')) return;
    cuts.push(
      d
        .replace(/^M|Z$/g, '')
        .split('L')
        .map((pair) => pair.split(' ').map(Number))
        .map(([x, y]) => ({ x: x!, y: -y! })),
    );
  });
  parser.on('closetag', () => void groups.pop());
  parser.write(svg).close();
  return cuts;
}

function furthest(a: readonly Point[], b: readonly Point[]): number {
  expect(a).toHaveLength(b.length);
  return a.reduce((most, p, i) => Math.max(most, distance(p, b[i]!)), 0);
}

const square = (x: number, y: number, side: number): Point[] => [
  { x, y },
  { x: x + side, y },
  { x: x + side, y: y + side },
  { x, y: y + side },
];

/** A frame with a hole, and a plate that is laid into the hole on the sheet; three copies of the plate. */
const framed = (): { marked: MarkedPanels; sheet: Sheet } => ({
  marked: markFixture(
    buildFixture(
      'framed',
      [
        { name: 'Frame', loops: [sidesOf(square(0, 0, 300)), sidesOf([...square(60, 60, 180)].reverse())] },
        { name: 'Plate', loops: [sidesOf(square(400, 0, 100))], quantity: 3 },
      ],
      [],
    ),
  ),
  sheet: {
    name: 'Sheet 1',
    thickness: 5,
    width: 600,
    height: 900,
    placements: [
      { panel: 'P0', copy: 0, x: 20, y: 30, turn: 0, mirrored: false },
      { panel: 'P1', copy: 0, x: 470, y: 500, turn: 0.7, mirrored: false },
      { panel: 'P1', copy: 1, x: 250, y: 900, turn: Math.PI / 2, mirrored: true },
      { panel: 'P1', copy: 2, x: -280, y: 120, turn: 0, mirrored: false },
    ],
  },
});

describe('panels as DXF', () => {
  it.each(family())('are the panels, and the SVG of the panels: $name', (fixture) => {
    const marked = markFixture(fixture);
    const cuts = read(writePanelsDxf(marked, meta)).filter((p) => p.layer === 'CUT');
    const svg = svgCuts(writePanelsSvg(marked, meta));
    const rings = marked.panels.flatMap((p) => p.panel.outlines.traced);
    expect(rings.length).toBeGreaterThan(0);
    expect(cuts).toHaveLength(rings.length);
    cuts.forEach((cut, i) => {
      expect(cut.closed).toBe(true);
      expect(furthest(cut.points, svg[i]!)).toBeLessThan(1e-3);
    });
    // As they stand in the pattern, unless they overlap there: then the SVG says how they were moved.
    if (!writePanelsSvg(marked, meta).includes('moved apart'))
      for (const ring of rings)
        expect(
          Math.min(...cuts.map((c) => (c.points.length === ring.length ? furthest(c.points, ring) : 1))),
        ).toBeLessThan(1e-6);
  });

  it('have one layer for each kind of work, with every mark on its own', () => {
    const marked = markFixture(gores(5, 5, 180, 500, 0.2));
    const dxf = writePanelsDxf(marked, meta);
    const layers = new DxfParser().parseSync(dxf)?.tables.layer.layers ?? {};
    expect(Object.keys(layers)).toEqual([...dxfLayers]);
    const paths = read(dxf);
    const count = (layer: string) => paths.filter((p) => p.layer === layer).length;
    const lettering = marked.panels.flatMap((p) => p.lettering);
    const rings = (bevel: boolean) =>
      lettering.filter((l) => (l.use === 'bevel') === bevel).reduce((sum, l) => sum + l.rings.length, 0);
    expect(rings(true)).toBeGreaterThan(0);
    expect(count('BEVEL')).toBe(rings(true));
    expect(count('TEXT')).toBe(rings(false));
    const lines = (kinds: string[]) =>
      marked.panels.flatMap((p) => p.lines).filter((l) => kinds.includes(l.kind)).length;
    const notches = marked.panels.reduce((sum, p) => sum + p.notches.length, 0);
    expect(count('MARKS')).toBe(notches + lines(['leader', 'border']));
    expect(count('FOLD')).toBe(lines(['mountain', 'valley', 'softBend']));
    expect(count('FOLD')).toBeGreaterThan(0);
  });

  it('mark first, then cut holes, then outlines', () => {
    const paths = read(writePanelsDxf(markFixture(largePlate()), meta));
    const order = paths.map((p) => (dxfLayers as readonly string[]).indexOf(p.layer));
    expect(order).toEqual([...order].sort((a, b) => a - b));
    const cuts = paths.filter((p) => p.layer === 'CUT').map((p) => ringArea(p.points));
    const hole = cuts.findIndex((a) => a < 0);
    expect(hole).toBeGreaterThanOrEqual(0);
    expect(cuts[hole + 1]).toBeGreaterThan(0);
  });

  it('are mirrored when the inside face is traced', () => {
    const marked = markFixture(gores(5, 5, 180, 500));
    const [first] = read(writePanelsDxf(marked, { ...meta, tracedFace: 'inside' })).filter(
      (p) => p.layer === 'CUT',
    );
    const ring = marked.panels[0]!.panel.outlines.traced[0]!;
    expect(
      furthest(
        first!.points,
        ring.map((p) => ({ x: -p.x, y: p.y })),
      ),
    ).toBeLessThan(1e-6);
  });

  it('say their unit, are ASCII, and are the same each time', () => {
    const marked = markFixture(gores(5, 5, 180, 500));
    const dxf = writePanelsDxf(marked, { ...meta, title: 'Möwe\n ⛵' });
    expect(dxf.split('\n', 2)).toEqual([
      '999',
      'Mowe: panels, outside face of the foam. Girthwise, 1 unit = 1 mm',
    ]);
    expect(dxf).toMatch(/^[\x20-\x7e\n]+$/);
    expect(writePanelsDxf(structuredClone(marked), { ...meta, title: 'Möwe\n ⛵' })).toBe(dxf);
  });

  it('are a drawing without lines when there are no panels', () => {
    expect(read(writePanelsDxf({ panels: [], issues: [] }, meta))).toEqual([]);
  });
});

describe('single-line lettering', () => {
  const marked = markFixture(gores(12, 10, 320, 700, -0.12));
  const texts = (lettering: DxfMeta['lettering']) =>
    read(writePanelsDxf(marked, { ...meta, lettering })).filter(
      (p) => p.layer === 'TEXT' || p.layer === 'BEVEL',
    );

  it('is open strokes that stay where the outlines are', () => {
    const strokes = texts('strokes');
    expect(strokes.length).toBeGreaterThan(50);
    expect(strokes.every((p) => !p.closed && p.points.length >= 2)).toBe(true);
    const outlines = boxOf(texts('outlines').flatMap((p) => p.points));
    const drawn = boxOf(strokes.flatMap((p) => p.points));
    expect(drawn.minX).toBeGreaterThan(outlines.minX - 1);
    expect(drawn.maxX).toBeLessThan(outlines.maxX + 1);
    expect(drawn.minY).toBeGreaterThan(outlines.minY - 1);
    expect(drawn.maxY).toBeLessThan(outlines.maxY + 1);
  });

  it('leaves a text in outlines that the pen has no letters for, and draws accents', () => {
    const named = (name: string) =>
      read(
        writePanelsDxf(
          markFixture(buildFixture('named', [{ name, loops: [sidesOf(square(0, 0, 200))] }], [])),
          {
            ...meta,
            lettering: 'strokes',
          },
        ),
      ).filter((p) => p.layer === 'TEXT');
    expect(named('Möwe').every((p) => !p.closed)).toBe(true);
    expect(named('Möwe').length).toBe(named('Mowe').length + 2);
    expect(named('Ωmega').some((p) => p.closed)).toBe(true);
  });
});

describe('a sheet of foam', () => {
  const { marked, sheet } = framed();

  it('has every copy where it was placed, in DXF and in SVG', () => {
    const cuts = read(writeSheetDxf(sheet, marked, meta)).filter((p) => p.layer === 'CUT');
    const svg = writeSheetSvg(sheet, marked, meta);
    const drawn = svgCuts(svg);
    expect(svg).toContain('width="600mm" height="900mm" viewBox="0 -900 600 900"');
    const wanted = sheet.placements.flatMap((placement) =>
      marked.panels
        .find((p) => p.panel.id === placement.panel)!
        .panel.outlines.traced.map((ring) => placePoints(ring, sheetPlacing(placement))),
    );
    expect(cuts).toHaveLength(5);
    expect(drawn).toHaveLength(5);
    for (const ring of wanted) {
      expect(Math.min(...cuts.map((c) => furthest(c.points, ring)))).toBeLessThan(1e-6);
      expect(Math.min(...drawn.map((c) => furthest(c, ring)))).toBeLessThan(1e-3);
    }
    const ids = [...svg.matchAll(/ id="([^"]+)"/g)].map((m) => m[1]);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('cuts what lies in a hole before the hole, and the hole before its outline', () => {
    const areas = read(writeSheetDxf(sheet, marked, meta))
      .filter((p) => p.layer === 'CUT')
      .map((p) => Math.round(Math.abs(ringArea(p.points))));
    // The plate at (120, 120) lies in the frame's hole.
    expect(areas).toEqual([10000, 32400, 90000, 10000, 10000]);
    const plate = read(writeSheetDxf(sheet, marked, meta)).find((p) => p.layer === 'CUT')!;
    expect(boxOf(plate.points).minX).toBeCloseTo(120, 6);
  });

  it('refuses a panel that is not there', () => {
    const wrong = { ...sheet, placements: [{ ...sheet.placements[0]!, panel: 'P9' }] };
    expect(() => writeSheetDxf(wrong, marked, meta)).toThrow(/P9/);
  });

  it('starts cuts in the waste when lead-ins are asked for', () => {
    const cuts = read(writeSheetDxf(sheet, marked, { ...meta, leadIn: 4 })).filter((p) => p.layer === 'CUT');
    const plain = read(writeSheetDxf(sheet, marked, meta)).filter((p) => p.layer === 'CUT');
    cuts.forEach((cut, i) => {
      expect(cut.closed).toBe(false);
      const [start, touch] = cut.points;
      expect(distance(start!, touch!)).toBeCloseTo(4, 5);
      expect(distance(touch!, cut.points.at(-1)!)).toBeLessThan(1e-6);
      // Without the lead-in the path goes round the very outline.
      expect(Math.abs(ringArea(cut.points.slice(1, -1)))).toBeCloseTo(
        Math.abs(ringArea(plain[i]!.points)),
        3,
      );
      // The start lies in waste: an even number of outlines round it.
      const around = plain.filter(({ points }) => {
        let odd = false;
        points.forEach((a, k) => {
          const b = points[(k + 1) % points.length]!;
          if (
            a.y > start!.y !== b.y > start!.y &&
            start!.x < a.x + ((start!.y - a.y) / (b.y - a.y)) * (b.x - a.x)
          )
            odd = !odd;
        });
        return odd;
      });
      expect(around.length % 2).toBe(0);
    });
    const drawn = svgCuts(writeSheetSvg(sheet, marked, { ...meta, leadIn: 4 }));
    expect(drawn.map((points) => points.length)).toEqual(cuts.map(({ points }) => points.length));
    drawn.forEach((points, i) => {
      points.forEach((p, k) => {
        expect(distance(p, cuts[i]!.points[k]!)).toBeLessThan(1e-3);
      });
    });
  });
});
