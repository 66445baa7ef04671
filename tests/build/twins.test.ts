/** The gluing order of mirror-symmetric sample shells: mirrored work in pairs, one right after the other. */
import { describe, expect, it } from 'vitest';
import { planBuild } from '../../src/build';
import { defaultDecisions } from '../../src/model';
import { panelsOfTruth } from '../foam/shellFigures';
import { seamsOfTruth } from '../foam/truthSeams';
import { corpus } from '../support/harbourWatch';
import { shellOfTruth } from '../support/truthShell';

describe('the gluing order of a shell with two like sides', () => {
  const symmetric = corpus.slice(0, 1).flatMap(({ name, make }) => {
    const truth = make();
    const shell = shellOfTruth(truth);
    return shell.symmetry ? [{ name, truth, shell }] : [];
  });

  it('is tried on shells that have them', () => {
    expect(symmetric.map((s) => s.name)).toContain('Gannet helm');
  });

  it.each(symmetric)(
    '$name: pairs stand together, every panel once, each step attached',
    ({ truth, shell }) => {
      const foam = panelsOfTruth(truth);
      const plan = planBuild({
        foam,
        seams: seamsOfTruth(truth),
        marked: null,
        shell,
        sheets: null,
        pages: 10,
        padding: 5,
        decisions: defaultDecisions.build,
      });
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
    },
  );
});
