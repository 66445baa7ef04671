/**
 * The Gannet helm: a sea-bird helmet for the Harbour Watch, exactly symmetric about x = 0. One half is a net of rows
 * (brow ring z = 0, the wall below it, the dome above) and columns from the back to the front; a narrow strip runs
 * along the middle from the nape over the raised crest and the brow to the tip of the beak. Rows that are scaled copies
 * of the brow ring give flat quads; where the net is pulled out of shape it is split into triangles.
 */
import { MeshBuilder, mirrorHalf } from './meshBuilder';
import { facePoints, type ShellMesh, scaleMesh, topologyOf } from './shellMesh';
import { centroid3, distance3, type Vec3, vec } from './vec3';

/** Tape length round the brow ring, mm. */
export const gannetBrowGirth = 640;

/** Edges of the half brow ring; corner 0 at the back, corner `columns` at the front. */
const columns = 12;
/** Half the width of the middle strip at the brow ring. */
const stripHalf = 7;
const halfBreadth = 93;
const halfLength = 111;

interface Row {
  readonly z: number;
  readonly scale: number;
  /** Forward shift of the whole row. */
  readonly forward: number;
}

/** Brow ring and the rows below it, down to the rim of the neck opening. */
const wall: readonly Row[] = [
  { z: 0, scale: 1, forward: 0 },
  { z: -15, scale: 1.045, forward: 0 },
  { z: -31, scale: 1.0, forward: -1 },
  { z: -54, scale: 0.995, forward: -1 },
  { z: -82, scale: 0.985, forward: 0 },
  { z: -110, scale: 0.975, forward: 2 },
  { z: -137, scale: 0.985, forward: 1 },
  { z: -163, scale: 1.06, forward: -6 },
];

/** Corners pulled out of the wall: row, column, and the place (x to the side, y forward, z). */
const pulled: readonly (readonly [row: number, column: number, x: number, y: number, z: number])[] = [
  // the beak: brow ridge, back of the beak, lower edge; the ridge sweeps back over the temple
  [1, 12, 6.5, 133, -4],
  [1, 11, 31, 124, -10],
  [1, 10, 60, 106, -13],
  [1, 9, 84, 82, -13],
  [1, 8, 100, 52, -11],
  [1, 7, 107, 22, -9],
  [2, 12, 5, 164, -22],
  [2, 11, 24, 147, -28],
  [2, 10, 50, 113, -33],
  [2, 9, 72, 76, -35],
  [2, 8, 86, 47, -34],
  [3, 12, 2.2, 190, -62],
  [3, 11, 18, 160, -53],
  [3, 10, 45, 119, -50],
  [3, 9, 70, 80, -55],
  // cheek guards: forward edge of the face opening, then the bulge behind it
  [4, 9, 70, 84, -82],
  [4, 8, 95, 54, -84],
  [4, 7, 102, 24, -84],
  [5, 9, 60, 106, -108],
  [5, 8, 93, 71, -112],
  [5, 7, 107, 32, -112],
  [5, 6, 102, 0, -111],
  [6, 7, 100, 30, -137],
  [6, 8, 88, 66, -138],
  [6, 9, 63, 101, -135],
  // chin
  [6, 10, 34, 124, -131],
  [6, 11, 16, 134, -127],
  [6, 12, 4, 138, -125],
  [7, 9, 66, 92, -163],
  [7, 10, 36, 116, -161],
  [7, 11, 17, 127, -158],
  [7, 12, 4, 131, -157],
];

/** Cells of the wall left open for the face: rows between the beak and the chin, columns from 9 on. */
const isFace = (row: number, column: number) => row >= 3 && row <= 5 && column >= 9;

/** Dome rows above the brow: angle above it, number of edges in the half row. */
const dome: readonly (readonly [degrees: number, edges: number])[] = [
  [14, 12],
  [28, 12],
  [42, 10],
  [56, 8],
  [71, 5],
];
const domeHeight = 101;

/** The half brow ring: corners at equal arc length on an ellipse, from x = strip at the back to the front. */
function browRing(edges: number): Vec3[] {
  const start = -Math.PI / 2 + Math.asin(stripHalf / halfBreadth);
  const at = (u: number) => {
    const angle = start + u * (Math.PI - 2 * Math.asin(stripHalf / halfBreadth));
    return vec(halfBreadth * Math.cos(angle), halfLength * Math.sin(angle), 0);
  };
  const fine = 4000;
  const along = [0];
  for (let i = 1; i <= fine; i++) along.push(along[i - 1]! + distance3(at((i - 1) / fine), at(i / fine)));
  const ring: Vec3[] = [];
  let i = 0;
  for (let j = 0; j <= edges; j++) {
    const wanted = (along[fine]! * j) / edges;
    while (i < fine && along[i]! < wanted) i++;
    ring.push(at(i / fine));
  }
  ring[0] = vec(stripHalf, ring[0]!.y, 0);
  ring[edges] = vec(stripHalf, ring[edges]!.y, 0);
  return ring;
}

/** Height of the crest over the dome, from the brow (0) over the top to the nape (1). */
const crestHeight = (u: number) => 38 * Math.sin(Math.PI * u ** 1.15) ** 1.1;

/** The helm in mm, 640 mm round the brow ring at z = 0. */
export function gannetHelm(): ShellMesh {
  const builder = new MeshBuilder();
  const brow = browRing(columns);
  const rows = wall.map((row, k) =>
    brow.map((p, j) => {
      const pull = pulled.find(([r, c]) => r === k && c === j);
      if (pull) return vec(pull[2], pull[3], pull[4]);
      return vec(p.x * row.scale, p.y * row.scale + row.forward, row.z);
    }),
  );
  for (let k = 0; k + 1 < rows.length; k++)
    for (let j = 0; j < columns; j++) {
      if (isFace(k, j)) continue;
      const valley = k === 1 && j >= 7;
      builder.quad(
        rows[k + 1]![j]!,
        rows[k + 1]![j + 1]!,
        rows[k]![j + 1]!,
        rows[k]![j]!,
        valley ? 'concave' : 'convex',
      );
    }

  // Dome: each half row starts and ends on the foot of the crest.
  const foot = 13;
  const domeRows = dome.map(([degrees, edges]) => {
    const t = (degrees * Math.PI) / 180;
    const ring = browRing(edges).map((p) =>
      vec(p.x * Math.cos(t), p.y * Math.cos(t), domeHeight * Math.sin(t)),
    );
    const width = stripHalf + (foot - stripHalf) * Math.min(1, degrees / 28);
    ring[0] = vec(width, ring[0]!.y, ring[0]!.z);
    ring[edges] = vec(width, ring[edges]!.y, ring[edges]!.z);
    return ring;
  });
  const domeNet = [brow, ...domeRows];
  for (let k = 0; k + 1 < domeNet.length; k++) builder.strip(domeNet[k]!, domeNet[k + 1]!);
  const last = domeNet[domeNet.length - 1]!;
  const crown = vec(foot, 0, domeHeight);
  for (let j = 0; j + 1 < last.length; j++) builder.face(last[j]!, last[j + 1]!, crown);

  // Crest: its foot runs from the back of the brow ring over the crown to the front.
  const back = domeNet.map((row) => row[0]!);
  const front = domeNet.map((row) => row[row.length - 1]!);
  const footLine = [...back, crown, ...[...front].reverse()];
  const topLine = footLine.map((p, i) => {
    if (i === 0 || i === footLine.length - 1) return p;
    const u = 1 - i / (footLine.length - 1);
    const h = crestHeight(u);
    const n = Math.hypot(p.y / halfLength ** 2, p.z / domeHeight ** 2);
    const width = stripHalf - 2.5 * Math.sin(Math.PI * u);
    // Pushed out square to the dome, and swept back.
    const up = (h * (p.z / domeHeight ** 2)) / n;
    const out = (h * (p.y / halfLength ** 2)) / n;
    return vec(width, p.y + out - 0.5 * h, p.z + 0.93 * up);
  });
  for (let i = 0; i + 1 < footLine.length; i++)
    builder.quad(footLine[i]!, footLine[i + 1]!, topLine[i + 1]!, topLine[i]!);

  // Middle strip, from the nape rim up over the crest and down to the tip of the beak; then the chin.
  const flip = (p: Vec3) => vec(-p.x, p.y, p.z);
  const middle: Vec3[][] = [];
  const across = (line: readonly Vec3[]) => {
    for (let i = 0; i + 1 < line.length; i++)
      middle.push([flip(line[i]!), line[i]!, line[i + 1]!, flip(line[i + 1]!)]);
  };
  const napeLine = rows.map((row) => row[0]!).reverse();
  across([...napeLine, ...topLine.slice(1), ...rows.slice(1, 4).map((row) => row[columns]!)]);
  across([rows[6]![columns]!, rows[7]![columns]!]);
  const helm = mirrorHalf('Gannet helm', builder.build('half'), middle);
  return scaleMesh(helm, gannetBrowGirth / ringLength(helm));
}

/** Edges of the brow ring (both ends at z = 0), as edge numbers of the mesh in walking order. */
export function browEdges(mesh: ShellMesh): number[] {
  const edges = topologyOf(mesh).edges.filter(
    (e) => mesh.vertices[e.from]!.z === 0 && mesh.vertices[e.to]!.z === 0,
  );
  const chain = [edges[0]!];
  let end = edges[0]!.to;
  while (chain.length < edges.length) {
    const next = edges.find((e) => !chain.includes(e) && (e.from === end || e.to === end));
    if (!next) throw new Error('The brow ring of the helm is broken');
    chain.push(next);
    end = next.from === end ? next.to : next.from;
  }
  return chain.map((e) => e.index);
}

const ringLength = (mesh: ShellMesh) => {
  const { edges } = topologyOf(mesh);
  return browEdges(mesh).reduce((sum, e) => sum + edges[e]!.length, 0);
};

/**
 * Names of the parts of the helm that its pieces are cut from, one for each face: crest, dome, band (the two rows under
 * the brow), beak, cheek, wall, rim, chin and the middle strip, split where a part would be too large for one piece.
 */
export function gannetParts(mesh: ShellMesh): string[] {
  const k = gannetBrowGirth / 640;
  const mirror = (p: Vec3) => vec(Math.abs(p.x), p.y, p.z);
  return mesh.faces.map((_, f) => {
    const points = facePoints(mesh, f);
    const c = mirror(centroid3(points));
    const acrossMiddle = points.some((p) => p.x > 0) && points.some((p) => p.x < 0);
    if (acrossMiddle)
      return c.y > 100 && c.z < -100 ? 'chin strip' : c.z > 0 ? `crest top ${c.y > 0}` : 'strip';
    const turn = Math.atan2(c.y, c.x);
    if (c.z > 0) {
      const onCrest = points.some((p) => Math.abs(p.x) < 7.2 * k && p.z > 1);
      if (onCrest) return `crest ${c.y > -10}`;
      if (c.z > 78) return 'crown';
      return `dome ${Math.floor((turn + Math.PI / 2) / (Math.PI / 3))}`;
    }
    const front = turn > 0.62;
    if (c.z > -56 && front) return 'beak';
    if (c.z > -34) return `band ${turn > -0.45}`;
    if (c.y > 95 && c.z < -115) return 'chin';
    if (c.z < -136) return `rim ${turn > -0.5}`;
    if (turn > 0.12) return 'cheek';
    return `wall ${Math.round(c.z / 27)}`;
  });
}
