import { describe, expect, it } from 'vitest';
import { GirthwiseError } from '../../src/base';
import { loadLettering } from '../../src/marks';
import { boxOf, ringArea } from '../../src/math';
import { type Placing, placeLettering, placePoint, seenFromBehind } from '../../src/model';
import { testFont } from '../support/lettering';
import { inkRectangle } from '../support/orientedBox';

const font = testFont();
const origin = { x: 0, y: 0 };

describe('lettering font', () => {
  it('makes capitals as high as asked, with their middle at the given place', () => {
    const box = boxOf(font.letter('H', { x: 10, y: 20 }, 4, 0, 'name', '').rings.flat());
    expect(box.maxY - box.minY).toBeCloseTo(4, 6);
    expect((box.maxY + box.minY) / 2).toBeCloseTo(20, 6);
    expect((box.maxX + box.minX) / 2).toBeCloseTo(10, 1);
  });

  it('measures the width that the letters take', () => {
    const text = 'Cheek 12';
    const box = boxOf(font.letter(text, origin, 5, 0, 'name', '').rings.flat());
    const width = font.widthOf(text, 5);
    expect(box.maxX - box.minX).toBeLessThan(width);
    expect(box.maxX - box.minX).toBeGreaterThan(width - 1.5);
    expect(font.widthOf(text, 10)).toBeCloseTo(2 * width, 9);
  });

  it('gives letters with counters one ring for each contour, wound the other way', () => {
    const rings = font.letter('8', origin, 5, 0, 'name', '').rings;
    expect(rings).toHaveLength(3);
    const signs = rings.map((r) => Math.sign(ringArea(r)));
    expect(new Set(signs).size).toBe(2);
  });

  it('never repeats a point in a ring, at any size', () => {
    for (const height of [2, 8]) {
      for (const ring of font.letter('Sg&@Qé0', origin, height, 0.3, 'name', '').rings) {
        ring.forEach((p, i) => {
          const q = ring[(i + 1) % ring.length]!;
          expect(Math.hypot(p.x - q.x, p.y - q.y)).toBeGreaterThan(1e-5 * height);
        });
      }
    }
  });

  it('turns the text counter-clockwise about its middle', () => {
    const flat = font.letter('12', { x: 3, y: 4 }, 3, 0, 'seamNumber', 's').rings.flat();
    const turned = font.letter('12', { x: 3, y: 4 }, 3, Math.PI / 2, 'seamNumber', 's').rings.flat();
    flat.forEach((p, i) => {
      expect(turned[i]!.x).toBeCloseTo(3 - (p.y - 4), 9);
      expect(turned[i]!.y).toBeCloseTo(4 + (p.x - 3), 9);
    });
  });

  it('flattens curves finely: the ink of an O differs from a much taller one by less than a hundredth', () => {
    const area = (height: number) =>
      font.letter('O', origin, height, 0, 'name', '').rings.reduce((sum, r) => sum + ringArea(r), 0) /
      height ** 2;
    expect(Math.abs(area(2) / area(50) - 1)).toBeLessThan(0.01);
  });

  it('names letters that it lacks and still gives them a shape', () => {
    expect(font.missing('Keel → Ж')).toEqual(['→', 'Ж']);
    expect(font.missing('Böller 12° · ñ')).toEqual([]);
    expect(font.widthOf('Ж', 4)).toBeGreaterThan(0);
  });

  it('refuses bytes that are no font', () => {
    expect(() => loadLettering(new ArrayBuffer(64))).toThrow(GirthwiseError);
  });
});

describe('placed lettering', () => {
  it('stays readable when mirrored and fills the mirror image of its rectangle', () => {
    const letter = font.letter('Gannet 69', { x: 12, y: -7 }, 4, 0.7, 'name', 'p');
    const behind = placeLettering(letter, seenFromBehind);
    // Readable: rings keep their sense of rotation, so the letters were turned, not mirrored.
    letter.rings.forEach((ring, i) => {
      expect(ringArea(behind.rings[i]!)).toBeCloseTo(ringArea(ring), 9);
    });
    const before = inkRectangle(letter).map((p) => placePoint(p, seenFromBehind));
    const after = inkRectangle(behind);
    // Same height band; along the baseline the ink may sit differently, by the letters' own side bearings.
    const same = (p: { x: number; y: number }) =>
      Math.min(...after.map((q) => Math.hypot(p.x - q.x, p.y - q.y)));
    for (const corner of before) expect(same(corner)).toBeLessThan(0.35);
    expect(behind.angle).toBeCloseTo(-0.7, 12);
  });

  it('mirrored twice is where it was', () => {
    const letter = font.letter('7', { x: 5, y: 9 }, 3, 1.1, 'seamNumber', 's');
    const twice = placeLettering(placeLettering(letter, seenFromBehind), seenFromBehind);
    letter.rings.flat().forEach((p, i) => {
      expect(twice.rings.flat()[i]!.x).toBeCloseTo(p.x, 9);
      expect(twice.rings.flat()[i]!.y).toBeCloseTo(p.y, 9);
    });
  });

  it('is mirrored first, then turned, then moved', () => {
    const placing: Placing = { mirrored: true, angle: Math.PI / 2, move: { x: 100, y: 50 } };
    expect(placePoint({ x: 3, y: 4 }, placing).x).toBeCloseTo(96, 9);
    expect(placePoint({ x: 3, y: 4 }, placing).y).toBeCloseTo(47, 9);
  });
});
