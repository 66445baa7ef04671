import { describe, expect, it } from 'vitest';
import { markPanels } from '../../src/marks';
import { boxOf, distance, type Point, polylineLength } from '../../src/math';
import {
  defaultDecisions,
  type Lettering,
  type MarkDecisions,
  type MarkedPanels,
  placeLettering,
  seenFromBehind,
} from '../../src/model';
import { testFont } from '../support/lettering';
import { buildFixture, type Fixture, gores, largePlate, sidesOf } from '../support/panels';

const font = testFont();
const mark = (fixture: Fixture, marks: Partial<MarkDecisions> = {}): MarkedPanels =>
  markPanels(fixture.foam, fixture.seams, { ...defaultDecisions.marks, ...marks }, font);

const rectangle = (width: number, height: number, x = 0): Point[] => [
  { x, y: 0 },
  { x: x + width, y: 0 },
  { x: x + width, y: height },
  { x, y: height },
];

/** Two plates glued along one side; the bevel and the length of that side as asked. */
function pair(side: number, bevel = 0, names: [string, string] = ['Left', 'Right']): Fixture {
  return buildFixture(
    'pair',
    [
      { name: names[0], loops: [sidesOf(rectangle(80, side))], bevel },
      { name: names[1], loops: [sidesOf(rectangle(80, side, 100))], bevel },
    ],
    [[[0, 1, 1, 3]]],
  );
}

const texts = (marked: MarkedPanels, use: string): string[] =>
  marked.panels.flatMap((p) => p.lettering.filter((l) => l.use === use).map((l) => l.text));

describe('panel lines', () => {
  it('draws every outline as one closed cut line and marks open edges by ticks across', () => {
    const { panels } = mark(pair(60));
    for (const { panel, lines } of panels) {
      expect(lines.filter((l) => l.kind === 'cut').map((l) => [l.closed, l.points])).toEqual(
        panel.outlines.traced.map((ring) => [true, ring]),
      );
      const ticks = lines.filter((l) => l.kind === 'border');
      expect(ticks.length).toBeGreaterThan(20);
      for (const tick of ticks) {
        expect(distance(tick.points[0]!, tick.points[1]!)).toBeCloseTo(2, 9);
        expect(panel.loops.flat().find((e) => e.id === tick.of)?.seam).toBeNull();
      }
    }
  });

  it('draws holes too', () => {
    const plate = mark(largePlate()).panels[0]!;
    expect(plate.lines.filter((l) => l.kind === 'cut')).toHaveLength(2);
  });

  it('gives folds the line of their role, unknown ones that of a soft bend', () => {
    const { panels } = mark(gores(4, 5, 200, 400));
    const kinds = panels[0]!.lines.filter((l) => l.of.startsWith('f')).map((l) => l.kind);
    expect(kinds).toEqual(['mountain', 'mountain', 'valley', 'mountain']);
    expect(mark(largePlate()).panels[0]!.lines.filter((l) => l.kind === 'softBend')).toHaveLength(1);
    const without = mark(gores(4, 5, 200, 400), { folds: false });
    expect(without.panels[0]!.lines.some((l) => l.kind === 'mountain')).toBe(false);
  });
});

describe('notches of two plates', () => {
  it('sit on both edges at the same distance from the corner that they share', () => {
    const { panels } = mark(pair(60));
    const [left, right] = panels.map((p) => p.notches);
    expect(left!.length).toBeGreaterThan(0);
    expect(left!.map((n) => n.along)).toEqual(right!.map((n) => n.along));
    // Left's side runs up from y = 0, right's side runs down to y = 0: same height on both.
    expect(left!.map((n) => n.at.y)).toEqual(right!.map((n) => expect.closeTo(n.at.y, 9)));
    for (const n of left!) expect(n.to.x).toBeLessThan(80);
    for (const n of right!) expect(n.to.x).toBeGreaterThan(100);
  });

  it('follow the other edge the same way when the seam runs along instead of opposed', () => {
    const fixture = pair(60);
    const seams = {
      ...fixture.seams,
      seams: fixture.seams.seams.map((s) => ({ ...s, direction: 'along' as const })),
    };
    const { panels } = markPanels(fixture.foam, seams, defaultDecisions.marks, font);
    const [left, right] = panels.map((p) => p.notches[0]!);
    // Right's edge starts at the top: the same distance from its own start is measured down from there.
    expect(right!.at.y).toBeCloseTo(60 - left!.at.y, 9);
  });

  it('are left out on a seam too short to carry them, with a note', () => {
    const short = mark(pair(5));
    expect(short.panels.flatMap((p) => p.notches)).toEqual([]);
    const note = short.issues.find((i) => i.code === 'seam-without-notch');
    expect(note?.severity).toBe('note');
    expect(note?.message).toContain('Seam 1 is too short');
  });

  it('can be switched off', () => {
    expect(mark(pair(60), { notches: false }).panels.flatMap((p) => p.notches)).toEqual([]);
  });

  it('repeat along a long run, every one tied to one edge', () => {
    const { panels } = mark(gores(4, 12, 600, 500));
    const seams = new Set(panels[0]!.notches.map((n) => n.seam));
    expect(seams.size).toBeGreaterThanOrEqual(5);
  });

  it('are shorter on small panels', () => {
    const tick = (marked: MarkedPanels) =>
      distance(marked.panels[0]!.notches[0]!.at, marked.panels[0]!.notches[0]!.to);
    const small = buildFixture(
      'small',
      [
        { name: 'A', loops: [sidesOf(rectangle(15, 15))] },
        { name: 'B', loops: [sidesOf(rectangle(15, 15, 30))] },
      ],
      [[[0, 1, 1, 3]]],
    );
    expect(tick(mark(small))).toBeLessThan(tick(mark(pair(60))));
    expect(tick(mark(pair(60)))).toBeLessThanOrEqual(5);
    expect(tick(mark(pair(60)))).toBeGreaterThanOrEqual(3);
  });

  it('are not placed where the clean outline no longer follows the edge', () => {
    const fixture = pair(60);
    // The middle part of the glued side of the left plate was cut away by a deep groove.
    const [left, right] = fixture.foam.panels;
    const cut = [
      { x: 0, y: 0 },
      { x: 80, y: 0 },
      { x: 80, y: 8 },
      { x: 50, y: 10 },
      { x: 50, y: 52 },
      { x: 80, y: 54 },
      { x: 80, y: 60 },
      { x: 0, y: 60 },
    ];
    const foam = {
      ...fixture.foam,
      panels: [{ ...left!, outlines: { ...left!.outlines, traced: [cut] } }, right!],
    };
    const { panels } = markPanels(foam, fixture.seams, defaultDecisions.marks, font);
    const notches = panels.flatMap((p) => p.notches);
    for (const n of notches) expect(n.at.y <= 8.05 || n.at.y >= 53.95).toBe(true);
  });
});

describe('lettering', () => {
  it('writes the seam number on both panels and the bevel with the side that it leans to', () => {
    expect(texts(mark(pair(60, 0.21)), 'seamNumber')).toEqual(['1', '1']);
    expect(texts(mark(pair(60, (12 * Math.PI) / 180)), 'bevel')).toEqual(['12° in', '12° in']);
    expect(texts(mark(pair(60, (-12 * Math.PI) / 180)), 'bevel')).toEqual(['12° out', '12° out']);
    expect(texts(mark(pair(60, 0.004)), 'bevel')).toEqual([]);
  });

  it('writes each bevel by its edge when it changes along a run', () => {
    const fixture = gores(4, 3, 180, 500);
    const panels = fixture.foam.panels.map((p) => ({
      ...p,
      loops: p.loops.map((loop) =>
        loop.map((e, i) => (e.seam === null ? e : { ...e, bevel: 0.1 + 0.1 * (i % 4) })),
      ),
    }));
    const marked = markPanels({ ...fixture.foam, panels }, fixture.seams, defaultDecisions.marks, font);
    const first = marked.panels[0]!;
    expect(first.lettering.filter((l) => l.use === 'seamNumber')).toHaveLength(2);
    expect(new Set(first.lettering.filter((l) => l.use === 'bevel').map((l) => l.text)).size).toBeGreaterThan(
      2,
    );
  });

  it('says how often to cut and how thick', () => {
    const details = texts(mark(largePlate()), 'detail');
    expect(details).toContain('cut 1 + 1 mirrored · 5 mm');
    expect(details.join(' ')).toContain('cut 2');
  });

  it('points the arrow up as the person says', () => {
    for (const up of [null, 0, 2.2]) {
      const arrow = mark(pair(60), { up }).panels[0]!.lettering.find((l) => l.use === 'up')!;
      const angle = up ?? Math.PI / 2;
      // The tip is the ring's point furthest from its middle along the direction.
      const reach = arrow.rings[0]!.map(
        (p) => (p.x - arrow.at.x) * Math.cos(angle) + (p.y - arrow.at.y) * Math.sin(angle),
      );
      const across = arrow.rings[0]!.map((p) =>
        Math.abs((p.y - arrow.at.y) * Math.cos(angle) - (p.x - arrow.at.x) * Math.sin(angle)),
      );
      const tip = reach.indexOf(Math.max(...reach));
      expect(across[tip]).toBeLessThan(1e-9);
      expect(Math.max(...reach)).toBeGreaterThan(2 * Math.max(...across));
    }
  });

  it('underlines numbers that read as others upside down', () => {
    const numbered = (number: number) => {
      const fixture = pair(60);
      const seams = { ...fixture.seams, runs: fixture.seams.runs.map((r) => ({ ...r, number })) };
      const marked = markPanels(fixture.foam, seams, defaultDecisions.marks, font);
      const letter = marked.panels[0]!.lettering.find((l) => l.use === 'seamNumber')!;
      const plain = font.letter(letter.text, letter.at, letter.height, letter.angle, letter.use, letter.of);
      return letter.rings.length - plain.rings.length;
    };
    expect([6, 9, 68, 66].map(numbered)).toEqual([1, 1, 1, 1]);
    expect([1, 8, 12, 69, 88, 60, 7].map(numbered)).toEqual([0, 0, 0, 0, 0, 0, 0]);
  });

  it('repeats the number on a run longer than a page', () => {
    const fixture = buildFixture(
      'long',
      [
        { name: 'A', loops: [sidesOf(rectangle(80, 700))] },
        { name: 'B', loops: [sidesOf(rectangle(80, 700, 100))] },
      ],
      [[[0, 1, 1, 3]]],
    );
    expect(texts(mark(fixture), 'seamNumber')).toHaveLength(8);
  });

  it('leaves out what is not wanted', () => {
    const marked = mark(pair(60, 0.2), { numbers: false, names: false, bevels: false });
    expect(texts(marked, 'seamNumber')).toEqual([]);
    expect(texts(marked, 'bevel')).toEqual([]);
    expect(texts(marked, 'name')).toEqual([]);
    expect(texts(marked, 'up')).toHaveLength(2);
    expect(texts(mark(pair(60, 0.2), { numbers: false }), 'bevel')).toHaveLength(2);
  });

  it('says which letters of a name cannot be printed', () => {
    const marked = mark(pair(60, 0, ['Щит', 'Right']));
    const issue = marked.issues.find((i) => i.code === 'letters-not-in-font');
    expect(issue?.message).toContain('Щ');
    expect(issue?.place.ids).toEqual(['P0']);
  });

  it('leads to a label outside when a panel is too small, a bevel alone too', () => {
    const tiny = buildFixture(
      'tiny',
      [
        { name: 'Tip', loops: [sidesOf(rectangle(7, 7))], bevel: 0.2 },
        { name: 'Base', loops: [sidesOf(rectangle(7, 7, 40))], bevel: 0.2 },
      ],
      [[[0, 1, 1, 3]]],
    );
    const marked = mark(tiny);
    expect(marked.panels[0]!.lines.some((l) => l.kind === 'leader')).toBe(true);
    expect(texts(marked, 'seamNumber')).toEqual(['1', '1']);
    expect(texts(marked, 'name')).toEqual(['Tip', 'Base']);
    const bevels = mark(tiny, { numbers: false });
    expect(texts(bevels, 'bevel')).toEqual(['11° in', '11° in']);
    expect(bevels.issues.filter((i) => i.code === 'no-room-for-lettering')).toEqual([]);
    for (const { panel, lines } of bevels.panels) {
      const glued = panel.loops.flat().filter((e) => e.seam !== null);
      const leader = lines.find((l) => l.kind === 'leader' && glued.some((e) => e.seam === l.of));
      const tip = leader!.points[1]!;
      // The tip stops half a millimetre short of the glued edge.
      expect(Math.min(...glued.flatMap((e) => e.points.map((q) => Math.abs(q.x - tip.x))))).toBeCloseTo(
        0.5,
        6,
      );
    }
  });
});

describe('seen from behind', () => {
  it('keeps number, bevel and arrow in reading order, and the arrow pointing up', () => {
    for (const { lettering } of mark(gores(5, 5, 180, 500, 0.2), { up: 1.2 }).panels) {
      const behind = lettering.map((l) => placeLettering(l, seenFromBehind));
      const number = (list: readonly Lettering[]) => list.findIndex((l) => l.use === 'seamNumber');
      for (const list of [lettering, behind]) {
        const i = number(list);
        const [first, second] = [list[i]!, list[i + 1]!];
        expect(second.use).toBe('bevel');
        const along =
          (second.at.x - first.at.x) * Math.cos(first.angle) +
          (second.at.y - first.at.y) * Math.sin(first.angle);
        expect(along).toBeGreaterThan(2);
      }
      const [front, back] = [lettering, behind].map((list) => list.find((l) => l.use === 'up')!);
      expect(front!.angle + Math.PI / 2).toBeCloseTo(1.2, 9);
      // The mirror image of 1.2 about the y axis.
      expect(back!.angle + Math.PI / 2).toBeCloseTo(Math.PI - 1.2, 9);
      // The tip is the middle one of the seven corners; it points there too.
      const direction = (l: Lettering) => {
        const tip = l.rings[0]![4]!;
        return Math.atan2(tip.y - l.at.y, tip.x - l.at.x);
      };
      expect(direction(front!)).toBeCloseTo(1.2, 9);
      expect(direction(back!)).toBeCloseTo(Math.PI - 1.2, 9);
    }
  });
});

describe('as a whole', () => {
  it('gives the same marks for the same input', () => {
    expect(JSON.stringify(mark(gores(6, 6, 260, 600, 0.2)))).toBe(
      JSON.stringify(mark(gores(6, 6, 260, 600, 0.2))),
    );
  });

  it('moves with the pattern', () => {
    const move = { x: 1024, y: -512 };
    const shift = (p: Point): Point => ({ x: p.x + move.x, y: p.y + move.y });
    const fixture = largePlate();
    const moved: Fixture = {
      ...fixture,
      foam: {
        ...fixture.foam,
        panels: fixture.foam.panels.map((p) => ({
          ...p,
          loops: p.loops.map((l) => l.map((e) => ({ ...e, points: e.points.map(shift) }))),
          folds: p.folds.map((f) => ({ ...f, points: f.points.map(shift) })),
          outlines: { ...p.outlines, traced: p.outlines.traced.map((r) => r.map(shift)) },
        })),
      },
    };
    const here = mark(fixture).panels;
    const there = mark(moved).panels;
    here.forEach((panel, i) => {
      expect(there[i]!.notches.map((n) => n.along)).toEqual(
        panel.notches.map((n) => expect.closeTo(n.along, 9)),
      );
      panel.lettering.forEach((l, k) => {
        expect(there[i]!.lettering[k]!.text).toBe(l.text);
        expect(distance(there[i]!.lettering[k]!.at, shift(l.at))).toBeLessThan(1e-6);
      });
    });
  });

  it('passes over panels and edges that vanished', () => {
    const fixture = pair(60);
    const [left, right] = fixture.foam.panels;
    const gone = {
      ...left!,
      loops: [left!.loops[0]!.map((e) => ({ ...e, points: [] }))],
      outlines: { inside: [], traced: [], outside: [] },
    };
    const marked = markPanels(
      { ...fixture.foam, panels: [gone, right!] },
      fixture.seams,
      defaultDecisions.marks,
      font,
    );
    expect(marked.panels[0]!.lines).toEqual([]);
    expect(marked.panels[1]!.notches).toEqual([]);
    expect(marked.panels[1]!.lettering.some((l) => l.use === 'seamNumber')).toBe(true);
  });

  it('marks a seam whose edges go on across the start of the outline as one', () => {
    // A disc in six edges glued to a ring of six: the run starts in the middle of the disc's list of edges.
    const corner = (r: number, i: number, x: number): Point => ({
      x: x + r * Math.cos((Math.PI * i) / 3),
      y: r * Math.sin((Math.PI * i) / 3),
    });
    const ring = (r: number, x: number) => Array.from({ length: 6 }, (_, i) => corner(r, i, x));
    const fixture = buildFixture(
      'disc',
      [
        { name: 'Disc', loops: [sidesOf(ring(50, 0))] },
        { name: 'Lid', loops: [sidesOf(ring(50, 150))] },
      ],
      [
        [
          [0, 5, 1, 0],
          [0, 0, 1, 5],
          [0, 1, 1, 4],
        ],
      ],
    );
    const marked = mark(fixture);
    expect(texts(marked, 'seamNumber')).toEqual(['1', '1']);
    const length = polylineLength(ring(50, 0).slice(0, 2)) * 3;
    expect(length).toBeCloseTo(150, 9);
    expect(boxOf(marked.panels[0]!.notches.map((n) => n.at)).maxX).toBeLessThan(51);
  });
});
