/** The build of a mirror-symmetric sample shell: mirrored work in pairs, one right after the other, and what it takes. */
import { describe, expect, it } from 'vitest';
import { planBuild } from '../../src/build';
import { defaultDecisions } from '../../src/model';
import { panelsOfTruth } from '../foam/shellFigures';
import { seamsOfTruth } from '../foam/truthSeams';
import { gannetPattern } from '../support/harbourWatch';
import { shellOfTruth } from '../support/truthShell';

const truth = gannetPattern();
const foam = panelsOfTruth(truth, { thickness: 5 });
const shell = shellOfTruth(truth);
const plan = planBuild({
  foam,
  seams: seamsOfTruth(truth),
  marked: null,
  shell,
  sheets: null,
  // As many as its pages on A4 are, give or take.
  pages: 9,
  padding: 5,
  decisions: defaultDecisions.build,
});

describe('the gluing order of the Gannet helm', () => {
  it('has every panel once, each step attached, and pairs stand together', () => {
    expect(shell.symmetry).not.toBeNull();
    expect(plan.issues).toEqual([]);
    const taken = plan.steps.flatMap((s) => s.adds);
    expect([...taken].sort()).toEqual(foam.panels.map((p) => p.id).sort());
    const place = new Map(plan.steps.map((s, i) => [s.id, i]));
    const twins = plan.steps.filter((s) => s.twin !== null && s.twin !== s.id);
    const apart = twins
      .map((s) => [s.id, Math.abs(place.get(s.twin!)! - place.get(s.id)!)] as const)
      .filter(([, by]) => by !== 1);
    expect(apart).toEqual([]);
    // One image of each twin is the other.
    for (const step of twins) expect(plan.steps[place.get(step.twin!)!]!.twin).toBe(step.id);
    expect(twins.length).toBeGreaterThan(0);
  });

  it('leaves a hand room behind every seam, as its rim stays open', () => {
    // Its rim goes round a neck and a face: far more than a hand needs.
    expect(plan.steps.filter((s) => s.blind).map((s) => s.id)).toEqual([]);
    expect(plan.steps.at(-1)!.opening).toBeGreaterThan(500);
  });
});

describe('what the Gannet helm takes at the prices and paces that a project starts with', () => {
  it('is about 20 dollars of material and about four days', () => {
    const { needs } = plan;
    // Common practice, no source: a helm of foam is made for about 20 US dollars of material in about four days. Prices
    // differ by a good third of that from shop to shop, hands by a quarter.
    expect(defaultDecisions.build.currency).toBe('$');
    expect(needs.cost).toBeGreaterThan(13);
    expect(needs.cost).toBeLessThan(27);
    expect(needs.days).toBeGreaterThan(3);
    expect(needs.days).toBeLessThan(5);
    expect(needs.materials.map((r) => r.label)).toEqual([
      ...['Foam, 5 mm', 'Contact adhesive', 'Sealer', 'Paint', 'Padding, 5 mm', 'Tape'],
    ]);
    for (const r of [...needs.materials, ...needs.work]) expect(r.total, r.label).toBeGreaterThan(0);
  });
});
