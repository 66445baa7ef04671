/** From a cut shell to a pattern whose pieces lie each in its own flat frame: up on the shell is +y, page 0. */
import { type Point, ringArea, rotate } from '../../../src/math';
import { heartOf } from './heart';
import type { CutShell } from './segment';
import { facePoints, type MeshTopology, type ShellMesh, topologyOf } from './shellMesh';
import type { Truth, TruthEdge, TruthFace, TruthFold, TruthPiece } from './truth';
import { type FlatPiece, outlineOf } from './unfold';
import { dot3, minus, unit3, type Vec3, vec } from './vec3';

/** Under this slope (as a part of 1) a piece counts as level, and forward takes the place of up. */
const levelSlope = 0.15;

export function buildTruth(mesh: ShellMesh, cut: CutShell, title = mesh.name): Truth {
  const topology = topologyOf(mesh);
  const names = namesOf(topology, cut);
  const drafts = cut.pieces.map((piece, p) => {
    const other = cut.mirror[p] ?? null;
    // Mirror pairs are turned by mirrored angles, so that they stay exact mirror images on the page.
    const angle =
      other !== null && other < p
        ? -uprightAngle(mesh, topology, cut.pieces[other]!)
        : uprightAngle(mesh, topology, piece);
    return buildPiece(
      mesh,
      topology,
      turned(piece, angle),
      `P${p + 1}`,
      names[p]!,
      other === null ? null : `P${other + 1}`,
    );
  });
  const at = new Map<number, string[]>();
  for (const piece of drafts)
    for (const edge of piece.outline) at.set(edge.meshEdge, [...(at.get(edge.meshEdge) ?? []), edge.id]);
  const pieces = drafts.map((piece) => ({
    ...piece,
    outline: piece.outline.map((edge) => ({
      ...edge,
      mate: at.get(edge.meshEdge)!.find((id) => id !== edge.id) ?? null,
    })),
  }));
  const mates = [...at.values()].filter((ids) => ids.length === 2).map((ids) => [ids[0]!, ids[1]!] as const);
  return { title, pieces, mates, pages: [], width: 0, height: 0, shell: mesh };
}

function buildPiece(
  mesh: ShellMesh,
  topology: MeshTopology,
  piece: FlatPiece,
  id: string,
  name: string,
  mirrorOf: string | null,
): TruthPiece {
  const sides = outlineOf(mesh, topology, piece);
  if (!sides) throw new Error(`Piece ${id} of ${mesh.name} has no single outline`);
  const edgeAt = new Map<string, TruthEdge>();
  const outline = sides.map((side, i) => {
    const e = topology.edges[side.meshEdge]!;
    const edge: TruthEdge = {
      id: `${id}.e${i + 1}`,
      points: [side.from, side.to],
      meshEdge: side.meshEdge,
      mate: null,
      bend: e.bend,
      number: '',
    };
    edgeAt.set(`${side.face},${side.side}`, edge);
    return edge;
  });
  const faceId = new Map(piece.faces.map((f, i) => [f, `${id}.q${i + 1}`]));
  const foldAt = new Map<number, TruthFold>();
  for (const m of piece.folds) {
    const e = topology.edges[m]!;
    const i = topology.sides[e.left]!.indexOf(m);
    const corners = piece.corners.get(e.left)!;
    foldAt.set(m, {
      id: `${id}.f${foldAt.size + 1}`,
      points: [corners[i]!, corners[(i + 1) % corners.length]!],
      meshEdge: m,
      bend: e.bend!,
      left: faceId.get(e.left)!,
      right: faceId.get(e.right!)!,
    });
  }
  const faces = piece.faces.map(
    (f): TruthFace => ({
      id: faceId.get(f)!,
      meshFaces: [f],
      polygon: piece.corners.get(f)!,
      sides: topology.sides[f]!.map((m, i) => {
        const edge = edgeAt.get(`${f},${i}`);
        return edge
          ? { kind: 'edge' as const, id: edge.id, forward: true }
          : { kind: 'fold' as const, id: foldAt.get(m)!.id, forward: topology.edges[m]!.left === f };
      }),
    }),
  );
  const heart = heartOf(outline.map((e) => e.points[0]!));
  return { id, name, outline, folds: [...foldAt.values()], faces, tabs: [], mirrorOf, heart, page: 0 };
}

/** Angle that turns a flat piece so that the shell's up (or forward, for level pieces) points along +y. */
function uprightAngle(mesh: ShellMesh, topology: MeshTopology, piece: FlatPiece): number {
  let sum: Point = { x: 0, y: 0 };
  let area = 0;
  const gather = (direction: Vec3) => {
    sum = { x: 0, y: 0 };
    area = 0;
    for (const f of piece.faces) {
      const points = facePoints(mesh, f);
      const flat = piece.corners.get(f)!;
      const along = unit3(minus(points[1]!, points[0]!));
      const n = topology.normals[f]!;
      const inward = vec(
        n.y * along.z - n.z * along.y,
        n.z * along.x - n.x * along.z,
        n.x * along.y - n.y * along.x,
      );
      const d = { x: flat[1]!.x - flat[0]!.x, y: flat[1]!.y - flat[0]!.y };
      const a = ringArea(flat);
      const local = { x: dot3(direction, along), y: dot3(direction, inward) };
      const g = rotate(local, Math.atan2(d.y, d.x));
      sum = { x: sum.x + g.x * a, y: sum.y + g.y * a };
      area += a;
    }
  };
  gather(vec(0, 0, 1));
  if (Math.hypot(sum.x, sum.y) < levelSlope * area) gather(vec(0, 1, 0));
  return Math.hypot(sum.x, sum.y) < levelSlope * area ? 0 : Math.PI / 2 - Math.atan2(sum.y, sum.x);
}

function turned(piece: FlatPiece, angle: number): FlatPiece {
  return {
    ...piece,
    corners: new Map([...piece.corners].map(([f, points]) => [f, points.map((p) => rotate(p, angle))])),
  };
}

/** M1 … across the middle, L1/R1 … for mirror pairs (the wearer's left and right, x > 0 being the right), A, B … for unsymmetric shells. */
function namesOf(topology: MeshTopology, cut: CutShell): string[] {
  let middle = 0;
  let pair = 0;
  let plain = 0;
  const symmetric = cut.mirror.some((m) => m !== null);
  const names: string[] = [];
  cut.pieces.forEach((piece, i) => {
    const other = cut.mirror[i] ?? null;
    if (!symmetric) names[i] = letters(plain++);
    else if (other === null) names[i] = `M${++middle}`;
    else if (other > i) {
      const right = topology.centroids[piece.faces[0]!]!.x > 0;
      pair++;
      names[i] = `${right ? 'R' : 'L'}${pair}`;
      names[other] = `${right ? 'L' : 'R'}${pair}`;
    }
  });
  return names;
}

const letters = (n: number): string =>
  (n < 26 ? '' : letters(Math.floor(n / 26) - 1)) + String.fromCharCode(65 + (n % 26));
