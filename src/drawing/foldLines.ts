/**
 * One flat frame of a FOLD file as edges with places, assignments and angles. Source: FOLD specification 1.2,
 * sections "Vertex", "Edge" and "Face information": mountain angles are negative and valley angles positive, in
 * degrees; faces run counter-clockwise as seen from the side that their normal points to, which is the outside here.
 */
import type { Rad } from '../units';
import { arrayOf, type FoldFrame } from './foldFrames';
import type { IssueLog } from './issueLog';
import type { JsonArray, JsonNode } from './jsonTree';

/** B border, M mountain, V valley, F flat, U unassigned, C cut, J join; `open` when the file assigns nothing. */
export type FoldAssignment = 'B' | 'M' | 'V' | 'F' | 'U' | 'C' | 'J' | 'open';

export interface FoldEdge {
  /** Its number in the file, or among the sides of the faces where the file lists no edges. */
  readonly number: number;
  readonly from: number;
  readonly to: number;
  readonly assignment: FoldAssignment;
  /** Bend that the file gives, + convex (a mountain); null where it gives none. */
  readonly bend: Rad | null;
  /** The edge's number of another that it is glued to, by a field of this program's own. */
  readonly mate: number | null;
  /** True when a face lies to the left of `from` → `to` (of counter-clockwise faces). */
  readonly faceLeft: boolean;
  readonly offset: number;
}

export interface FoldFigure {
  /** In the file's units, faces counter-clockwise; null for vertices without a usable place. */
  readonly places: readonly ({ readonly x: number; readonly y: number } | null)[];
  readonly edges: readonly FoldEdge[];
}

const letters: ReadonlySet<string> = new Set(['B', 'M', 'V', 'F', 'U', 'C', 'J']);

/** Reads a frame; what is damaged is left out, each with a finding. */
export function readFoldFrame(frame: FoldFrame, log: IssueLog): FoldFigure {
  const raw = placesOf(arrayOf(frame, 'vertices_coords')!, log);
  const faces = facesOf(arrayOf(frame, 'faces_vertices'), raw.length, log);
  const turned = faces.reduce((sum, f) => sum + twiceArea(f, raw), 0) < 0;
  if (turned) {
    log.tell({
      code: 'fold-turned-over',
      severity: 'repaired',
      message:
        'The faces of the FOLD file run clockwise, so it shows the pieces from behind or upside down; it was turned over.',
      remedy:
        'Check that the pieces are not mirrored; if they are, say in the Pattern step that they are drawn from inside.',
    });
  }
  const sides = new Map<string, number>();
  for (const f of faces)
    f.forEach((a, i) => {
      const key = `${a}>${f[(i + 1) % f.length]!}`;
      sides.set(key, (sides.get(key) ?? 0) + 1);
    });
  return {
    places: raw.map((p) => p && { x: p.x, y: turned ? -p.y : p.y }),
    edges: edgesOf(frame, raw, faces, sides, log),
  };
}

function placesOf(coords: JsonArray, log: IssueLog): ({ x: number; y: number } | null)[] {
  return coords.items.map((item, v) => {
    const [x, y] = item.kind === 'array' ? item.items : [];
    if (x?.kind === 'number' && y?.kind === 'number' && Number.isFinite(x.value + y.value))
      return { x: x.value, y: y.value };
    log.tell(
      {
        code: 'fold-vertex-damaged',
        severity: 'warning',
        message: `Vertex ${v} has no two coordinates, so it and its edges are left out.`,
        remedy: 'Save the file again from the program that made it, and look at what is missing.',
      },
      item.offset,
    );
    return null;
  });
}

function facesOf(node: JsonArray | null, vertices: number, log: IssueLog): number[][] {
  return (node?.items ?? []).flatMap((item, f) => {
    const ring = item.kind === 'array' ? item.items.map((v) => indexOf(v, vertices)) : [];
    if (ring.length >= 3 && ring.every((v) => v !== null)) return [ring];
    log.tell(
      {
        code: 'fold-face-damaged',
        severity: 'warning',
        message: `Face ${f} is no ring of at least three vertices of the file and is left out.`,
        remedy: 'Look at that place of the pattern: its lines are read from the edges alone.',
      },
      item.offset,
    );
    return [];
  });
}

/** The number of an existing thing, else null. */
function indexOf(node: JsonNode | undefined, count: number): number | null {
  return node?.kind === 'number' && Number.isInteger(node.value) && node.value >= 0 && node.value < count
    ? node.value
    : null;
}

function twiceArea(ring: readonly number[], places: readonly ({ x: number; y: number } | null)[]): number {
  return ring.reduce((sum, v, i) => {
    const p = places[v];
    const q = places[ring[(i + 1) % ring.length]!];
    return p && q ? sum + p.x * q.y - q.x * p.y : sum;
  }, 0);
}

function edgesOf(
  frame: FoldFrame,
  places: readonly (object | null)[],
  faces: readonly (readonly number[])[],
  sides: ReadonlyMap<string, number>,
  log: IssueLog,
): FoldEdge[] {
  const listed = arrayOf(frame, 'edges_vertices');
  const facesAt = (a: number, b: number) => (sides.get(`${a}>${b}`) ?? 0) + (sides.get(`${b}>${a}`) ?? 0);
  const faceLeft = (a: number, b: number) => sides.has(`${a}>${b}`);
  const ownWord = (a: number, b: number): FoldAssignment =>
    faces.length === 0 ? 'open' : facesAt(a, b) > 1 ? 'U' : 'B';
  if (!listed) {
    log.tell({
      code: 'fold-edges-from-faces',
      severity: 'note',
      message:
        'The FOLD file lists no edges; the sides of its faces are taken, all folds of unknown direction.',
      remedy: '',
    });
    const seen = new Map<string, FoldEdge>();
    const offset = arrayOf(frame, 'faces_vertices')!.offset;
    for (const f of faces)
      f.forEach((from, i) => {
        const to = f[(i + 1) % f.length]!;
        const key = `${Math.min(from, to)}-${Math.max(from, to)}`;
        if (seen.has(key) || !places[from] || !places[to]) return;
        const assignment = ownWord(from, to);
        const number = seen.size;
        seen.set(key, { number, from, to, assignment, bend: null, mate: null, faceLeft: true, offset });
      });
    return [...seen.values()];
  }
  const assigned = beside(frame, ['edges_assignment'], listed, log);
  // The name of version 1.0 ended in an s.
  const angles = beside(frame, ['edges_foldAngle', 'edges_foldAngles'], listed, log);
  const mates = beside(frame, ['edges_girthwise:mate'], listed, log);
  return listed.items.flatMap((item, number): FoldEdge[] => {
    const [from, to] = item.kind === 'array' ? item.items.map((v) => indexOf(v, places.length)) : [];
    const whole = item.kind === 'array' && item.items.length === 2;
    if (!whole || typeof from !== 'number' || typeof to !== 'number' || from === to) {
      log.tell(
        {
          code: 'fold-edge-damaged',
          severity: 'warning',
          message: `Edge ${number} does not join two vertices of the file and is left out.`,
          remedy: 'Save the file again from the program that made it, and look at what is missing.',
        },
        item.offset,
      );
      return [];
    }
    if (!places[from] || !places[to]) return [];
    const word = assignmentOf(assigned?.items[number], () => ownWord(from, to), number, log);
    const { assignment, bend } = withAngle(word, angles?.items[number], number, log);
    const mate = indexOf(mates?.items[number], listed.items.length);
    return [{ number, from, to, assignment, bend, mate, faceLeft: faceLeft(from, to), offset: item.offset }];
  });
}

/** An array that runs beside the edges; another length is told, and what is there is used. */
function beside(
  frame: FoldFrame,
  names: readonly string[],
  edges: JsonArray,
  log: IssueLog,
): JsonArray | null {
  for (const name of names) {
    const list = arrayOf(frame, name);
    if (!list) continue;
    if (list.items.length !== edges.items.length) {
      log.tell(
        {
          code: 'fold-list-length',
          severity: 'warning',
          message: `The file has ${edges.items.length} edges and ${list.items.length} entries in “${name}”, so some may belong to other edges.`,
          remedy: 'Check the directions of the folds, or save the file again from the program that made it.',
        },
        list.offset,
      );
    }
    return list;
  }
  return null;
}

function assignmentOf(
  node: JsonNode | undefined,
  own: () => FoldAssignment,
  edge: number,
  log: IssueLog,
): FoldAssignment {
  if (!node || node.kind === 'null') return own();
  // Lower case is no letter of the format, but it can only mean the same.
  const letter = node.kind === 'string' ? node.value.trim().toUpperCase() : '';
  if (letters.has(letter)) return letter as FoldAssignment;
  log.tell(
    {
      code: 'fold-assignment-unknown',
      severity: 'warning',
      message: `Edge ${edge} is assigned ${node.kind === 'string' ? `“${node.value.slice(0, 20)}”` : 'no letter'}, which the format does not know; it counts as not assigned.`,
      remedy: 'Give its line a role in the Pattern step.',
    },
    node.offset,
  );
  return own();
}

/** What the angle adds: a direction for an edge without one, and the bend where both agree. */
function withAngle(
  assignment: FoldAssignment,
  node: JsonNode | undefined,
  edge: number,
  log: IssueLog,
): { assignment: FoldAssignment; bend: Rad | null } {
  const angle = node?.kind === 'number' && Math.abs(node.value) <= 180 ? node.value : null;
  if (assignment === 'F') return { assignment, bend: 0 };
  // Zero stands for "not known" as well, so it says nothing about a fold.
  if (angle === null || angle === 0) return { assignment, bend: null };
  // Degrees with valleys positive, to radians with mountains (convex) positive.
  const bend = (-angle * Math.PI) / 180;
  switch (assignment) {
    case 'U':
    case 'open':
      return { assignment: bend > 0 ? 'M' : 'V', bend };
    case 'M':
    case 'V':
      if (bend > 0 === (assignment === 'M')) return { assignment, bend };
      log.tell(
        {
          code: 'fold-angle-contrary',
          severity: 'warning',
          message: `Edge ${edge} is a ${assignment === 'M' ? 'mountain' : 'valley'} fold, but its angle of ${angle}° is that of a ${assignment === 'M' ? 'valley' : 'mountain'}; the angle is not used.`,
          remedy: 'Check the direction of this fold.',
        },
        node!.offset,
      );
      return { assignment, bend: null };
    default:
      return { assignment, bend: null };
  }
}
