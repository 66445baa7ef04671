/**
 * A small shaded picture of a folded shell: inner sides first, then outer sides, each painted back to front, with ink lines.
 * Deterministic, one decimal, in a 4:3 frame with transparent ground.
 */
import { type ShellMesh, topologyOf } from './shellMesh';
import { cross3, dot3, minus, plus, times, unit3, type Vec3, vec } from './vec3';

export interface PreviewView {
  /** Turn about z: 0 looks at the front (from +y), positive walks to the wearer's left. */
  readonly turn: number;
  /** Height of the eye over the horizon, rad. */
  readonly rise: number;
  /** Draw mild bends as hairlines; off for curved shells, whose facets are not real. */
  readonly hairlines: boolean;
  /** Turn of the picture itself, counter-clockwise, rad; 0 when absent. */
  readonly roll?: number;
  /** Part of each face; lines between parts are drawn even where they bend little. */
  readonly parts?: readonly number[];
}

const shade = (k: number, from: readonly number[], to: readonly number[]) =>
  `#${from
    .map((f, i) =>
      Math.round(f + (to[i]! - f) * Math.min(1, Math.max(0, k)))
        .toString(16)
        .padStart(2, '0'),
    )
    .join('')}`;

const outsideDark = [96, 112, 126];
const outsideLight = [246, 244, 238];
const insideDark = [42, 48, 55];
const insideLight = [96, 104, 112];

/** The picture as SVG text. */
export function drawPreview(mesh: ShellMesh, view: PreviewView, width = 480, height = 360): string {
  const toEye = vec(
    Math.sin(view.turn) * Math.cos(view.rise),
    Math.cos(view.turn) * Math.cos(view.rise),
    Math.sin(view.rise),
  );
  const level = unit3(cross3(vec(0, 0, 1), toEye));
  const steep = cross3(toEye, level);
  const roll = view.roll ?? 0;
  const right = minus(times(level, Math.cos(roll)), times(steep, Math.sin(roll)));
  const up = plus(times(level, Math.sin(roll)), times(steep, Math.cos(roll)));
  const light = unit3(plus(plus(times(toEye, 0.45), times(up, 0.8)), times(right, -0.55)));
  const flat = mesh.vertices.map((v) => ({ x: dot3(v, right), y: dot3(v, up), depth: dot3(v, toEye) }));
  const xs = flat.map((p) => p.x);
  const ys = flat.map((p) => p.y);
  const scale =
    0.92 *
    Math.min(width / (Math.max(...xs) - Math.min(...xs)), height / (Math.max(...ys) - Math.min(...ys)));
  const midX = (Math.max(...xs) + Math.min(...xs)) / 2;
  const midY = (Math.max(...ys) + Math.min(...ys)) / 2;
  const place = (v: number) => {
    const p = flat[v]!;
    return `${((p.x - midX) * scale + width / 2).toFixed(1)} ${(height / 2 - (p.y - midY) * scale).toFixed(1)}`;
  };
  const { normals, edges, sides } = topologyOf(mesh);
  const facing = mesh.faces.map((_, f) => dot3(normals[f]!, toEye) > 0);
  const order = mesh.faces
    .map((loop, f) => {
      const depths = loop.map((v) => flat[v]!.depth);
      return { f, depth: depths.reduce((a, b) => a + b, 0) / depths.length };
    })
    .sort((a, b) => Number(facing[a.f]) - Number(facing[b.f]) || a.depth - b.depth || a.f - b.f);
  const rank = new Map(order.map(({ f }, i) => [f, i]));
  const parts: string[] = [];
  for (const { f } of order) {
    const loop = mesh.faces[f]!;
    const n: Vec3 = facing[f]! ? normals[f]! : times(normals[f]!, -1);
    const lit = 0.5 + 0.5 * dot3(n, light);
    const fill = facing[f]!
      ? shade(lit ** 1.3, outsideDark, outsideLight)
      : shade(lit, insideDark, insideLight);
    parts.push(`<path d="M${loop.map(place).join('L')}Z" fill="${fill}" stroke="${fill}"/>`);
    // Ink: open edges and silhouettes strong, sharp bends middle, the rest a hairline.
    loop.forEach((v, i) => {
      const e = edges[sides[f]![i]!]!;
      const outline = e.right === null || facing[e.left] !== facing[e.right];
      const between = e.right !== null && view.parts && view.parts[e.left] !== view.parts[e.right];
      const weight = outline ? 1.6 : between || Math.abs(e.bend ?? 0) > 0.45 ? 0.9 : 0.35;
      const w = loop[(i + 1) % loop.length]!;
      const drawn = outline || weight > 0.5 || (facing[f]! && view.hairlines);
      // With the nearer of its two faces, so that the farther one does not cover it.
      const last = e.right === null ? e.left : rank.get(e.left)! > rank.get(e.right)! ? e.left : e.right;
      if (drawn && last === f)
        parts.push(
          `<path class="${weight > 1 ? 'c' : weight > 0.5 ? 'b' : 'a'}" d="M${place(v)}L${place(w)}"/>`,
        );
    });
  }
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}"><title>${mesh.name}</title><style>.a{stroke-width:.35}.b{stroke-width:.9}.c{stroke-width:1.6}</style><g stroke="#1e2429" stroke-width="0.4" stroke-linejoin="round" stroke-linecap="round" fill="none">${parts.join('')}</g></svg>\n`;
}
