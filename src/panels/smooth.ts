/**
 * Facet corners of gently bent seams made fair: where the edges of a run follow each other with a small turn on both
 * panels, both outlines run through the same vertices along one shared course, the mean of both their centripetal
 * Catmull-Rom curves (Barry and Goldman 1988 with the parameter of Yuksel et al. 2011, from memory). Vertices and notches stay where they are; sharp corners stay sharp.
 * Works on the panels of the foam stage: all three outlines are treated alike.
 */
import type { Issue } from '../base';
import { distance, lerp, type Point, polylineLength } from '../math';
import type { FoamResult, FoamSeamRow, Panel, PanelEdge, Seams } from '../model';
import { curveSpan } from '../plane';
import type { Mm } from '../units';
import { apartBy, sharedCurves } from './sharedCurve';
import { sameCorner, smoothReach, smoothTurn } from './tolerance';

export interface Smoothed {
  readonly foam: FoamResult;
  /** Edges that are curves now. */
  readonly edges: number;
  /** Farthest that a curve runs from the straight edge that it replaces. */
  readonly deviation: Mm;
  /** Largest change of an edge's length. */
  readonly stretch: Mm;
  /** How far the curves of mates would have run apart, had each its own; they share one. */
  readonly apart: Mm;
}

interface Place {
  readonly panel: number;
  readonly edge: PanelEdge;
}

export function smoothPanels(foam: FoamResult, { seams, runs }: Pick<Seams, 'seams' | 'runs'>): Smoothed {
  const places = new Map<string, Place>();
  foam.panels.forEach((panel, k) => {
    for (const loop of panel.loops)
      for (const edge of loop) if (isPlain(panel, edge)) places.set(edge.id, { panel: k, edge });
  });
  const seamOf = new Map(seams.map((s) => [s.id, s]));
  const curves = new Map<string, readonly Point[]>();
  let apart: Mm = 0;
  for (const run of runs) {
    const steps = run.seams.map((id) => {
      const seam = seamOf.get(id);
      const a = seam && places.get(seam.a.edge);
      const b = seam && places.get(seam.b.edge);
      return seam && a && b && !seam.partA && !seam.partB
        ? { a, b, opposed: seam.direction === 'opposed' }
        : null;
    });
    for (let from = 0; from < steps.length; ) {
      let to = from;
      while (steps[to] && steps[to + 1] && flows(steps[to]!, steps[to + 1]!)) to++;
      if (to > from) {
        const part = steps.slice(from, to + 1).map((s) => s!);
        through(
          part.map((s) => s.a.edge),
          curves,
        );
        const mates = part.map((s) => s.b.edge);
        through(part[0]!.opposed ? mates.reverse() : mates, curves);
        for (const { a, b, opposed } of part) {
          const spans = [a, b].map(({ edge }) => ({ edge: edge.points, curve: curves.get(edge.id)! }));
          apart = Math.max(apart, apartBy(spans[0]!, spans[1]!, opposed));
          const [own, mate] = sharedCurves(spans[0]!, spans[1]!, opposed, smoothReach);
          curves.set(a.edge.id, own);
          curves.set(b.edge.id, mate);
        }
      }
      from = to + 1;
    }
  }
  if (curves.size === 0) return { foam, edges: 0, deviation: 0, stretch: 0, apart };
  const growth = new Map<string, Mm>();
  let deviation = 0;
  for (const [id, curve] of curves) {
    const [p, q] = places.get(id)!.edge.points as [Point, Point];
    growth.set(id, polylineLength(curve) - distance(p, q));
    for (const r of curve) deviation = Math.max(deviation, offLine(r, p, q));
  }
  const stretch = Math.max(...[...growth.values()].map(Math.abs));
  return {
    foam: {
      ...foam,
      issues: [...foam.issues, smoothNote(curves.size, deviation, stretch)],
      panels: foam.panels.map((panel) => curved(panel, curves)),
      rows: foam.rows.map((row) => grown(row, seamOf.get(row.seam), growth)),
    },
    edges: curves.size,
    deviation,
    stretch,
    apart,
  };
}

const smoothNote = (edges: number, deviation: Mm, stretch: Mm): Issue => ({
  code: 'outlines-smoothed',
  severity: 'note',
  stage: 'panels',
  message: `${edges} edges are drawn as smooth curves, both sides of a seam alike, up to ${deviation.toFixed(2)} mm off their straight edges (never more than ${smoothReach} mm); lengths change by up to ${stretch.toFixed(2)} mm.`,
  remedy: '',
  place: {},
});

/** A straight edge that lies in the outline as it will be cut, corner to corner. */
function isPlain(panel: Panel, edge: PanelEdge): boolean {
  const [p, q, ...more] = edge.points;
  return (
    edge.seam !== null &&
    p !== undefined &&
    q !== undefined &&
    more.length === 0 &&
    panel.outlines.traced.some((ring) => sideAt(ring, p, q) >= 0)
  );
}

const near = (p: Point, q: Point) => distance(p, q) <= sameCorner;

/** Place of the side from p to q in a ring, or −1. */
const sideAt = (ring: readonly Point[], p: Point, q: Point): number =>
  ring.findIndex((r, i) => near(r, p) && near(ring[(i + 1) % ring.length]!, q));

/** Whether a run goes on smoothly from one seam to the next, on both panels. */
function flows(
  one: { readonly a: Place; readonly b: Place; readonly opposed: boolean },
  two: { readonly a: Place; readonly b: Place; readonly opposed: boolean },
): boolean {
  if (one.a.panel !== two.a.panel || one.b.panel !== two.b.panel || one.opposed !== two.opposed) return false;
  const [c, d] = one.opposed ? [two.b.edge, one.b.edge] : [one.b.edge, two.b.edge];
  return gentle(one.a.edge, two.a.edge) && gentle(c, d);
}

function gentle(first: PanelEdge, second: PanelEdge): boolean {
  const [p, q] = first.points as [Point, Point];
  const [r, s] = second.points as [Point, Point];
  if (!near(q, r)) return false;
  const turn = Math.atan2(
    (q.x - p.x) * (s.y - r.y) - (q.y - p.y) * (s.x - r.x),
    (q.x - p.x) * (s.x - r.x) + (q.y - p.y) * (s.y - r.y),
  );
  return Math.abs(turn) < smoothTurn;
}

/** The curve through the corners of edges that follow each other, edge by edge. */
function through(edges: readonly PanelEdge[], curves: Map<string, readonly Point[]>): void {
  const corners = [edges[0]!.points[0]!, ...edges.map((e) => e.points[1]!)];
  // Beyond its ends the curve goes on as it comes: the neighbour mirrored at the end.
  const before = lerp(corners[0]!, corners[1]!, -1);
  const after = lerp(corners.at(-1)!, corners.at(-2)!, -1);
  const all = [before, ...corners, after];
  edges.forEach((edge, i) => {
    curves.set(edge.id, curveSpan(all[i]!, all[i + 1]!, all[i + 2]!, all[i + 3]!));
  });
}

function offLine(r: Point, p: Point, q: Point): Mm {
  const length = distance(p, q);
  return length === 0 ? 0 : Math.abs((q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x)) / length;
}

function curved(panel: Panel, curves: ReadonlyMap<string, readonly Point[]>): Panel {
  const own = panel.loops.flat().filter((e) => curves.has(e.id));
  if (own.length === 0) return panel;
  const skin = (rings: readonly (readonly Point[])[]) =>
    rings.map((ring) => bentRing(ring, panel, own, curves));
  return {
    ...panel,
    loops: panel.loops.map((loop) =>
      loop.map((edge): PanelEdge => {
        const points = curves.get(edge.id);
        if (!points) return edge;
        const rate = polylineLength(points) / distance(edge.points[0]!, edge.points[1]!);
        const { vertices } = edge;
        return {
          ...edge,
          points,
          curved: true,
          ...(vertices ? { vertices: vertices.map((v) => v * rate) } : {}),
        };
      }),
    ),
    outlines: {
      inside: skin(panel.outlines.inside),
      traced: skin(panel.outlines.traced),
      outside: skin(panel.outlines.outside),
    },
  };
}

/**
 * A ring with the curves in place of its straight sides: of the traced ring the very points; another skin gets the same
 * bulge on the side that corresponds, where it has as many corners as the traced one.
 */
function bentRing(
  ring: readonly Point[],
  panel: Panel,
  own: readonly PanelEdge[],
  curves: ReadonlyMap<string, readonly Point[]>,
): readonly Point[] {
  const bulge = new Map<number, readonly Point[]>();
  for (const edge of own) {
    const [p, q] = edge.points as [Point, Point];
    const curve = curves.get(edge.id)!;
    const same = sideAt(ring, p, q);
    if (same >= 0) {
      bulge.set(same, curve);
      continue;
    }
    const traced = panel.outlines.traced.find((t) => t.length === ring.length && sideAt(t, p, q) >= 0);
    if (!traced) continue;
    const i = (sideAt(traced, p, q) + shiftBetween(traced, ring)) % ring.length;
    const [r, s] = [ring[i]!, ring[(i + 1) % ring.length]!];
    bulge.set(
      i,
      curve.map((c) => carried(c, p, q, r, s)),
    );
  }
  if (bulge.size === 0) return ring;
  return ring.flatMap((p, i) => bulge.get(i)?.slice(0, -1) ?? [p]);
}

/** By how many corners the second ring is ahead of the first: where they lie nearest to each other. */
function shiftBetween(one: readonly Point[], two: readonly Point[]): number {
  const n = one.length;
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let by = 0; by < n; by++) {
    let sum = 0;
    for (let i = 0; i < n && sum < least; i++) sum += distance(one[i]!, two[(i + by) % n]!);
    if (sum < least) {
      least = sum;
      best = by;
    }
  }
  return best;
}

/** A point beside the side p–q, carried to the side r–s: the same part along, the same distance off. */
function carried(c: Point, p: Point, q: Point, r: Point, s: Point): Point {
  const length = distance(p, q);
  const other = distance(r, s);
  if (length === 0 || other === 0) return r;
  const [ux, uy] = [(q.x - p.x) / length, (q.y - p.y) / length];
  const [vx, vy] = [(s.x - r.x) / other, (s.y - r.y) / other];
  const along = (((c.x - p.x) * ux + (c.y - p.y) * uy) / length) * other;
  const off = (c.y - p.y) * ux - (c.x - p.x) * uy;
  return { x: r.x + vx * along - vy * off, y: r.y + vy * along + vx * off };
}

/** A row whose sides became longer or shorter. */
export function grown(
  row: FoamSeamRow,
  seam: Seams['seams'][number] | undefined,
  growth: ReadonlyMap<string, Mm>,
): FoamSeamRow {
  const a = seam ? (growth.get(seam.a.edge) ?? 0) : 0;
  const b = seam ? (growth.get(seam.b.edge) ?? 0) : 0;
  if (a === 0 && b === 0) return row;
  const lengthA = row.lengthA + a;
  const lengthB = row.lengthB + b;
  return {
    ...row,
    lengthA,
    lengthB,
    neutralA: row.neutralA + a,
    neutralB: row.neutralB + b,
    mismatch: Math.abs(lengthA + row.stretchA - lengthB - row.stretchB),
  };
}
