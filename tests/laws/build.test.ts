import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planBuild, reachLine } from '../../src/build';
import { handGirth, openShare } from '../../src/build/tolerance';
import { type BuildPlan, defaultDecisions, type FoamResult, type Shell } from '../../src/model';
import { panelsOfTruth } from '../foam/shellFigures';
import { seamsOfTruth } from '../foam/truthSeams';
import {
  cross3,
  distance3,
  dot3,
  facePoints,
  minus,
  openLoops,
  openShell,
  plus,
  prism,
  type ShellMesh,
  type SolidName,
  scaleMesh,
  shellPattern,
  solid,
  type Truth,
  topologyOf,
} from '../support/harbourWatch';
import { type OtherKind, otherShell } from '../support/otherShells';
import { shellOfTruth } from '../support/truthShell';

interface Case {
  readonly truth: Truth;
  readonly foam: FoamResult;
  readonly plan: BuildPlan;
}

/** Cut into many panels, so that there is an order to be found. */
function planned(mesh: ShellMesh, maxFaces: number, withShell = true): Case {
  const truth = shellPattern(mesh, { maxFaces });
  // Paper: lengths are the mesh's own.
  const foam = panelsOfTruth(truth, { thickness: 0 });
  const shell: Shell | null = withShell ? shellOfTruth(truth) : null;
  return { truth, foam, plan: planOf(truth, foam, shell, []) };
}

const planOf = (truth: Truth, foam: FoamResult, shell: Shell | null, order: readonly string[]) =>
  planBuild({
    foam,
    seams: seamsOfTruth(truth),
    marked: null,
    shell,
    sheets: null,
    pages: 1,
    padding: 0,
    decisions: { ...defaultDecisions.build, order },
  });

/** How many groups the panels fall into by the given pairs. */
function groupCount(ids: readonly string[], pairs: readonly (readonly [string, string])[]): number {
  const group = new Map(ids.map((id) => [id, id]));
  for (const [a, b] of pairs) {
    const [from, to] = [group.get(a), group.get(b)];
    if (from === undefined || to === undefined) continue;
    for (const [id, g] of group) if (g === from) group.set(id, to);
  }
  return new Set(group.values()).size;
}

/**
 * Widest opening round some panels and the area behind it, from the mesh alone: edges that have one of the panels on a
 * single side, or whose two are not glued there yet. Null where rings touch in a corner, which they can't be told apart by.
 */
function trueOpening({ truth }: Case, present: ReadonlySet<string>, glued: ReadonlySet<string>) {
  const { shell } = truth;
  const topology = topologyOf(shell);
  const starts = new Map<number, { to: number; length: number }>();
  let count = 0;
  let area = 0;
  for (const piece of truth.pieces) {
    if (!present.has(piece.id)) continue;
    const faces = new Set(piece.faces.flatMap((f) => f.meshFaces));
    for (const f of faces) {
      const ring = facePoints(shell, f);
      const sum = ring
        .slice(2)
        .map((p, i) => cross3(minus(ring[i + 1]!, ring[0]!), minus(p, ring[0]!)))
        .reduce(plus);
      area += Math.sqrt(dot3(sum, sum)) / 2;
    }
    for (const edge of piece.outline) {
      if (edge.mate !== null && glued.has([edge.id, edge.mate].sort().join('~'))) continue;
      const e = topology.edges[edge.meshEdge]!;
      const [from, to] = faces.has(e.left) ? [e.from, e.to] : [e.to, e.from];
      starts.set(from, { to, length: distance3(shell.vertices[from]!, shell.vertices[to]!) });
      count++;
    }
  }
  if (starts.size !== count) return null;
  const girths = [0];
  for (const first of [...starts.keys()]) {
    let girth = 0;
    for (let at = first; starts.has(at); ) {
      const { to, length } = starts.get(at)!;
      starts.delete(at);
      girth += length;
      at = to;
    }
    girths.push(girth);
  }
  return { girth: Math.max(...girths), area };
}

const blindBy = ({ girth, area }: { girth: number; area: number }) =>
  girth < handGirth && girth ** 2 < openShare * 4 * Math.PI * area;

/** The laws; returns how many steps were tried against the mesh and how many of them were blind. */
function expectLaws(of: Case): { tried: number; blind: number } {
  const { truth, foam, plan } = of;
  expect(plan.issues).toEqual([]);
  // Every panel once, every seam once.
  expect(plan.steps.flatMap((s) => s.adds).sort()).toEqual(foam.panels.map((p) => p.id).sort());
  expect(plan.steps.flatMap((s) => s.runs.flatMap((r) => r.seams)).sort()).toEqual(
    seamsOfTruth(truth)
      .seams.map((s) => s.id)
      .sort(),
  );
  const there = new Set<string>();
  const glued = new Set<string>();
  const pairs: (readonly [string, string])[] = [];
  const count = { tried: 0, blind: 0 };
  for (const step of plan.steps) {
    const before = new Set(there);
    for (const p of step.adds) there.add(p);
    const own = step.runs.map((r) => r.panels);
    // A ring is closed between panels that hang together already.
    if (step.kind === 'close')
      for (const [a, b] of own) expect(groupCount(step.present, pairs), `${a} ${b}`).toBe(1);
    pairs.push(...own);
    for (const r of step.runs) for (const s of r.seams) glued.add(s);
    // Attached to what is there, or the start of a sub-assembly of two.
    if (step.kind === 'attach' && step.adds.length === 1)
      expect(own.some(([a, b]) => before.has(a) || before.has(b))).toBe(true);
    // Everything in hand is one assembly.
    expect(groupCount(step.present, pairs)).toBe(1);
    // Reach: never a closed-in seam without a word.
    const truly = trueOpening(of, new Set(step.present), glued);
    if (truly && step.runs.length > 0) {
      count.tried++;
      expect(step.opening).toBeCloseTo(truly.girth, 3);
      expect(step.blind, step.id).toBe(blindBy(truly));
      if (step.blind) count.blind++;
    }
    expect(reachLine(step, 'mm') !== null).toBe(step.blind);
  }
  // A part that fills a ring is the last that its assembly takes: after the last closing nothing is attached.
  const kinds = plan.steps.map((s) => s.kind);
  const whole = plan.steps.findIndex((s) => s.present.length === foam.panels.length);
  if (whole >= 0) expect(kinds.slice(whole + 1).every((k) => k === 'close')).toBe(true);
  return count;
}

const names: readonly SolidName[] = ['tetrahedron', 'cube', 'octahedron', 'dodecahedron', 'icosahedron'];

describe('the gluing order of small shells', () => {
  it('of hoods keeps a hand behind every seam, since the rim stays open', () => {
    let tried = 0;
    const hood = fc.record({
      seed: fc.integer({ min: 1, max: 500 }),
      faces: fc.integer({ min: 40, max: 70 }),
      symmetric: fc.boolean(),
      maxFaces: fc.integer({ min: 2, max: 6 }),
    });
    fc.assert(
      fc.property(hood, ({ maxFaces, ...rest }) => {
        // About 500 mm round at the rim.
        const hoodMesh = scaleMesh(openShell({ ...rest, net: 'quads', jitter: 0 }), 2);
        const of = planned(hoodMesh, maxFaces, rest.symmetric);
        expect(openLoops(topologyOf(of.truth.shell)).length).toBeGreaterThan(0);
        const count = expectLaws(of);
        expect(count.blind).toBe(0);
        tried += count.tried;
      }),
      { numRuns: 6 },
    );
    expect(tried).toBeGreaterThan(20);
  });

  it('of mirror-symmetric shells does the same on both sides one right after the other', () => {
    let paired = 0;
    const shapes = fc.record({
      kind: fc.constantFrom('hood', 'symmetric dome' satisfies OtherKind),
      seed: fc.integer({ min: 1, max: 500 }),
      faces: fc.integer({ min: 45, max: 80 }),
      maxFaces: fc.integer({ min: 2, max: 6 }),
    });
    fc.assert(
      fc.property(shapes, ({ kind, seed, faces, maxFaces }) => {
        const hood = () => scaleMesh(openShell({ seed, faces, symmetric: true, net: 'mixed', jitter: 0 }), 2);
        const of = planned(kind === 'hood' ? hood() : otherShell(kind, seed, faces), maxFaces);
        expectLaws(of);
        // The generator names mirror images R1 and L1, R2 and L2, and what lies in the middle M1, M2.
        const names = new Map(of.truth.pieces.map((p) => [p.id, p.name]));
        const sided = of.plan.steps.map((s) =>
          s.adds.map((id) => names.get(id)!).filter((n) => !n.startsWith('M')),
        );
        const written = (all: readonly string[]) => [...all].sort().join();
        for (const [i, own] of sided.entries()) {
          const image = written(own.map((n) => (n.startsWith('L') ? 'R' : 'L') + n.slice(1)));
          if (own.length === 0 || image === written(own)) continue;
          const twin = sided.findIndex((other) => written(other) === image);
          expect(Math.abs(twin - i), `${own} and ${image}`).toBe(1);
          paired++;
        }
      }),
      { numRuns: 5 },
    );
    expect(paired).toBeGreaterThan(30);
  });

  it('of closed solids says at the last seam that it is pressed from outside', () => {
    fc.assert(
      fc.property(fc.constantFrom(...names), fc.integer({ min: 20, max: 150 }), (name, edge) => {
        const of = planned(solid(name, edge), 1, false);
        expectLaws(of);
        const last = of.plan.steps.at(-1)!;
        expect([last.opening, last.blind]).toEqual([0, true]);
        expect(reachLine(last, 'mm')).toContain('No opening is left');
        // Two faces of a solid lie open.
        expect(of.plan.steps[0]!.blind).toBe(false);
      }),
      { numRuns: 8 },
    );
  });

  it.each([
    [30, 120, true],
    [45, 120, false],
  ])('of an open tube of %d mm radius goes by what a hand needs', (radius, height, blind) => {
    const of = planned(prism(8, radius, height, true), 1, false);
    // 8 sides of 2 r sin 22.5°: 183.7 and 275.5 mm round, against 250.
    expectLaws(of);
    const last = of.plan.steps.at(-1)!;
    expect(last.opening).toBeCloseTo(16 * radius * Math.sin(Math.PI / 8), 6);
    expect(last.blind).toBe(blind);
  });

  it('tells when a hand-made order walls a panel in', () => {
    const of = planned(solid('cube', 60), 1, false);
    // What is told goes by what is open after a step, not by the step's place in the order.
    const ids = of.plan.steps.map((s) => s.id);
    const turned = planOf(of.truth, of.foam, null, [ids.at(-1)!, ...ids.slice(0, -1)]);
    const blind = turned.steps.filter((s) => s.blind);
    expect(blind.length).toBeGreaterThan(0);
    expect(blind.every((s) => s.opening < handGirth)).toBe(true);
  });
});
