/** The dry fit as lines on the shell, from a real one. */
import { beforeAll, expect, it } from 'vitest';
import { drawnGaps, type GapStretch, gapLines, gapMarks, gapStretches } from '../../app/shellview/gaps';
import { type ShellModel, shellModel } from '../../app/shellview/model';
import { homeView, viewOf } from '../../app/shellview/orbit';
import type { DryFitSeam } from '../../src/model';
import { viewAxes } from '../../src/shell';
import { seamsOfTruth } from '../foam/truthSeams';
import { patternFromTruth, shellPattern, solid } from '../support/harbourWatch';
import { shellOfTruth } from '../support/truthShell';

const truth = shellPattern(solid('cube', 60), { maxFaces: 1 });
let model: ShellModel;
beforeAll(() => {
  model = shellModel(shellOfTruth(truth), patternFromTruth(truth), seamsOfTruth(truth));
});

/** One side of each seam, by vertices. */
const seamSides = () => model.sides.filter((s) => s.kind === 'seam' && s.from < s.to);
const seamWith = (k: number, open: number, pressed: number): DryFitSeam => {
  const side = seamSides()[k]!;
  const vertices = [side.from, side.to] as const;
  return {
    seam: side.id,
    sides: [{ vertices, open, pressed }],
    place: { vertices, part: 0.25, depth: 'inside', gap: open > pressed ? open : -pressed },
    worst: Math.max(open, pressed),
  } as unknown as DryFitSeam;
};

it('draws from 0.2 mm on, heavier the further, with bars where it presses', () => {
  const seams = [seamWith(0, 1.2, 0.1), seamWith(1, 0.1, 0.6), seamWith(2, 0.3, 0.2), seamWith(3, 0.19, 0.1)];
  const stretches = gapStretches(seams);
  expect(stretches.map(({ size, presses }) => [size, presses])).toEqual([
    ['wide', false],
    ['some', true],
    ['little', false],
  ]);
  const lines = gapLines(model, model.folding.at(1), stretches, 1);
  // Whole: once, though two faces have the side. Dashes and dots: several stretches.
  expect(lines.wide).toHaveLength(6);
  expect(lines.some.length / 6).toBeGreaterThan(3);
  expect(lines.little.length).toBeGreaterThan(lines.some.length);
  // Bars on both faces of the one that presses: 60 mm, one for each 6 mm.
  expect(lines.bars).toHaveLength(2 * 10 * 6);
  const length = (at: readonly number[]) => Math.hypot(at[3]! - at[0]!, at[4]! - at[1]!, at[5]! - at[2]!);
  expect(length(lines.bars)).toBeCloseTo(3, 9);
});

it('leaves out of the drawing in lines what is behind', () => {
  const all: GapStretch[] = seamSides().map((side) => ({
    seam: side.id,
    vertices: [side.from, side.to],
    size: 'wide',
    presses: false,
  }));
  expect(all).toHaveLength(12);
  // Three faces of a cube are seen, and nine of its twelve edges.
  const drawn = drawnGaps(model, all, homeView);
  expect(new Set(drawn.map(({ vertices }) => vertices.join(' '))).size).toBe(9);
});

it('marks the worst and the selected, and turns to a place from straight outside', () => {
  const seams = [0.9, 0.8, 0.7, 0.6, 0.1].map((open, k) => seamWith(k, open, 0));
  const at = (selection: readonly string[]) => gapMarks(model.shell.vertices, seams, selection);
  expect(at([]).map(({ gap }) => gap)).toEqual([0.9, 0.8, 0.7]);
  expect(at([seams[4]!.seam]).map(({ gap }) => gap)).toEqual([0.9, 0.8, 0.7, 0.1]);
  const { place } = seams[0]!;
  const [p, q] = place.vertices.map((v) => model.shell.vertices[v]!);
  expect(at([])[0]!.at.x).toBeCloseTo(p!.x + 0.25 * (q!.x - p!.x), 12);
  const view = viewOf(model.shell, place)!;
  const { towards } = viewAxes(view);
  // An edge of a cube about its own middle: the view looks along the middle of the edge.
  const middle = { x: p!.x + q!.x, y: p!.y + q!.y, z: p!.z + q!.z };
  const size = Math.hypot(middle.x, middle.y, middle.z);
  expect((towards.x * middle.x + towards.y * middle.y + towards.z * middle.z) / size).toBeCloseTo(1, 9);
  expect(viewOf(model.shell, { vertices: [900, 901], part: 0 })).toBeNull();
});
