import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/base';
import { planBuild, stepTitle } from '../../src/build';
import { type BuildPlan, defaultDecisions, type FoamResult, type Seams } from '../../src/model';
import { buildFixture, family, gores, type PanelSpec, type SeamSpec, sidesOf } from '../support/panels';

type Input = Parameters<typeof planBuild>[0];

const plan = (foam: FoamResult, seams: Seams, more: Partial<Input> = {}): BuildPlan =>
  planBuild({
    foam,
    seams,
    marked: null,
    shell: null,
    sheets: null,
    pages: 10,
    padding: 5,
    decisions: defaultDecisions.build,
    ...more,
  });

/** A grid of square plates, each glued to its neighbours, some seams left out: holes, rings and loose plates. */
function plates(seed: number) {
  const random = seededRandom(seed);
  const columns = 2 + Math.floor(random() * 5);
  const rows = 1 + Math.floor(random() * 4);
  const specs: PanelSpec[] = Array.from({ length: columns * rows }, (_, i) => {
    const x = (i % columns) * 120;
    const y = Math.floor(i / columns) * 120;
    return {
      name: `Plate ${i + 1}`,
      loops: [
        sidesOf([
          { x, y },
          { x: x + 100, y },
          { x: x + 100, y: y + 100 },
          { x, y: y + 100 },
        ]),
      ],
    };
  });
  const runs: SeamSpec[][] = [];
  const ring = random() < 0.5 && columns > 2;
  specs.forEach((_, i) => {
    const right = (i % columns) + 1 < columns ? i + 1 : ring ? i + 1 - columns : -1;
    const above = i + columns < specs.length ? i + columns : -1;
    if (right >= 0 && random() < 0.85) runs.push([[i, 1, right, 3]]);
    if (above >= 0 && random() < 0.85) runs.push([[i, 2, above, 0]]);
  });
  return buildFixture(`plates ${seed}`, specs, runs);
}

/** Groups of panels that hang together by the given seams. */
function groups(ids: readonly string[], pairs: readonly (readonly [string, string])[]): number {
  const left = new Set(ids);
  let count = 0;
  for (const id of ids) {
    if (!left.delete(id)) continue;
    count++;
    const group = [id];
    for (const p of group)
      for (const [a, b] of pairs) {
        const other = a === p ? b : b === p ? a : p;
        if (left.delete(other)) group.push(other);
      }
  }
  return count;
}

/** The laws of an order, in words of the steps alone. */
function expectGoodOrder(foam: FoamResult, seams: Seams, { steps, issues }: BuildPlan): void {
  expect(issues).toEqual([]);
  expect(new Set(steps.map((s) => s.id)).size).toBe(steps.length);
  // Every panel once, every seam once.
  expect(steps.flatMap((s) => s.adds).sort()).toEqual(foam.panels.map((p) => p.id).sort());
  expect(steps.flatMap((s) => s.runs.flatMap((r) => r.seams)).sort()).toEqual(
    seams.seams.map((s) => s.id).sort(),
  );
  const there = new Set<string>();
  const glued: (readonly [string, string])[] = [];
  const closedBy = new Map<string, number>();
  steps.forEach((step) => {
    const before = new Set(there);
    for (const p of step.adds) there.add(p);
    const pairs = step.runs.map((r) => r.panels);
    // Nothing is glued to what is not there.
    for (const [a, b] of pairs)
      expect([there.has(a) || step.kind === 'shape', there.has(b) || step.kind === 'shape']).toEqual([
        true,
        true,
      ]);
    // What is there after the step is one assembly.
    glued.push(...pairs);
    if (step.kind === 'begin') expect(step.runs).toEqual([]);
    else {
      expect(step.runs.length).toBeGreaterThan(0);
      expect(groups(step.present, glued)).toBe(1);
    }
    // New panels go onto something, unless they start a sub-assembly.
    if (step.kind === 'attach' && step.adds.length === 1)
      expect(pairs.some((pair) => pair.includes(step.adds[0]!) && pair.some((p) => before.has(p)))).toBe(
        true,
      );
    if (step.kind === 'join') expect(step.adds).toEqual([]);
    // Once an assembly closes a ring, nothing is added to it but by joining it as a whole.
    for (const p of step.present) {
      if (step.kind === 'attach' && step.adds.length === 1 && before.has(p) && closedBy.has(p))
        expect(step.present.length).toBeGreaterThan(closedBy.get(p)!);
      if (step.kind === 'close') closedBy.set(p, step.present.length);
    }
  });
}

describe('the gluing order', () => {
  it.each(family())('is good for $name', ({ foam, seams }) =>
    expectGoodOrder(foam, seams, plan(foam, seams)),
  );

  it('is good for any grid of plates', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10_000 }), (seed) => {
        const { foam, seams } = plates(seed);
        expectGoodOrder(foam, seams, plan(foam, seams));
      }),
      { numRuns: 60 },
    );
  });

  it('builds gores in small groups first and closes the bell last', () => {
    const { foam, seams } = gores(12, 4, 300, 640);
    const { steps } = plan(foam, seams);
    const firstJoin = steps.findIndex((s) => s.kind === 'join');
    expect(firstJoin).toBeGreaterThan(0);
    expect(steps.slice(firstJoin).every((s) => s.kind !== 'attach')).toBe(true);
    expect(steps.at(-1)!.present).toHaveLength(12);
    // The bell is no ring before its last step: some seam is still open until then.
    const before = steps.slice(0, -1).flatMap((s) => s.runs.flatMap((r) => r.seams));
    expect(before.length).toBeLessThan(seams.seams.length);
  });

  it('closes a ring of plates by a step of its own, last', () => {
    const columns = 5;
    const specs: PanelSpec[] = Array.from({ length: columns }, (_, i) => ({
      name: `P${i}`,
      loops: [
        sidesOf([
          { x: i * 60, y: 0 },
          { x: i * 60 + 50, y: 0 },
          { x: i * 60 + 50, y: 80 },
          { x: i * 60, y: 80 },
        ]),
      ],
    }));
    const { foam, seams } = buildFixture(
      'tube',
      specs,
      specs.map((_, i): SeamSpec[] => [[i, 1, (i + 1) % columns, 3]]),
    );
    const { steps } = plan(foam, seams);
    expect(steps.map((s) => s.kind)).toEqual(['attach', 'attach', 'attach', 'attach', 'close']);
    expect(stepTitle(steps.at(-1)!, (id) => id)).toContain('Close between');
  });

  it('goes by the person’s hand, and tells when a step has nothing to glue to', () => {
    const { foam, seams } = gores(5, 4, 180, 500);
    const { steps } = plan(foam, seams);
    const ids = steps.map((s) => s.id);
    const moved = (order: string[]) => plan(foam, seams, { decisions: { ...defaultDecisions.build, order } });
    // All seams are still glued once, whatever the order.
    const turned = moved([...ids].reverse());
    expect(turned.steps.map((s) => s.id)).toEqual([...ids].reverse());
    expect(turned.issues.map((i) => i.code)).toContain('step-not-attached');
    expect(turned.steps.flatMap((s) => s.runs.flatMap((r) => r.seams)).sort()).toEqual(
      seams.seams.map((s) => s.id).sort(),
    );
    // Ids that are not there any more change nothing.
    expect(moved(['attach:gone', ...ids]).steps).toEqual(steps);
  });

  it('remembers what is done', () => {
    const { foam, seams } = gores(5, 4, 180, 500);
    const first = plan(foam, seams).steps[0]!.id;
    const { steps } = plan(foam, seams, { decisions: { ...defaultDecisions.build, done: [first] } });
    expect(steps.map((s) => s.done)).toEqual(steps.map((_, i) => i === 0));
  });

  it('is the same for the same panels', () => {
    const { foam, seams } = plates(7);
    expect(plan(structuredClone(foam), structuredClone(seams))).toEqual(plan(foam, seams));
  });
});
