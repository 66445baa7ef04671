import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BenchEvent, previewOf } from '../../app/tools';
import { FakeBench } from './fakeBench';

describe('hand', () => {
  it('pans by exactly the way the pointer went, the slack included', () => {
    const bench = new FakeBench('hand').down(10).move(12).move(40, 7).up(60, 9);
    expect(bench.panned).toEqual({ x: 50, y: 9 });
    expect(bench.state.gesture.name).toBe('idle');
  });

  it('does not select on a click, but a tap of a finger does', () => {
    expect(new FakeBench('hand').click(100).selection).toEqual([]);
    expect(new FakeBench('hand').click(100, 0, { pointer: 'touch' }).selection).toEqual(['e2']);
  });
});

describe('panning with any tool', () => {
  it.each(['select', 'pair', 'chain', 'tape', 'draw', 'offcut'] as const)(
    '%s: space or middle button drags the bench',
    (tool) => {
      const bench = new FakeBench(tool).down(100, 0, { pan: true }).move(130, 5).up(130, 5);
      expect(bench.panned).toEqual({ x: 30, y: 5 });
      expect(bench.selection).toEqual([]);
      expect(bench.girth).toEqual({ kind: 'none' });
      expect(bench.pairFrom).toBeNull();
    },
  );
});

describe('select', () => {
  it('takes what is under a click, adds and takes away with shift, clears on empty ground', () => {
    const bench = new FakeBench('select').click(100);
    expect(bench.selection).toEqual(['e2']);
    bench.click(200, 0, { shift: true });
    expect(bench.selection).toEqual(['e2', 'e3']);
    bench.click(100, 0, { shift: true });
    expect(bench.selection).toEqual(['e3']);
    bench.click(400);
    expect(bench.selection).toEqual([]);
  });

  it('prefers the edge to the piece, and reaches further with a finger', () => {
    expect(new FakeBench('select').click(109).selection).toEqual(['piece']);
    expect(new FakeBench('select').click(109, 0, { pointer: 'touch' }).selection).toEqual(['e2']);
  });

  it('a trembling click is a click; beyond the slack it is a band', () => {
    expect(new FakeBench('select').down(100).move(103).up(103).selection).toEqual(['e2']);
    const bench = new FakeBench('select').down(90, -60).move(150, 60);
    expect(previewOf(bench.state, bench.facts())).toEqual({
      kind: 'band',
      from: { x: 90, y: -60 },
      to: { x: 150, y: 60 },
    });
    bench.up(210, 60);
    expect(bench.selection).toEqual(['e2', 'e3']);
  });

  it('shift keeps the selection while banding', () => {
    const bench = new FakeBench('select').click(0);
    bench.down(90, -60, { shift: true }).move(150, 60).up(150, 60);
    expect(bench.selection).toEqual(['e1', 'e2']);
  });

  it('drops the band on Escape and on a second finger, without selecting', () => {
    for (const end of [{ type: 'escape', shift: false }, { type: 'cancel' }] satisfies BenchEvent[]) {
      const bench = new FakeBench('select').click(0).down(90, -60).move(150, 60).send(end).up(150, 60);
      expect(bench.selection).toEqual(['e1']);
    }
  });

  it('a finger that drags moves the bench', () => {
    const bench = new FakeBench('select').down(100, 0, { pointer: 'touch' }).move(130, 0, 'touch');
    expect(bench.up(140, 0, 'touch').panned).toEqual({ x: 40, y: 0 });
    expect(bench.selection).toEqual([]);
  });

  it('a double click takes the piece', () => {
    const bench = new FakeBench('select').click(100).click(100);
    bench.send({ type: 'doubleClick', at: { x: 100, y: 0 }, pointer: 'mouse', shift: false });
    expect(bench.selection).toEqual(['piece']);
  });

  it('hovers once per thing and lets go when the pointer leaves', () => {
    const bench = new FakeBench('select').move(100).move(101).move(102);
    expect(bench.done.filter((e) => e.kind === 'hover')).toEqual([{ kind: 'hover', id: 'e2' }]);
    expect(bench.send({ type: 'leave' }).hovered).toBeNull();
  });
});

describe('pair', () => {
  it('takes two edges and pairs them', () => {
    const bench = new FakeBench('pair').click(0);
    expect(bench.pairFrom).toBe('e1');
    bench.click(300);
    expect(bench.pairs).toEqual([['e1', 'e4']]);
    expect(bench.pairFrom).toBeNull();
  });

  it('shows a thread to the pointer, and to the mate under it', () => {
    const bench = new FakeBench('pair').click(0).move(150, 80);
    expect(previewOf(bench.state, bench.facts())).toEqual({
      kind: 'thread',
      from: 'e1',
      to: { x: 150, y: 80 },
    });
    bench.move(200);
    expect(previewOf(bench.state, bench.facts())).toEqual({ kind: 'thread', from: 'e1', to: 'e3' });
  });

  it('drops the first edge on Escape, on the same edge again and with another tool', () => {
    expect(new FakeBench('pair').click(0).key('escape').pairFrom).toBeNull();
    expect(new FakeBench('pair').click(0).click(0).pairFrom).toBeNull();
    expect(new FakeBench('pair').click(0).send({ type: 'tool', tool: 'hand' }).pairFrom).toBeNull();
    const bench = new FakeBench('pair').click(0).key('escape').click(300);
    expect(bench.pairs).toEqual([]);
  });

  it('ignores clicks beside the edges; Escape with nothing picked goes back to selecting', () => {
    const bench = new FakeBench('pair').click(0).click(150);
    expect(bench.pairFrom).toBe('e1');
    expect(bench.key('escape').key('escape').state.tool).toBe('select');
  });
});

describe('chain', () => {
  it('sums edges in the order of the clicks; a second click takes one out', () => {
    const bench = new FakeBench('chain').click(200).click(0).click(100);
    expect(bench.girth).toEqual({ kind: 'edges', edges: ['e3', 'e1', 'e2'] });
    bench.click(0);
    expect(bench.girth).toEqual({ kind: 'edges', edges: ['e3', 'e2'] });
    expect(bench.said.at(-1)).toBe('2 edges, 200 mm.');
  });

  it('is one entry of the history from the first click to Enter', () => {
    const bench = new FakeBench('chain').click(0).click(100).click(200).key('finish');
    expect(bench.entries).toBe(1);
    expect(bench.state.tool).toBe('select');
    bench.send({ type: 'tool', tool: 'chain' }).click(300);
    expect(bench.entries).toBe(2);
    expect(bench.girth).toEqual({ kind: 'edges', edges: ['e1', 'e2', 'e3', 'e4'] });
  });

  it('takes the last off with Backspace, down to no girth', () => {
    const bench = new FakeBench('chain').click(0).click(100).key('removeLast');
    expect(bench.girth).toEqual({ kind: 'edges', edges: ['e1'] });
    expect(bench.key('removeLast').girth).toEqual({ kind: 'none' });
    expect(bench.key('removeLast').girth).toEqual({ kind: 'none' });
  });

  it('brings back the girth from before on Escape', () => {
    const bench = new FakeBench('chain');
    bench.girth = { kind: 'typed', length: 612 };
    bench.click(0).click(100).key('escape');
    expect(bench.girth).toEqual({ kind: 'typed', length: 612 });
    expect(bench.state.tool).toBe('chain');
    expect(bench.key('escape').state.tool).toBe('select');
  });

  it('measures only on the drawing, and says so elsewhere', () => {
    const bench = new FakeBench('chain');
    bench.measurable = false;
    expect(bench.click(0).girth).toEqual({ kind: 'none' });
    expect(bench.said.at(-1)).toContain('measured on the drawing');
  });
});

describe('draw', () => {
  it('begins on an outline only, goes on to it, and cuts on Enter', () => {
    const bench = new FakeBench('draw').click(120, 0);
    expect(bench.drawing.panel).toBe(null);
    expect(bench.said.at(-1)).toContain('begins on the outline');
    bench.click(100, 47).click(130, 0).click(150, -52);
    expect(bench.drawing).toMatchObject({
      panel: 'piece',
      points: [
        { x: 100, y: 50 },
        { x: 130, y: 0 },
        { x: 150, y: -50 },
      ],
    });
    expect(bench.drawn).toEqual([]);
    bench.key('pick');
    expect(bench.drawn.length).toBe(1);
  });

  it('takes points back, drops the line on Escape, and then lays the tool down', () => {
    const bench = new FakeBench('draw').click(100, 50).click(130, 0).key('removeLast');
    expect(bench.drawing.points).toEqual([{ x: 100, y: 50 }]);
    bench.key('escape');
    expect(bench.drawing.panel).toBe(null);
    bench.key('escape');
    expect(bench.state.tool).toBe('select');
  });

  it('works from the keyboard alone: corners of edges, Shift+Enter cuts', () => {
    const bench = new FakeBench('draw').send({ type: 'walk', to: 'first' }).key('pick');
    expect(bench.drawing.points).toEqual([{ x: 0, y: -50 }]);
    bench.send({ type: 'walk', to: 'next' }).key('pick');
    expect(bench.drawing.points.length).toBe(2);
    bench.send({ type: 'pick', shift: true });
    expect(bench.drawn.length).toBe(1);
  });
});

describe('offcut', () => {
  it.each(['mouse', 'touch', 'pen'] as const)(
    'is laid corner by corner on round measures and closed at its first (%s)',
    (pointer) => {
      const bench = new FakeBench('offcut');
      for (const [x, y] of [
        [1, 2],
        [198, 1],
        [201, -149],
      ] as const)
        bench.click(x, y, { pointer });
      expect(bench.offcut!.points).toEqual([
        { x: 0, y: 0 },
        { x: 200, y: 0 },
        { x: 200, y: -150 },
      ]);
      expect(bench.said.at(-1)).toBe('Corner 3 at 200 mm across, 150 mm down.');
      expect(previewOf(bench.state, bench.facts())).toMatchObject({ kind: 'outline' });
      bench.click(4, -3, { pointer });
      expect(bench.kept.map((k) => k.points.length)).toEqual([3]);
      expect(bench.state.tool).toBe('select');
    },
  );

  it('goes by keys: a pen to steer, a corner laid, taken back, closed, dropped', () => {
    const bench = new FakeBench('offcut').key('pick');
    const steer = (x: number, y: number) => bench.send({ type: 'steer', by: { x, y } });
    steer(100, 0);
    expect(bench.said.at(-1)).toBe('100 mm across, 0 mm down, side 100 mm.');
    // The same place twice is no corner, and two corners are no outline.
    bench.key('pick').key('pick').key('pick', true);
    expect(bench.offcut!.points.length).toBe(2);
    expect(bench.kept).toEqual([]);
    steer(0, -80);
    bench.key('pick').key('removeLast').key('pick');
    expect(bench.offcut!.points).toEqual([
      { x: 0, y: 0 },
      { x: 100, y: 0 },
      { x: 100, y: -80 },
    ]);
    bench.key('pick', true);
    expect(bench.kept.length).toBe(1);
    const dropped = new FakeBench('offcut').click(0, 0).key('escape');
    expect(dropped.offcut).toBe(null);
    expect(dropped.state.tool).toBe('select');
  });
});

describe('tape', () => {
  it('lays straight parts that snap to corners and add up', () => {
    const bench = new FakeBench('tape').down(2, 47).move(50, 50).up(97, 53);
    expect(bench.girth).toEqual({
      kind: 'tape',
      parts: [
        [
          { x: 0, y: 50 },
          { x: 100, y: 50 },
        ],
      ],
    });
    bench.down(150, 0).move(200, 0).up(250, 0);
    expect(bench.said.at(-1)).toBe('2 tapes, 200 mm.');
    expect(bench.entries).toBe(2);
    expect(bench.key('removeLast').said.at(-1)).toBe('1 tape, 100 mm.');
  });

  it('previews while dragging and lays nothing on Escape, a click, or between the same corner', () => {
    const bench = new FakeBench('tape').down(2, 47).move(60, 20);
    expect(previewOf(bench.state, bench.facts())).toEqual({
      kind: 'tape',
      from: { x: 0, y: 50 },
      to: { x: 60, y: 20 },
    });
    bench.key('escape').up(60, 20).click(40);
    bench.down(2, 47).move(20, 47).up(3, 52);
    expect(bench.girth).toEqual({ kind: 'none' });
    expect(bench.entries).toBe(0);
  });

  it('a finger lays tape too', () => {
    const bench = new FakeBench('tape')
      .down(20, 0, { pointer: 'touch' })
      .move(70, 0, 'touch')
      .up(80, 0, 'touch');
    expect(bench.girth.kind).toBe('tape');
    expect(bench.panned).toEqual({ x: 0, y: 0 });
  });
});

describe('keyboard', () => {
  it('walks the edges round, announces each and picks for the active tool', () => {
    const bench = new FakeBench('pair');
    bench.send({ type: 'walk', to: 'next' }).send({ type: 'walk', to: 'next' });
    expect(bench.state.cursor).toBe('e2');
    expect(bench.said).toEqual(['Edge e1', 'Edge e2']);
    bench.key('pick').send({ type: 'walk', to: 'last' }).key('pick');
    expect(bench.pairs).toEqual([['e2', 'e4']]);
    expect(bench.send({ type: 'walk', to: 'next' }).state.cursor).toBe('e1');
  });

  it('Enter takes the edge into a chain, Shift+Enter finishes; after a click Enter finishes', () => {
    const bench = new FakeBench('chain').send({ type: 'walk', to: 'first' }).key('pick');
    expect(bench.girth).toEqual({ kind: 'edges', edges: ['e1'] });
    expect(bench.key('pick', true).state.tool).toBe('select');
    const other = new FakeBench('chain').send({ type: 'walk', to: 'first' }).click(100).key('pick');
    expect(other.girth).toEqual({ kind: 'edges', edges: ['e2'] });
    expect(other.state.tool).toBe('select');
  });

  it('lays a tape along the edge at the cursor', () => {
    const bench = new FakeBench('tape').send({ type: 'walk', to: 'first' }).key('pick');
    expect(bench.said.at(-1)).toBe('1 tape, 100 mm.');
  });

  it('Escape takes the cursor away', () => {
    const bench = new FakeBench('select').send({ type: 'walk', to: 'first' }).key('escape');
    expect(bench.state.cursor).toBeNull();
    expect(bench.hovered).toBeNull();
  });
});

describe('any order of events', () => {
  const at = fc.record({ x: fc.integer({ min: -50, max: 350 }), y: fc.integer({ min: -80, max: 80 }) });
  const pointer = fc.constantFrom('mouse' as const, 'touch' as const, 'pen' as const);
  const event: fc.Arbitrary<BenchEvent> = fc.oneof(
    fc.record({
      type: fc.constant('down' as const),
      screen: at,
      at,
      pointer,
      button: fc.constantFrom('primary' as const, 'pan' as const),
      shift: fc.boolean(),
    }),
    fc.record({
      type: fc.constantFrom('move' as const, 'up' as const),
      screen: at,
      at,
      pointer,
      shift: fc.boolean(),
    }),
    fc.record({ type: fc.constant('doubleClick' as const), at, pointer, shift: fc.boolean() }),
    fc.record({ type: fc.constantFrom('cancel' as const, 'leave' as const) }),
    fc.record({
      type: fc.constant('walk' as const),
      to: fc.constantFrom('next' as const, 'previous' as const, 'first' as const, 'last' as const),
    }),
    fc.record({
      type: fc.constantFrom('pick' as const, 'finish' as const, 'removeLast' as const, 'escape' as const),
      shift: fc.boolean(),
    }),
    fc.record({
      type: fc.constant('tool' as const),
      tool: fc.constantFrom(
        'hand' as const,
        'select' as const,
        'pair' as const,
        'chain' as const,
        'tape' as const,
        'draw' as const,
        'offcut' as const,
      ),
    }),
  );

  it('never throws, pairs no edge with itself, chains no edge twice, and rests after a release', () => {
    fc.assert(
      fc.property(fc.array(event, { maxLength: 60 }), (events) => {
        const bench = new FakeBench('select');
        for (const e of events) {
          bench.send(e);
          if (e.type === 'up' || e.type === 'cancel') expect(bench.state.gesture.name).toBe('idle');
        }
        for (const [a, b] of bench.pairs) expect(a).not.toBe(b);
        if (bench.girth.kind === 'edges')
          expect(new Set(bench.girth.edges).size).toBe(bench.girth.edges.length);
        if (bench.girth.kind === 'tape') for (const [a, b] of bench.girth.parts) expect(a).not.toEqual(b);
      }),
      { numRuns: 300 },
    );
  });
});
