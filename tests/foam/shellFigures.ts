/** How well panels from a shell whose truth is known fit: the figures of the README and of the tests. */
import { type FoamSurface, makePanels } from '../../src/foam';
import { type Point3, point3 } from '../../src/math';
import { type FoamDecisions, type FoamResult, foamDepths } from '../../src/model';
import { faceNormals, offsetVectors } from '../../src/shell';
import { patternFromTruth, type Truth } from '../support/harbourWatch';
import { shellOfTruth } from '../support/truthShell';
import { marks } from './strips';
import { foamOfTruth, seamsOfTruth } from './truthSeams';

export interface Spread {
  readonly median: number;
  readonly p95: number;
  readonly max: number;
}

export interface ShellFigures {
  readonly panels: number;
  readonly seams: number;
  /** Difference of both sides at the neutral depth, edge by edge. */
  readonly neutral: Spread;
  /** Difference of the flat traced lengths, whole seams. */
  readonly flat: Spread;
  /** The same once the panels are bent. */
  readonly bent: Spread;
  /** Differences after bending between two corners of the outlines that follow each other: single stretches of a seam. */
  readonly stretches: Spread;
  /** Thickness of the foam between the offset surfaces, in parts of the nominal one, corner by corner. */
  readonly thickness: Spread;
  /** Seams cut square because their bevels collide. */
  readonly squared: number;
  /** Panels that overlap themselves at neutral depth, or collide with themselves on a skin in spite of square cuts. */
  readonly overlapping: number;
  readonly colliding: number;
}

export function spreadOf(values: readonly number[]): Spread {
  const sorted = [...values].map(Math.abs).sort((a, b) => a - b);
  const at = (part: number) => sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? 0;
  return { median: at(0.5), p95: at(0.95), max: sorted.at(-1) ?? 0 };
}

/** The true shell as the surface that panels are made from. */
export const surfaceOfTruth = (truth: Truth, scale = 1): FoamSurface => ({
  pattern: patternFromTruth(truth),
  shell: shellOfTruth(truth),
  places: truth.shell.vertices.map((p) => point3(p.x * scale, p.y * scale, p.z * scale)),
});

/** Panels of a truth by its shell; its bends are the shell's own, nothing is typed. */
export function panelsOfTruth(truth: Truth, changes: Partial<FoamDecisions> = {}, scale = 1): FoamResult {
  const { bends, ...rest } = foamOfTruth(truth, changes);
  const surface = surfaceOfTruth(truth, scale);
  const foam = { ...rest, bends: changes.bends ?? {} };
  return makePanels(
    surface.pattern,
    seamsOfTruth(truth),
    scale,
    foam,
    marks,
    undefined,
    { bends, taken: true },
    surface,
  );
}

/** Seams between the same two pieces that follow each other on both. */
export function wholeSeams(truth: Truth): string[][] {
  const id = (a: string, b: string) => (a < b ? `${a}~${b}` : `${b}~${a}`);
  const place = new Map(
    truth.pieces.flatMap((p) =>
      p.outline.map((e, k) => [e.id, { piece: p.id, k, count: p.outline.length }] as const),
    ),
  );
  const done = new Set<string>();
  const runs: string[][] = [];
  for (const piece of truth.pieces) {
    const n = piece.outline.length;
    const next = (k: number, step: number) => piece.outline[(k + step + n) % n]!;
    const follows = (a: (typeof piece.outline)[number], b: (typeof piece.outline)[number]) => {
      if (a.mate === null || b.mate === null) return false;
      const p = place.get(a.mate)!;
      const q = place.get(b.mate)!;
      return p.piece === q.piece && p.piece !== piece.id && (q.k + 1) % q.count === p.k;
    };
    piece.outline.forEach((edge, k) => {
      if (edge.mate === null || done.has(id(edge.id, edge.mate))) return;
      let first = k;
      for (let s = 0; s < n && follows(next(first, -1), next(first, 0)); s++) first = (first - 1 + n) % n;
      const run: string[] = [];
      for (let at = first, s = 0; s < n; s++, at = (at + 1) % n) {
        const e = next(at, 0);
        run.push(id(e.id, e.mate!));
        done.add(id(e.id, e.mate!));
        if (!follows(e, next(at, 1))) break;
      }
      runs.push(run);
    });
  }
  return runs;
}

export function shellFigures(truth: Truth, changes: Partial<FoamDecisions> = {}): ShellFigures {
  const foam = foamOfTruth(truth, changes);
  const result = panelsOfTruth(truth, changes);
  const rows = new Map(result.rows.map((row) => [row.seam, row]));
  const whole = wholeSeams(truth).map((run) => run.map((seam) => rows.get(seam)!));
  const sum = (run: typeof result.rows, of: (row: (typeof result.rows)[number]) => number) =>
    run.reduce((total, row) => total + of(row), 0);
  const thickness = thicknessErrors(truth.shell.vertices, truth.shell.faces);
  const depths = foamDepths(foam);
  if (depths.inside + depths.outside !== foam.thickness) throw new Error('depths do not make the thickness');
  const said = (code: string) => result.issues.filter((issue) => issue.code === code);
  return {
    panels: result.panels.length,
    seams: whole.length,
    neutral: spreadOf(result.rows.map((row) => row.neutralA - row.neutralB)),
    flat: spreadOf(whole.map((run) => sum(run, (row) => row.lengthA - row.lengthB))),
    bent: spreadOf(
      whole.map((run) => sum(run, (row) => row.lengthA + row.stretchA - row.lengthB - row.stretchB)),
    ),
    stretches: spreadOf(result.rows.map((row) => row.mismatch)),
    thickness: spreadOf(thickness),
    squared: said('bevel-collides').flatMap((issue) => issue.place.ids ?? []).length,
    overlapping: said('panel-overlaps-itself').length,
    colliding: said('outline-collides').length + said('panel-in-parts').length,
  };
}

function thicknessErrors(vertices: readonly Point3[], faces: readonly (readonly number[])[]): number[] {
  const surface = { vertices, faces: faces.map((f) => ({ vertices: f })) };
  const normals = faceNormals(surface);
  const u = offsetVectors(surface);
  return faces.flatMap((face, f) =>
    face.map((v) => {
      const n = normals[f]!;
      const at = u[v]!;
      return n.x * at.x + n.y * at.y + n.z * at.z - 1;
    }),
  );
}
