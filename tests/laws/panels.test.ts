/** Laws of splitting and joining: undoing, order, and independence from size. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unwatched } from '../../src/base';
import {
  cutSeamId,
  type Decisions,
  joinedFoldId,
  type PanelEdit,
  type Pattern,
  type Seams,
} from '../../src/model';
import { dartsOf, facePoint, recutPattern, tryEdit } from '../../src/panels';
import { createPipeline } from '../../src/pipeline';
import { foldsOf, lineOver, madeFrom } from '../panels/support';
import { lettering, smallDocument } from '../pipeline/support';
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

describe('edits that cannot be made', () => {
  it('are told with a way out, wherever they stand among others, and change nothing', () => {
    const unknown: PanelEdit[] = [
      { kind: 'cut', id: 'x', lines: ['no such fold'] },
      { kind: 'join', id: 'x', lines: ['no such seam'] },
      {
        ...{ kind: 'draw', id: 'x', way: 'dart', width: 5, curved: false },
        points: [
          { face: 'nowhere', x: 0, y: 0 },
          { face: 'nowhere', x: 1, y: 1 },
        ],
      },
    ];
    fc.assert(
      fc.property(
        anyMember.chain((made) => fc.tuple(fc.constant(made), someOf(foldsOf(made.pattern)))),
        fc.constantFrom(...unknown),
        fc.nat({ max: 2 }),
        ([made, folds], lost, at) => {
          const { pattern, seams, shell } = made;
          const half = Math.ceil(folds.length / 2);
          const good: PanelEdit[] = [
            { kind: 'cut', id: 'e1', lines: folds.slice(0, half) },
            { kind: 'cut', id: 'e2', lines: folds.slice(half) },
          ].filter((e) => e.lines.length > 0) as PanelEdit[];
          const with1 = [...good.slice(0, at), lost, ...good.slice(at)];
          const clean = recutPattern(pattern, seams, shell, { edits: good });
          const told = recutPattern(pattern, seams, shell, { edits: with1 });
          expect(told.stuck).toEqual(['x']);
          expect(told.pattern).toEqual(clean.pattern);
          expect(told.seams).toEqual(clean.seams);
          const [issue] = told.issues.filter((i) => i.place.ids?.[0] === 'x');
          expect(issue!.severity).toBe('warning');
          expect(issue!.remedy).not.toBe('');
          expect(tryEdit(pattern, seams, good, lost).issue).toEqual(issue);
        },
      ),
      settings,
    );
  });
});

describe('edits with size and thickness, through the pipeline', () => {
  type Alter = (d: Decisions) => Decisions;
  const fold = (d: Decisions, edits: readonly PanelEdit[]): Decisions => ({
    ...d,
    panels: { ...d.panels, edits: [...d.panels.edits, ...edits] },
  });
  const others: readonly Alter[] = [
    (d) => ({ ...d, foam: { ...d.foam, thickness: 8, kerf: 0.2, traced: 'inside' } }),
    (d) => ({ ...d, fit: { ...d.fit, how: 'percent', percent: 1.2 } }),
  ];

  it('edit then change = change then edit, and a dart keeps its width in foam', async () => {
    const first = await createPipeline(lettering).run(smallDocument, unwatched);
    const piece = first.pattern!.pieces[0]!;
    const [rim, tip] = [piece.outline[0]!.points[0]!, piece.faces[0]!.polygon[2]!];
    const dart: PanelEdit = {
      ...{ kind: 'draw', id: 'e1', way: 'dart', width: 4, curved: false },
      points: [
        facePoint(first.pattern!, first.recut!, piece.id, mean(rim, piece.outline[0]!.points.at(-1)!, 0.4))!,
        facePoint(first.pattern!, first.recut!, piece.id, mean(rim, tip, 0.4))!,
      ],
    };
    const cut: PanelEdit = { kind: 'cut', id: 'e2', lines: [first.pattern!.pieces[1]!.folds[0]!.id] };
    const join: PanelEdit = { kind: 'join', id: 'e3', lines: [first.seams!.seams[0]!.id] };
    const edit: Alter = (d) => fold(d, [dart, cut, join]);
    const run = async (steps: readonly Alter[]) => {
      const pipeline = createPipeline(lettering);
      let document = smallDocument;
      let last = await pipeline.run(document, unwatched);
      for (const step of steps) {
        document = { ...document, decisions: step(document.decisions) };
        last = await pipeline.run(document, unwatched);
      }
      return last;
    };
    for (const other of others) {
      const [one, two] = [await run([edit, other]), await run([other, edit])];
      expect(one).toEqual(two);
      expect(one.recut!.stuck).toEqual([]);
      const [made] = dartsOf(one.foam!.panels, one.recut!.seams).filter((d) => d.edit === 'e1');
      // Beside a kerf the drawn line lies half of it inside on both sides of the wedge.
      const { kerf } = other(smallDocument.decisions).foam;
      expect(Math.abs(made!.mouth + kerf - 4)).toBeLessThan(0.05 + 0.5 * kerf);
    }
  }, 120_000);
});

const mean = (p: { x: number; y: number }, q: { x: number; y: number }, t: number) => ({
  x: p.x + (q.x - p.x) * t,
  y: p.y + (q.y - p.y) * t,
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
