/** Every step has a picture: of a drum with a window and one extra part of each kind, and of panels without a shell. */
import { describe, expect, it } from 'vitest';
import { pictureLine, pictureName, planBuild, type StepPicture, stepDrawer } from '../../src/build';
import { openingChoices } from '../../src/extras';
import { boxOf, type Point } from '../../src/math';
import {
  defaultDecisions,
  type ExtraPart,
  type FoamResult,
  type PlacedShape,
  type Seams,
  type Shell,
} from '../../src/model';
import { cut, extrasOf, windowed } from '../extras/tubes';
import { surfaceOfTruth } from '../foam/shellFigures';
import { seamsOfTruth } from '../foam/truthSeams';
import { buildFixture, sidesOf } from '../support/panels';

const gap = [0, 1, 2, 3, 4, 5, 6, 7];
const drum = cut(windowed(24, [100, 100, 100, 100], [0, 40, 110, 150], gap), 8);
const { pattern, shell, places } = surfaceOfTruth(drum);
const seams = seamsOfTruth(drum);
const openings = openingChoices(pattern, seams, shell, places);
const edgesAt = (where: string) => openings.find((o) => o.where === where)!.edges;
const [panel] = pattern.pieces;
const common = { name: 'Part', thickness: null, side: 'outside' } as const;
const outline: PlacedShape = {
  ...{
    kind: 'shape',
    width: 60,
    turn: 0,
    within: 'shell',
    at: { face: panel!.faces[0]!.id, x: 0.5, y: 0.5 },
  },
  rings: [
    [
      { x: -30, y: -10 },
      { x: 30, y: -10 },
      { x: 0, y: 20 },
    ],
  ],
};
const whole = panel!.faces.map((f) => f.id);
const parts: Readonly<Record<string, ExtraPart>> = {
  layer: { ...common, id: 'layer', kind: 'layer', faces: whole, margin: 0 },
  drawn: { ...common, id: 'drawn', kind: 'layer', faces: [], margin: 0, outline },
  pad: { ...common, id: 'pad', kind: 'layer', faces: whole, margin: 0, side: 'inside' },
  band: {
    ...common,
    id: 'band',
    kind: 'band',
    edges: edgesAt('bottom'),
    width: 20,
    shape: 'fitted',
    overlap: 0,
  },
  strip: { ...common, id: 'strip', kind: 'seamStrip', seams: [seams.seams[0]!.id], width: 16 },
  visor: {
    ...common,
    id: 'visor',
    kind: 'visor',
    edges: edgesAt('front'),
    rim: 'whole',
    margin: 10,
    eyes: null,
  },
  disc: { ...common, id: 'disc', kind: 'disc', diameter: 50, inner: 0, quantity: 2 },
  ring: { ...common, id: 'ring', kind: 'disc', diameter: 50, inner: 20, quantity: 1 },
  bar: { ...common, id: 'bar', kind: 'bar', length: 80, width: 10, quantity: 1 },
  mask: { ...common, id: 'mask', kind: 'stencil', way: 'mask', border: 0, outline },
  window: { ...common, id: 'window', kind: 'stencil', way: 'window', border: 10, outline },
};
const foam = extrasOf(drum, Object.values(parts));

const planOf = (of: FoamResult, pairs: Seams, folded: Shell | null, order: readonly string[] = []) =>
  planBuild({
    ...{ foam: of, seams: pairs, marked: null, shell: folded, sheets: null, pages: 1, padding: 0 },
    decisions: { ...defaultDecisions.build, order },
  }).steps;
const steps = planOf(foam, seams, shell);
const draw = stepDrawer({ shell, pattern, seams }, foam);
const pictures = new Map(steps.map((step) => [step, draw(step)] as const));
const ownStep = (part: string) =>
  steps.find((s) => s.adds.some((p) => foam.panels.find((q) => q.id === p)!.extra?.part === part))!;
const ownPicture = (part: string) => pictures.get(ownStep(part))!;
const nameOf = (id: string) => id;
const lengthOf = (list: StepPicture['strokes']) =>
  list.reduce((sum, { from, to }) => sum + Math.hypot(to.x - from.x, to.y - from.y), 0);
const lit = ({ strokes }: StepPicture) => strokes.filter((s) => s.lit);
const offLine = (p: Point, { from, to }: { from: Point; to: Point }) => {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const size = dx * dx + dy * dy;
  const t = size === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - from.x) * dx + (p.y - from.y) * dy) / size));
  return Math.hypot(p.x - from.x - t * dx, p.y - from.y - t * dy);
};

describe('the pictures of the steps', () => {
  it('are there for every step, the step lit in them, within their frame and with a name', () => {
    expect(foam.stuckExtras).toBeUndefined();
    for (const [step, picture] of pictures) {
      expect(lengthOf(lit(picture)), step.id).toBeGreaterThan(20);
      const box = boxOf(picture.strokes.flatMap((s) => [s.from, s.to]));
      expect(
        [box.minX, box.minY].every((low) => low > -1e-6),
        step.id,
      ).toBe(true);
      expect(box.maxX, step.id).toBeLessThan(picture.width + 1e-6);
      expect(box.maxY, step.id).toBeLessThan(picture.height + 1e-6);
      expect(pictureName(step, picture, nameOf), step.id).toContain('drawn wide');
    }
    const shown = Object.keys(parts).map((id) => [id, ownPicture(id).shows] as const);
    const loose = shown.filter(([, shows]) => shows === 'part').map(([id]) => id);
    expect(loose).toEqual(['disc', 'ring', 'bar']);
    expect(shown.filter(([, shows]) => shows === 'panels')).toEqual([]);
    for (const id of loose)
      expect(pictureLine(ownStep(id), ownPicture(id))).toContain('no place on what is there');
  });

  it.each(['layer', 'pad'])('show a whole panel by its edge and not by its folds: %s', (id) => {
    const picture = ownPicture(id);
    const thin = picture.strokes.filter((s) => !s.lit && (s.kind === 'rim' || s.kind === 'seam'));
    let farthest = 0;
    for (const { from, to } of lit(picture))
      for (const t of [0.25, 0.5, 0.75]) {
        const at = { x: from.x + (to.x - from.x) * t, y: from.y + (to.y - from.y) * t };
        farthest = Math.max(farthest, Math.min(...thin.map((s) => offLine(at, s))));
      }
    expect(farthest).toBeLessThan(3);
    expect(picture.broken).toBe(id === 'pad' ? 'inside' : null);
    expect(pictureLine(ownStep(id), picture) === null).toBe(id === 'layer');
  });

  it('draw what is inside in broken lines, in the same place', () => {
    const [solid, broken] = [lit(ownPicture('layer')), lit(ownPicture('pad'))];
    expect(broken.length).toBeGreaterThan(solid.length);
    expect(lengthOf(broken)).toBeLessThan(0.75 * lengthOf(solid));
    expect(lengthOf(broken)).toBeGreaterThan(0.4 * lengthOf(solid));
  });

  it('show what was added before, unlit', () => {
    const before = new Set(ownStep('visor').present);
    expect(ownStep('disc').present.length).toBe(before.size + 1);
    const thin = (id: string) => lengthOf(ownPicture(id).strokes.filter((s) => !s.lit));
    const bare = draw({ ...ownStep('visor'), present: [...before].filter((p) => !p.startsWith('extra:')) });
    expect(thin('visor')).toBeGreaterThan(lengthOf(bare.strokes.filter((s) => !s.lit)) + 50);
  });

  it('show a part by itself as long as the panels that carry it are not there', () => {
    const own = ownStep('layer');
    const early = planOf(foam, seams, shell, [own.id, ...steps.map((s) => s.id)]);
    const first = draw(early[0]!);
    expect(early[0]!.adds).toEqual(own.adds);
    expect(first.shows).toBe('part');
    expect(lengthOf(lit(first))).toBeGreaterThan(100);
  });
});

it('without a folded shell the panels of a step lie flat, their seams lit', () => {
  const plate = (x: number) => ({
    name: `at ${x}`,
    loops: [
      sidesOf([
        { x, y: 0 },
        { x: x + 100, y: 0 },
        { x: x + 100, y: 70 },
        { x, y: 70 },
      ]),
    ],
  });
  const flat = buildFixture('three plates', [plate(0), plate(100), plate(300)], [[[0, 1, 1, 3]]]);
  const own = planOf(flat.foam, flat.seams, null);
  const drawFlat = stepDrawer(null, flat.foam);
  expect(own.map((s) => s.kind)).toEqual(['attach', 'begin']);
  const [glued, alone] = own.map(drawFlat);
  expect(glued!.shows).toBe('panels');
  // Both sides of the seam of 70 mm, on two plates side by side.
  expect(lengthOf(lit(glued!))).toBeCloseTo(140, 6);
  expect(glued!.width).toBeCloseTo(212, 6);
  expect(lengthOf(lit(alone!))).toBeCloseTo(340, 6);
});
