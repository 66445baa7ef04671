/**
 * Regular solids without numbers: edges are equally long, so what looks right seam by seam can be wrong. Each is
 * assembled to the solid, or reported with candidates. Corners from the coordinates of a cube, written down from memory.
 */
import { describe, expect, it } from 'vitest';
import { unwatched } from '../../src/base';
import { defaultDecisions, type Pattern, type Seams } from '../../src/model';
import { verifySeams } from '../../src/seams';
import { edgeProbe } from '../../src/shell';
import { shellPattern } from '../support/harbourWatch';
import { hullMeshOf } from '../support/solids';
import { type DrawnAs, drawn } from './matchFamily';

const signs = [-1, 1];
const signed = (p: readonly number[]): number[][] =>
  p.reduce<number[][]>(
    (all, v) => all.flatMap((q) => (v === 0 ? [[...q, 0]] : signs.map((s) => [...q, s * v]))),
    [[]],
  );
const turned = ([x, y, z]: readonly number[]): number[][] => [
  [x!, y!, z!],
  [y!, z!, x!],
  [z!, x!, y!],
];
const even = (p: readonly number[]) => p.filter((v) => v < 0).length % 2 === 0;
const ring = (n: number, z: number, turn: number, radius = 1): number[][] =>
  Array.from({ length: n }, (_, i) => {
    const a = ((i + turn) * 2 * Math.PI) / n;
    return [radius * Math.cos(a), radius * Math.sin(a), z];
  });
/** Half the height of a prism with equal edges on a ring of radius 1. */
const halfEdge = (n: number) => Math.sin(Math.PI / n);

const solids: readonly (readonly [string, readonly (readonly number[])[]])[] = [
  ['tetrahedron', signed([1, 1, 1]).filter(even)],
  ['cube', signed([1, 1, 1])],
  ['octahedron', turned([1, 0, 0]).flatMap(signed)],
  ['prism over six', [...ring(6, halfEdge(6), 0), ...ring(6, -halfEdge(6), 0)]],
  ['square pyramid', [...ring(4, 0, 0), [0, 0, 1]]],
];

/** How many faces of how many sides meet at each corner of the glued surface. */
function cornersOf(pattern: Pattern, seams: readonly string[]): string[] {
  const up = new Map<string, string>();
  const find = (k: string): string => {
    let at = k;
    for (let next = up.get(at); next !== undefined; next = up.get(at)) at = next;
    return at;
  };
  const keyAt = (piece: string, p: { x: number; y: number }) =>
    `${piece} ${Math.round(5 * p.x)} ${Math.round(5 * p.y)}`;
  const ends = new Map<string, readonly [string, string]>();
  for (const piece of pattern.pieces)
    for (const e of piece.outline)
      ends.set(e.id, [keyAt(piece.id, e.points[0]!), keyAt(piece.id, e.points[e.points.length - 1]!)]);
  for (const seam of seams) {
    const [a, b] = seam.split('+');
    const [[a0, a1], [b0, b1]] = [ends.get(a!)!, ends.get(b!)!];
    for (const [p, q] of [
      [a0, b1],
      [a1, b0],
    ] as const)
      if (find(p) !== find(q)) up.set(find(p), find(q));
  }
  const round = new Map<string, number[]>();
  for (const piece of pattern.pieces)
    for (const face of piece.faces)
      for (const p of face.polygon) {
        const at = find(keyAt(piece.id, p));
        round.set(at, [...(round.get(at) ?? []), face.polygon.length]);
      }
  return [...round.values()].map((sizes) => sizes.sort().join()).sort();
}

const isAsked = (seams: Seams): boolean =>
  seams.open.length > 0 &&
  seams.open.every((o) => o.candidates.length > 0) &&
  seams.issues.some((i) => ['edges-open-candidates', 'all-edges-alike', 'edges-alike'].includes(i.code));

describe.each(solids)('%s', (name, corners) => {
  it.each([
    ['clean', 20],
    ['loose', 2],
  ] as const)('is the solid or asked about, drawn %s, at most %i faces a piece', async (manner, maxFaces) => {
    const flat = shellPattern(hullMeshOf(name, corners, 40), { seed: 3, mirrored: false, maxFaces });
    const { pattern, seams } = drawn(flat, manner as DrawnAs);
    const result = await verifySeams(pattern, defaultDecisions.seams, edgeProbe(pattern), unwatched);
    const found = result.seams.map((s) => s.id);
    if (found.length === seams.length) expect(cornersOf(pattern, found)).toEqual(cornersOf(pattern, seams));
    else {
      expect(found.filter((s) => !seams.includes(s))).toEqual([]);
      expect(isAsked(result)).toBe(true);
    }
  });
});
