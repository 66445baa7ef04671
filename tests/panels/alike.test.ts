/** Panels that are nearly mirror images made exactly that: by how much each moves, and what keeps them apart. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distance, polylineLength } from '../../src/math';
import type { AlikeEdit, FoamResult, Panel } from '../../src/model';
import { makeAlike, mirrorPairs, nearMirrorPairs } from '../../src/panels';
import { panelsOfTruth } from '../foam/shellFigures';
import { seamsOfTruth } from '../foam/truthSeams';
import { openShell, shellPattern } from '../support/harbourWatch';
import '../support/lawSeed';

const truth = shellPattern(openShell({ seed: 4, faces: 60, symmetric: true, net: 'mixed', jitter: 0 }), {
  seed: 4,
  maxFaces: 1,
});
const foam = panelsOfTruth(truth, { thickness: 5 });
const seams = seamsOfTruth(truth);
const pairs = mirrorPairs(foam, 0.3);

/** The panel with each corner moved by up to so much, on all skins and edges alike. */
function shaken(panel: Panel, by: number, seed: number): Panel {
  const at = (p: { readonly x: number; readonly y: number }) => {
    const t = Math.sin(p.x * 12.9898 + p.y * 78.233 + seed) * 43758.5453;
    const u = Math.sin(p.x * 39.346 + p.y * 11.135 + seed) * 24634.6345;
    return { x: p.x + by * (t - Math.floor(t) - 0.5), y: p.y + by * (u - Math.floor(u) - 0.5) };
  };
  const { inside, traced, outside } = panel.outlines;
  const rings = (all: typeof inside) => all.map((r) => r.map(at));
  return {
    ...panel,
    loops: panel.loops.map((loop) => loop.map((e) => ({ ...e, points: e.points.map(at) }))),
    outlines: { inside: rings(inside), traced: rings(traced), outside: rings(outside) },
  };
}

const alike = (p: string, q: string, within: number): AlikeEdit => ({
  kind: 'alike',
  id: 'e1',
  panels: [p, q],
  within,
});

describe('making panels symmetric', () => {
  it('the mean of both: exact mirror images, neither moved by more than half of what they were apart', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...pairs),
        fc.double({ min: 0.1, max: 1.5, noNaN: true }),
        fc.nat({ max: 1000 }),
        ({ kept, twin }, by, seed) => {
          const changed: FoamResult = {
            ...foam,
            panels: foam.panels.map((p) => (p.id === twin ? shaken(p, by, seed) : p)),
          };
          const before = changed.panels.filter((p) => p.id === kept || p.id === twin);
          const [apart] = mirrorPairs({ panels: before }, 5);
          fc.pre(apart !== undefined);
          const { foam: after, made } = makeAlike(changed, seams, [alike(kept, twin, 5)]);
          expect(made.length).toBe(1);
          const now = after.panels.filter((p) => p.id === kept || p.id === twin);
          const [found] = mirrorPairs({ panels: now }, 1e-3);
          expect(found).toBeDefined();
          expect(found!.off).toBeLessThan(1e-6);
          expect(made[0]!.moved).toBeLessThanOrEqual(apart!.off / 2 + 1e-6);
          const moved = now.map((p, i) =>
            Math.max(...p.outlines.traced[0]!.map((r, k) => distance(r, before[i]!.outlines.traced[0]![k]!))),
          );
          expect(Math.max(...moved)).toBeLessThanOrEqual(made[0]!.moved + 1e-6);
          expect(after.issues.map((i) => i.code)).toContain('panels-made-alike');
          // Seams that came apart are told, and no others: by the lengths of their edges before and after.
          const lengths = (panels: readonly Panel[]) =>
            new Map(
              panels.flatMap((p) => p.loops.flat().map((e) => [e.id, polylineLength(e.points)] as const)),
            );
          const [then, is] = [lengths(changed.panels), lengths(after.panels)];
          const grew = (edge: string) => is.get(edge)! - then.get(edge)!;
          const told = new Set(
            after.issues.flatMap((i) => (i.code === 'alike-seam-apart' ? i.place.ids! : [])),
          );
          // Panels of one face: each run is one seam.
          for (const { a, b } of seams.seams) {
            const by = Math.abs(grew(a.edge) - grew(b.edge));
            if (by > 0.301) expect(told.has(a.edge)).toBe(true);
            if (by < 0.299) expect(told.has(a.edge)).toBe(false);
          }
          // Once more changes nothing; the rest is the very same.
          const again = makeAlike(after, seams, [alike(kept, twin, 5)]);
          expect(again.made[0]!.moved).toBeLessThan(1e-6);
          for (const [i, p] of after.panels.entries())
            if (p.id !== kept && p.id !== twin) expect(p).toBe(changed.panels[i]);
          for (const p of now) {
            const corners = p.outlines.traced[0]!;
            for (const e of p.loops.flat())
              for (const end of e.points)
                expect(Math.min(...corners.map((c) => distance(c, end)))).toBeLessThan(1e-6);
          }
        },
      ),
      { numRuns: 15 },
    );
  });

  it('offers true pairs alone while panels differ by little, however much is allowed; beyond, what agrees best', () => {
    const truly = new Set(pairs.map((p) => `${p.kept} ${p.twin}`));
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 1, noNaN: true }), fc.nat({ max: 1000 }), (by, seed) => {
        const twins = new Set(pairs.map((p) => p.twin));
        const panels = foam.panels.map((p) => (twins.has(p.id) ? shaken(p, by, seed) : p));
        const offered = nearMirrorPairs({ panels }, 20);
        const wrong = offered.filter((p) => !truly.has(`${p.kept} ${p.twin}`));
        if (by < 0.3) expect([wrong.length, offered.length]).toEqual([0, pairs.length]);
        // Shaken by more, a panel can come nearer to a neighbour of its image than to the image, and is then offered with it.
        for (const p of wrong)
          for (const own of pairs.filter((q) =>
            [q.kept, q.twin].some((id) => id === p.kept || id === p.twin),
          )) {
            const two = panels.filter(({ id }) => id === own.kept || id === own.twin);
            for (const { off } of nearMirrorPairs({ panels: two }, 20))
              expect(p.off).toBeLessThan(1.05 * off);
          }
      }),
      { numRuns: 3 },
    );
    const lopsided = openShell({ seed: 4, faces: 60, symmetric: false, net: 'mixed', jitter: 0 });
    const other = panelsOfTruth(shellPattern(lopsided, { seed: 4, maxFaces: 8 }), { thickness: 5 });
    expect(other.panels.length).toBeGreaterThan(8);
    expect(mirrorPairs(other, 20).length).toBeGreaterThan(0);
    expect(nearMirrorPairs(other, 20)).toEqual([]);
  });

  it('is told, with a way out, where panels differ by more or are gone; without such edits nothing is touched', () => {
    const [pair] = pairs;
    const other = foam.panels.find((p) => p.id !== pair!.kept && p.id !== pair!.twin)!;
    for (const edit of [alike(pair!.kept, 'nowhere', 1), alike(pair!.kept, other.id, 0.01)]) {
      const { foam: after, made } = makeAlike(foam, seams, [edit]);
      expect(made).toEqual([]);
      expect(after.panels).toEqual(foam.panels);
      expect(after.stuckEdits).toEqual(['e1']);
      expect(after.issues.at(-1)).toMatchObject({ code: 'panels-not-alike', severity: 'warning' });
      expect(after.issues.at(-1)!.remedy).not.toBe('');
    }
    expect(makeAlike(foam, seams, []).foam).toBe(foam);
  });
});
