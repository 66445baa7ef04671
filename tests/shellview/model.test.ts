import { beforeAll, describe, expect, it } from 'vitest';
import { breathingPlaces } from '../../app/shellview/breathing';
import { bendFigures } from '../../app/shellview/Labels';
import { type ShellModel, shellModel } from '../../app/shellview/model';
import { ballOf, homeView, sightOf } from '../../app/shellview/orbit';
import { endsOf, linesOf, placesOf, ringOf, tightHatch, trianglesOf } from '../../app/shellview/painting';
import { pickAt, screenOf } from '../../app/shellview/pick';
import { formatAngle } from '../../src/units';
import { cubeFolded, type Folded, pauldronFolded } from './fixture';

let cube: Folded;
let pauldron: Folded;
let model: ShellModel;
let places: Float64Array;

beforeAll(async () => {
  cube = await cubeFolded();
  pauldron = await pauldronFolded();
  model = shellModel(pauldron.shell, pauldron.pattern, pauldron.seams);
  places = model.folding.at(1);
});

describe('the sides of a shell', () => {
  it('are folds, seams and open edges, each with both of its faces or one', () => {
    const lines = new Map<string, number>();
    for (const side of pauldron.sides) {
      const key = `${side.id} ${Math.min(side.from, side.to)} ${Math.max(side.from, side.to)}`;
      lines.set(key, (lines.get(key) ?? 0) + 1);
      const known = pauldron.pattern.pieces.some((p) => p.folds.some((f) => f.id === side.id));
      expect(side.edge === null).toBe(known);
      expect(side.bend === null).toBe(side.kind === 'open');
    }
    const open = pauldron.sides.filter((s) => s.kind === 'open');
    expect(open.length).toBeGreaterThan(5);
    expect(open.length).toBe(model.openings.reduce((sum, o) => sum + o.vertices.length, 0));
    expect([...lines.values()].every((n) => n === 1 || n === 2)).toBe(true);
    expect([...lines.values()].filter((n) => n === 1).length).toBe(open.length);
    expect(cube.sides.filter((s) => s.kind === 'open')).toEqual([]);
  });

  it('know the opening that they lie on', () => {
    for (const side of pauldron.sides) expect(model.openingAt(side) !== null).toBe(side.kind === 'open');
  });

  it('answer to the ids of the bench: folds, seams, both edges of a seam, runs, pieces', () => {
    const seam = pauldron.seams.seams[0]!;
    const sides = model.linesOf(seam.id);
    expect(sides.length).toBeGreaterThanOrEqual(2);
    expect(model.linesOf(seam.a.edge).length + model.linesOf(seam.b.edge).length).toBe(sides.length);
    const run = pauldron.seams.runs[0]!;
    expect(model.linesOf(run.id).length).toBeGreaterThanOrEqual(2 * run.seams.length);
    const piece = pauldron.pattern.pieces[0]!;
    expect(model.facesOf(piece.id).length).toBe(piece.faces.length);
    expect(model.linesOf('no such id')).toEqual([]);
    expect(model.nameOf(piece.id)).toBe(`Piece ${piece.name}`);
  });

  it('give pieces that meet different tints', () => {
    let met = 0;
    const other = new Map<string, number>();
    for (const side of pauldron.sides) {
      if (side.kind !== 'seam') continue;
      const before = other.get(side.id);
      if (before === undefined) other.set(side.id, side.face);
      else if (pauldron.shell.faces[before]!.piece !== pauldron.shell.faces[side.face]!.piece) {
        met++;
        expect(model.tintOf[before]).not.toBe(model.tintOf[side.face]);
      }
    }
    expect(met).toBeGreaterThan(5);
  });
});

describe('pointing at the shell', () => {
  it('takes the face under the pointer, its side near a line, nothing beside the shell', () => {
    const sight = sightOf(homeView, ballOf(places), 600, 600);
    const screen = screenOf(places, sight);
    let taken = 0;
    model.shell.faces.forEach((_, face) => {
      const ring = ringOf(model, places, face);
      const middle = {
        x: ring.reduce((s, p) => s + p.x, 0) / ring.length,
        y: ring.reduce((s, p) => s + p.y, 0) / ring.length,
        z: ring.reduce((s, p) => s + p.z, 0) / ring.length,
      };
      const at = screenOf(new Float64Array([middle.x, middle.y, middle.z]), sight);
      const hit = pickAt(screen, model.folding.starts, model.sidesOf, { x: at[0]!, y: at[1]! }, 0.01);
      // Something nearer may lie before it, never something behind it.
      expect(hit!.near).toBeGreaterThanOrEqual(at[2]! - 0.5);
      if (hit!.face === face) {
        taken++;
        expect(hit!.side).toBeNull();
      }
    });
    expect(taken).toBeGreaterThan(10);
    expect(pickAt(screen, model.folding.starts, model.sidesOf, { x: 3, y: 3 }, 8)).toBeNull();
  });

  it('takes a line within reach', () => {
    const sight = sightOf(homeView, ballOf(places), 600, 600);
    const screen = screenOf(places, sight);
    let found = 0;
    for (const side of model.sides) {
      const [p, q] = endsOf(model, places, side);
      const at = screenOf(new Float64Array([(p.x + q.x) / 2, (p.y + q.y) / 2, (p.z + q.z) / 2]), sight);
      const hit = pickAt(screen, model.folding.starts, model.sidesOf, { x: at[0]!, y: at[1]! }, 5);
      if (hit?.side?.id === side.id) found++;
    }
    // About half of the lines are seen.
    expect(found).toBeGreaterThan(model.sides.length / 4);
  });
});

describe('what is drawn', () => {
  it('has every face as triangles and every line by its kind', () => {
    const faces = model.shell.faces.keys();
    const { places: at, colours } = trianglesOf(model, places, faces, () => [1, 1, 1]);
    const count = model.shell.faces.reduce((sum, f) => sum + f.vertices.length - 2, 0);
    expect(at.length).toBe(9 * count);
    expect(colours.length).toBe(at.length);
    // Shading never takes more than a fifth, so that lines stay legible.
    expect(Math.min(...colours)).toBeGreaterThanOrEqual(0.8 - 1e-6);
    const lines = linesOf(model, places, 1);
    const of = (kind: string) => model.sides.filter((s) => s.kind === kind).length;
    expect(lines.rim.length).toBe(6 * of('open'));
    expect(lines.seam.length).toBe(6 * of('seam'));
    expect(lines.ticks.length).toBeGreaterThanOrEqual(6 * of('open'));
    // Folds are dashed: more stretches than folds, and no longer than the folds together.
    expect(lines.mountain.length / 6).toBeGreaterThan(of('mountain') / 2);
  });

  it('hatches the faces with too little room and no others', () => {
    const [face] = model.shell.faces;
    const room = model.shell.vertices.map(() => 20);
    expect(tightHatch(model, places, room, 8, 3)).toEqual([]);
    room[face!.vertices[0]!] = 2;
    const hatch = tightHatch(model, places, room, 8, 3);
    const box = ballOf(new Float64Array(hatch));
    expect(hatch.length).toBeGreaterThan(12);
    expect(box.radius).toBeLessThan(ballOf(places).radius);
  });

  it('puts the figure of a right angle on the folds of a cube that are seen', () => {
    const known = shellModel(cube.shell, cube.pattern, cube.seams);
    const at = known.folding.at(1);
    const figures = bendFigures(known, at, sightOf(homeView, ballOf(at), 900, 900));
    expect(figures.length).toBe(9);
    for (const { text } of figures) expect(text).toBe(formatAngle(Math.PI / 2));
  });

  it('breathes along the softest motion, both ways alike, and rests in between', () => {
    expect(breathingPlaces(model, 0)).toEqual(placesOf(model, model.shell.vertices));
    expect(model.shell.softModes.length).toBeGreaterThan(0);
    const out = breathingPlaces(model, 1);
    const back = breathingPlaces(model, -1);
    const most = Math.max(...[...out].map((v, i) => Math.abs(v - places[i]!)));
    expect(most).toBeGreaterThan(0.01 * ballOf(places).radius);
    out.forEach((v, i) => {
      expect((v + back[i]!) / 2).toBeCloseTo(places[i]!, 9);
    });
  });
});
