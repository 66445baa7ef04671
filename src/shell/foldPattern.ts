import { unwatched, type Work } from '../base';
import { type Point3, point3 } from '../math';
import {
  type KnownResult,
  nothingKnown,
  type Pattern,
  type Seams,
  type Shell,
  type ShellComponent,
  type ShellKnown,
} from '../model';
import { browPlane, closedSection } from './brow';
import { shellIssues, worstPlace } from './findings';
import type { FoldMemory } from './foldMemory';
import type { FoldedUp } from './foldResult';
import { type FoldInput, foldUp } from './foldUp';
import { type GluedFace, type GluedSurface, glueFaces } from './glue';
import { orientPositions } from './orient';
import {
  besideGap,
  doubtfulResidual,
  doubtfulRho,
  doubtfulShape,
  toldBend,
  wrongSignBend,
} from './tolerance';
import { borderLoops, buildTopology, edgeKey, type ShellTopology } from './topology';

/**
 * The pattern folded up along its folds and seams. Each connected part is folded by itself, turned upright and put
 * beside the others. Seams that cannot be glued are left out with a finding; open seams leave a partial shell.
 * @param known what the person knows of the shell; each is asked for softly and reported in `known`
 * @param work progress and cancel
 * @param folds parts folded before, which are taken again
 * @param from places of the glued vertices in a shell that differs by a few pieces, and how far to go, see `foldUp`
 * @throws Cancelled
 */
export async function foldPattern(
  pattern: Pattern,
  seams: Seams,
  known: ShellKnown = nothingKnown,
  work: Work = unwatched,
  folds: FoldMemory | null = null,
  from: PatternFrom = {},
): Promise<Shell> {
  const glued = glueFaces(pattern, seams);
  const parts = partsOf(glued);
  const vertices: Point3[] = [];
  const folded: FoldedPart[] = [];
  for (const [i, part] of parts.entries()) {
    const inner: Work = {
      step: (done, total, what) => work.step(i * total + done, parts.length * total, what),
    };
    folded.push(await foldPart(glued, part, known, inner, folds, i === 0, from));
  }
  return assemble(pattern, seams, glued, folded, known, vertices);
}

/** Where to begin with all parts, and how far to go, see `foldUp`. */
export interface PatternFrom {
  readonly near?: ReadonlyMap<number, Point3> | null;
  readonly rough?: boolean;
}

/** One connected part: its faces (numbers in the glued surface) and its vertices. */
interface Part {
  readonly faces: readonly number[];
  readonly vertices: readonly number[];
}

interface FoldedPart extends Part {
  readonly topology: ShellTopology;
  readonly result: FoldedUp;
  readonly positions: readonly Point3[];
  /** Softest free motions of its vertices, turned as the positions are. */
  readonly softModes: readonly (readonly Point3[])[];
  /** Fold or seam id of each edge of the topology, or the edge's own id at a border. */
  readonly idOfEdge: readonly string[];
}

/** Connected parts by faces that share a side, largest first. */
function partsOf(glued: GluedSurface): Part[] {
  const facesAt: number[][] = Array.from({ length: glued.vertexCount }, () => []);
  glued.faces.forEach((face, f) => {
    for (const v of face.vertices) facesAt[v]!.push(f);
  });
  const done = new Uint8Array(glued.faces.length);
  const parts: Part[] = [];
  for (let first = 0; first < glued.faces.length; first++) {
    if (done[first]) continue;
    done[first] = 1;
    const faces = [first];
    for (let i = 0; i < faces.length; i++) {
      for (const v of glued.faces[faces[i]!]!.vertices)
        for (const f of facesAt[v]!) {
          if (done[f]) continue;
          done[f] = 1;
          faces.push(f);
        }
    }
    faces.sort((a, b) => a - b);
    parts.push({ faces, vertices: [...new Set(faces.flatMap((f) => [...glued.faces[f]!.vertices]))] });
  }
  return parts.sort((a, b) => b.faces.length - a.faces.length || a.faces[0]! - b.faces[0]!);
}

async function foldPart(
  glued: GluedSurface,
  part: Part,
  known: ShellKnown,
  work: Work,
  folds: FoldMemory | null,
  first: boolean,
  { near, rough = false }: PatternFrom,
): Promise<FoldedPart> {
  const local = new Map(part.vertices.map((v, i) => [v, i]));
  const faces = part.faces.map((f) => glued.faces[f]!);
  const topology = buildTopology(
    part.vertices.length,
    faces.map((f) => ({ vertices: f.vertices.map((v) => local.get(v)!), flat: f.flat })),
  );
  const idOfEdge: string[] = new Array(topology.edges.length).fill('');
  faces.forEach((face, k) => {
    const ring = topology.faces[k]!.vertices;
    ring.forEach((v, i) => {
      const key = edgeKey(topology.vertexCount, v, ring[(i + 1) % ring.length]!);
      idOfEdge[topology.edgeAt.get(key)!] = face.seamIds[i] ?? face.sideIds[i]!;
    });
  });
  const signOfEdge = Int8Array.from(idOfEdge, (id) => glued.foldSign.get(id) ?? 0);
  const knownBends = idOfEdge.flatMap((id, edge) => {
    const bend = known.bends[id];
    return bend === undefined ? [] : [{ edge, bend, weight: knownBendWeight }];
  });
  const givenBends = idOfEdge.flatMap((id, edge) => {
    const bend = glued.givenBend.get(id);
    return bend === undefined ? [] : [{ edge, bend }];
  });
  const knownDistances = known.distances.flatMap(({ from, to, length }) => {
    const a = local.get(vertexAt(glued, from) ?? -1);
    const b = local.get(vertexAt(glued, to) ?? -1);
    return a === undefined || b === undefined || a === b
      ? []
      : [{ a, b, length, weight: knownDistanceWeight }];
  });
  const input: FoldInput = {
    topology,
    signOfEdge,
    ...(faces.some((f) => f.strip) ? { strips: faces.map((f) => f.strip ?? null) } : {}),
    knownBends,
    givenBends,
    knownDistances,
    knownGirths: first ? known.girths : [],
    symmetry: known.symmetry,
    ...(rough ? { rough } : {}),
  };
  const start = part.vertices.map((v) => near?.get(v));
  const isPlaced = start.every((p) => p !== undefined);
  const make = () =>
    foldUp(input, work, isPlaced ? Float64Array.from(start.flatMap((p) => [p!.x, p!.y, p!.z])) : null);
  const result = await (folds ? folds.recall(input, make) : make());
  const { positions, turn } = orientPositions(topology, result.positions, result.mirror);
  const softModes = result.softModes.map((d) =>
    positions.map((_, v) => turn(point3(d[v * 3]!, d[v * 3 + 1]!, d[v * 3 + 2]!))),
  );
  return { ...part, topology, result, positions, softModes, idOfEdge };
}

/** A typed bend pulls like a length error of 1 mm per radian, a typed distance like a tenth of an edge's own. */
const knownBendWeight = 1;
const knownDistanceWeight = 0.1;

function vertexAt(
  glued: GluedSurface,
  place: { readonly edge: string; readonly end: 'start' | 'end' },
): number | undefined {
  return glued.endsOfEdge.get(place.edge)?.[place.end === 'start' ? 0 : 1];
}

function assemble(
  pattern: Pattern,
  seams: Seams,
  glued: GluedSurface,
  parts: readonly FoldedPart[],
  known: ShellKnown,
  vertices: Point3[],
): Shell {
  const place = new Int32Array(glued.vertexCount);
  let right = 0;
  for (const part of parts) {
    const least = Math.min(...part.positions.map((p) => p.x));
    const most = Math.max(...part.positions.map((p) => p.x));
    const shift = part === parts[0] ? 0 : right + besideGap - least;
    part.vertices.forEach((v, i) => {
      place[v] = vertices.length;
      const p = part.positions[i]!;
      vertices.push({ x: p.x + shift, y: p.y, z: p.z });
    });
    right = Math.max(right, most + shift);
  }
  const faceNumber = new Map(parts.flatMap((p) => p.faces).map((f, i) => [f, i]));
  const patch = (face: GluedFace) => ({
    piece: face.piece,
    face: face.face,
    ...(face.part === undefined ? {} : { part: face.part }),
    flat: face.drawn,
    vertices: face.vertices.map((v) => place[v]!),
  });
  const { bends, bendSpread, wrongSigns } = gatherBends(glued, parts);
  const components = parts.map(
    (p): ShellComponent => ({
      vertices: p.vertices.map((v) => place[v]!),
      faces: p.faces.map((f) => faceNumber.get(f)!),
      flexes: p.result.flexes,
      openings: borderLoops(p.topology).length,
      residual: p.result.residual,
      rho: p.result.rho,
      unsure: p.result.unsure,
    }),
  );
  const edgeCount = parts.reduce((n, p) => n + p.topology.edges.length, 0);
  const residual = {
    rms: Math.sqrt(
      parts.reduce((s, p) => s + p.result.residual.rms ** 2 * p.topology.edges.length, 0) /
        Math.max(1, edgeCount),
    ),
    max: Math.max(0, ...parts.map((p) => p.result.residual.max)),
  };
  const rho = Math.max(1, ...parts.map((p) => p.result.rho));
  const unsure = components.reduce((worst, { unsure: own }) => (own.part > worst.part ? own : worst), {
    rms: 0,
    part: 0,
  });
  const mirror = parts[0]?.result.mirror ?? null;
  // How a face bends between its curves is the smoothest guess; only a rigid shell leaves no choice.
  const bentFaces = parts.some((p) => p.result.flexes > 0 && p.faces.some((f) => glued.faces[f]!.bends));
  // A small part that does not close would be lost in the mean of all.
  const leastClosed = parts.reduce(
    (most, p) => (p.result.residual.rms > most.rms ? p.result.residual : most),
    {
      rms: 0,
      max: 0,
    },
  );
  const misfit = rho > doubtfulRho || leastClosed.rms > doubtfulResidual || wrongSigns.length > 0;
  const doubtful = misfit || bentFaces || unsure.part > doubtfulShape;
  const worst = worstPlace(pattern, seams, parts, glued.foldSign);
  const flexes = components.reduce((n, c) => n + c.flexes, 0);
  const shell: Shell = {
    vertices,
    faces: parts.flatMap((p) => p.faces.map((f) => patch(glued.faces[f]!))),
    bends,
    bendSpread,
    residual,
    rho,
    unsure,
    wrongSigns,
    flexes,
    components,
    quality: doubtful ? 'doubtful' : 'good',
    worst: misfit ? worst : null,
    symmetry: mirror
      ? {
          plane: { normal: { x: 1, y: 0, z: 0 }, offset: 0 },
          pairs: [...mirror].flatMap((m, v) =>
            m >= v ? [[place[parts[0]!.vertices[v]!]!, place[parts[0]!.vertices[m]!]!] as const] : [],
          ),
        }
      : null,
    softModes: (parts[0]?.softModes ?? []).map((mode) => {
      const moved: Point3[] = vertices.map(() => point3(0, 0, 0));
      parts[0]!.vertices.forEach((v, i) => {
        moved[place[v]!] = mode[i]!;
      });
      return moved;
    }),
    known: [],
    leftOut: glued.leftOut.map((l) => l.seam.id),
    issues: [],
  };
  const knownResults = [
    ...measureKnown(glued, place, vertices, bends, known),
    ...measureGirths(shell, known),
  ];
  const slight = parts.flatMap((p) =>
    p.faces.flatMap((f, i) => {
      const bend = p.result.bendOfFace[i]!;
      return bend > toldBend ? [{ face: glued.faces[f]!.face, bend }] : [];
    }),
  );
  const facts = {
    residual: leastClosed,
    rho,
    wrongSigns,
    worst,
    knownResults,
    flexes,
    bentFaces,
    slight,
    unsure,
  };
  return { ...shell, known: knownResults, issues: shellIssues(pattern, seams, glued, facts) };
}

function measureGirths(shell: Shell, known: ShellKnown): KnownResult[] {
  return known.girths.map(({ at, tilt, girth }) => ({
    kind: 'girth',
    ids: [],
    wanted: girth,
    got: closedSection(shell, browPlane(shell, at, tilt))?.tautGirth ?? Number.NaN,
  }));
}

/** Bends by fold and seam: the mean weighted by length, and how far apart single stretches are. */
function gatherBends(glued: GluedSurface, parts: readonly FoldedPart[]) {
  const sums = new Map<string, { sum: number; length: number; low: number; high: number; count: number }>();
  for (const { topology, result, idOfEdge } of parts) {
    for (const e of topology.hinges) {
      const bend = result.bends[e]!;
      const id = idOfEdge[e]!;
      // Between strips of one face there is nothing on the pattern.
      if (id === '') continue;
      const length = topology.edges[e]!.length;
      const s = sums.get(id) ?? { sum: 0, length: 0, low: bend, high: bend, count: 0 };
      s.sum += bend * length;
      s.length += length;
      s.low = Math.min(s.low, bend);
      s.high = Math.max(s.high, bend);
      s.count++;
      sums.set(id, s);
    }
  }
  const bends: Record<string, number> = {};
  const bendSpread: Record<string, number> = {};
  const wrongSigns: string[] = [];
  for (const [id, s] of sums) {
    bends[id] = s.length > 0 ? s.sum / s.length : 0;
    if (s.count > 1) bendSpread[id] = s.high - s.low;
    if ((glued.foldSign.get(id) ?? 0) * bends[id]! < -wrongSignBend) wrongSigns.push(id);
  }
  return { bends, bendSpread, wrongSigns };
}

function measureKnown(
  glued: GluedSurface,
  place: Int32Array,
  vertices: readonly Point3[],
  bends: Readonly<Record<string, number>>,
  known: ShellKnown,
): KnownResult[] {
  return [
    ...Object.entries(known.bends).map(
      ([id, wanted]): KnownResult => ({ kind: 'bend', ids: [id], wanted, got: bends[id] ?? Number.NaN }),
    ),
    ...known.distances.map(({ from, to, length }): KnownResult => {
      const a = vertexAt(glued, from);
      const b = vertexAt(glued, to);
      const p = a === undefined ? undefined : vertices[place[a]!];
      const q = b === undefined ? undefined : vertices[place[b]!];
      const got = p && q ? Math.hypot(p.x - q.x, p.y - q.y, p.z - q.z) : Number.NaN;
      return { kind: 'distance', ids: [from.edge, to.edge], wanted: length, got };
    }),
  ];
}
