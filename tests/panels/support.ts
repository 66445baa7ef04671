/** Generated patterns with their true seams and shell, ready to be cut and joined. */
import type { Point } from '../../src/math';
import type { DrawnEdit, PanelEdit, Pattern, Seams, Shell } from '../../src/model';
import { facePoint, recutPattern } from '../../src/panels';
import { bendsOfTruth, seamsOfTruth } from '../foam/truthSeams';
import { patternFromTruth, type Truth } from '../support/harbourWatch';
import { shellOfTruth } from '../support/truthShell';

export interface Made {
  readonly pattern: Pattern;
  readonly seams: Seams;
  readonly shell: Shell;
}

export function madeFrom(truth: Truth): Made {
  const shell = shellOfTruth(truth);
  return {
    pattern: patternFromTruth(truth),
    seams: seamsOfTruth(truth),
    shell: { ...shell, bends: bendsOfTruth(truth) },
  };
}

export const foldsOf = (pattern: Pattern): string[] =>
  pattern.pieces.flatMap((p) => p.folds.map((f) => f.id));

/** A line across a panel of what the edits before it make, from part `s` of its outline to part `t`. */
export function lineOver(
  made: Made,
  before: readonly PanelEdit[],
  piece: number,
  [s, t]: readonly [number, number],
  more: Partial<Pick<DrawnEdit, 'way' | 'curved'>> & { readonly bulge?: number } = {},
): DrawnEdit {
  const now = recutPattern(made.pattern, made.seams, made.shell, { edits: before });
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

/** The same with a hole in the largest face of a piece, round its middle: `part` of the way to the nearest side. */
export function withHole(made: Made, piece: number, part: number): Made {
  const { pattern } = made;
  const own = pattern.pieces[piece]!;
  const area = (ring: readonly Point[]) =>
    ring.reduce(
      (sum, p, i) => sum + p.x * ring[(i + 1) % ring.length]!.y - p.y * ring[(i + 1) % ring.length]!.x,
      0,
    );
  const face = own.faces.reduce((a, b) => (area(b.polygon) > area(a.polygon) ? b : a));
  const n = face.polygon.length;
  const middle = {
    x: face.polygon.reduce((sum, p) => sum + p.x / n, 0),
    y: face.polygon.reduce((sum, p) => sum + p.y / n, 0),
  };
  const at = (p: Point) => ({ x: middle.x + (p.x - middle.x) * part, y: middle.y + (p.y - middle.y) * part });
  const ring = [...face.polygon].reverse().map(at);
  const loop = ring.map((p, i) => ({
    id: `hole.${i}`,
    points: [p, ring[(i + 1) % n]!],
    curved: false,
  }));
  const holed = {
    ...own,
    holes: [loop],
    faces: own.faces.map((f) => (f === face ? { ...f, holes: [ring] } : f)),
  };
  return {
    ...made,
    pattern: { ...pattern, pieces: pattern.pieces.map((p, i) => (i === piece ? holed : p)) },
  };
}
