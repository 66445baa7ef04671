/**
 * The inside girth where panels differ in thickness: solved on the real inside section and found again in the dry fit.
 * A wall of thickness t whose inside lies at depth d has its inner corners on the planes that halve the bends: a prism
 * of n sides and radius R has them at R − d / cos(π/n) from the axis (plane trigonometry). The tape runs round all.
 */
import { describe, expect, it } from 'vitest';
import { unwatched } from '../../src/base';
import { dryFit } from '../../src/dryfit';
import { fitPattern } from '../../src/fit';
import { defaultDecisions, type FoamDecisions, panelDepths } from '../../src/model';
import { panelsOfTruth, surfaceOfTruth } from '../foam/shellFigures';
import { foamOfTruth } from '../foam/truthSeams';
import { patternFromTruth, prism, shellPattern } from '../support/harbourWatch';
import { shellOfTruth } from '../support/truthShell';

const n = 8;
const truth = shellPattern(prism(n, 90, 70, true), { maxFaces: 1, maxSize: 400 });
const pattern = patternFromTruth(truth);
const shell = shellOfTruth(truth);
const wanted = 560;
const fitAsk = { ...defaultDecisions.fit, how: 'head' as const, head: wanted, padding: 0, clearance: 0 };

/** Three walls beside each other of 10 mm, one of 3 mm; all others of 5 mm. */
const thicknessOf = Object.fromEntries(
  [10, 10, 10, 5, 5, 3].flatMap((t, k) => (t === 5 ? [] : [[truth.pieces[k]!.id, t] as const])),
);
const foamWith = (part: Partial<FoamDecisions>) =>
  foamOfTruth(truth, { thickness: 5, standsFor: 'outside', ...part });

/** Taut girth of the inner corners at a scale. */
function girthAt(scale: number, foam: FoamDecisions): number {
  const points = truth.pieces.flatMap((piece) => {
    const { inside } = panelDepths(piece.id, foam);
    const corners = piece.faces.flatMap((face) => truth.shell.faces[face.meshFaces[0]!]!);
    return corners.map((v) => {
      const { x, y } = truth.shell.vertices[v]!;
      const r = Math.hypot(x, y);
      const part = scale - inside / Math.cos(Math.PI / n) / r;
      return { x: x * part, y: y * part, turn: Math.atan2(y, x) };
    });
  });
  // Two inner corners stand on each ray; of both the outer one can be on the hull, and it is where it turns left.
  let ring = points
    .filter((p) =>
      points.every(
        (q) => Math.abs(q.turn - p.turn) > 1e-9 || Math.hypot(q.x, q.y) <= Math.hypot(p.x, p.y) + 1e-12,
      ),
    )
    .sort((p, q) => p.turn - q.turn)
    .filter((p, k, all) => k === 0 || p.turn - all[k - 1]!.turn > 1e-9);
  for (let k = 0; k < ring.length; ) {
    const [p, q, r] = [ring.at(k - 1)!, ring[k]!, ring[(k + 1) % ring.length]!];
    const left = (q.x - p.x) * (r.y - q.y) - (q.y - p.y) * (r.x - q.x) > 0;
    if (left) k++;
    else {
      ring = ring.filter((_, i) => i !== k);
      k = 0;
    }
  }
  return ring.reduce((sum, p, k) => {
    const q = ring[(k + 1) % ring.length]!;
    return sum + Math.hypot(p.x - q.x, p.y - q.y);
  }, 0);
}

describe.each(['outside', 'middle', 'inside'] as const)('panels that meet flush %s', (flush) => {
  const foam = foamWith({ thicknessOf, flush });
  const fit = fitPattern(pattern, fitAsk, foam, shell);

  it('have the girth wanted on the real inside section', () => {
    expect(Math.abs(fit.insideGirth! - wanted)).toBeLessThan(0.1);
    expect(Math.abs(girthAt(fit.scale, foam) - wanted)).toBeLessThan(0.1);
    // As if all were alike, the girth would be off.
    const alike = fitPattern(pattern, fitAsk, foamWith({}), shell);
    const off = Math.abs(girthAt(alike.scale, foam) - wanted);
    if (flush === 'inside') expect(off).toBeLessThan(0.1);
    else expect(off).toBeGreaterThan(1);
  });

  it('have it in the dry fit as well', async () => {
    const { places } = surfaceOfTruth(truth, fit.scale);
    const made = panelsOfTruth(truth, { thickness: 5, standsFor: 'outside', thicknessOf, flush }, fit.scale);
    const brow = fit.shell!.insideBrow.plane;
    const { insideGirth } = await dryFit(
      { foam: made, decisions: foam, shell, places, brow, brief: true },
      unwatched,
    );
    expect(Math.abs(insideGirth! - wanted)).toBeLessThan(0.1);
  });
});

it('a girth by the formula alone says that it does not know of them', () => {
  const codes = (foam: FoamDecisions) => fitPattern(pattern, fitAsk, foam).issues.map(({ code }) => code);
  expect(codes(foamWith({ thicknessOf }))).toContain('girth-by-main-thickness');
  expect(codes(foamWith({ thicknessOf, flush: 'inside' }))).not.toContain('girth-by-main-thickness');
  expect(codes(foamWith({}))).not.toContain('girth-by-main-thickness');
  expect(
    fitPattern(pattern, fitAsk, foamWith({ thicknessOf }), shell).issues.map(({ code }) => code),
  ).not.toContain('girth-by-main-thickness');
});
