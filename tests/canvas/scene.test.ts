import { describe, expect, it } from 'vitest';
import { lengthWriter, sceneOf } from '../../app/canvas/scene';
import { type BenchLookName, benchLooks, weightAt } from '../../app/canvas/scene/looks';
import { SceneIndex } from '../../app/canvas/scene/pick';
import { Relations } from '../../app/canvas/scene/relations';
import type { Scene } from '../../app/canvas/scene/scene';
import { hatchOf, heartOf, joinedLoop } from '../../app/canvas/scene/shapes';
import { noResults, type Results, type StepName } from '../../app/document/session';
import { boxOf, polylineLength, ringArea } from '../../src/math';
import {
  type Drawing,
  defaultDecisions,
  type FoamResult,
  lineLooks,
  type MarkedPanels,
  type PagePlan,
  type ProjectDocument,
} from '../../src/model';
import { findSeams } from '../../src/seams';
import { gannetPattern, numberEdges, patternFromTruth, placePieces } from '../support/harbourWatch';
import { pattern, seams } from './fixture';

const document: ProjectDocument = {
  title: 'Bollard pauldron',
  sources: [],
  decisions: defaultDecisions,
  lengthUnit: 'mm',
};

const line = (id: string, points: readonly (readonly [number, number])[]): Drawing['lines'][number] => ({
  id,
  element: 'path',
  elementId: '',
  groups: [],
  start: { x: points[0]![0], y: points[0]![1] },
  segments: points.slice(1).map(([x, y]) => ({ kind: 'line', to: { x, y } })),
  closed: false,
  style: { stroke: '#000000', fill: '', strokeWidth: 0.3, dash: [], className: '', opacity: 1 },
  source: { file: 'bollard.svg', line: 1, column: 1 },
});

const drawing: Drawing = {
  size: pattern.size,
  lines: [
    line('l1', [
      [120, -30],
      [140, -30],
    ]),
    line('l2', [
      [0, -40],
      [40, -40],
    ]),
    line('l3', [
      [120, -10],
      [140, -10],
    ]),
  ],
  texts: [],
  issues: [],
};

const results: Results = { ...noResults, drawing, pattern, seams };
const show = (step: StepName, more: Partial<Results> = {}) =>
  sceneOf({ step, results: { ...results, ...more }, document }).scene;
const linesWith = (scene: Scene, look: BenchLookName) =>
  scene.strokes.find((s) => s.look === look)?.lines ?? [];

describe('step Pattern', () => {
  const scene = show('pattern');

  it('shows how every line was read', () => {
    expect(linesWith(scene, 'notes').map((l) => l.points[0])).toEqual([{ x: 120, y: -30 }]);
    expect(linesWith(scene, 'unread').map((l) => l.points[0])).toEqual([{ x: 120, y: -10 }]);
    expect(scene.spots).toEqual([{ kind: 'cross', at: { x: 120, y: -10 } }]);
    expect(linesWith(scene, 'mountain')).toHaveLength(1);
    expect(linesWith(scene, 'tab')).toHaveLength(1);
    expect(linesWith(scene, 'border').map((l) => polylineLength(l.points))).toEqual([40]);
  });

  it('points out a number that nothing answers', () => {
    const label = scene.labels.find((l) => l.text === '17');
    expect(label?.tone).toBe('look');
    expect(label?.boxed).toBe(true);
  });

  it('takes lines first, edges where there is no line, pieces between', () => {
    const index = new SceneIndex(scene.pickables);
    expect(index.at({ x: 20, y: -40.5 }, 2, scene.selectable)).toMatchObject({ kind: 'line', id: 'l2' });
    expect(index.at({ x: 40.4, y: -20 }, 2, scene.selectable)).toMatchObject({ kind: 'edge', id: 'A2' });
    expect(index.at({ x: 30, y: -35 }, 2, scene.selectable)).toMatchObject({ kind: 'piece', id: 'pA' });
    expect(index.at({ x: 20, y: 3 }, 1, scene.selectable)).toMatchObject({ kind: 'tab', id: 'tA' });
    expect(index.at({ x: 200, y: -200 }, 5, scene.selectable)).toBeNull();
  });

  it('shows a drawing before anything is recognised', () => {
    const raw = show('pattern', { pattern: null, seams: null });
    expect(linesWith(raw, 'raw')).toHaveLength(3);
    expect(raw.bounds).toEqual({ minX: 0, minY: -40, maxX: 140, maxY: -10 });
  });
});

describe('step Seams', () => {
  const scene = show('seams');

  it('draws an edge without a mate heavy, a border with ticks, others plain', () => {
    expect(benchLooks.open.width).toBe(2 * benchLooks.outline.width);
    const open = linesWith(scene, 'open').flatMap((l) => [l.points[0], l.points.at(-1)]);
    expect(open).toContainEqual({ x: 40, y: -40 });
    expect(open).toContainEqual({ x: 60, y: 0 });
    expect(linesWith(scene, 'border')).toHaveLength(1);
    expect(linesWith(scene, 'borderTick').length).toBeGreaterThan(3);
    expect(linesWith(scene, 'tab')).toHaveLength(0);
  });

  it('prints the number of the run beside both sides of a seam, inside their pieces', () => {
    const numbers = scene.labels.filter((l) => l.text === '7');
    expect(numbers.map((l) => [l.at.x, l.off])).toEqual([
      [40, { x: -1, y: 0 }],
      [60, { x: 1, y: 0 }],
    ]);
  });
});

describe('relations', () => {
  const relations = new Relations(pattern, seams);
  const length = lengthWriter(document);

  it('describe an edge in words', () => {
    expect(relations.describe('A2', length)).toBe('Edge 2 of piece A, 40 mm, seam 7');
    expect(relations.describe('A4', length)).toBe('Edge 4 of piece A, 40 mm, stays open');
    expect(relations.describe('B2', length)).toBe('Edge 2 of piece B, 56.6 mm, no mate yet');
    expect(relations.describe('A2', lengthWriter({ ...document, lengthUnit: 'in' }))).toContain('1.57 in');
  });

  it('know the corner at which both sides of a seam begin', () => {
    expect(relations.mateOf('A2')).toMatchObject({ mate: 'B3', here: 'start', there: 'end' });
    expect(relations.mateOf('B3')).toMatchObject({ mate: 'A2', here: 'end', there: 'start' });
    const along = new Relations(pattern, {
      ...seams,
      seams: seams.seams.map((s) => ({ ...s, direction: 'along' })),
    });
    expect(along.mateOf('B3')).toMatchObject({ here: 'start', there: 'start' });
  });

  it('resolve seams and runs to edges', () => {
    expect(relations.edgesOf('run1')).toEqual(['A2', 'B3']);
    expect(relations.edgesOf('A2+B3')).toEqual(['A2', 'B3']);
    expect(relations.edgesOf('A1')).toEqual(['A1']);
  });
});

describe('step Foam', () => {
  const square = (k: number) => [
    { x: -k, y: -40 - k },
    { x: 40 + k, y: -40 - k },
    { x: 40 + k, y: k },
    { x: -k, y: k },
  ];
  const side = (id: string, seam: string | null, i: number) => ({
    id,
    seam,
    shift: 1,
    bevel: 0.2,
    bend: 0.4,
    points: [square(1)[i]!, square(1)[(i + 1) % 4]!],
    curved: false,
  });
  const foam: FoamResult = {
    panels: [
      {
        id: 'panel-A',
        name: 'A',
        pieces: ['pA'],
        quantity: 2,
        mirrored: false,
        thickness: 5,
        loops: [[side('A1', null, 0), side('A2', 'A2+B3', 1), side('A3', 'other', 2), side('A4', null, 3)]],
        folds: [],
        outlines: { inside: [square(-1)], traced: [square(1)], outside: [square(1)] },
      },
    ],
    rows: [],
    unsetBends: ['A2+B3'],
    issues: [],
  };
  const fit = { scale: 0.5 } as Results['fit'];
  const scene = show('foam', { foam, fit });

  it('lays the traced outline and the other face over the scaled paper', () => {
    expect(scene.drawingScale).toBe(0.5);
    expect(boxOf(linesWith(scene, 'paper')[0]!.points)).toEqual({ minX: 0, minY: -20, maxX: 20, maxY: 0 });
    expect(linesWith(scene, 'outline')[0]!.points).toEqual(square(1));
    expect(linesWith(scene, 'otherFace')[0]!.points).toEqual(square(-1));
    expect(scene.labels.map((l) => l.text)).toContain('A ×2');
  });

  it('marks an edge whose bend nobody has set, gives the others their bevel', () => {
    expect(linesWith(scene, 'unset').map((l) => l.points[0])).toEqual([square(1)[1]]);
    expect(scene.spots).toEqual([{ kind: 'question', at: { x: 41, y: -20 } }]);
    expect(scene.labels.filter((l) => l.text.endsWith('°')).map((l) => l.text)).toEqual(['11.5°']);
  });

  it('shows the outside dotted when the inside face is traced', () => {
    const decisions = { ...defaultDecisions, foam: { ...defaultDecisions.foam, traced: 'inside' as const } };
    const inside = sceneOf({
      step: 'foam',
      results: { ...results, foam, fit },
      document: { ...document, decisions },
    });
    expect(linesWith(inside.scene, 'otherFace')[0]!.points).toEqual(square(1));
  });

  it('lays pages with their shared strips, and mirrored panels as rings that still turn the same way', () => {
    const panel = foam.panels[0]!;
    const marked: MarkedPanels = {
      panels: [
        {
          panel,
          lines: [{ kind: 'cut', points: square(1), closed: true, of: '' }],
          lettering: [],
          notches: [{ seam: 'A2+B3', edge: 'A2', along: 10, at: { x: 41, y: -20 }, to: { x: 38, y: -20 } }],
        },
      ],
      issues: [],
    };
    const page = (name: string, x: number, right: string): PagePlan['pages'][number] => ({
      name,
      row: 0,
      column: 0,
      origin: { x, y: 0 },
      neighbours: { left: '', right, above: '', below: '' },
      // Page space: the frame begins at 10, 10.
      strokes: [
        {
          kind: 'registration',
          points: [
            { x: 95 - x, y: 60 },
            { x: 99 - x, y: 60 },
          ],
          closed: false,
        },
      ],
      lettering: [],
      registration: [{ id: 'r1', at: { x: 95 - x, y: 60 }, layoutAt: { x: 85, y: 50 } }],
      panels: [],
    });
    const pages: PagePlan = {
      width: 110,
      height: 160,
      margin: 10,
      overlap: 10,
      correction: { x: 1, y: 1 },
      pages: [page('A1', 0, 'B1'), page('B1', 80, ''), page('map', 0, '')],
      placements: [
        { panel: 'panel-A', copy: 0, mirrored: false, angle: 0, move: { x: 10, y: 60 } },
        { panel: 'panel-A', copy: 1, mirrored: true, angle: Math.PI, move: { x: 60, y: 60 } },
      ],
      extent: { width: 170, height: 140 },
      issues: [],
    };
    const laid = show('pages', { foam, marked, pages });
    expect(linesWith(laid, 'frame')).toHaveLength(2);
    const overlap = laid.areas.find((a) => a.tone === 'overlap')!.rings;
    expect(overlap.map(boxOf)).toEqual([{ minX: 80, minY: 0, maxX: 90, maxY: 140 }]);
    // Both pages show the mark at one place of the layout.
    const marks = linesWith(laid, 'registration').map((l) => l.points[0]);
    expect(marks).toEqual([
      { x: 85, y: 50 },
      { x: 85, y: 50 },
    ]);
    const fills = laid.areas.find((a) => a.tone === 'piece')!.rings;
    expect(fills.map((r) => Math.round(ringArea(r)))).toEqual([42 * 42, 42 * 42]);
    const notches = linesWith(laid, 'notch').map((l) =>
      l.points.map((p) => Math.round(p.x)).sort((a, b) => a - b),
    );
    expect(notches).toEqual([
      [48, 51],
      [98, 101],
    ]);
    expect(laid.labels.map((l) => l.text).filter((t) => /^[A-Z]\d$|map/.test(t))).toEqual(['A1', 'B1']);

    // On a sheet of foam too every kind of line has its place.
    const kinds = Object.keys(lineLooks) as (keyof typeof lineLooks)[];
    const lines = kinds.map((kind) => ({ kind, points: square(1), closed: true, of: '' }));
    const every = { ...marked, panels: marked.panels.map((m) => ({ ...m, lines })) };
    const lying = { panel: 'panel-A', copy: 0, x: 10, y: 60, turn: 0, mirrored: false };
    const sheets = {
      sheets: [{ name: 'Sheet 1', thickness: 5, width: 200, height: 100, placements: [lying] }],
      ...{ left: [], changed: [], faults: [], density: 1, issues: [] },
    };
    const onFoam = show('sheets', { foam, marked: every, sheets });
    expect(linesWith(onFoam, 'placement')).toHaveLength(1);
    expect(linesWith(onFoam, 'outline')).toHaveLength(1);
  });
});

describe('looks', () => {
  it('use the dash patterns of the model', () => {
    for (const kind of ['mountain', 'valley', 'softBend', 'scored'] as const) {
      expect(benchLooks[kind].dash).toBe(lineLooks[kind].dash);
      expect(weightAt(benchLooks[kind], 10).dash).toEqual(lineLooks[kind].dash);
    }
  });

  it('stay legible from afar and grow only so far', () => {
    const pixels = (scale: number) => weightAt(benchLooks.outline, scale).width * scale;
    expect(pixels(0.1)).toBeGreaterThanOrEqual(0.8);
    expect(pixels(100)).toBeCloseTo(benchLooks.outline.widest);
    // The longest dash of a mountain fold stays 10 pixels long however far away.
    expect((weightAt(benchLooks.mountain, 0.2).dash[0] ?? 0) * 0.2).toBeGreaterThan(10);
  });
});

describe('shapes', () => {
  it('hatch a tab without leaving it', () => {
    const tab = pattern.pieces[0]!.tabs[0]!.polygon;
    const lines = hatchOf(tab, 1.8, Math.PI / 4);
    expect(lines.length).toBeGreaterThan(0);
    const box = boxOf(tab);
    for (const p of lines.flatMap((l) => l.points)) {
      expect(p.x).toBeGreaterThan(box.minX - 1e-9);
      expect(p.x).toBeLessThan(box.maxX + 1e-9);
      expect(p.y).toBeGreaterThan(box.minY - 1e-9);
      expect(p.y).toBeLessThan(box.maxY + 1e-9);
    }
  });

  it('join the edges of a loop by kind without losing length', () => {
    const loop = pattern.pieces[0]!.outline.map((e, i) => ({ points: e.points, kind: i === 2 ? 'b' : 'a' }));
    const joined = joinedLoop(loop);
    expect(joined.map((j) => [j.kind, polylineLength(j.line.points)])).toEqual([
      ['b', 40],
      ['a', 120],
    ]);
    const whole = joinedLoop(loop.map((e) => ({ ...e, kind: 'a' })));
    expect(whole).toHaveLength(1);
    expect(whole[0]!.line.closed).toBe(true);
    expect(ringArea(whole[0]!.line.points)).toBe(1600);
  });

  it('name a piece inside it, also when it is hollow', () => {
    const horseshoe = [
      { x: 0, y: 0 },
      { x: 30, y: 0 },
      { x: 30, y: 40 },
      { x: 20, y: 40 },
      { x: 20, y: 5 },
      { x: 10, y: 5 },
      { x: 10, y: 40 },
      { x: 0, y: 40 },
    ];
    const heart = heartOf(horseshoe);
    const index = new SceneIndex([{ kind: 'piece', id: 'h', piece: 'h', points: horseshoe, closed: true }]);
    expect(index.at(heart, 1, ['piece'])?.id).toBe('h');
  });
});

describe('a whole helm', () => {
  const truth = placePieces(numberEdges(gannetPattern()), {
    width: 700,
    height: null,
    margin: 10,
    head: 20,
    pageGap: 0,
    loose: false,
    seed: 1,
  });
  const helm = patternFromTruth(truth);
  const helmSeams = findSeams(helm, defaultDecisions.seams);
  const scene = show('seams', { drawing: null, pattern: helm, seams: helmSeams });
  const index = new SceneIndex(scene.pickables);
  const edges = helm.pieces.flatMap((p) => p.outline);

  it('finds every edge by a point beside its middle', () => {
    expect(edges.length).toBeGreaterThan(400);
    for (const edge of edges) {
      const [a, b] = [edge.points[0]!, edge.points.at(-1)!];
      const at = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
      expect(index.at(at, 0.05, ['edge'])?.id).toBe(edge.id);
    }
  });

  it('walks all edges in the order of pieces and outlines', () => {
    expect(index.inOrder('edge')).toEqual(edges.map((e) => e.id));
  });

  it('finds what is wholly inside a rectangle', () => {
    const piece = helm.pieces[3]!;
    const box = boxOf(piece.outline.flatMap((e) => e.points));
    const inside = index.within(box, 'edge');
    for (const e of piece.outline) expect(inside).toContain(e.id);
    const other = helm.pieces[20]!.outline[0]!.id;
    expect(inside).not.toContain(other);
  });

  it('names every piece inside it', () => {
    const names = scene.labels.filter((l) => l.size === 'large');
    expect(names).toHaveLength(helm.pieces.length);
    names.forEach((label, i) => {
      expect(index.at(label.at, 0.01, ['piece'])?.id).toBe(helm.pieces[i]!.id);
    });
  });
});
