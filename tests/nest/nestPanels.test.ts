import { describe, expect, it, vi } from 'vitest';
import { Cancelled, unwatched } from '../../src/base';
import { boxOf, ringArea } from '../../src/math';
import { type NestLayout, nestOverlap, nestPanels, posed } from '../../src/nest';
import { blob, box, panel, rectangle, settings } from './support';

/** A busy machine needs its time. */
vi.setConfig({ testTimeout: 120_000 });

const blobs = (count: number, size = 120) =>
  Array.from({ length: count }, (_, k) => panel(`p${k}`, blob(k + 1, size, 24)));

describe('panels on sheets', () => {
  it('places every panel, free of faults, and is the same for the same seed', async () => {
    const panels = blobs(10);
    const sheets = [rectangle('s', 400, 300)];
    const a = await nestPanels(panels, sheets, settings(15_000), unwatched);
    const b = await nestPanels(panels, sheets, settings(15_000), unwatched);
    expect(a.placed).toHaveLength(10);
    expect(nestOverlap(panels, sheets, a.placed, a.left, 3, 5)).toEqual([]);
    expect(b).toEqual(a);
  });

  it('reports a first layout before searching, and only better ones after it', async () => {
    const seen: NestLayout[] = [];
    const panels = blobs(12);
    const sheets = [rectangle('s', 400, 300)];
    const last = await nestPanels(panels, sheets, settings(25_000), unwatched, (l) => seen.push(l));
    expect(seen.length).toBeGreaterThan(1);
    for (const [k, layout] of seen.entries()) {
      expect(nestOverlap(panels, sheets, layout.placed, layout.left, 3, 5)).toEqual([]);
      const before = seen[k - 1];
      if (!before) continue;
      const rank = (l: NestLayout) => l.sheets.length * 1e6 + l.sheets[l.sheets.length - 1]!.usedWidth;
      expect(rank(layout)).toBeLessThan(rank(before));
    }
    expect(seen[seen.length - 1]).toEqual(last);
  });

  it('has a first layout of forty smooth panels of 100 to 199 vertices within two seconds of processor time', async () => {
    const panels = Array.from({ length: 40 }, (_, k) =>
      panel(`p${k}`, blob(k + 1, 130 + 5 * (k % 12), 100 + ((k * 37) % 100)), { turns: 'half' }),
    );
    const sheets = [rectangle('s', 600, 900)];
    const before = process.cpuUsage();
    let first = 0;
    const layout = await nestPanels(panels, sheets, settings(20), unwatched, () => {
      const { user, system } = process.cpuUsage(before);
      first ||= (user + system) / 1e6;
    });
    expect(first).toBeGreaterThan(0);
    expect(first).toBeLessThan(2);
    expect(layout.placed).toHaveLength(40);
    expect(nestOverlap(panels, sheets, layout.placed, layout.left, 3, 5)).toEqual([]);
  });

  it('fits squares that just go on one sheet on one sheet', async () => {
    // Nine squares of 97 with 3 between them and 2 at the rim: 3 · 97 + 2 · 3 + 2 · 2 = 301.
    const panels = [panel('square', box(97, 97), { quantity: 9, turns: 'fixed' })];
    const layout = await nestPanels(
      panels,
      [rectangle('s', 301.02, 301.02)],
      settings(100_000, { margin: 2 }),
      unwatched,
    );
    expect(layout.sheets).toHaveLength(1);
    expect(layout.density).toBeCloseTo((9 * 97 * 97) / 301.02 ** 2, 2);
  });

  it('uses the offcut first and stays within it', async () => {
    const offcut = [
      { x: 0, y: 0 },
      { x: 300, y: 0 },
      { x: 300, y: 120 },
      { x: 130, y: 120 },
      { x: 130, y: 320 },
      { x: 0, y: 320 },
    ];
    const sheets = [
      rectangle('whole', 500, 500),
      { id: 'rest', thickness: 5, count: 1, shape: { kind: 'offcut' as const, outline: offcut } },
    ];
    const panels = Array.from({ length: 4 }, (_, k) => panel(`p${k}`, blob(k + 5, 90, 20)));
    const layout = await nestPanels(panels, sheets, settings(30_000), unwatched);
    expect(layout.sheets.map((s) => s.sheet)).toEqual(['rest']);
    expect(nestOverlap(panels, sheets, layout.placed, layout.left, 3, 5)).toEqual([]);
  });

  it('saves a sheet that the first layout needs', async () => {
    // Right triangles: two make a rectangle, if one is turned about.
    const triangle = [
      { x: 0, y: 0 },
      { x: 150, y: 0 },
      { x: 0, y: 95 },
    ];
    const panels = [panel('t', triangle, { quantity: 11, turns: 'half' })];
    const sheets = [rectangle('s', 320, 306)];
    const seen: NestLayout[] = [];
    const layout = await nestPanels(panels, sheets, settings(200_000), unwatched, (l) => seen.push(l));
    expect(nestOverlap(panels, sheets, layout.placed, layout.left, 3, 5)).toEqual([]);
    expect(layout.sheets.length).toBe(1);
  });

  it.each([
    [96, 9, 'half', 'quarter'],
    [102, 8, 'quarter', 'free'],
    [130, 8, 'half', 'quarter'],
  ] as const)(
    'needs no more sheets for more turns, without any search: job %i',
    async (job, count, few, many) => {
      const sheetsFor = async (turns: 'half' | 'quarter' | 'free') => {
        const panels = Array.from({ length: count }, (_, k) =>
          panel(`p${k}`, blob(31 * job + k + 1, 90 + 15 * (k % 4), 12), { turns }),
        );
        const sheets = [rectangle('s', 300, 220)];
        const layout = await nestPanels(panels, sheets, settings(0), unwatched);
        expect(nestOverlap(panels, sheets, layout.placed, layout.left, 3, 5)).toEqual([]);
        return layout.sheets.length;
      };
      expect(await sheetsFor(few)).toBe(1);
      expect(await sheetsFor(many)).toBe(1);
    },
  );

  it('keeps locked panels where they are and others away from them', async () => {
    const lock = { sheet: 's', sheetCopy: 0, x: 210, y: 40, turn: 0.3, mirrored: true };
    const panels = [panel('held', blob(3, 120, 24), { locked: [lock] }), ...blobs(6)];
    const sheets = [rectangle('s', 400, 300)];
    const layout = await nestPanels(panels, sheets, settings(30_000), unwatched);
    const { panel: id, ...held } = layout.placed.find((p) => p.panel === 'held')!;
    expect(held).toEqual({ ...lock, copy: 0, locked: true });
    expect(nestOverlap(panels, sheets, layout.placed, layout.left, 3, 5)).toEqual([]);
  });

  it('says when locked panels collide, and searches no further', async () => {
    const at = (x: number) => ({ sheet: 's', sheetCopy: 0, x, y: 20, turn: 0, mirrored: false });
    const panels = [panel('a', box(80, 80), { quantity: 2, locked: [at(20), at(60)] })];
    const layout = await nestPanels(panels, [rectangle('s', 400, 300)], settings(10_000), unwatched);
    expect(layout.issues.map((i) => i.code)).toEqual(['nest-locked-collide']);
    expect(layout.issues[0]!.message).toContain('Panels a (copy 1) and a (copy 2) lie on each other.');
  });

  it('says which panels find no room, and places the rest', async () => {
    const panels = [panel('small', box(50, 50)), panel('large', box(500, 20), { turns: 'quarter' })];
    const layout = await nestPanels(panels, [rectangle('s', 200, 200, 2)], settings(1000), unwatched);
    expect(layout.left).toEqual(['large']);
    expect(layout.placed.map((p) => p.panel)).toEqual(['small']);
    expect(layout.issues.map((i) => i.code)).toEqual(['nest-no-room']);
  });

  it('keeps thicknesses on their own sheets', async () => {
    const panels = [panel('thin', box(80, 80), { thickness: 2, quantity: 3 }), panel('thick', box(80, 80))];
    const sheets = [rectangle('five', 200, 200), rectangle('two', 200, 200, 10, 2)];
    const layout = await nestPanels(panels, sheets, settings(5000), unwatched);
    expect(layout.placed.filter((p) => p.sheet === 'two')).toHaveLength(3);
    expect(layout.placed.filter((p) => p.sheet === 'five')).toHaveLength(1);
  });

  it('nests within a hole', async () => {
    const hole = box(200, 200)
      .map((p) => ({ x: p.x + 30, y: p.y + 30 }))
      .reverse();
    const panels = [
      panel('frame', box(260, 260), { holes: [hole], turns: 'fixed' }),
      panel('inner', box(150, 150), { turns: 'fixed' }),
    ];
    const sheets = [rectangle('s', 275, 275)];
    const layout = await nestPanels(panels, sheets, settings(2000), unwatched);
    expect(layout.sheets).toHaveLength(1);
    expect(nestOverlap(panels, sheets, layout.placed, layout.left, 3, 5)).toEqual([]);
  });

  it('turns a panel over only where it may be', async () => {
    const hook = [
      { x: 0, y: 0 },
      { x: 100, y: 0 },
      { x: 100, y: 30 },
      { x: 30, y: 30 },
      { x: 30, y: 160 },
      { x: 0, y: 160 },
    ];
    const sheets = [rectangle('s', 600, 400)];
    const faces = async (mayMirror: boolean) => {
      const panels = [panel('hook', hook, { quantity: 6, turns: 'half', mayMirror })];
      const layout = await nestPanels(panels, sheets, settings(60_000), unwatched);
      expect(nestOverlap(panels, sheets, layout.placed, layout.left, 3, 5)).toEqual([]);
      return layout.placed.some((p) => p.mirrored);
    };
    expect(await faces(false)).toBe(false);
  });

  it('can be cancelled, having handed out a layout', async () => {
    let time = 0;
    const seen: NestLayout[] = [];
    const work = {
      step: async () => {
        throw new Cancelled();
      },
    };
    const run = nestPanels(
      blobs(8),
      [rectangle('s', 400, 300)],
      settings(0, {
        effort: { kind: 'seconds', seconds: 100 },
        clock: () => {
          time += 0.01;
          return time;
        },
      }),
      work,
      (l) => seen.push(l),
    );
    await expect(run).rejects.toThrow(Cancelled);
    expect(seen.length).toBeGreaterThan(0);
  });
});

describe('the check of a layout', () => {
  const square = panel('a', box(100, 100), { quantity: 2, turns: 'fixed' });
  const sheets = [rectangle('s', 300, 200, 1)];
  const at = (copy: number, x: number, y: number, more = {}) => ({
    panel: 'a',
    copy,
    sheet: 's',
    sheetCopy: 0,
    x,
    y,
    turn: 0,
    mirrored: false,
    locked: false,
    ...more,
  });
  const kinds = (placed: ReturnType<typeof at>[], gap = 0, margin = 0) =>
    nestOverlap([square], sheets, placed, [], gap, margin).map((f) => f.kind);

  it('lets panels touch each other and the rim when there is no gap', () => {
    expect(kinds([at(0, 0, 0), at(1, 100, 0)])).toEqual([]);
  });
  it('finds an overlap of two micrometres', () => {
    expect(kinds([at(0, 0, 0), at(1, 99.998, 0)])).toEqual(['overlap']);
  });
  it('finds one panel inside another, and one upon itself', () => {
    expect(kinds([at(0, 0, 0), at(1, 0, 0)])).toEqual(['overlap']);
    const small = { ...panel('b', box(20, 20)), turns: 'fixed' as const };
    const faults = nestOverlap(
      [panel('a', box(100, 100)), small],
      sheets,
      [at(0, 0, 0), at(0, 40, 40, { panel: 'b' })],
      [],
      0,
      0,
    );
    expect(faults.map((f) => f.kind)).toEqual(['overlap']);
  });
  it('measures gap and margin', () => {
    expect(kinds([at(0, 5, 5), at(1, 108, 5)], 3, 5)).toEqual([]);
    expect(kinds([at(0, 5, 5), at(1, 107.9, 5)], 3, 5)).toEqual(['gap']);
    expect(kinds([at(0, 4.9, 5), at(1, 108, 5)], 3, 5)).toEqual(['margin']);
    const [fault] = nestOverlap([square], sheets, [at(0, 5, 5), at(1, 107, 5)], [], 3, 5);
    expect(fault!.by).toBeCloseTo(1, 9);
  });
  it('finds panels outside, missing, twice, turned or mirrored', () => {
    expect(kinds([at(0, -0.01, 0), at(1, 150, 0)])).toEqual(['outside']);
    expect(kinds([at(0, 0, 0)])).toEqual(['missing']);
    expect(kinds([at(0, 0, 0), at(1, 100, 0), at(1, 200, 0)])).toEqual(['twice']);
    expect(kinds([at(0, 0, 0), at(1, 300, 0, { turn: Math.PI / 2 })])).toEqual(['turn']);
    expect(kinds([at(0, 0, 0), at(1, 250, 0, { mirrored: true })])).toEqual(['mirror']);
    expect(kinds([at(0, 0, 0), at(1, 100, 0, { sheetCopy: 1 })])).toEqual(['sheet']);
  });
  it('puts a panel where its placement says', () => {
    const [ring] = posed([box(10, 20)], { x: 5, y: 7, turn: Math.PI / 2, mirrored: true });
    expect(boxOf(ring!)).toEqual({ minX: -15, minY: -3, maxX: 5, maxY: 7 });
    expect(Math.abs(ringArea(ring!))).toBe(200);
  });
});
