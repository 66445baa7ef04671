/** Mirror pairs: found on finished outlines, drawn once, and never where two panels differ. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ringArea } from '../../src/math';
import type { FoamResult, Panel } from '../../src/model';
import { drawnOnce, mirrorPairs, pairIssues, withPairs } from '../../src/panels';
import { panelsOfTruth } from '../foam/shellFigures';
import { seamsOfTruth } from '../foam/truthSeams';
import { openShell, shellPattern } from '../support/harbourWatch';
import '../support/lawSeed';

const truth = shellPattern(openShell({ seed: 4, faces: 120, symmetric: true, net: 'mixed', jitter: 0 }), {
  seed: 4,
  maxFaces: 1,
});
const foam = panelsOfTruth(truth, { thickness: 5 });

type Turn = (p: { readonly x: number; readonly y: number }) => { readonly x: number; readonly y: number };
/** The same panel laid elsewhere; `over`: turned over, its rings and edges running the other way. */
function laid(panel: Panel, at: Turn, over: boolean): Panel {
  const line = <T extends { readonly x: number; readonly y: number }>(points: readonly T[]) => {
    const out = points.map(at);
    return over ? out.reverse() : out;
  };
  const { inside, traced, outside } = panel.outlines;
  return {
    ...panel,
    loops: panel.loops.map((loop) => loop.map((e) => ({ ...e, points: line(e.points) }))),
    outlines: { inside: inside.map(line), traced: traced.map(line), outside: outside.map(line) },
  };
}
const turnOver: Turn = (p) => ({ x: 7 - p.x, y: p.y });
const of = (panels: readonly Panel[]): FoamResult => ({ ...foam, panels });

describe('mirror pairs', () => {
  it('of a symmetric shell in single faces: most panels pair, with equal areas, and are drawn once', () => {
    const pairs = mirrorPairs(foam, 0.3);
    expect(pairs.length).toBeGreaterThan(foam.panels.length / 3);
    const byId = new Map(foam.panels.map((p) => [p.id, p]));
    for (const { kept, twin, off } of pairs) {
      expect(off).toBeLessThanOrEqual(0.3);
      const [a, b] = [kept, twin].map((id) => ringArea(byId.get(id)!.outlines.traced[0]!));
      expect(Math.abs(a! - b!)).toBeLessThan(0.3 * 200);
    }
    const once = drawnOnce(withPairs(foam, pairs), pairs);
    expect(once.panels.length).toBe(foam.panels.length - pairs.length);
    // What is cut is as much as before.
    const cut = once.panels.reduce((n, p) => n + p.quantity * (p.mirrored ? 2 : 1), 0);
    expect(cut).toBe(foam.panels.reduce((n, p) => n + p.quantity, 0));
    const told = pairIssues(foam, seamsOfTruth(truth), pairs, 0.3);
    expect(told[0]!.message).toContain(`${pairs.length} templates are cut twice`);
  });

  it('a panel pairs with itself turned over, wherever it lies; turned over twice it is the same panel', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...foam.panels),
        fc.double({ min: 0, max: 6.28, noNaN: true }),
        fc.double({ min: -500, max: 500, noNaN: true }),
        (panel, angle, dx) => {
          const [c, s] = [Math.cos(angle), Math.sin(angle)];
          const move: Turn = (p) => ({ x: c * p.x - s * p.y + dx, y: s * p.x + c * p.y - dx });
          const twin = { ...laid(laid(panel, turnOver, true), move, false), id: 'twin' };
          const [pair] = mirrorPairs(of([panel, twin]), 1e-6);
          expect(pair).toMatchObject({ kept: panel.id, twin: 'twin' });
          const back = laid(laid(panel, turnOver, true), turnOver, true);
          for (const [i, p] of back.outlines.traced[0]!.entries()) {
            expect(p.x).toBeCloseTo(panel.outlines.traced[0]![i]!.x, 9);
            expect(p.y).toBeCloseTo(panel.outlines.traced[0]![i]!.y, 9);
          }
        },
      ),
      { numRuns: 20 },
    );
  });

  it('a corner that is off by more than the tolerance, another thickness or another number keep two apart', () => {
    const panel = foam.panels.find((p) => p.outlines.traced[0]!.length === 4)!;
    const twin = { ...laid(panel, turnOver, true), id: 'twin' };
    const [first, ...rest] = twin.outlines.traced[0]!;
    const off = {
      ...twin,
      outlines: { ...twin.outlines, traced: [[{ x: first!.x + 2, y: first!.y }, ...rest]] },
    };
    expect(mirrorPairs(of([panel, twin]), 0.3).length).toBe(1);
    expect(mirrorPairs(of([panel, off]), 0.3)).toEqual([]);
    expect(mirrorPairs(of([panel, { ...twin, thickness: 8 }]), 0.3)).toEqual([]);
    expect(mirrorPairs(of([panel, { ...twin, quantity: 2 }]), 0.3)).toEqual([]);
  });
});
