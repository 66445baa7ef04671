/**
 * The Keel bracer: a forearm guard of curved sheets, truth by development of a circular cone. The sleeve is a cone
 * about the z axis (wrist below, elbow above) in three pieces: outer left, outer right and under. On the outside,
 * between two straight lines of the cone, two flat flanks rise to a ridge that runs to the cone's apex too. On the flat
 * a point of the cone at slant distance s and angle θ lies at distance s and angle θ·sin(half angle) round the apex.
 * Seams: keel to outer pieces (straight), outer pieces to under (swooping cubics, bend 0). Ends: circular arcs and
 * cubics, all open.
 */
import { type Point, point, rotate } from '../../../src/math';
import { cubicAt, flatten, reversed } from './curves';
import { heartOf } from './heart';
import { MeshBuilder } from './meshBuilder';
import type { ShellMesh } from './shellMesh';
import type { CurvePart, Truth, TruthEdge, TruthPiece } from './truth';
import { cross3, distance3, dot3, minus, times, unit3, type Vec3, vec } from './vec3';

const wristRadius = 38;
const elbowRadius = 58;
const rise = 190;
const slant = Math.hypot(rise, elbowRadius - wristRadius);
const sine = (elbowRadius - wristRadius) / slant;
const cosine = rise / slant;
/** Slant distances of wrist and elbow from the apex. */
const wrist = wristRadius / sine;
const elbow = elbowRadius / sine;
const degree = Math.PI / 180;
/** Half the angle that the keel covers, and where the under piece begins at wrist and elbow. */
const keelHalf = 28 * degree;
const underWrist = 104 * degree;
const underElbow = 132 * degree;
/** How far the ridge stands from the axis, as a multiple of the cone's radius. */
const ridgeReach = 1.62;

/** Place on the cone. */
const onCone = (s: number, theta: number): Vec3 =>
  vec(s * sine * Math.sin(theta), s * sine * Math.cos(theta), s * cosine - wrist * cosine);
/** Flat place seen from outside, round the apex at the origin; `middle` is the angle that points to +y. */
const flatAt = (s: number, theta: number, middle: number): Point =>
  rotate(point(0, s), (theta - middle) * sine);
const fromFlat = (p: Point, middle: number): Vec3 =>
  onCone(Math.hypot(p.x, p.y), middle + Math.atan2(-p.x, p.y) / sine);

/** Directions from the apex: the keel's foot on the left, and the ridge. */
const footDirection = unit3(vec(sine * Math.sin(keelHalf), sine * Math.cos(keelHalf), cosine));
const ridgeDirection = unit3(vec(0, ridgeReach * sine, cosine));
const flankAngle = Math.acos(dot3(footDirection, ridgeDirection));
const flankNormal = unit3(cross3(ridgeDirection, footDirection));

/** Bend across the ridge, and across the keel's feet (a valley). */
const ridgeBend = (() => {
  const right = vec(-flankNormal.x, flankNormal.y, flankNormal.z);
  return Math.acos(dot3(flankNormal, right));
})();
const footBend = (() => {
  const radial = vec(Math.sin(keelHalf), Math.cos(keelHalf), 0);
  const coneNormal = unit3(minus(times(radial, cosine), vec(0, 0, sine)));
  return -Math.acos(dot3(coneNormal, flankNormal));
})();

/** Girth of the bare cone at a slant distance, and the open shell's own: arc of the sleeve plus the two flanks. */
export function sleeveGirth(s: number): number {
  const arc = (2 * Math.PI - 2 * keelHalf) * s * sine;
  const height = s * cosine;
  const foot = times(footDirection, height / footDirection.z);
  const ridge = times(ridgeDirection, height / ridgeDirection.z);
  return arc + 2 * distance3(foot, ridge);
}

interface Chain {
  readonly start: Point;
  readonly parts: readonly CurvePart[];
}
interface Side extends Chain {
  readonly meshEdge: number;
  readonly bend: number | null;
}

/** The swoop on the left in the frame of the under piece (middle at half a turn), from wrist to elbow. */
const swoop = (middle: number): Chain => ({
  start: flatAt(wrist, underWrist, middle),
  parts: [
    {
      kind: 'cubic',
      c1: flatAt(wrist + 70, underWrist - 14 * degree, middle),
      c2: flatAt(elbow - 80, underElbow + 6 * degree, middle),
      to: flatAt(elbow, underElbow, middle),
    },
  ],
});
const line = (from: Point, to: Point): Chain => ({ start: from, parts: [{ kind: 'line', to }] });
const flip = (p: Point): Point => point(-p.x, p.y);
const flipChain = (c: Chain): Chain => {
  const back = reversed(c.start, c.parts);
  return {
    start: flip(back.start),
    parts: back.parts.map((p) =>
      p.kind === 'cubic'
        ? { ...p, c1: flip(p.c1), c2: flip(p.c2), to: flip(p.to) }
        : p.kind === 'arc'
          ? { ...p, ccw: !p.ccw, to: flip(p.to) }
          : { ...p, to: flip(p.to) },
    ),
  };
};

/** Sides of the left outer piece, counter-clockwise: wrist, keel foot, elbow peak, elbow arc, swoop. */
function leftSides(): Side[] {
  const at = (s: number, theta: number) => flatAt(s, theta, 0);
  const shoulder = 96 * degree;
  const down = reversed(swoop(0).start, swoop(0).parts);
  return [
    {
      start: at(wrist, underWrist),
      parts: [{ kind: 'arc', radius: wrist, ccw: false, to: at(wrist, keelHalf) }],
      meshEdge: 0,
      bend: null,
    },
    { ...line(at(wrist, keelHalf), at(elbow, keelHalf)), meshEdge: 1, bend: footBend },
    {
      start: at(elbow, keelHalf),
      parts: [
        {
          kind: 'cubic',
          c1: at(elbow + 52, keelHalf + 10 * degree),
          c2: at(elbow + 34, shoulder - 22 * degree),
          to: at(elbow, shoulder),
        },
      ],
      meshEdge: 2,
      bend: null,
    },
    {
      start: at(elbow, shoulder),
      parts: [{ kind: 'arc', radius: elbow, ccw: true, to: at(elbow, underElbow) }],
      meshEdge: 3,
      bend: null,
    },
    { ...down, meshEdge: 4, bend: 0 },
  ];
}

/** Sides of the under piece: wrist, left swoop, elbow dip, right swoop. */
function underSides(): Side[] {
  const middle = Math.PI;
  const left = swoop(middle);
  const from = left.parts[0]!.to;
  const wristLeft = left.start;
  return [
    {
      start: flip(wristLeft),
      parts: [{ kind: 'arc', radius: wrist, ccw: false, to: wristLeft }],
      meshEdge: 5,
      bend: null,
    },
    { ...left, meshEdge: 4, bend: 0 },
    {
      start: from,
      parts: [
        {
          kind: 'cubic',
          c1: point(from.x * 0.62, from.y - 34),
          c2: point(-from.x * 0.62, from.y - 34),
          to: flip(from),
        },
      ],
      meshEdge: 6,
      bend: null,
    },
    { ...flipChain(left), meshEdge: 14, bend: 0 },
  ];
}

/** Ridge ends of the keel, slant distances: drawn back at the wrist, a prow beyond the elbow. */
const ridgeWrist = wrist + 16;
const ridgeElbow = elbow + 34;

/** Half the keel seen from outside, left flank: ridge on the right along +y, wrist end, elbow end. */
function keelEnds() {
  const at = (s: number, angle: number) => rotate(point(0, s), angle);
  const footWrist = at(wrist, flankAngle);
  const footElbow = at(elbow, flankAngle);
  const wristEnd: Chain = {
    start: footWrist,
    parts: [
      {
        kind: 'cubic',
        c1: at(wrist + 2, flankAngle * 0.6),
        c2: at(ridgeWrist - 5, flankAngle * 0.3),
        to: point(0, ridgeWrist),
      },
    ],
  };
  const elbowEnd: Chain = {
    start: point(0, ridgeElbow),
    parts: [
      {
        kind: 'cubic',
        c1: at(ridgeElbow - 22, flankAngle * 0.25),
        c2: at(elbow + 4, flankAngle * 0.6),
        to: footElbow,
      },
    ],
  };
  return { footWrist, footElbow, wristEnd, elbowEnd };
}

function makePiece(id: string, name: string, sides: readonly Side[], mirrorOf: string | null): TruthPiece {
  const outline = sides.map((side, i): TruthEdge => {
    const straight = side.parts.every((p) => p.kind === 'line');
    return {
      id: `${id}.e${i + 1}`,
      points: flatten(side.start, side.parts),
      ...(straight ? {} : { curve: side.parts }),
      meshEdge: side.meshEdge,
      mate: null,
      bend: side.bend,
      number: '',
    };
  });
  const ring = outline.flatMap((e) => e.points.slice(0, -1));
  const face = {
    id: `${id}.q1`,
    meshFaces: [],
    polygon: ring,
    sides: outline.map((e) => ({ kind: 'edge' as const, id: e.id, forward: true })),
  };
  return { id, name, outline, folds: [], faces: [face], tabs: [], mirrorOf, heart: heartOf(ring), page: 0 };
}

function keelPiece(id: string): TruthPiece {
  const { footWrist, footElbow, wristEnd, elbowEnd } = keelEnds();
  const sides: Side[] = [
    { ...wristEnd, meshEdge: 7, bend: null },
    { ...flipChain(wristEnd), meshEdge: 17, bend: null },
    { ...line(flip(footWrist), flip(footElbow)), meshEdge: 11, bend: footBend },
    { ...flipChain(elbowEnd), meshEdge: 18, bend: null },
    { ...elbowEnd, meshEdge: 8, bend: null },
    { ...line(footElbow, footWrist), meshEdge: 1, bend: footBend },
  ];
  const whole = makePiece(id, 'K', sides, null);
  const e = whole.outline;
  const ridge = { id: `${id}.f1`, points: [point(0, ridgeWrist), point(0, ridgeElbow)] };
  const ringOf = (edges: readonly TruthEdge[]) => edges.flatMap((x) => x.points.slice(0, -1));
  const edgeSide = (x: TruthEdge) => ({ kind: 'edge' as const, id: x.id, forward: true });
  const rightEdges = [e[1]!, e[2]!, e[3]!];
  const leftEdges = [e[4]!, e[5]!, e[0]!];
  return {
    ...whole,
    folds: [{ ...ridge, meshEdge: 9, bend: ridgeBend, left: `${id}.q1`, right: `${id}.q2` }],
    faces: [
      {
        id: `${id}.q1`,
        meshFaces: [],
        polygon: [...ringOf(leftEdges), ridge.points[0]!],
        sides: [...leftEdges.map(edgeSide), { kind: 'fold', id: ridge.id, forward: true }],
      },
      {
        id: `${id}.q2`,
        meshFaces: [],
        polygon: [...ringOf(rightEdges), ridge.points[1]!],
        sides: [...rightEdges.map(edgeSide), { kind: 'fold', id: ridge.id, forward: false }],
      },
    ],
  };
}

/** The bracer as a pattern in flat frames, elbow up. */
export function keelBracer(): Truth {
  const left = leftSides();
  const mirrorNumber: Record<number, number> = { 0: 10, 1: 11, 2: 12, 3: 13, 4: 14 };
  const right = [...left].reverse().map((s) => ({
    ...s,
    ...flipChain(s),
    meshEdge: mirrorNumber[s.meshEdge]!,
  }));
  // Start with the wrist again, as on the left.
  const rightSides = [right[right.length - 1]!, ...right.slice(0, -1)];
  const middleAngle = ((keelHalf + underWrist) / 2) * sine;
  const drafts = [
    keelPiece('P1'),
    turnPiece(makePiece('P2', 'L', left, 'P3'), -middleAngle),
    turnPiece(makePiece('P3', 'R', rightSides, 'P2'), middleAngle),
    makePiece('P4', 'U', underSides(), null),
  ];
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
  return { title: 'Keel bracer', pieces, mates, pages: [], width: 0, height: 0, shell: bracerShell().mesh };
}

function turnPiece(piece: TruthPiece, angle: number): TruthPiece {
  const move = (p: Point) => rotate(p, angle);
  return {
    ...piece,
    outline: piece.outline.map((e) => ({
      ...e,
      points: e.points.map(move),
      ...(e.curve
        ? {
            curve: e.curve.map((c) =>
              c.kind === 'cubic'
                ? { ...c, c1: move(c.c1), c2: move(c.c2), to: move(c.to) }
                : { ...c, to: move(c.to) },
            ),
          }
        : {}),
    })),
    faces: piece.faces.map((f) => ({ ...f, polygon: f.polygon.map(move) })),
    heart: move(piece.heart),
  };
}

/** Corners of the facetted copy are rounded to this, so that both sides of a seam share them, mm. */
const grain = 1e-6;

/** A fine facetted copy of the folded bracer, for pictures. */
function bracerShell(): { mesh: ShellMesh; parts: number[] } {
  const builder = new MeshBuilder();
  const ends: number[] = [];
  const round = (p: Vec3) =>
    vec(...([p.x, p.y, p.z].map((v) => Math.round(v / grain) * grain) as [number, number, number]));
  const chainAt = (chains: readonly Chain[], t: number): Point => {
    const k = Math.min(chains.length - 1, Math.floor(t * chains.length));
    const c = chains[k]!;
    const u = t * chains.length - k;
    const part = c.parts[0]!;
    if (part.kind === 'cubic') return cubicAt(c.start, part.c1, part.c2, part.to, u);
    const p = c.start;
    if (part.kind === 'line') return point(p.x + (part.to.x - p.x) * u, p.y + (part.to.y - p.y) * u);
    const a = Math.atan2(p.y, p.x);
    const b = Math.atan2(part.to.y, part.to.x);
    return point(part.radius * Math.cos(a + (b - a) * u), part.radius * Math.sin(a + (b - a) * u));
  };
  const back = (c: Chain): Chain => reversed(c.start, c.parts);
  /** Patch between four chains: bottom and top left to right, left and right upwards. */
  const patch = (
    bottom: Chain[],
    top: Chain[],
    left: Chain,
    right: Chain,
    nu: number,
    nv: number,
    place: (p: Point) => Vec3,
  ) => {
    const at = (u: number, v: number): Vec3 => {
      const b = chainAt(bottom, u);
      const t = chainAt(top, u);
      const l = chainAt([left], v);
      const r = chainAt([right], v);
      const [b0, b1, t0, t1] = [chainAt(bottom, 0), chainAt(bottom, 1), chainAt(top, 0), chainAt(top, 1)];
      const mix = (k: 'x' | 'y') =>
        (1 - v) * b[k] +
        v * t[k] +
        (1 - u) * l[k] +
        u * r[k] -
        ((1 - u) * (1 - v) * b0[k] + u * (1 - v) * b1[k] + (1 - u) * v * t0[k] + u * v * t1[k]);
      return round(place(point(mix('x'), mix('y'))));
    };
    for (let j = 0; j < nv; j++)
      for (let i = 0; i < nu; i++)
        builder.quad(
          at(i / nu, j / nv),
          at((i + 1) / nu, j / nv),
          at((i + 1) / nu, (j + 1) / nv),
          at(i / nu, (j + 1) / nv),
        );
    ends.push(builder.size);
  };
  const steps = 8;
  const left = leftSides();
  const leftPlace = (p: Point) => fromFlat(p, 0);
  const flip3 = (p: Vec3) => vec(-p.x, p.y, p.z);
  patch([left[0]!], [back(left[3]!), back(left[2]!)], back(left[4]!), left[1]!, 10, steps, leftPlace);
  const mirrorChain = (c: Chain) => flipChain(c);
  patch(
    [mirrorChain(left[0]!)],
    [mirrorChain(back(left[2]!)), mirrorChain(back(left[3]!))],
    back(mirrorChain(left[1]!)),
    mirrorChain(left[4]!),
    10,
    steps,
    (p) => flip3(leftPlace(flip(p))),
  );
  const under = underSides();
  patch([under[0]!], [back(under[2]!)], back(under[3]!), under[1]!, 16, steps, (p) => fromFlat(p, Math.PI));
  const { footWrist, footElbow, wristEnd, elbowEnd } = keelEnds();
  const apex = vec(0, 0, -wrist * cosine);
  const sideways = unit3(minus(footDirection, times(ridgeDirection, dot3(footDirection, ridgeDirection))));
  const flank = (p: Point): Vec3 => {
    const d = { x: -p.x, y: p.y };
    return vec(
      apex.x + sideways.x * d.x + ridgeDirection.x * d.y,
      apex.y + sideways.y * d.x + ridgeDirection.y * d.y,
      apex.z + sideways.z * d.x + ridgeDirection.z * d.y,
    );
  };
  const ridge = line(point(0, ridgeWrist), point(0, ridgeElbow));
  const foot = line(footWrist, footElbow);
  patch([wristEnd], [back(elbowEnd)], foot, ridge, 3, steps, flank);
  patch(
    [flipChain(wristEnd)],
    [back(flipChain(elbowEnd))],
    ridge,
    line(flip(footWrist), flip(footElbow)),
    3,
    steps,
    (p) => flip3(flank(flip(p))),
  );
  const mesh = builder.build('Keel bracer');
  return { mesh, parts: mesh.faces.map((_, f) => ends.findIndex((end) => f < end)) };
}

/** For each face of the facetted copy the sheet that it belongs to (left, right, under, the two flanks). */
export const bracerParts = (): number[] => bracerShell().parts;

/** Where a flat place of a piece of `keelBracer` lies on the folded bracer. */
export function onKeelBracer(piece: string, p: Point): Vec3 {
  const mirrored = (place: (q: Point) => Vec3) => {
    const q = place(flip(p));
    return vec(-q.x, q.y, q.z);
  };
  const middleAngle = ((keelHalf + underWrist) / 2) * sine;
  const outer = (q: Point) => fromFlat(rotate(q, middleAngle), 0);
  if (piece === 'P2') return outer(p);
  if (piece === 'P3') return mirrored(outer);
  if (piece === 'P4') return fromFlat(p, Math.PI);
  return p.x > 0 ? mirrored(onFlank) : onFlank(p);
}

/** The left flank of the keel, the ridge along +y on the flat. */
function onFlank(p: Point): Vec3 {
  const along = dot3(footDirection, ridgeDirection);
  const sideways = unit3(minus(footDirection, times(ridgeDirection, along)));
  const apex = vec(0, 0, -wrist * cosine);
  return vec(
    apex.x - sideways.x * p.x + ridgeDirection.x * p.y,
    apex.y - sideways.y * p.x + ridgeDirection.y * p.y,
    apex.z - sideways.z * p.x + ridgeDirection.z * p.y,
  );
}
