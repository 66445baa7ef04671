import { describe, expect, it } from 'vitest';
import type { Shell } from '../../src/model';
import { pictureOf, pictureView, turnShell, viewAxes } from '../../src/shell';
import { cubeFolded, pauldronFolded } from '../shellview/fixture';

const lengthOf = (strokes: readonly { from: { x: number; y: number }; to: { x: number; y: number } }[]) =>
  strokes.reduce((sum, s) => sum + Math.hypot(s.to.x - s.from.x, s.to.y - s.from.y), 0);

describe('the picture of a shell', () => {
  it('shows nine of a cube’s twelve edges, six of them as its rim', async () => {
    const { shell, sides } = await cubeFolded();
    const picture = pictureOf(shell, sides, pictureView);
    expect(picture.strokes.length).toBe(9);
    expect(picture.strokes.filter((s) => s.kind === 'rim').length).toBe(6);
    for (const { from, to } of picture.strokes)
      for (const p of [from, to]) {
        expect(p.x).toBeGreaterThan(-1e-9);
        expect(p.x).toBeLessThan(picture.width + 1e-9);
        expect(p.y).toBeGreaterThan(-1e-9);
        expect(p.y).toBeLessThan(picture.height + 1e-9);
      }
  });

  it('cuts a line where it goes behind a face', async () => {
    // A square of 100 mm with another of 40 mm before its middle, seen straight from the front.
    const square = (half: number, y: number) => [
      { x: half, y, z: -half },
      { x: -half, y, z: -half },
      { x: -half, y, z: half },
      { x: half, y, z: half },
    ];
    const { shell: cube } = await cubeFolded();
    const patch = (face: string, first: number) => ({
      piece: face,
      face,
      flat: [],
      vertices: [0, 1, 2, 3].map((i) => first + i),
    });
    const shell: Shell = {
      ...cube,
      vertices: [...square(50, 0), ...square(20, 30), { x: -60, y: 10, z: 0 }, { x: 60, y: 10, z: 0 }],
      faces: [
        patch('back', 0),
        patch('front', 4),
        { piece: 'line', face: 'line', flat: [], vertices: [8, 9, 8] },
      ],
    };
    const line = { face: 2, corner: 0, from: 8, to: 9, kind: 'seam', id: 's', edge: 's', bend: 0 } as const;
    const front = pictureOf(shell, [line], { azimuth: 0, elevation: 0 });
    expect(front.width).toBeCloseTo(120, 9);
    const stretches = front.strokes.map((s) => [Math.min(s.from.x, s.to.x), Math.max(s.from.x, s.to.x)]);
    expect(stretches.sort((p, q) => p[0]! - q[0]!)).toEqual([
      [expect.closeTo(0, 6), expect.closeTo(40, 6)],
      [expect.closeTo(80, 6), expect.closeTo(120, 6)],
    ]);
    // From behind both squares hide it: the large one from edge to edge.
    const back = pictureOf(shell, [line], { azimuth: Math.PI, elevation: 0 });
    expect(lengthOf(back.strokes)).toBeCloseTo(20, 6);
  });

  it('is the same when shell and viewer turn together', async () => {
    const { shell, sides } = await pauldronFolded();
    const straight = pictureOf(shell, sides, { azimuth: 0.4, elevation: 0.3 });
    expect(straight.strokes.length).toBeGreaterThan(30);
    // Counter-clockwise from above takes the front towards the wearer's left.
    const turned = turnShell(shell, { x: 0, y: 0, z: 0.7 });
    const again = pictureOf(turned, sides, { azimuth: 0.4 - 0.7, elevation: 0.3 });
    expect(lengthOf(again.strokes)).toBeCloseTo(lengthOf(straight.strokes), 3);
    expect(again.width).toBeCloseTo(straight.width, 6);
  });

  it('has upright, right-handed axes', () => {
    const front = viewAxes({ azimuth: 0, elevation: 0 });
    expect(front.right.x).toBeCloseTo(-1, 12);
    expect(front.up.z).toBeCloseTo(1, 12);
    const right = viewAxes({ azimuth: Math.PI / 2, elevation: 0 });
    expect(right.towards.x).toBeCloseTo(1, 12);
    expect(right.right.y).toBeCloseTo(1, 12);
  });
});
