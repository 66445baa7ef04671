/** Lines drawn on panels: what they divide, and that the shell stays what it was. */
import { describe, expect, it } from 'vitest';
import { distance, ringArea } from '../../src/math';
import { type DrawnEdit, drawnBy, type PanelEdit, type Pattern, type Recut } from '../../src/model';
import { facePoint, recutPattern } from '../../src/panels';
import { bollardPattern, openShell, shellPattern, solid } from '../support/harbourWatch';
import { type Made, madeFrom } from './support';

const members: Record<string, Made> = {
  bollard: madeFrom(bollardPattern()),
  'shell of 160': madeFrom(
    shellPattern(openShell({ seed: 4, faces: 160, symmetric: false, net: 'mixed', jitter: 0 }), { seed: 4 }),
  ),
  cube: madeFrom(shellPattern(solid('cube'), { maxBend: 2, maxFaces: 6 })),
};

const recut = (made: Made, edits: readonly PanelEdit[]) =>
  recutPattern(made.pattern, made.seams, made.shell, { edits });

/** A line across a panel of what the edits before it make, from part `s` of its outline to part `t`. */
export function lineOver(
  made: Made,
  before: readonly PanelEdit[],
  piece: number,
  [s, t]: readonly [number, number],
  more: Partial<Pick<DrawnEdit, 'way' | 'curved'>> & { readonly bulge?: number } = {},
): DrawnEdit {
  const now = recut(made, before);
  const panel = now.pattern.pieces[piece]!;
  const ring = panel.outline.flatMap((e) => e.points.slice(0, -1));
  const at = (part: number) => {
    const k = part * ring.length;
    const [a, b] = [ring[Math.floor(k) % ring.length]!, ring[Math.ceil(k) % ring.length]!];
    const f = k - Math.floor(k);
    return { x: a.x + (b.x - a.x) * f, y: a.y + (b.y - a.y) * f };
  };
  const [p, q] = [at(s), at(t)];
  const bulge = more.bulge ?? 0;
  const middle = {
    x: (p.x + q.x) / 2 - bulge * (q.y - p.y),
    y: (p.y + q.y) / 2 + bulge * (q.x - p.x),
  };
  const points = more.way === 'slit' ? [p, middle] : bulge === 0 ? [p, q] : [p, middle, q];
  return {
    kind: 'draw',
    id: `e${before.length + 1}`,
    way: more.way ?? 'across',
    curved: more.curved ?? false,
    points: points.map((x) => facePoint(made.pattern, now, panel.id, x)!),
  };
}

const areaOf = (pattern: Pattern) =>
  pattern.pieces.reduce((sum, p) => sum + p.faces.reduce((n, f) => n + ringArea(f.polygon), 0), 0);

/** Every side of every face is as long in space as it is flat, and every flat face is plane. */
function keepsShape(made: Made, cut: Recut) {
  const before = worstStretch(made.shell, made.shell.vertices);
  expect(worstStretch(cut.shell!, cut.shell!.vertices)).toBeLessThan(before + 1e-6);
  expect(cut.shell!.vertices.slice(0, made.shell.vertices.length)).toEqual(made.shell.vertices);
  expect(cut.shell!.vertices.length).toBe(made.shell.vertices.length + cut.added.length);
  for (const mean of cut.added) expect(mean.reduce((n, m) => n + m.weight, 0)).toBeCloseTo(1, 9);
  const area = (shell: NonNullable<Recut['shell']>) =>
    shell.faces.reduce((sum, f) => sum + Math.abs(ringArea(f.flat)), 0);
  expect(area(cut.shell!)).toBeCloseTo(area(made.shell), 3);
}

function worstStretch(shell: NonNullable<Recut['shell']>, places: Made['shell']['vertices']) {
  let worst = 0;
  for (const { flat, vertices } of shell.faces)
    flat.forEach((p, i) => {
      const j = (i + 1) % flat.length;
      const [a, b] = [places[vertices[i]!]!, places[vertices[j]!]!];
      const length = Math.hypot(a.x - b.x, a.y - b.y, a.z - b.z);
      worst = Math.max(worst, Math.abs(length - distance(p, flat[j]!)));
    });
  return worst;
}

describe.each(Object.entries(members))('a line across a panel: %s', (_, made) => {
  it.each([
    ['straight', {}],
    ['bent once', { bulge: 0.15 }],
    ['a curve', { bulge: 0.15, curved: true }],
  ])('%s: one panel more, with a seam of two equal sides, on the same shell', (_name, how) => {
    let cuts = 0;
    made.pattern.pieces.slice(0, 6).forEach((_piece, k) => {
      for (const ends of [
        [0.07, 0.55],
        [0.0, 0.5],
        [0.31, 0.83],
      ] as const) {
        const edit = lineOver(made, [], k, ends, how);
        const cut = recut(made, [edit]);
        if (cut.stuck.length > 0) {
          // Said, and nothing changed.
          expect(cut.issues.map((i) => i.code)).toEqual(['panel-line-lost']);
          expect(cut.pattern).toBe(made.pattern);
          continue;
        }
        cuts++;
        expect(cut.pattern.pieces.length).toBeGreaterThan(made.pattern.pieces.length);
        expect(areaOf(cut.pattern)).toBeCloseTo(areaOf(made.pattern), 4);
        keepsShape(made, cut);
        const own = cut.seams.seams.filter((s) => drawnBy(s.id) === edit.id);
        for (const s of own) {
          expect(s.lengthA).toBeCloseTo(s.lengthB, 9);
          expect(cut.shell!.bends[s.id]).toBe(0);
        }
      }
    });
    expect(cuts).toBeGreaterThan(3);
  });
});
