import { describe, expect, it } from 'vitest';
import type { ShellPicture } from '../../src/model';
import { lay, markFixture } from '../support/pages';
import { gores } from '../support/panels';

const picture: ShellPicture = {
  width: 200,
  height: 300,
  strokes: [
    { kind: 'rim', from: { x: 0, y: 0 }, to: { x: 200, y: 0 }, id: 'e' },
    { kind: 'rim', from: { x: 0, y: 300 }, to: { x: 200, y: 300 }, id: 'e' },
    { kind: 'seam', from: { x: 0, y: 0 }, to: { x: 0, y: 300 }, id: 's' },
    { kind: 'mountain', from: { x: 200, y: 0 }, to: { x: 200, y: 300 }, id: 'f' },
  ],
};

describe('the shell on the map page', () => {
  it('stands inside the frame in its own proportions, with its words, on the one map page', async () => {
    const marked = markFixture(gores(6, 6, 200, 600));
    const without = await lay(marked);
    const plan = await lay(marked, {}, { shell: picture });
    const [map, ...more] = plan.pages.filter((p) => p.name.startsWith('map'));
    expect(more).toEqual([]);
    const before = without.pages.find((p) => p.name === 'map')!;
    const isNew = (s: NonNullable<typeof map>['strokes'][number]) =>
      !before.strokes.some((t) => JSON.stringify(t.points) === JSON.stringify(s.points));
    const drawn = map!.strokes.filter(
      (s) => isNew(s) && s.points.length === 2 && (s.kind === 'cut' || s.kind === 'notch'),
    );
    const sizes = drawn.map(({ points: [a, b] }) => ({ x: Math.abs(a!.x - b!.x), y: Math.abs(a!.y - b!.y) }));
    const flat = sizes.filter((s) => s.x > 20 && s.y < 1e-9);
    const upright = sizes.filter((s) => s.y > 20 && s.x < 1e-9);
    expect(flat.length).toBe(2);
    expect(upright.length).toBe(1);
    expect(upright[0]!.y / flat[0]!.x).toBeCloseTo(1.5, 9);
    const frame = plan.printed!;
    for (const { points } of drawn)
      for (const p of points) {
        expect(p.x).toBeGreaterThanOrEqual(frame.minX - 1e-9);
        expect(p.x).toBeLessThanOrEqual(frame.maxX + 1e-9);
        expect(p.y).toBeGreaterThanOrEqual(frame.minY - 1e-9);
        expect(p.y).toBeLessThanOrEqual(frame.maxY + 1e-9);
      }
    const words = map!.lettering.map((l) => l.text);
    expect(words).toContain('The shell folded up');
    expect(before.lettering.map((l) => l.text)).not.toContain('The shell folded up');
  });
});
