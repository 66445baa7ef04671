/** Laws of splitting and joining: undoing, order, and independence from size. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cutSeamId, joinedFoldId, type PanelEdit, type Pattern, type Seams } from '../../src/model';
import { recutPattern } from '../../src/panels';
import { foldsOf, lineOver, madeFrom } from '../panels/support';
import { bollardPattern, shellPattern, solid } from '../support/harbourWatch';
import '../support/lawSeed';

const members = [
  madeFrom(bollardPattern()),
  madeFrom(shellPattern(solid('dodecahedron'), { maxBend: 2, maxFaces: 6 })),
];
const settings = { numRuns: 12 };

const anyMember = fc.constantFrom(...members);
const someOf = (ids: readonly string[]) => fc.subarray([...ids], { minLength: 1 });

describe('panels', () => {
  it('split then join is the identity', () => {
    fc.assert(
      fc.property(
        anyMember.chain((made) => fc.tuple(fc.constant(made), someOf(foldsOf(made.pattern)))),
        ([made, folds]) => {
          const { pattern, seams, shell } = made;
          const once = recutPattern(pattern, seams, shell, {
            edits: [{ kind: 'cut', id: 'e1', lines: folds }],
          });
          expect(once.pattern).not.toBe(pattern);
          const back = recutPattern(pattern, seams, shell, {
            edits: [
              { kind: 'cut', id: 'e1', lines: folds },
              { kind: 'join', id: 'e2', lines: folds.map(cutSeamId) },
            ],
          });
          expect(back.pattern).toBe(pattern);
          expect(back.seams).toBe(seams);
          expect(back.shell).toBe(shell);
        },
      ),
      settings,
    );
  });

  it('a drawn line joined again is the identity, with what was done before it', () => {
    fc.assert(
      fc.property(
        anyMember,
        fc.nat({ max: 5 }),
        fc.double({ min: 0, max: 0.4, noNaN: true }),
        fc.constantFrom({}, { bulge: 0.1, curved: true }),
        (made, piece, from, how) => {
          const { pattern, seams, shell } = made;
          const line = lineOver(made, [], piece % pattern.pieces.length, [from, from + 0.5], how);
          const cut = recutPattern(pattern, seams, shell, { edits: [line] });
          // Where the line runs along a fold, that fold is cut.
          const drawn = cut.seams.seams.filter((s) => s.id.startsWith(cutSeamId(''))).map((s) => s.id);
          const back = recutPattern(pattern, seams, shell, {
            edits: [line, { kind: 'join', id: 'e2', lines: drawn }],
          });
          expect(back.pattern).toBe(pattern);
          expect(back.seams).toBe(seams);
          expect(back.shell).toBe(shell);
        },
      ),
      settings,
    );
  });

  it('drawn and then scaled equals scaled and then drawn', () => {
    fc.assert(
      fc.property(
        anyMember,
        fc.double({ min: 0, max: 0.4, noNaN: true }),
        fc.double({ min: 0.5, max: 2, noNaN: true }),
        (made, from, k) => {
          const edits = [lineOver(made, [], 0, [from, from + 0.5])];
          const cut = recutPattern(made.pattern, made.seams, null, { edits });
          const larger = recutPattern(scaled(made.pattern, k), grown(made.seams, k), null, { edits });
          fc.pre(cut.stuck.length === 0 && larger.stuck.length === 0);
          const got = lengths(larger.pattern);
          for (const [id, length] of lengths(cut.pattern)) expect(got.get(id)).toBeCloseTo(length * k, 6);
        },
      ),
      settings,
    );
  });

  it('join then split is the identity', () => {
    fc.assert(
      fc.property(
        anyMember.chain((made) =>
          fc.tuple(fc.constant(made), fc.constantFrom(...made.seams.seams.map((s) => s.id))),
        ),
        ([{ pattern, seams, shell }, seam]) => {
          const edits: PanelEdit[] = [
            { kind: 'join', id: 'e1', lines: [seam] },
            { kind: 'cut', id: 'e2', lines: [joinedFoldId(seam)] },
          ];
          expect(recutPattern(pattern, seams, shell, { edits }).pattern).toBe(pattern);
        },
      ),
      settings,
    );
  });

  it('cut and then scaled equals scaled and then cut', () => {
    fc.assert(
      fc.property(
        anyMember.chain((made) => fc.tuple(fc.constant(made), someOf(foldsOf(made.pattern)))),
        fc.double({ min: 0.5, max: 2, noNaN: true }),
        ([made, folds], k) => {
          const edits: PanelEdit[] = [{ kind: 'cut', id: 'e1', lines: folds }];
          const cut = recutPattern(made.pattern, made.seams, null, { edits });
          const larger = recutPattern(scaled(made.pattern, k), grown(made.seams, k), null, { edits });
          expect(larger.pattern.pieces.map((p) => p.id)).toEqual(cut.pattern.pieces.map((p) => p.id));
          expect(larger.seams.runs).toEqual(cut.seams.runs);
          const want = lengths(cut.pattern);
          const got = lengths(larger.pattern);
          for (const [id, length] of want) expect(got.get(id)).toBeCloseTo(length * k, 6);
        },
      ),
      settings,
    );
  });
});

function lengths(pattern: Pattern): Map<string, number> {
  return new Map(
    pattern.pieces.flatMap((p) =>
      [...p.outline, ...p.holes.flat(), ...p.folds].map((line) => [
        line.id,
        line.points.reduce(
          (sum, q, i) =>
            i === 0 ? 0 : sum + Math.hypot(q.x - line.points[i - 1]!.x, q.y - line.points[i - 1]!.y),
          0,
        ),
      ]),
    ),
  );
}

const grown = (seams: Seams, k: number): Seams => ({
  ...seams,
  seams: seams.seams.map((s) => ({ ...s, lengthA: s.lengthA * k, lengthB: s.lengthB * k })),
});

function scaled(pattern: Pattern, k: number): Pattern {
  const at = (p: { x: number; y: number }) => ({ x: p.x * k, y: p.y * k });
  return {
    ...pattern,
    pieces: pattern.pieces.map((p) => ({
      ...p,
      outline: p.outline.map((e) => ({ ...e, points: e.points.map(at) })),
      folds: p.folds.map((f) => ({ ...f, points: f.points.map(at) })),
      faces: p.faces.map((f) => ({ ...f, polygon: f.polygon.map(at) })),
    })),
  };
}
