/**
 * What the search knows of a panel: a form (outline, convex parts) about an origin of its own, its boxes at every turn,
 * and the no-fit polygons of all pairs, made when a pair first meets.
 */
import { boxOf, type Point, ringArea } from '../math';
import { offsetRings, uniteRings } from '../plane';
import type { Mm, Mm2 } from '../units';
import { convexParts } from './convex';
import { NoFitPool } from './noFit';
import { polesOf } from './poles';
import { simplifyOutwards } from './simplify';
import {
  fewVertices,
  formPoles,
  plainDents,
  plainVertices,
  simplifyShare,
  slitInset,
  straightShare,
} from './tolerance';

/** A region to be placed: outline counter-clockwise, holes clockwise, mm. */
export interface Region {
  readonly outline: readonly Point[];
  readonly holes: readonly (readonly Point[])[];
}

export interface Form {
  /** The true outline and holes, about the form's origin, without gap. */
  readonly truth: Region;
  /** What the search places: with half the gap around it, simplified outwards, about the same origin. */
  readonly rings: readonly (readonly Point[])[];
  /** Area of the true region. */
  readonly area: Mm2;
  /** Where the form's origin is in the coordinates that the region was given in. */
  readonly origin: Point;
}

/** @param gap free space to keep between two panels */
export function makeForm(region: Region, gap: Mm, mirrored: boolean): Form {
  const turned = mirrored ? mirrorRegion(region) : region;
  const box = boxOf(turned.outline);
  const origin = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
  const about = (ring: readonly Point[]) => ring.map((p) => ({ x: p.x - origin.x, y: p.y - origin.y }));
  const truth = { outline: about(turned.outline), holes: turned.holes.map(about) };
  const area = ringArea(truth.outline) + truth.holes.reduce((sum, h) => sum + ringArea(h), 0);
  const size = Math.max(box.maxX - box.minX, box.maxY - box.minY);
  return { truth, rings: searchRings(truth, gap, size), area, origin };
}

/** Mirrored left to right, with the direction of its rings put right again. */
export function mirrorRegion(region: Region): Region {
  const mirror = (ring: readonly Point[]) => ring.map((p) => ({ x: -p.x, y: p.y })).reverse();
  return { outline: mirror(region.outline), holes: region.holes.map(mirror) };
}

/** With half the gap around it; simplified where no-fit polygons would take long. */
function searchRings(truth: Region, gap: Mm, size: Mm): Point[][] {
  const given = uniteRings([truth.outline, ...truth.holes], 'positive');
  const exact = given.some((ring) => ring.length > plainVertices)
    ? null
    : grown(given, (ring) => simplifyOutwards(ring, size * 1e-9, size * 1e-9, 3), gap);
  if (exact && !exact.some((ring) => ring.length > plainVertices || dentsOf(ring) > plainDents)) return exact;
  return grown(
    given,
    (ring) => simplifyOutwards(ring, size * straightShare, size * simplifyShare, fewVertices),
    gap,
  );
}

function grown(rings: readonly (readonly Point[])[], simpler: (ring: readonly Point[]) => Point[], gap: Mm) {
  // Corners may stand out further than half a gap (mitre), never less; the corners that this adds go again.
  return offsetRings(rings.map(simpler), gap / 2 - slitInset, { kind: 'mitre', limit: 2 }).map(simpler);
}

function dentsOf(ring: readonly Point[]): number {
  const n = ring.length;
  return ring.filter((a, i) => {
    const [p, q] = [ring[(i + n - 1) % n]!, ring[(i + 1) % n]!];
    return (a.x - p.x) * (q.y - a.y) - (a.y - p.y) * (q.x - a.x) < 0;
  }).length;
}

/** Convex parts of a set of rings: each outline with the holes inside it. */
function partsOf(rings: readonly (readonly Point[])[]): Point[][] {
  const outlines = rings.filter((r) => ringArea(r) > 0);
  const holes = rings.filter((r) => ringArea(r) < 0);
  return outlines.flatMap((outline) => {
    const box = boxOf(outline);
    const mine =
      outlines.length === 1
        ? holes
        : holes.filter(
            (h) => h[0]!.x > box.minX && h[0]!.x < box.maxX && h[0]!.y > box.minY && h[0]!.y < box.maxY,
          );
    return convexParts(outline, mine);
  });
}

/** Turned about the origin; quarter turns are exact. */
export function turnPoint(p: Point, cos: number, sin: number): Point {
  return { x: cos * p.x - sin * p.y, y: sin * p.x + cos * p.y };
}

/** All forms of a job with their boxes and no-fit polygons, at `turns` equal steps of a full turn. */
export class FormTable {
  readonly pool = new NoFitPool();
  readonly cos: Float64Array;
  readonly sin: Float64Array;
  /** Boxes of form f at turn t, at index (f · turns + t). */
  readonly minX: Float64Array;
  readonly minY: Float64Array;
  readonly maxX: Float64Array;
  readonly maxY: Float64Array;
  /** Circles inside form f at turn t, at indices (f · turns + t) · formPoles …; their radii at f · formPoles … */
  readonly poleX: Float64Array;
  readonly poleY: Float64Array;
  readonly poleRadius: Float64Array;
  /** −1 until the pair first meets. Index ((a · forms + b) · turns + relative turn), a ≤ b. */
  readonly pairAt: Int32Array;
  private readonly turnedParts = new Map<number, Point[][]>();

  constructor(
    readonly forms: readonly Form[],
    readonly turns: number,
  ) {
    this.cos = new Float64Array(turns);
    this.sin = new Float64Array(turns);
    for (let t = 0; t < turns; t++) {
      // Rounded, so that quarter turns are exact and other machines' sine makes no difference.
      this.cos[t] = Math.round(Math.cos((2 * Math.PI * t) / turns) * 1e12) / 1e12;
      this.sin[t] = Math.round(Math.sin((2 * Math.PI * t) / turns) * 1e12) / 1e12;
    }
    const count = forms.length * turns;
    this.minX = new Float64Array(count);
    this.minY = new Float64Array(count);
    this.maxX = new Float64Array(count);
    this.maxY = new Float64Array(count);
    this.poleX = new Float64Array(count * formPoles);
    this.poleY = new Float64Array(count * formPoles);
    this.poleRadius = new Float64Array(forms.length * formPoles);
    forms.forEach((form, f) => {
      const poles = polesOf(form.rings, formPoles);
      this.poleRadius.set(
        poles.map((p) => p.radius),
        f * formPoles,
      );
      for (let t = 0; t < turns; t++) {
        const box = boxOf(form.rings.flat().map((p) => turnPoint(p, this.cos[t]!, this.sin[t]!)));
        const at = f * turns + t;
        this.minX[at] = box.minX;
        this.minY[at] = box.minY;
        this.maxX[at] = box.maxX;
        this.maxY[at] = box.maxY;
        poles.forEach((pole, k) => {
          const turned = turnPoint(pole, this.cos[t]!, this.sin[t]!);
          this.poleX[at * formPoles + k] = turned.x;
          this.poleY[at * formPoles + k] = turned.y;
        });
      }
    });
    this.pairAt = new Int32Array(forms.length * forms.length * turns).fill(-1);
  }

  /** The number of the no-fit polygon of a (unturned) and b (turned by `relative`), a ≤ b. */
  pair(a: number, b: number, relative: number): number {
    const at = (a * this.forms.length + b) * this.turns + relative;
    const known = this.pairAt[at]!;
    if (known >= 0) return known;
    const made = this.pool.add(this.partsAt(a, 0), this.partsAt(b, relative));
    this.pairAt[at] = made;
    return made;
  }

  private partsAt(f: number, t: number): Point[][] {
    const key = f * this.turns + t;
    let parts = this.turnedParts.get(key);
    if (!parts) {
      parts =
        t === 0
          ? partsOf(this.forms[f]!.rings)
          : this.partsAt(f, 0).map((part) => part.map((p) => turnPoint(p, this.cos[t]!, this.sin[t]!)));
      this.turnedParts.set(key, parts);
    }
    return parts;
  }
}
