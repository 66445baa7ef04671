/**
 * Speed of pairing and folding up over the generator family by size, with the growth exponent, and of the sparse
 * factorisation beside a dense library in the same run. Part of `npm run bench`; nothing fails on a figure.
 */
import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { hashText, unwatched } from '../../src/base';
import { readDrawing } from '../../src/drawing';
import { factorise, solveBlocks } from '../../src/math';
import { defaultDecisions, type Pattern, type SeamDecisions, type Shell } from '../../src/model';
import { readPattern } from '../../src/reading';
import { findSeams, matchSeams, verifySeams } from '../../src/seams';
import { edgeProbe, foldPattern } from '../../src/shell';
import { drawPattern, openShell, shellPattern } from '../support/harbourWatch';
import { lengthSystem } from '../support/lengthSystem';
import { growth, type Interleave } from './measure';

const sizes = [125, 250, 500, 900];
const kinds = [
  { name: 'asymmetric triangles', symmetric: false, net: 'triangles', jitter: 0.1 },
  { name: 'symmetric quads', symmetric: true, net: 'quads', jitter: 0 },
] as const;

const meshOf = (kind: (typeof kinds)[number], faces: number) => openShell({ seed: 11, faces, ...kind });

function read(kind: (typeof kinds)[number], faces: number, numbers: 'none' | 'edges'): Pattern {
  const { svg } = drawPattern(shellPattern(meshOf(kind, faces)), { manner: 'clean', numbers });
  const drawing = readDrawing({ name: 'bench.svg', svg }, { file: 0, size: { kind: 'ask' } });
  if (!drawing.ok) throw new Error(drawing.issues[0]?.message);
  return readPattern(drawing.value, defaultDecisions.reading);
}

const unnumbered: SeamDecisions = { ...defaultDecisions.seams, useNumbers: false };
const cell = (value: number, digits = 0) => value.toFixed(digits).padStart(9);
const row = (name: string, cells: readonly string[]) => console.log(`${name.padEnd(30)}${cells.join('')}`);

/** Prints the tables. @param interleave times candidates in turn, ms */
export async function benchFolding(interleave: Interleave): Promise<void> {
  const sums: string[] = [];
  for (const kind of kinds) {
    console.log(
      `\n${kind.name}; pairing without numbers, folding up with the pairs of a numbered drawing; ms`,
    );
    row('faces', ['  pairing', ' verified', '  fold-up']);
    const times: Record<'flat' | 'verified' | 'folded', number[]> = { flat: [], verified: [], folded: [] };
    const faces: number[] = [];
    for (const size of sizes) {
      const pattern = read(kind, size, 'none');
      const numbered = read(kind, size, 'edges');
      const seams = findSeams(numbered, defaultDecisions.seams);
      const count = pattern.pieces.reduce((n, p) => n + p.faces.length, 0);
      let shell: Shell | null = null;
      const flat = await interleave(3, { run: () => matchSeams(pattern, unnumbered) }, 1);
      // The long ones take seconds: one warm-up at the smallest size, one timed run each.
      const long = await interleave(
        1,
        {
          verified: () => verifySeams(pattern, unnumbered, edgeProbe(pattern), unwatched),
          folded: async () => {
            shell = await foldPattern(numbered, seams);
          },
        },
        size === sizes[0] ? 1 : 0,
      );
      faces.push(count);
      times.flat.push(flat.run);
      times.verified.push(long.verified);
      times.folded.push(long.folded);
      row(String(count), [cell(flat.run), cell(long.verified), cell(long.folded)]);
      sums.push(hashText(JSON.stringify([matchSeams(pattern, unnumbered).seams.length, shell])));
    }
    row(
      'growth: time ~ faces to the',
      [times.flat, times.verified, times.folded].map((list) => cell(growth(faces, list), 2)),
    );
  }

  console.log('\nfactorise and solve JᵀJ + damping of the edge lengths; ms');
  row('unknowns', ['   sparse', '    dense', '    ratio']);
  const own: number[] = [];
  const counts: number[] = [];
  for (const size of sizes) {
    // The dense library's time grows with the cube: beyond this it says nothing new.
    const dense = size <= 250;
    const system = lengthSystem(meshOf(kinds[0], size), 1e-3, dense);
    const n = system.pattern.size * 3;
    const right = new Float64Array(n).fill(1);
    const sparse = () => {
      const copy = system.blocks.slice();
      if (!factorise(system.pattern, copy)) throw new Error('not positive definite');
      return solveBlocks(system.pattern, copy, right);
    };
    const column = Matrix.columnVector([...right]);
    const matrix = dense ? new Matrix(system.dense) : null;
    const t = matrix
      ? await interleave(5, { sparse, dense: () => new CholeskyDecomposition(matrix).solve(column) })
      : { ...(await interleave(5, { sparse })), dense: Number.NaN };
    own.push(t.sparse);
    counts.push(n);
    row(String(n), [
      cell(t.sparse, 2),
      dense ? cell(t.dense, 1) : '        –',
      dense ? cell(t.dense / t.sparse) : '',
    ]);
    sums.push(
      hashText(
        sparse()
          .map((v) => Math.round(v * 1e6))
          .join(),
      ),
    );
  }
  row('growth: time ~ unknowns to the', [cell(growth(counts, own), 2)]);
  console.log(`\nchecksum of pairs, shells and solutions ${hashText(sums.join(' '))}`);
}
