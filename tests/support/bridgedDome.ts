/**
 * Mirror-symmetric domes with a face opening over a chin one row high: where the pieces are cut across the chin, its
 * strip is a bridge that hangs by single edges.
 */
import { seededRandom } from '../../src/base';
import { type ShellMesh, vec } from './harbourWatch';

/** @param columns even; the opening takes a quarter of them */
export function bridgedDome(seed: number, rows: number, columns: number): ShellMesh {
  const random = seededRandom(seed);
  const signed = () => 2 * random() - 1;
  const wave = Array.from({ length: 4 }, () => 0.13 * signed());
  const stray = Array.from({ length: rows + 1 }, () =>
    Array.from({ length: columns }, () => ({ up: 0.12 * signed(), round: 0.12 * signed() })),
  );
  const vertices = [vec(0, 0, 140)];
  for (let i = 1; i <= rows; i++)
    for (let j = 0; j < columns; j++) {
      const [one, image] = [stray[i]![j]!, stray[i]![(columns - j) % columns]!];
      const u = ((i + (one.up + image.up) / 2) / rows) * Math.PI * 0.68;
      const v = ((j + (one.round - image.round) / 2) * 2 * Math.PI) / columns;
      const r = 1 + Math.sin(u) * wave.reduce((s, a, k) => s + a * Math.cos((k + 1) * v), 0);
      vertices.push(
        vec(115 * r * Math.sin(u) * Math.cos(v), 95 * r * Math.sin(u) * Math.sin(v), 140 * Math.cos(u)),
      );
    }
  const at = (i: number, j: number) => (i === 0 ? 0 : 1 + (i - 1) * columns + ((j + columns) % columns));
  const faces: number[][] = Array.from({ length: columns }, (_, j) => [0, at(1, j), at(1, j + 1)]);
  const half = Math.floor(columns / 8);
  for (let i = 1; i < rows; i++)
    for (let j = 0; j < columns; j++) {
      const side = j < columns / 2 ? j : j - columns;
      if (i >= Math.floor(rows / 2) && i < rows - 1 && side >= -half && side < half) continue;
      const [a, b, c, d] = [at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)];
      if (side >= 0) faces.push([a, b, c], [a, c, d]);
      else faces.push([a, b, d], [b, c, d]);
    }
  return { name: `bridged dome ${seed}`, vertices, faces };
}
