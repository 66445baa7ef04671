import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/base';
import { placePanel } from '../../src/dryfit/placing';
import { rigidFit } from '../../src/dryfit/rigidFit';
import { distance3, type Point3, point3, ringArea } from '../../src/math';
import { offsetPlaces, offsetVectors } from '../../src/shell';
import { panelsOfTruth, surfaceOfTruth } from '../foam/shellFigures';
import { corpus } from '../support/harbourWatch';

it('finds a rotation and a shift again', () => {
  const random = seededRandom(4);
  const some = () => point3(random() * 90, random() * 60, random() * 30);
  for (let k = 0; k < 20; k++) {
    const [a, b, c] = [random() * 6, random() * 6, random() * 6];
    const turn = (p: Point3) => {
      const x = Math.cos(a) * p.x - Math.sin(a) * p.y;
      const y = Math.sin(a) * p.x + Math.cos(a) * p.y;
      const y2 = Math.cos(b) * y - Math.sin(b) * p.z;
      const z = Math.sin(b) * y + Math.cos(b) * p.z;
      return point3(Math.cos(c) * x - Math.sin(c) * y2 + 7, Math.sin(c) * x + Math.cos(c) * y2 - 3, z + 200);
    };
    // Four points at least; flat sets count as well.
    const from = [some(), some(), some(), some()].map((p) => (k % 2 ? p : { ...p, z: 0 }));
    const { move } = rigidFit(from, from.map(turn));
    for (const p of from) expect(distance3(move(p), turn(p))).toBeLessThan(1e-9);
  }
});

describe.each(['shell 2', 'shell 3', 'dodecahedron'])('%s', (start) => {
  const truth = corpus.find(({ name }) => name.startsWith(start))!.make();
  const { panels } = panelsOfTruth(truth);
  const { shell, places } = surfaceOfTruth(truth);
  const vectors = offsetVectors({ vertices: places, faces: shell.faces });
  const surface = { patches: shell.faces, places, vectors };

  it('panels without rings come to lie on the neutral surface by their own bends', () => {
    for (const { id, body } of panels) {
      const goal = offsetPlaces(places, vectors, body!.depth);
      for (const { patch, corners } of placePanel(id, body!, surface).faces)
        corners.forEach((p, i) => {
          // Quads are not quite plane beneath the paper: by 0.018 mm at this depth (own study).
          expect(distance3(p, goal[shell.faces[patch]!.vertices[i]!]!)).toBeLessThan(0.018);
        });
    }
  });

  it('bodies are the panels that are drawn', () => {
    for (const { id, body, outlines, loops } of panels) {
      const { corners, faces, moves } = body!;
      // Flat, neutral, and as large as the skins are on the mean.
      const neutral = faces.reduce((sum, { ring }) => sum + ringArea(ring.map((n) => corners[n]!)), 0);
      const skin = (which: 'inside' | 'outside') =>
        outlines[which].reduce((sum, ring) => sum + ringArea(ring), 0);
      const outline = loops.flat().length;
      expect(body!.outline.length, id).toBeGreaterThanOrEqual(outline);
      expect(neutral).toBeGreaterThan(0.5 * Math.min(skin('inside'), skin('outside')));
      for (const which of ['inside', 'outside'] as const) {
        const moved = faces.reduce(
          (sum, { ring }) =>
            sum +
            ringArea(
              ring.map((n) => ({
                x: corners[n]!.x + moves[n]![which].x,
                y: corners[n]!.y + moves[n]![which].y,
              })),
            ),
          0,
        );
        // Where nothing collides the cleaned outline is that of the body.
        expect(Math.abs(moved - skin(which)) / moved, `${id} ${which}`).toBeLessThan(0.02);
      }
    }
  });
});
