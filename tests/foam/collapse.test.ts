/** Foam that folds over itself is told, with the place and what would help; panels that overlap are never silent. */
import { describe, expect, it } from 'vitest';
import { dot3, type Point, ringArea } from '../../src/math';
import type { FoamDecisions, Panel } from '../../src/model';
import { uniteRings } from '../../src/plane';
import { faceNormals, offsetPlaces, offsetVectors } from '../../src/shell';
import {
  corpus,
  MeshBuilder,
  openShell,
  type ShellMesh,
  shellPattern,
  type Truth,
  vec,
} from '../support/harbourWatch';
import { panelsOfTruth, surfaceOfTruth } from './shellFigures';

/** A closed box. */
function box(x: number, y: number, z: number): ShellMesh {
  const at = (i: number, j: number, k: number) => vec(i * x, j * y, k * z);
  const builder = new MeshBuilder();
  builder.face(at(0, 0, 0), at(0, 1, 0), at(1, 1, 0), at(1, 0, 0));
  builder.face(at(0, 0, 1), at(1, 0, 1), at(1, 1, 1), at(0, 1, 1));
  builder.face(at(0, 0, 0), at(1, 0, 0), at(1, 0, 1), at(0, 0, 1));
  builder.face(at(0, 1, 0), at(0, 1, 1), at(1, 1, 1), at(1, 1, 0));
  builder.face(at(0, 0, 0), at(0, 0, 1), at(0, 1, 1), at(0, 1, 0));
  builder.face(at(1, 0, 0), at(1, 1, 0), at(1, 1, 1), at(1, 0, 1));
  return builder.build('box');
}

const told = (truth: Truth, foam: Partial<FoamDecisions>) =>
  panelsOfTruth(truth, foam).issues.filter(({ code }) => code === 'foam-folds-over');

describe('a box 8 mm thick', () => {
  const truth = shellPattern(box(70, 60, 8), { maxFaces: 1 });

  it('is thinner than two sheets of 5 mm: its short edges are gone 4 mm deep', () => {
    const [issue, ...more] = told(truth, { thickness: 5, standsFor: 'outside' });
    expect(more).toEqual([]);
    expect(issue).toMatchObject({ severity: 'warning', stage: 'foam' });
    expect(issue!.message).toMatch(/on the inside.*an edge of 8 mm is gone/);
    // 8 mm lose twice the thickness: 4 mm is the limit, or a scale of 10/8.
    expect(issue!.remedy).toMatch(/Foam under 4 mm there, a scale 1\.25 times as large/);
    // The four plates that have the short edges, and the place within the first of them.
    const thin = issue!.place.ids!.filter((id) => truth.pieces.some((p) => p.id === id));
    expect(thin).toHaveLength(4);
    expect(issue!.place.at).toBeDefined();
  });

  it('is hardly thick enough for 3 mm, and none is told at 2 mm, or with the foam outside', () => {
    const [issue] = told(truth, { thickness: 3, standsFor: 'outside' });
    expect(issue).toMatchObject({ severity: 'note' });
    expect(issue!.message).toMatch(/nearly folds over itself on the inside/);
    expect(told(truth, { thickness: 2, standsFor: 'outside' })).toEqual([]);
    expect(told(truth, { thickness: 5, standsFor: 'inside' })).toEqual([]);
  });

  it('goes by the thickness of each panel', () => {
    const thin = truth.pieces.filter((p) =>
      told(truth, { thickness: 5, standsFor: 'outside' })[0]!.place.ids!.includes(p.id),
    );
    const thicknessOf = Object.fromEntries(thin.map(({ id }) => [id, 2]));
    expect(told(truth, { thickness: 5, standsFor: 'outside', thicknessOf })).toEqual([]);
  });
});

it('a groove 6 mm wide is told on the outside, where the foam has to go into it', () => {
  // Foam on the outside of a trench: its floor is 6 mm wide and gone 3 mm up.
  const steps = [vec(0, 0, 40), vec(40, 0, 40), vec(40, 0, 0), vec(46, 0, 0), vec(46, 0, 40), vec(90, 0, 40)];
  const builder = new MeshBuilder();
  steps.slice(1).forEach((q, k) => {
    const p = steps[k]!;
    builder.face(p, q, vec(q.x, 80, q.z), vec(p.x, 80, p.z));
  });
  const trench = shellPattern(builder.build('trench'), { maxFaces: 1 });
  const [issue, ...more] = told(trench, { thickness: 5, standsFor: 'inside' });
  expect(more).toEqual([]);
  expect(issue!.message).toMatch(/on the outside/);
  expect(issue!.remedy).toMatch(/Foam under 3 mm there, a scale 1\.67/);
  expect(told(trench, { thickness: 5, standsFor: 'outside' }).map((i) => i.severity)).not.toContain(
    'warning',
  );
});

/** Pieces with a face that is turned over on a skin, by the offset surface itself. */
function turnedOver(truth: Truth, thickness: number): Set<string> {
  const { shell, places } = surfaceOfTruth(truth);
  const vectors = offsetVectors({ vertices: places, faces: shell.faces });
  const before = faceNormals({ vertices: places, faces: shell.faces });
  const after = faceNormals({ vertices: offsetPlaces(places, vectors, -thickness), faces: shell.faces });
  return new Set(shell.faces.flatMap(({ piece }, f) => (dot3(before[f]!, after[f]!) < 0 ? [piece] : [])));
}

const shells: readonly { name: string; make: () => Truth }[] = [
  ...corpus.filter(({ name }) => /^shell 1|^cube|^prism/.test(name)),
  {
    name: 'a shell with small faces',
    make: () =>
      shellPattern(openShell({ seed: 9, faces: 90, symmetric: false, net: 'triangles', jitter: 0.3 }), {
        seed: 9,
      }),
  },
];

/** mm² by which the faces of a panel lie on each other at a height. */
function doubled({ body }: Panel, which: 'neutral' | 'inside' | 'outside'): number {
  const { corners, moves, faces } = body!;
  const at = (n: number): Point => {
    const p = corners[n]!;
    const d = which === 'neutral' ? { x: 0, y: 0 } : moves[n]![which];
    return { x: p.x + d.x, y: p.y + d.y };
  };
  const rings = faces.map(({ ring }) => ring.map(at));
  const sum = rings.reduce((all, ring) => all + ringArea(ring), 0);
  return sum - uniteRings(rings).reduce((all, ring) => all + ringArea(ring), 0);
}

let turned = 0;
let lying = 0;
describe.each(shells)('$name', ({ make }) => {
  const truth = make();

  it('says of every face that the foam turns over, and has no panel that lies on itself without a word', () => {
    for (const thickness of [12, 16]) {
      const { panels, issues } = panelsOfTruth(truth, { thickness, standsFor: 'outside' });
      const over = turnedOver(truth, thickness);
      turned += over.size;
      const gone = new Set(
        issues.flatMap((i) => (i.code === 'foam-folds-over' && i.severity === 'warning' ? i.place.ids! : [])),
      );
      for (const piece of over) expect(gone, `${thickness} mm`).toContain(piece);
      const named = new Set(issues.flatMap(({ place }) => place.ids ?? []));
      for (const panel of panels)
        for (const which of ['neutral', 'inside', 'outside'] as const) {
          if (doubled(panel, which) <= 1) continue;
          lying++;
          expect(named, `${thickness} ${which}`).toContain(panel.id);
        }
    }
  });
});

it('saw faces turned over and panels that lie on themselves', () => {
  expect(turned).toBeGreaterThan(5);
  expect(lying).toBeGreaterThan(0);
});
