/**
 * What lies under the pointer: a tree of boxes over the line stretches and rings of a scene. Lines win over areas,
 * nearer lines over farther ones; of two equally near, the kind that comes first in the caller's list.
 */
import Flatbush from 'flatbush';
import { type Box, boxOf, distance, dot, joinBoxes, lerp, type Point, subtract } from '../../../src/math';
import type { Mm } from '../../../src/units';
import type { Hit, HitKind } from '../../tools';
import type { Pickable } from './scene';

/** Lines whose distances from the pointer differ by less than this part of the reach are equally near. */
const tie = 0.15;

export class SceneIndex {
  private readonly stretches: { readonly of: number; readonly a: Point; readonly b: Point }[] = [];
  private readonly stretchTree: Flatbush | null;
  private readonly rings: number[] = [];
  private readonly ringTree: Flatbush | null;
  private readonly corners: Point[] = [];
  private readonly cornerTree: Flatbush | null;
  private readonly byId = new Map<string, Pickable[]>();
  private readonly ordered = new Map<HitKind, string[]>();

  constructor(private readonly pickables: readonly Pickable[]) {
    pickables.forEach((p, i) => {
      const same = this.byId.get(p.id);
      if (same) same.push(p);
      else {
        this.byId.set(p.id, [p]);
        const order = this.ordered.get(p.kind);
        if (order) order.push(p.id);
        else this.ordered.set(p.kind, [p.id]);
      }
      if (p.closed) {
        if (p.points.length >= 3) this.rings.push(i);
        return;
      }
      for (let k = 1; k < p.points.length; k++) {
        this.stretches.push({ of: i, a: p.points[k - 1]!, b: p.points[k]! });
      }
      if (p.kind === 'edge' || p.kind === 'fold') {
        if (p.points[0]) this.corners.push(p.points[0]);
        if (p.points.length > 1) this.corners.push(p.points.at(-1)!);
      }
    });
    this.stretchTree = treeOf(this.stretches.map((s) => boxOf([s.a, s.b])));
    this.ringTree = treeOf(this.rings.map((i) => boxOf(pickables[i]!.points)));
    this.cornerTree = treeOf(this.corners.map((c) => boxOf([c])));
  }

  /** All things with an id. */
  withId(id: string): readonly Pickable[] {
    return this.byId.get(id) ?? [];
  }

  /** Ids of the things of a kind in reading order, each once. */
  inOrder(kind: HitKind): readonly string[] {
    return this.ordered.get(kind) ?? [];
  }

  /** The thing at a position: the nearest line within `reach`, else the smallest ring around it; null for none. */
  at(at: Point, reach: Mm, kinds: readonly HitKind[]): Hit | null {
    const line = this.nearestLine(at, reach, kinds);
    const found = line ?? this.smallestRing(at, kinds);
    return found === null ? null : { kind: found.kind, id: found.id, piece: found.piece };
  }

  private nearestLine(at: Point, reach: Mm, kinds: readonly HitKind[]): Pickable | null {
    if (!this.stretchTree) return null;
    let best: Pickable | null = null;
    let bestCost = Number.POSITIVE_INFINITY;
    for (const i of this.stretchTree.search(at.x - reach, at.y - reach, at.x + reach, at.y + reach)) {
      const stretch = this.stretches[i]!;
      const owner = this.pickables[stretch.of]!;
      const rank = kinds.indexOf(owner.kind);
      if (rank < 0) continue;
      const away = distanceToStretch(at, stretch.a, stretch.b);
      if (away > reach) continue;
      const cost = away + rank * tie * reach;
      if (cost < bestCost) {
        best = owner;
        bestCost = cost;
      }
    }
    return best;
  }

  private smallestRing(at: Point, kinds: readonly HitKind[]): Pickable | null {
    if (!this.ringTree) return null;
    let best: Pickable | null = null;
    let bestSize = Number.POSITIVE_INFINITY;
    for (const i of this.ringTree.search(at.x, at.y, at.x, at.y)) {
      const ring = this.pickables[this.rings[i]!]!;
      if (!kinds.includes(ring.kind) || !isInside(at, ring.points)) continue;
      const box = boxOf(ring.points);
      const size = (box.maxX - box.minX) * (box.maxY - box.minY);
      if (size < bestSize) {
        best = ring;
        bestSize = size;
      }
    }
    return best;
  }

  /** The nearest end of an edge or fold within `reach`; null for none. */
  cornerNear(at: Point, reach: Mm): Point | null {
    const found = this.cornerTree?.neighbors(at.x, at.y, 1, reach)[0];
    return found === undefined ? null : (this.corners[found] ?? null);
  }

  /** Ids of the things of a kind that lie wholly inside a box, in reading order. */
  within(box: Box, kind: HitKind): string[] {
    const whole = (p: Pickable) => p.points.every((q) => isInBox(q, box));
    return this.inOrder(kind).filter((id) => this.withId(id).some((p) => p.kind === kind && whole(p)));
  }

  /** Bounds of the things with these ids; null when none is known. */
  boundsOf(ids: Iterable<string>): Box | null {
    let box: Box | null = null;
    for (const id of ids) {
      for (const p of this.withId(id)) box = box ? joinBoxes(box, boxOf(p.points)) : boxOf(p.points);
    }
    return box;
  }
}

function treeOf(boxes: readonly Box[]): Flatbush | null {
  if (boxes.length === 0) return null;
  const tree = new Flatbush(boxes.length);
  for (const b of boxes) tree.add(b.minX, b.minY, b.maxX, b.maxY);
  tree.finish();
  return tree;
}

const isInBox = (p: Point, b: Box) => p.x >= b.minX && p.x <= b.maxX && p.y >= b.minY && p.y <= b.maxY;

function distanceToStretch(p: Point, a: Point, b: Point): Mm {
  const along = subtract(b, a);
  const square = dot(along, along);
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, dot(subtract(p, a), along) / square));
  return distance(p, lerp(a, b, t));
}

/** Even-odd test by counting crossings of a ray to the right. */
export function isInside(p: Point, ring: readonly Point[]): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const a = ring[i]!;
    const b = ring[j]!;
    if (a.y > p.y !== b.y > p.y && p.x < ((b.x - a.x) * (p.y - a.y)) / (b.y - a.y) + a.x) inside = !inside;
  }
  return inside;
}
