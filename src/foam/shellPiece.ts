/**
 * One panel from the shell: its flat neutral outline moved to the two skins and to the traced face, stretch by stretch
 * of the outline with the bend that the shell has there. Pure.
 */
import {
  add,
  add3,
  distance,
  dot,
  dot3,
  norm3,
  type Point,
  polylineLength,
  ringArea,
  scaleBy,
  scaleBy3,
  subtract,
  subtract3,
  unitOf,
  unitOf3,
} from '../math';
import type { PanelEdge } from '../model';
import { type ShiftEdge, type ShiftedEdge, type ShiftResult, shiftEdges } from '../plane';
import type { Mm } from '../units';
import type { CornerMoves, CutPiece, CutStretch } from './cutPiece';
import { gluedHeight, moveAt } from './gluedSkin';
import type { NeutralPiece } from './neutralPieces';
import { panelBody } from './panelBody';
import {
  cutWords,
  isMade,
  measureKey,
  type PiecePlan,
  type PieceShape,
  panelFold,
  plannedCut,
  type SideMeasure,
} from './shapePiece';
import { fanMitre, inSpace } from './shellCorners';
import type { FoamNet } from './surface';
import { shaving } from './tolerance';
import { type ShiftOwner, troublesOf } from './troubles';

type Skin = 'inside' | 'outside';

/** @param cut the piece with its cuts, its corners moved to meet those of its mates (`meetCorners`) */
export function shapeFromShell(cut: CutPiece, net: FoamNet): PieceShape {
  const { neutral, plan, moves, loops, corners } = cut;
  const owners = new Map(loops.flatMap((loop, l) => loop.map((s, k) => [stretchId(l, k), s] as const)));
  const ownerOf = (id: string): ShiftOwner => {
    const { edge, planned, bend, cut } = owners.get(id)!;
    const bevelled =
      planned?.preparation === 'bevel'
        ? {
            seam: planned.seam,
            now: cut,
            square: plannedCut({ ...planned, preparation: 'square' }, bend, plan),
          }
        : null;
    return { edge, bevelled };
  };
  const shift = (skin: Skin, kerf: Mm) => {
    const given = loops.map((loop, l) =>
      loop.map(
        (stretch, k): ShiftEdge => ({
          id: stretchId(l, k),
          points: stretch.line,
          shift: stretch.cut[skin] + kerf,
          corner: add(corners[l]![k]![skin], scaleBy(corners[l]![k]!.kerf, kerf)),
        }),
      ),
    );
    return { given, result: shiftEdges(given, { mitreLimit: plan.mitreLimit }) };
  };
  const skins = { inside: shift('inside', 0), outside: shift('outside', 0) };
  const traced = plan.kerf === 0 ? skins[plan.traced] : shift(plan.traced, plan.kerf / 2);
  return {
    loops: loops.map((loop, l) => edgesOfLoop(loop, l, corners[l]!, traced, neutral, net, plan)),
    folds: neutral.flat.folds.filter(isMade).map((fold) => panelFold(fold, plan, moves, traced)),
    body: panelBody(cut, net),
    outlines: {
      inside: worthCutting(skins.inside.result.rings),
      traced: worthCutting(traced.result.rings),
      outside: worthCutting(skins.outside.result.rings),
    },
    measures: measuresOf(loops, corners, skins[plan.traced].result, neutral, plan),
    troubles: (['outside', 'inside'] as const).flatMap((skin) =>
      troublesOf(skin, skins[skin].given, skins[skin].result, ownerOf),
    ),
  };
}

/** Rings without shavings. */
const worthCutting = (rings: PieceShape['outlines']['traced']) =>
  rings.filter((ring) => Math.abs(ringArea(ring)) > shaving);

const stretchId = (loop: number, place: number) => `${loop}.${place}`;

/** The traced edges of a loop: the stretches of one edge put together again. */
function edgesOfLoop(
  loop: readonly CutStretch[],
  l: number,
  corners: readonly CornerMoves[],
  traced: { readonly result: ShiftResult },
  neutral: NeutralPiece,
  net: FoamNet,
  plan: PiecePlan,
): PanelEdge[] {
  const edges: PanelEdge[] = [];
  for (let k = 0; k < loop.length; ) {
    let end = k + 1;
    while (end < loop.length && loop[end]!.edge === loop[k]!.edge) end++;
    const group = loop.slice(k, end);
    const shifted = traced.result.loops[l]!.slice(k, end);
    const first = group[0]!;
    const along = vertexPlaces(group, shifted, k, corners, neutral, net, plan);
    const tilt = first.cut.tilt;
    edges.push({
      id: first.edge,
      seam: first.planned?.seam ?? null,
      shift: shifted[0]!.shift,
      bevel: plan.traced === 'outside' || tilt === 0 ? tilt : -tilt,
      ...cutWords(first.planned),
      bend: first.planned?.bend ?? null,
      points: joined(shifted),
      curved: first.points.length > 2,
      ...(along ? { vertices: along } : {}),
    });
    k = end;
  }
  return edges;
}

/** The longest line that follows on itself. */
function joined(shifted: readonly ShiftedEdge[]): readonly Point[] {
  const runs: Point[][] = [];
  for (const part of shifted.flatMap((edge) => edge.parts)) {
    const last = runs.at(-1);
    if (last && distance(last.at(-1)!, part[0]!) === 0) last.push(...part.slice(1));
    else runs.push([...part]);
  }
  let best: readonly Point[] = [];
  for (const run of runs) if (best.length === 0 || polylineLength(run) > polylineLength(best)) best = run;
  return best;
}

/**
 * How far along the traced edge the vertices of the shell lie, from its first point: where marks meet those of the mate
 * once the panel is bent, at the depth where it is glued; a mark stands square through the foam. Half-way between where
 * the vertex lies on the stretch's own face, which stays flat, and where it lies on skins that stretch to the mitre: the
 * worse of both models is then as small as it can be, since what a mark is moved by takes from one and gives to the other.
 */
function vertexPlaces(
  group: readonly CutStretch[],
  shifted: readonly ShiftedEdge[],
  first: number,
  corners: readonly CornerMoves[],
  neutral: NeutralPiece,
  net: FoamNet,
  plan: PiecePlan,
): readonly Mm[] | null {
  if (shifted.some((edge) => edge.parts.length !== 1)) return null;
  const found: Mm[] = [];
  let start = 0;
  group.forEach((stretch, i) => {
    const flat = unitOf(subtract(stretch.line.at(-1)!, stretch.line[0]!));
    const before = corners[(first + i + corners.length - 1) % corners.length]!;
    const after = corners[first + i]!;
    const { atStart, atEnd } = vertexShifts(stretch, before, after, flat, neutral, net, plan);
    const part = shifted[i]!.parts[0]!;
    const length = polylineLength(part);
    // By the ends of what is left of the edge: another edge may have cut it short of its corner.
    const from = start + atStart - dot(subtract(part[0]!, stretch.line[0]!), flat);
    const to = start + length + atEnd - dot(subtract(part.at(-1)!, stretch.line.at(-1)!), flat);
    if (i === 0) found.push(from);
    else found[found.length - 1] = (found.at(-1)! + from) / 2;
    found.push(to);
    start += length;
  });
  return found;
}

/**
 * How far the vertices of the offset shell lie past the flat neutral ends of a stretch, along it, as a mark stands square
 * through the foam at the depth where it is glued.
 */
function vertexShifts(
  stretch: CutStretch,
  before: CornerMoves,
  after: CornerMoves,
  flat: Point,
  neutral: NeutralPiece,
  net: FoamNet,
  plan: PiecePlan,
): { readonly atStart: Mm; readonly atEnd: Mm } {
  const { startVertex, endVertex, startNode, endNode, line } = stretch;
  const h = gluedHeight(stretch, plan);
  const side = subtract3(neutral.places[endVertex]!, neutral.places[startVertex]!);
  const along = unitOf3(side);
  const rigid = [startVertex, endVertex].map((v) => h * dot3(net.vectors[v]!, along));
  // The cut edge at that depth, flat and as it is bent, from the neutral start on.
  const ends = [
    { node: startNode, corner: before, flatAt: 0, bentAt: 0 },
    { node: endNode, corner: after, flatAt: distance(line[0]!, line.at(-1)!), bentAt: norm3(side) },
  ].map(({ node, corner, flatAt, bentAt }) => {
    const fan = neutral.fans[node]!;
    const move = moveAt(corner, h, plan);
    const off = add3(scaleBy3(fanMitre(fan), h), inSpace(fan, move));
    return { flat: flatAt + dot(move, flat), bent: bentAt + dot3(off, along), flatAt, bentAt };
  });
  const [p, q] = ends as [(typeof ends)[number], (typeof ends)[number]];
  const rate = (q.flat - p.flat) / (q.bent - p.bent);
  // A stretch that is gone at this depth carries no marks.
  if (!(rate > 0) || !Number.isFinite(rate)) return { atStart: rigid[0]!, atEnd: rigid[1]! };
  // Half of what lies between both in space: stretched skins carry a mark that is moved by 1 on by 1 / rate.
  const between = ({ flatAt, bentAt }: typeof p, shift: Mm) =>
    shift + (p.flat + rate * (bentAt + shift - p.bent) - flatAt - shift) / (1 + rate);
  return { atStart: between(p, rigid[0]!), atEnd: between(q, rigid[1]!) };
}

/** Lengths of every seam side and border: flat on the traced face, at the neutral depth, and glued after bending. */
function measuresOf(
  loops: readonly (readonly CutStretch[])[],
  corners: readonly (readonly CornerMoves[])[],
  result: ShiftResult,
  neutral: NeutralPiece,
  plan: PiecePlan,
): Record<string, SideMeasure> {
  const measures: Record<string, SideMeasure> = {};
  loops.forEach((loop, l) => {
    loop.forEach((stretch, k) => {
      const parts = result.loops[l]![k]!.parts;
      const length = parts.reduce((sum, part) => sum + polylineLength(part), 0);
      const before = corners[l]![(k + loop.length - 1) % loop.length]!;
      const bent = bentLength(stretch, before, corners[l]![k]!, length, neutral, plan);
      const key = measureKey(stretch.edge, stretch.planned?.seam ?? null);
      const so = measures[key] ?? { length: 0, neutral: 0, bent: 0 };
      measures[key] = {
        length: so.length + length,
        neutral: so.neutral + polylineLength(stretch.points),
        bent: so.bent + bent,
      };
    });
  });
  return measures;
}

/**
 * The length of a stretch where it is glued once the panel is bent, its foam stretched to the bisector plane of every
 * fold that ends on it: corners stand at the mitre of their faces. To first order it is the flat length plus
 * h · (mitre at its end − mitre at its start) · direction, for one fold h tan(ψ/2) (sin β₁ + sin β₂).
 */
function bentLength(
  stretch: CutStretch,
  before: CornerMoves,
  after: CornerMoves,
  length: Mm,
  neutral: NeutralPiece,
  plan: PiecePlan,
): Mm {
  if (length === 0) return 0;
  const h = gluedHeight(stretch, plan);
  const corner = (node: number, vertex: number, moved: CornerMoves) => {
    const fan = neutral.fans[node]!;
    const skin = add3(neutral.places[vertex]!, scaleBy3(fanMitre(fan), h));
    return add3(skin, inSpace(fan, moveAt(moved, h, plan)));
  };
  const start = corner(stretch.startNode, stretch.startVertex, before);
  const end = corner(stretch.endNode, stretch.endVertex, after);
  const chord = distance(
    add(stretch.line[0]!, before[plan.traced]),
    add(stretch.line.at(-1)!, after[plan.traced]),
  );
  const bent = norm3(subtract3(end, start));
  // A curve is longer than its chord, flat and bent alike.
  return chord > 0 ? bent * Math.max(1, length / chord) : bent;
}
