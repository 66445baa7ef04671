/** A panel whose faces close round an inner corner, and lie flat or do not. */
import { expect, it } from 'vitest';
import { makePanels } from '../../src/foam';
import { type Point3, point3 } from '../../src/math';
import { defaultDecisions } from '../../src/model';
import { recutPattern } from '../../src/panels';
import { madeFrom } from '../panels/support';
import { shellPattern } from '../support/harbourWatch';

const n = 6;

/** Six triangles round an apex over a zigzag ring of uneven heights. */
function star(apex: number) {
  const ring = Array.from({ length: n }, (_, i) =>
    point3(
      40 * Math.cos((2 * Math.PI * i) / n),
      40 * Math.sin((2 * Math.PI * i) / n),
      [25, -29, 16, -22, 29, -14][i]!,
    ),
  );
  const faces = ring.map((_, i) => [0, 1 + i, 1 + ((i + 1) % n)]);
  return { name: 'star', vertices: [point3(0, 0, apex), ...ring], faces };
}

function angleSum({ vertices, faces }: { vertices: readonly Point3[]; faces: readonly number[][] }): number {
  return faces.reduce((sum, f) => {
    const [o, p, q] = f.map((v) => vertices[v]!) as [Point3, Point3, Point3];
    const [a, b] = [p, q].map((r) => [r.x - o.x, r.y - o.y, r.z - o.z] as const) as [
      readonly [number, number, number],
      readonly [number, number, number],
    ];
    const dot = a.reduce((s, v, k) => s + v * b[k]!, 0);
    return sum + Math.acos(dot / (Math.hypot(...a) * Math.hypot(...b)));
  }, 0);
}

/** The height of the apex at which its angles add up to a full turn: the faces lie flat without a gap. */
function flatHeight(): number {
  let [low, high] = [0, 80];
  for (let k = 0; k < 60; k++) {
    const apex = (low + high) / 2;
    if (angleSum(star(apex)) > 2 * Math.PI) low = apex;
    else high = apex;
  }
  return low;
}

const level = flatHeight();

/** The faces as one panel of 5 mm, the apex a little above or below where they lie flat. */
function panelAt(above: number) {
  const made = madeFrom(shellPattern(star(level + above), { maxFaces: 3, maxBend: 3 }));
  const { pattern, seams, shell } = recutPattern(made.pattern, made.seams, made.shell, {
    edits: [{ kind: 'join', id: 'e1', lines: made.seams.seams.map((s) => s.id) }],
  });
  expect(pattern.pieces).toHaveLength(1);
  expect(pattern.pieces[0]!.outline).toHaveLength(n);
  const foam = makePanels(
    pattern,
    seams,
    1,
    { ...defaultDecisions.foam, thickness: 5 },
    defaultDecisions.marks,
    undefined,
    { bends: shell!.bends, taken: true },
    { pattern, shell: shell!, places: shell!.vertices },
  );
  const body = foam.panels[0]!.body!;
  expect(body.faces).toHaveLength(n);
  return { issue: foam.issues.find(({ code }) => code === 'ring-spread') };
}

it('spreads what does not close, says how much, and asks for a relief dart only past the limit', () => {
  const said = [0, 0.3, -0.3, 1, 3, -3].map((above) => {
    const { issue } = panelAt(above);
    const most = issue ? Number(/up to ([\d.]+)/.exec(issue.message)![1]) : 0;
    return { most, severity: issue?.severity ?? 'nothing', dart: issue?.remedy.includes('relief dart') };
  });
  for (const { most, severity, dart } of said) {
    if (most === 0) expect(severity).toBe('nothing');
    else expect(severity).toBe(most > 0.6 ? 'warning' : 'note');
    expect(dart ?? false).toBe(most > 0.6);
  }
  expect(said[0]!.severity).toBe('nothing');
  expect(new Set(said.map(({ severity }) => severity))).toEqual(new Set(['nothing', 'note', 'warning']));
});
