/** Stencils in the build: painted with when all is glued, all parts of one at a time. */
import { expect, it } from 'vitest';
import { planBuild, stepCautions, stepTitle } from '../../src/build';
import { defaultDecisions, type Panel } from '../../src/model';
import { buildFixture, sidesOf } from '../support/panels';

const plate = (x: number, y: number, size: number) => ({
  name: `at ${x} ${y}`,
  loops: [
    sidesOf([
      { x, y },
      { x: x + size, y },
      { x: x + size, y: y + size },
      { x, y: y + size },
    ]),
  ],
});

it('come last, one step for all parts of each, and are not glued', () => {
  const { foam, seams } = buildFixture(
    'two plates',
    [plate(0, 0, 100), plate(100, 0, 100)],
    [[[0, 1, 1, 3]]],
  );
  const [drawn] = buildFixture('part', [plate(20, 20, 40)], []).foam.panels;
  const extra = (id: string, kind: 'layer' | 'stencil', part: string): Panel => ({
    ...drawn!,
    ...{ id, name: id, pieces: [], extra: { kind, part } },
    loops: drawn!.loops.map((loop) => loop.map((e) => ({ ...e, id: `${id} ${e.id}` }))),
  });
  const extras = [
    extra('Gull A', 'stencil', 'x1'),
    extra('Gull B', 'stencil', 'x1'),
    extra('Badge', 'layer', 'x2'),
    extra('Anchor', 'stencil', 'x3'),
  ];
  const panels = [...foam.panels, ...extras];
  const { steps, issues } = planBuild({
    ...{ foam: { ...foam, panels }, seams, marked: null, shell: null, sheets: null, pages: 1, padding: 0 },
    decisions: defaultDecisions.build,
  });
  expect(issues).toEqual([]);
  expect(steps.flatMap((s) => s.adds)).toHaveLength(panels.length);
  expect(steps.slice(1).map((s) => [s.kind, s.adds])).toEqual([
    ['add', ['Badge']],
    ['paint', ['Gull A', 'Gull B']],
    ['paint', ['Anchor']],
  ]);
  expect(stepTitle(steps[2]!, (id) => id)).toBe('Paint with the stencil Gull A and Gull B: it is not glued');
  expect(steps.slice(2).every((s) => s.runs.length === 0 && !s.blind)).toBe(true);
  // The caution about paint stands once, where painting begins.
  expect(steps.map((_, i) => stepCautions(steps, i, panels).includes('paint'))).toEqual([
    false,
    false,
    true,
    false,
  ]);
});
