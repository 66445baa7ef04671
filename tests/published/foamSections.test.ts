/**
 * Sections of shells of foam against Steiner's formula for parallel curves and bodies (from memory): a convex section
 * of girth P and area A moved in by t, while no side vanishes, has P − t Σ 2 tan(φ/2) and A − P t + t² Σ tan(φ/2) over
 * its corners, and P − 2πt, A − P t + π t² in the limit of a round one; the volume within a cylinder of radius r and
 * height h is π (r − t)² h.
 */
import { describe, expect, it } from 'vitest';
import { closedSection, offsetPlaces, offsetVectors, sectionOf } from '../../src/shell';
import { dryFitOfTruth } from '../dryfit/truthFit';
import { panelsOfTruth, surfaceOfTruth } from '../foam/shellFigures';
import { MeshBuilder, prism, type ShellMesh, shellPattern, vec } from '../support/harbourWatch';

const t = 5;
const height = 80;

/** A tube over a convex section with unequal sides and corners. */
const section = [
  [70, 0],
  [52, 44],
  [8, 63],
  [-48, 40],
  [-66, -12],
  [-30, -58],
  [40, -46],
] as const;

function tube(): ShellMesh {
  const builder = new MeshBuilder();
  section.forEach(([x, y], k) => {
    const [u, v] = section[(k + 1) % section.length]!;
    builder.face(vec(x, y, 0), vec(u, v, 0), vec(u, v, height), vec(x, y, height));
  });
  return builder.build('convex tube');
}

const sides = section.map(([x, y], k) => {
  const [u, v] = section[(k + 1) % section.length]!;
  return { x: u - x, y: v - y };
});
const girth = sides.reduce((sum, s) => sum + Math.hypot(s.x, s.y), 0);
const area =
  section.reduce((sum, [x, y], k) => {
    const [u, v] = section[(k + 1) % section.length]!;
    return sum + x * v - y * u;
  }, 0) / 2;
/** Σ tan(φ/2) over the corners. */
const corners = sides.reduce((sum, a, k) => {
  const b = sides[(k + 1) % sides.length]!;
  return sum + Math.tan(Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y) / 2);
}, 0);
const level = { normal: { x: 0, y: 0, z: 1 }, offset: height / 2 };

describe('a convex tube of seven walls', () => {
  const truth = shellPattern(tube(), { maxFaces: 1, maxSize: 400 });

  it('has the girth and the area of the parallel section at any depth', () => {
    const { shell, places } = surfaceOfTruth(truth);
    const vectors = offsetVectors({ vertices: places, faces: shell.faces });
    for (const depth of [-9, -t, -1, 3, 8]) {
      const at = offsetPlaces(places, vectors, depth);
      const { loops } = sectionOf({ ...shell, vertices: at }, level);
      expect(loops).toHaveLength(1);
      expect(loops[0]!.girth).toBeCloseTo(girth + 2 * depth * corners, 6);
      expect(closedSection(shell, level, at)!.tautGirth).toBeCloseTo(girth + 2 * depth * corners, 6);
      const points = loops[0]!.points;
      const inside =
        points.reduce((sum, p, k) => {
          const q = points[(k + 1) % points.length]!;
          return sum + p.x * q.y - p.y * q.x;
        }, 0) / 2;
      expect(Math.abs(inside)).toBeCloseTo(area + girth * depth + corners * depth * depth, 4);
    }
  });

  it('has the volume of foam and the inside girth in the dry fit, with bevels', async () => {
    const { foamVolume, insideGirth, designed } = await dryFitOfTruth(
      truth,
      { thickness: t, standsFor: 'outside' },
      level,
    );
    expect(foamVolume / ((girth * t - corners * t * t) * height)).toBeCloseTo(1, 5);
    expect(insideGirth).toBeCloseTo(girth - 2 * t * corners, 6);
    expect(designed.bevelled!.max).toBeLessThan(1e-9);
  });
});

describe('an open prism of many sides tends to a cylinder', () => {
  const radius = 60;

  it.each([6, 24])('%i sides: foam, gap of bare paper, wedge of square cuts', async (n) => {
    const truth = shellPattern(prism(n, radius, height, true), { maxFaces: 1, maxSize: 400 });
    const fit = await dryFitOfTruth(truth, { thickness: t, standsFor: 'outside' }, level);
    const half = Math.PI / n;
    const apothem = radius * Math.cos(half);
    const ring = n * Math.tan(half) * (apothem ** 2 - (apothem - t) ** 2) * height;
    expect(fit.foamVolume / ring).toBeCloseTo(1, 5);
    expect(fit.insideGirth).toBeCloseTo(2 * n * (apothem - t) * Math.tan(half), 6);
    // In the limit π (r² − (r − t)²) h and 2π (r − t), from below, by O(n⁻²).
    const cylinder = Math.PI * (radius ** 2 - (radius - t) ** 2) * height;
    const off = 1 - fit.foamVolume / cylinder;
    expect(off).toBeGreaterThan(0);
    expect(off).toBeLessThan(4 / n ** 2);
    expect(Math.abs(fit.insideGirth! - 2 * Math.PI * (radius - t))).toBeLessThan((2000 / n) * (1 / n));
    // The bare paper, cut square, overlaps by 2 t sin(π/n) at the inside of each corner.
    expect(fit.uncompensated!.gap!.max).toBeCloseTo(2 * t * Math.sin(half), 9);
    const square = panelsOfTruth(truth, { thickness: t, standsFor: 'outside', preparation: 'square' });
    for (const row of square.rows) expect(row.openWedge).toBeCloseTo(2 * t * Math.sin(half), 9);
  });
});

describe('foam of no thickness is the paper', () => {
  it('on the shell: every panel lies on it, nothing gapes', () => {
    const truth = shellPattern(tube(), { maxFaces: 3, maxBend: 2, maxSize: 400 });
    const { panels, rows } = panelsOfTruth(truth, { thickness: 0 });
    for (const row of rows) expect([row.mismatch, row.openWedge]).toEqual([expect.closeTo(0, 9), 0]);
    const { shell, places } = surfaceOfTruth(truth);
    let compared = 0;
    for (const { body } of panels)
      for (const { patch, ring } of body!.faces) {
        const vertices = shell.faces[patch]!.vertices;
        ring.forEach((node, k) => {
          const next = ring[(k + 1) % ring.length]!;
          const [p, q] = [body!.corners[node]!, body!.corners[next]!];
          const [a, b] = [places[vertices[k]!]!, places[vertices[(k + 1) % ring.length]!]!];
          expect(Math.hypot(p.x - q.x, p.y - q.y)).toBeCloseTo(
            Math.hypot(a.x - b.x, a.y - b.y, a.z - b.z),
            9,
          );
          expect(body!.moves[node]).toEqual({
            inside: { x: expect.closeTo(0, 9), y: expect.closeTo(0, 9) },
            outside: { x: expect.closeTo(0, 9), y: expect.closeTo(0, 9) },
          });
          compared++;
        });
      }
    expect(compared).toBe(4 * section.length);
  });

  it('next to none in the dry fit: gaps vanish with the thickness', async () => {
    const truth = shellPattern(tube(), { maxFaces: 3, maxBend: 2, maxSize: 400 });
    const [thick, thin] = await Promise.all(
      [t, t / 1000].map((thickness) => dryFitOfTruth(truth, { thickness, standsFor: 'outside' })),
    );
    expect(thin!.uncompensated!.gap!.max / thick!.uncompensated!.gap!.max).toBeCloseTo(1 / 1000, 6);
    expect(thin!.designed.gap!.max).toBeLessThan(1e-3);
  });
});
