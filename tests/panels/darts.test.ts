/** Relief darts: placed with a width, opened by a join, proposed as slits; both sides one seam, equally long. */
import { describe, expect, it } from 'vitest';
import { unwatched } from '../../src/base';
import { makePanels, pulledByDarts } from '../../src/foam';
import { distance3, type Point3, polylineLength } from '../../src/math';
import { type DrawnEdit, defaultDecisions, noEdits, type PanelEdit } from '../../src/model';
import { dartsOf, loopsOfPiece, planJoin, proposePanels, recutPattern } from '../../src/panels';
import { shellSides } from '../../src/shell';
import { bollardPattern, openShell, shellPattern } from '../support/harbourWatch';
import { lineOver, type Made, madeFrom } from './support';

const bollard = madeFrom(bollardPattern());
const shell = madeFrom(
  shellPattern(openShell({ seed: 4, faces: 160, symmetric: false, net: 'mixed', jitter: 0 }), { seed: 4 }),
);

const foamOf = (
  made: Made,
  edits: readonly PanelEdit[],
  scale: number,
  thickness: number,
  onShell: boolean,
) => {
  const recut = recutPattern(made.pattern, made.seams, made.shell, { edits });
  const { shell: built } = recut;
  const foam = { ...defaultDecisions.foam, thickness, bends: made.shell.bends };
  const surface = onShell
    ? {
        ...{ pattern: recut.pattern, shell: built! },
        places: built!.vertices.map((p) => ({ x: p.x * scale, y: p.y * scale, z: p.z * scale })),
      }
    : null;
  const made1 = makePanels(
    recut.pattern,
    recut.seams,
    scale,
    foam,
    defaultDecisions.marks,
    undefined,
    { bends: built!.bends, taken: true },
    surface,
  );
  return { recut, foam: made1 };
};

const dartIn = (made: Made, width: number | null): DrawnEdit => ({
  ...lineOver(made, [], 6, [0.07, 0.55], { way: 'slit', bulge: 0.01 }),
  way: 'dart',
  width,
});

describe.each([
  ['on the shell', true],
  ['from the flat drawing', false],
])('a dart placed by hand, %s', (_, onShell) => {
  it.each([4, 9])(
    'is %f mm wide at its mouth in foam at every size and thickness, its sides equal',
    (width) => {
      for (const [scale, thickness] of [
        [1, 5],
        [1.3, 2],
      ] as const) {
        const { recut, foam } = foamOf(bollard, [dartIn(bollard, width)], scale, thickness, onShell);
        expect(recut.stuck).toEqual([]);
        const [dart] = dartsOf(foam.panels, recut.seams).filter((d) => d.edit === 'e1');
        expect(Math.abs(dart!.mouth - width)).toBeLessThan(0.02);
        for (const seam of recut.seams.seams.filter((s) => s.dart)) {
          const row = foam.rows.find((r) => r.seam === seam.id)!;
          expect(Math.abs(row.lengthA - row.lengthB)).toBeLessThan(0.05);
        }
        const note = foam.issues.find((i) => i.code === 'dart-width');
        expect(note?.message).toContain(`${width.toFixed(1)} mm wide`);
      }
    },
  );

  it('opens as the panel does when no width is given, and is left so when too wide, which is told', () => {
    const slit = foamOf(bollard, [{ ...dartIn(bollard, null), way: 'slit' }], 1, 5, onShell);
    const asked = foamOf(bollard, [dartIn(bollard, null)], 1, 5, onShell);
    expect(asked.foam.panels).toEqual(slit.foam.panels);
    const wide = foamOf(bollard, [dartIn(bollard, 500)], 1, 5, onShell);
    expect(wide.foam.issues.map((i) => i.code)).toContain('dart-too-wide');
    expect(wide.foam.panels).toEqual(slit.foam.panels);
  });
});

/** Seams by the two pieces that they join. */
function seamsBetween(made: Made): Map<string, string[]> {
  const runs = new Map<string, string[]>();
  for (const s of made.seams.seams) {
    const key = [s.a.piece, s.b.piece].sort().join(' ');
    runs.set(key, [...(runs.get(key) ?? []), s.id]);
  }
  return runs;
}

/** All seams between three pieces of which each meets the two others: the largest such ring. */
function ringOfThree(made: Made): string[] {
  const runs = seamsBetween(made);
  const between = (p: string, q: string) => runs.get([p, q].sort().join(' ')) ?? [];
  const ids = made.pattern.pieces.map((p) => p.id);
  let best: string[] = [];
  for (const [i, p] of ids.entries())
    for (const [j, q] of ids.entries())
      for (const [k, r] of ids.entries()) {
        if (!(i < j && j < k)) continue;
        const three = [between(p, q), between(q, r), between(p, r)];
        if (three.every((x) => x.length > 0) && three.flat().length > best.length) best = three.flat();
      }
  return best;
}

describe('joins and slits', () => {
  const closedBy = (lines: readonly string[]): PanelEdit[] => [{ kind: 'join', id: 'e1', lines }];

  it('a join whose whole seam does not lie flat opens a dart within the limit, and its width is what is laid out', () => {
    let opened = 0;
    const runs = [...seamsBetween(shell)].map(([, lines]) => lines).filter((lines) => lines.length > 2);
    const limits = { ...noEdits.limits, misfit: 0.3, dart: 15 };
    for (const lines of runs.slice(0, 5)) {
      const plan = planJoin(shell.pattern, shell.seams, { edits: [], limits }, lines);
      expect(plan.after).toBe(plan.before - 1);
      if (plan.forced || plan.close.length === lines.length) continue;
      opened++;
      for (const dart of plan.darts) expect(dart.width).toBeLessThanOrEqual(limits.dart + 1);
      const cut = recutPattern(shell.pattern, shell.seams, shell.shell, {
        edits: closedBy(plan.close),
      });
      expect(cut.stuck).toEqual([]);
      expect(cut.pattern.pieces.length).toBe(plan.after);
      const whole = recutPattern(shell.pattern, shell.seams, shell.shell, { edits: closedBy(lines) });
      const worst = (r: typeof cut) => Math.max(...r.panels.map((p) => p.misfit));
      expect(worst(cut)).toBeLessThanOrEqual(worst(whole) + 1e-6);
      const left = lines.filter((id) => !plan.close.includes(id));
      const ids = new Set(cut.seams.seams.map((s) => s.id));
      for (const id of left) expect(ids.has(id)).toBe(true);
      const laid = dartsOf(cut.pattern.pieces.map(loopsOfPiece), cut.seams);
      const widest = Math.max(0, ...laid.map((d) => d.width));
      if (laid.length === plan.darts.length)
        expect(widest).toBeCloseTo(Math.max(...plan.darts.map((d) => d.width)), 1);
    }
    expect(opened).toBeGreaterThan(0);
  });

  it('slits are proposed where a joined panel bulges, and then it lies flat with less strain', async () => {
    // A ring closes when three pieces round a corner are joined whole.
    const lines = ringOfThree(shell);
    const edits: PanelEdit[] = closedBy(lines);
    const limits = { ...noEdits.limits, misfit: 0.2, dart: 60 };
    const found = await proposePanels(
      shell.pattern,
      shell.seams,
      shell.shell,
      { edits, limits },
      'slits',
      unwatched,
    );
    if (!found.ok) throw new Error(found.issues[0]!.message);
    const slits = found.value;
    expect(slits.edits.map((e) => e.kind)).toEqual(['cut']);
    expect(slits.after.panels).toBe(slits.before.panels);
    expect(slits.darts.length).toBeGreaterThan(0);
    const before = recutPattern(shell.pattern, shell.seams, shell.shell, { edits });
    const after = recutPattern(shell.pattern, shell.seams, shell.shell, {
      edits: [...edits, { ...slits.edits[0]!, id: 'e2' }],
    });
    expect(after.stuck).toEqual([]);
    const worst = (r: typeof before) => Math.max(...r.panels.map((p) => p.misfit));
    expect(worst(after)).toBeLessThan(worst(before));
    for (const dart of dartsOf(after.pattern.pieces.map(loopsOfPiece), after.seams)) {
      const own = after.seams.seams.filter((s) => dart.seams.includes(s.id));
      for (const s of own) expect(Math.abs(s.lengthA - s.lengthB)).toBeLessThan(0.3);
    }
    // Matching marks: both sides of every dart are edges of one panel, as long as each other.
    const edges = new Map(
      after.pattern.pieces.flatMap((p) => p.outline.map((e) => [e.id, polylineLength(e.points)] as const)),
    );
    for (const s of after.seams.seams)
      if (s.a.piece === s.b.piece)
        expect(Math.abs((edges.get(s.a.edge) ?? 0) - (edges.get(s.b.edge) ?? 0))).toBeLessThan(0.3);
  });
});

describe('the shell folded anew with darts', () => {
  const surfaceOf = (width: number | null) => {
    const { shell: built, ...recut } = recutPattern(bollard.pattern, bollard.seams, bollard.shell, {
      edits: [dartIn(bollard, width)],
    });
    const surface = { pattern: recut.pattern, shell: built!, places: built!.vertices };
    return { surface, pulled: pulledByDarts(surface, recut.seams, 1), seams: recut.seams };
  };
  const dartEnds = ({ surface, seams }: ReturnType<typeof surfaceOf>) => {
    const own = new Set(seams.seams.flatMap((s) => (s.dart ? [s.a.edge, s.b.edge] : [])));
    const sides = shellSides(surface.shell, surface.pattern, seams).filter((s) => own.has(s.edge ?? ''));
    const count = new Map<number, number>();
    for (const { from, to } of sides) for (const v of [from, to]) count.set(v, (count.get(v) ?? 0) + 1);
    return [...count].flatMap(([v, n]) => (n === 2 ? [v] : []));
  };

  it('is left as it is without a width, and drawn together at the mouth, the wider the dart the more', () => {
    expect(surfaceOf(null).pulled).toBeNull();
    const around = [4, 9].map((width) => {
      const made = surfaceOf(width);
      const { surface, pulled } = made;
      const ends = new Set(dartEnds(made));
      // Sides of the panel's outline that end at the mouth, before and after.
      const own = new Set(made.seams.seams.flatMap((s) => (s.dart ? [s.a.edge, s.b.edge] : [])));
      const piece = made.seams.seams.find((s) => s.dart)!.a.piece;
      const beside = shellSides(surface.shell, surface.pattern, made.seams).filter(
        (s) =>
          surface.shell.faces[s.face]!.piece === piece &&
          s.edge !== null &&
          !own.has(s.edge) &&
          (ends.has(s.from) || ends.has(s.to)),
      );
      expect(beside).toHaveLength(2);
      const sum = (places: readonly Point3[]) =>
        beside.reduce((total, s) => total + distance3(places[s.from]!, places[s.to]!), 0);
      expect(pulled!.most).toBeGreaterThan(width / 4);
      expect(pulled!.most).toBeLessThan(2 * width);
      return sum(surface.places) - sum(pulled!.places);
    });
    // The mouth lies on a seam, and the panel beyond keeps its length: both sides meet half way.
    expect(Math.abs(around[0]! - 2)).toBeLessThan(0.1);
    expect(Math.abs(around[1]! - 4.5)).toBeLessThan(0.45);
  });
});
