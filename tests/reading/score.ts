/** Compares what was read with what was drawn, kind by kind, by place alone (ids play no part). */
import { distance, type Point, pointAlong, polylineLength, ringArea } from '../../src/math';
import type { Pattern } from '../../src/model';
import { labelsOf, type Truth } from '../support/harbourWatch';

export interface Score {
  /** Things in the truth, things read, and pairs of both. */
  readonly truth: number;
  readonly read: number;
  readonly both: number;
}

export type Kind = 'pieces' | 'faces' | 'folds' | 'foldRoles' | 'edges' | 'tabs' | 'numbers' | 'names';

export interface Scores {
  readonly scores: Readonly<Record<Kind, Score>>;
  /** First few differences, for messages. */
  readonly differences: readonly string[];
}

interface Thing {
  readonly at: Point;
  readonly measure: number;
  readonly more: string;
}

/** `slack` is how far places may differ, mm. */
export function scoreReading(
  pattern: Pattern,
  truth: Truth,
  options: { slack: number; foldSigns: boolean },
): Scores {
  const { slack } = options;
  const differences: string[] = [];
  const compare = (
    kind: Kind,
    want: readonly Thing[],
    have: readonly Thing[],
    measureSlack: (m: number) => number,
  ): Score => {
    const left = new Set(have);
    let both = 0;
    for (const w of want) {
      let best: Thing | null = null;
      for (const h of left)
        if (
          h.more === w.more &&
          Math.abs(h.measure - w.measure) <= measureSlack(w.measure) &&
          distance(h.at, w.at) <= slack &&
          (!best || distance(h.at, w.at) < distance(best.at, w.at))
        )
          best = h;
      if (best) {
        left.delete(best);
        both++;
      } else if (differences.length < 40) differences.push(`${kind} missing ${shown(w)}`);
    }
    for (const h of left) if (differences.length < 40) differences.push(`${kind} extra ${shown(h)}`);
    return { truth: want.length, read: have.length, both };
  };
  const lengthSlack = () => 3 * slack;
  const areaSlack = (a: number) => 3 * slack * Math.sqrt(Math.abs(a)) + 0.01;
  const labelOf = new Map(pattern.labels.map((l) => [l.edge, l.text]));
  const readEdges = pattern.pieces.flatMap((p) => [...p.outline, ...p.holes.flat()]);
  const trueEdges = truth.pieces.flatMap((p) => p.outline);
  const role = (bend: number) =>
    !options.foldSigns || Math.abs(bend) < 1e-9 ? 'unknown' : bend > 0 ? 'mountain' : 'valley';
  // Whether a flat fold is a mountain or a valley no drawing can tell.
  const told = (f: { readonly bend: number }) => !options.foldSigns || Math.abs(f.bend) > 1e-9;
  const trueFolds = truth.pieces.flatMap((p) => p.folds);
  const untold = trueFolds.filter((f) => !told(f)).map((f) => path(f.points));
  const readFolds = pattern.pieces.flatMap((p) => p.folds);
  // Names are left out where they would run into numbers, and where none are printed.
  const printed = new Set(labelsOf(truth).flatMap((l) => (l.kind === 'name' ? [l.of] : [])));
  const printedNames = new Set(truth.pieces.flatMap((p) => (printed.has(p.id) ? [p.name] : [])));
  const scores: Record<Kind, Score> = {
    pieces: compare(
      'pieces',
      truth.pieces.map((p) => ringOf(p)),
      pattern.pieces.map((p) => ringOf(p)),
      areaSlack,
    ),
    faces: compare(
      'faces',
      truth.pieces.flatMap((p) => p.faces.map((f) => ring(f.polygon))),
      pattern.pieces.flatMap((p) => p.faces.map((f) => ring(f.polygon))),
      areaSlack,
    ),
    folds: compare(
      'folds',
      trueFolds.map((f) => path(f.points)),
      readFolds.map((f) => path(f.points)),
      lengthSlack,
    ),
    foldRoles: compare(
      'foldRoles',
      trueFolds.filter(told).map((f) => path(f.points, role(f.bend))),
      readFolds
        .map((f) => path(f.points, f.role))
        .filter((f) => !untold.some((u) => distance(u.at, f.at) <= slack)),
      lengthSlack,
    ),
    edges: compare(
      'edges',
      trueEdges.map((e) => path(e.points)),
      readEdges.map((e) => path(e.points)),
      lengthSlack,
    ),
    tabs: compare(
      'tabs',
      truth.pieces.flatMap((p) => p.tabs.map((t) => ring(t.polygon))),
      pattern.pieces.flatMap((p) => p.tabs.map((t) => ring(t.polygon))),
      areaSlack,
    ),
    numbers: compare(
      'numbers',
      trueEdges.filter((e) => e.number !== '').map((e) => path(e.points, e.number)),
      readEdges.filter((e) => labelOf.has(e.id)).map((e) => path(e.points, labelOf.get(e.id)!)),
      lengthSlack,
    ),
    names: compare(
      'names',
      truth.pieces.flatMap((p) => (printed.has(p.id) ? [{ ...ringOf(p), more: p.name }] : [])),
      pattern.pieces.flatMap((p) => (printedNames.has(p.name) ? [{ ...ringOf(p), more: p.name }] : [])),
      areaSlack,
    ),
  };
  return { scores, differences };
}

function shown(t: Thing): string {
  return `${t.more} at ${t.at.x.toFixed(2)}, ${t.at.y.toFixed(2)} (${t.measure.toFixed(2)})`;
}

const ringOf = (p: { readonly outline: readonly { readonly points: readonly Point[] }[] }): Thing =>
  ring(p.outline.flatMap((e) => e.points.slice(0, -1)));

function path(points: readonly Point[], more = ''): Thing {
  const measure = polylineLength(points);
  return { at: pointAlong(points, measure / 2).at, measure, more };
}

function ring(points: readonly Point[]): Thing {
  const area = ringArea(points);
  const o = points[0]!;
  let x = 0;
  let y = 0;
  for (let i = 1; i + 1 < points.length; i++) {
    const p = points[i]!;
    const q = points[i + 1]!;
    const a = ((p.x - o.x) * (q.y - o.y) - (p.y - o.y) * (q.x - o.x)) / 2;
    x += (a * (p.x + q.x - 2 * o.x)) / 3 / area;
    y += (a * (p.y + q.y - 2 * o.y)) / 3 / area;
  }
  return { at: { x: o.x + x, y: o.y + y }, measure: area, more: '' };
}

export const perfect = (s: Score): boolean => s.truth === s.read && s.read === s.both;
