/** Openings where a seam takes a part of an edge, and where parts are glued face to face: girths by a pencil. */
import { describe, expect, it } from 'vitest';
import { planBuild } from '../../src/build';
import { openingsOf } from '../../src/build/openings';
import { defaultDecisions, type Panel, type Seam, type Seams } from '../../src/model';
import { buildFixture, sidesOf } from '../support/panels';

const plate = (x: number, y: number, width: number, height: number) => ({
  name: `${width} × ${height}`,
  loops: [
    sidesOf([
      { x, y },
      { x: x + width, y },
      { x: x + width, y: y + height },
      { x, y: y + height },
    ]),
  ],
});

/** Edges of a plate: 0 below, 1 right, 2 above, 3 left. */
const part = (
  a: string,
  partA: readonly [number, number],
  b: string,
  partB: readonly [number, number],
): Seam => ({
  id: `${a}+${b} from ${partA[0]}`,
  number: 1,
  a: { piece: `P${a[1]}`, edge: a },
  b: { piece: `P${b[1]}`, edge: b },
  ...{ partA, partB, direction: 'opposed', evidence: 'person', confidence: 1 },
  lengthA: partA[1] - partA[0],
  lengthB: partB[1] - partB[0],
});
const seamsOf = (seams: readonly Seam[]): Seams => ({
  seams,
  runs: seams.map((s, i) => ({ id: `run${i + 1}`, number: i + 1, seams: [s.id] })),
  open: [],
  issues: [],
});
const girths = (
  foam: ReturnType<typeof buildFixture>['foam'],
  all: readonly Seam[],
  glued: readonly Seam[],
) => openingsOf(foam, seamsOf(all)).of(new Set(foam.panels.keys()), new Set(glued.map((s) => s.id)));

describe('openings of seams that take a part of an edge', () => {
  it('leave a slot between two seams of the same edges', () => {
    // A plate of 100 × 100 and a strip of 100 × 30 above it, glued 40 mm from either end: 20 mm stay open between.
    const { foam } = buildFixture('slot', [plate(0, 0, 100, 100), plate(0, 100, 100, 30)], []);
    const all = [part('e0.2', [0, 40], 'e1.0', [60, 100]), part('e0.2', [60, 100], 'e1.0', [0, 40])];
    // Round the outside 100 + 130 + 100 + 130; round the slot 2 × 20.
    expect(girths(foam, all, all)).toEqual([460, 40]);
    // One of them alone: all of both rims, 400 + 260, but for 40 mm of each.
    expect(girths(foam, all, [all[0]!])).toEqual([580]);
    expect(girths(foam, all, [])).toEqual([400, 260]);
  });

  it('go round two small plates on one long edge', () => {
    // A plate of 100 × 100, above it two of 50 × 60 beside each other that are not glued to each other.
    const { foam } = buildFixture(
      'tee',
      [plate(0, 0, 100, 100), plate(0, 100, 50, 60), plate(50, 100, 50, 60)],
      [],
    );
    const all = [part('e0.2', [50, 100], 'e1.0', [0, 50]), part('e0.2', [0, 50], 'e2.0', [0, 50])];
    // 400 + 2 × 220, but for 50 mm on both sides of two seams.
    expect(girths(foam, all, all)).toEqual([640]);
    // With the seam between the small plates nothing but the outside is left: 100 + 160 + 100 + 160.
    const between: Seam = part('e1.1', [0, 60], 'e2.3', [0, 60]);
    expect(girths(foam, [...all, between], [...all, between])).toEqual([520]);
  });
});

describe('parts that are glued face to face', () => {
  it('change no opening, and are no blind step', () => {
    const { foam, seams } = buildFixture(
      'two plates',
      [plate(0, 0, 100, 100), plate(100, 0, 100, 100)],
      [[[0, 1, 1, 3]]],
    );
    const [drawn] = buildFixture('layer', [plate(20, 20, 40, 40)], []).foam.panels;
    const layer: Panel = {
      ...drawn!,
      ...{ id: 'layer', pieces: [], extra: { kind: 'layer', part: 'x1' } },
      loops: drawn!.loops.map((loop) => loop.map((e) => ({ ...e, id: `layer ${e.id}` }))),
    };
    const plan = (panels: readonly Panel[]) =>
      planBuild({
        ...{
          foam: { ...foam, panels },
          seams,
          marked: null,
          shell: null,
          sheets: null,
          pages: 1,
          padding: 0,
        },
        decisions: defaultDecisions.build,
      }).steps;
    const [bare, dressed] = [plan(foam.panels), plan([...foam.panels, layer])];
    expect(dressed.slice(0, bare.length).map((s) => s.opening)).toEqual(bare.map((s) => s.opening));
    expect(bare.at(-1)!.opening).toBe(600);
    expect(dressed.slice(bare.length).map((s) => [s.kind, s.blind, s.adds])).toEqual([
      ['add', false, ['layer']],
    ]);
  });
});
