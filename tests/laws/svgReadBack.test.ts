/** The panels drawing, read back by the project's own reader: same size, same outlines, kinds told apart. */
import { describe, expect, it } from 'vitest';
import { flattenLine, readDrawing } from '../../src/drawing';
import { distance, ringArea } from '../../src/math';
import { writePanelsSvg } from '../../src/output';
import { markFixture } from '../support/pages';
import { family } from '../support/panels';

describe('read(write(panels))', () => {
  it.each(family())('gives the outlines back: $name', (fixture) => {
    const marked = markFixture(fixture);
    const svg = writePanelsSvg(marked, { title: fixture.name, tracedFace: 'outside' });
    const read = readDrawing({ name: 'panels.svg', svg }, { file: 0, size: { kind: 'ask' } });
    expect(read.ok).toBe(true);
    if (!read.ok) return;
    const { size, lines } = read.value;
    expect(size.from.kind).toBe('physical');
    const [minX, top] = /viewBox="([^"]+)"/.exec(svg)![1]!.split(' ').map(Number);
    const apart = svg.includes('moved apart');
    const cuts = lines.filter((l) => l.groups.includes('cut'));
    // Holes stand before the outline that they are in, as they are cut.
    const rings = marked.panels.flatMap((p) =>
      [...p.panel.outlines.traced].sort((a, b) => Math.abs(ringArea(a)) - Math.abs(ringArea(b))),
    );
    expect(cuts).toHaveLength(rings.length);
    expect(cuts.every((l) => l.closed)).toBe(true);
    cuts.forEach((line, i) => {
      const points = flattenLine(line, 0.05);
      const ring = rings[i]!;
      expect(points).toHaveLength(ring.length + 1);
      // Page space of a reader starts at the page's upper-left corner; moved panels keep their shape.
      const origin = apart
        ? { x: points[0]!.x - ring[0]!.x, y: points[0]!.y - ring[0]!.y }
        : { x: -minX!, y: top! };
      ring.forEach((p, k) => {
        expect(distance(points[k]!, { x: p.x + origin.x, y: p.y + origin.y })).toBeLessThan(0.0005);
      });
    });
    const notches = lines.filter((l) => l.groups.includes('notch'));
    expect(notches).toHaveLength(marked.panels.reduce((sum, p) => sum + p.notches.length, 0));
  });
});
