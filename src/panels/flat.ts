/**
 * The faces of a panel laid flat. Faces that were drawn together stay as drawn; what was joined is laid along its seams
 * (Procrustes), and the misfit that is left is shared out: every face rigid, shared corners averaged, sides of the
 * outline held at their length (local/global after Sorkine and Alexa 2007, stiff outline after an own study). A sound
 * layout to look at and to cut along; the foam stage unfolds panels once more from its own surface.
 */
import { DisjointSets, type Point, point } from '../math';
import type { Mm } from '../units';
import { bestMotion, type Motion, moved, still } from './procrustes';
import { cornersOf, type Surface } from './surface';
import { flatSlack, settleRounds, stiffWeight } from './tolerance';

export interface FlatPanel {
  /** Corners of each face in its own ring order, by face number. */
  readonly corners: ReadonlyMap<number, readonly Point[]>;
  /** Farthest that a side's length differs from the pattern's. */
  readonly misfit: Mm;
}

/**
 * @param faces face numbers of one panel
 * @param cut by hinge
 * @param lead the face that stays where it is drawn
 */
export function layFlat(
  surface: Surface,
  faces: readonly number[],
  cut: readonly boolean[],
  lead: number,
): FlatPanel {
  const poses = placeGroups(surface, faces, cut, lead);
  const placed = new Map(
    faces.map((f) => [f, surface.faces[f]!.flat.map((p) => moved(p, poses.get(f)!))] as const),
  );
  const { nodes, count, gap } = nodesOf(surface, faces, cut, placed);
  if (gap <= flatSlack) return { corners: placed, misfit: 0 };
  const corners = settle(surface, faces, cut, placed, nodes, count);
  return { corners, misfit: lengthMisfit(surface, faces, corners) };
}

/** Motion of every face: groups of faces drawn together move as one. */
function placeGroups(
  surface: Surface,
  faces: readonly number[],
  cut: readonly boolean[],
  lead: number,
): Map<number, Motion> {
  const groupOf = new Map<number, number>();
  const groups: number[][] = [];
  const links: { readonly f: number; readonly g: number; readonly from: Point[]; readonly to: Point[] }[] =
    [];
  const inPanel = new Set(faces);
  const foldsAt = new Map<number, number[]>();
  surface.hinges.forEach((hinge, h) => {
    if (cut[h]) return;
    const a = surface.chains[hinge.a]!;
    const b = surface.chains[hinge.b]!;
    if (!inPanel.has(a.face) || !inPanel.has(b.face)) return;
    if (hinge.kind === 'fold') {
      foldsAt.set(a.face, [...(foldsAt.get(a.face) ?? []), b.face]);
      foldsAt.set(b.face, [...(foldsAt.get(b.face) ?? []), a.face]);
    } else {
      const here = cornersOf(surface, a).map((i) => surface.faces[a.face]!.flat[i]!);
      const there = cornersOf(surface, b)
        .reverse()
        .map((i) => surface.faces[b.face]!.flat[i]!);
      links.push({ f: a.face, g: b.face, from: there, to: here });
      links.push({ f: b.face, g: a.face, from: here, to: there });
    }
  });
  for (const first of faces) {
    if (groupOf.has(first)) continue;
    const group = [first];
    groupOf.set(first, groups.length);
    for (let q = 0; q < group.length; q++)
      for (const g of foldsAt.get(group[q]!) ?? []) {
        if (groupOf.has(g)) continue;
        groupOf.set(g, groups.length);
        group.push(g);
      }
    groups.push(group);
  }
  const motion = new Map<number, Motion>([[groupOf.get(lead)!, still]]);
  while (motion.size < groups.length) {
    // The group with the longest common line comes next: the surest place.
    const found = new Map<number, { from: Point[]; to: Point[]; length: number }>();
    for (const { f, g, from, to } of links) {
      const pose = motion.get(groupOf.get(f)!);
      const next = groupOf.get(g)!;
      if (!pose || motion.has(next)) continue;
      const entry = found.get(next) ?? { from: [], to: [], length: 0 };
      entry.from.push(...from);
      entry.to.push(...to.map((p) => moved(p, pose)));
      entry.length += Math.hypot(from[0]!.x - from.at(-1)!.x, from[0]!.y - from.at(-1)!.y);
      found.set(next, entry);
    }
    const best = [...found].sort((p, q) => q[1].length - p[1].length || p[0] - q[0])[0];
    if (!best) break;
    motion.set(best[0], bestMotion(best[1].from, best[1].to));
  }
  return new Map(faces.map((f) => [f, motion.get(groupOf.get(f)!) ?? still]));
}

/** Corners that are one point of the flat panel share a number; `gap`: how far apart they lie. */
export function nodesOf(
  surface: Surface,
  faces: readonly number[],
  cut: readonly boolean[],
  placed: ReadonlyMap<number, readonly Point[]>,
): { readonly nodes: ReadonlyMap<number, readonly number[]>; readonly count: number; readonly gap: Mm } {
  const first = new Map<number, number>();
  let total = 0;
  for (const f of faces) {
    first.set(f, total);
    total += surface.faces[f]!.vertices.length;
  }
  const one = new DisjointSets(total);
  for (const f of faces) {
    const n = surface.faces[f]!.vertices.length;
    for (let i = 0; i < n; i++) {
      const h = surface.start[f]! + i;
      const t = surface.twin[h]!;
      if (t < h) continue;
      const hinge = surface.chains[surface.chainOf[h]!]!.hinge;
      const g = surface.faceOf[t]!;
      if (hinge < 0 || cut[hinge] || !first.has(g)) continue;
      const j = t - surface.start[g]!;
      const m = surface.faces[g]!.vertices.length;
      one.join(first.get(f)! + i, first.get(g)! + ((j + 1) % m));
      one.join(first.get(f)! + ((i + 1) % n), first.get(g)! + j);
    }
  }
  const number = new Map<number, number>();
  const where: Point[] = [];
  let gap = 0;
  const nodes = new Map(
    faces.map((f) => [
      f,
      placed.get(f)!.map((p, i) => {
        const r = one.find(first.get(f)! + i);
        if (!number.has(r)) {
          number.set(r, number.size);
          where.push(p);
        }
        const node = number.get(r)!;
        gap = Math.max(gap, Math.hypot(p.x - where[node]!.x, p.y - where[node]!.y));
        return node;
      }),
    ]),
  );
  return { nodes, count: number.size, gap };
}

function settle(
  surface: Surface,
  faces: readonly number[],
  cut: readonly boolean[],
  placed: ReadonlyMap<number, readonly Point[]>,
  nodes: ReadonlyMap<number, readonly number[]>,
  count: number,
): Map<number, Point[]> {
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  const n = new Float64Array(count);
  const sx = new Float64Array(count);
  const sy = new Float64Array(count);
  const rim: { readonly a: number; readonly b: number; readonly length: Mm }[] = [];
  for (const f of faces) {
    const ring = nodes.get(f)!;
    const flat = surface.faces[f]!.flat;
    ring.forEach((node, i) => {
      const p = placed.get(f)![i]!;
      sx[node]! += p.x;
      sy[node]! += p.y;
      n[node]! += 1;
      const h = surface.start[f]! + i;
      const hinge = surface.chains[surface.chainOf[h]!]!.hinge;
      if (hinge >= 0 && !cut[hinge]) return;
      const j = (i + 1) % ring.length;
      const length = Math.hypot(flat[i]!.x - flat[j]!.x, flat[i]!.y - flat[j]!.y);
      if (ring[i] !== ring[j]) rim.push({ a: ring[i]!, b: ring[j]!, length });
    });
  }
  for (let v = 0; v < count; v++) {
    x[v] = sx[v]! / n[v]!;
    y[v] = sy[v]! / n[v]!;
  }
  for (let round = 0; round < settleRounds; round++) {
    sx.fill(0);
    sy.fill(0);
    n.fill(0);
    for (const f of faces) {
      const ring = nodes.get(f)!;
      const flat = surface.faces[f]!.flat;
      const m = bestMotion(
        flat,
        ring.map((v) => ({ x: x[v]!, y: y[v]! })),
      );
      ring.forEach((v, i) => {
        const p = flat[i]!;
        sx[v]! += m.c * p.x - m.s * p.y + m.dx;
        sy[v]! += m.s * p.x + m.c * p.y + m.dy;
        n[v]! += 1;
      });
    }
    for (const { a, b, length } of rim) {
      const dx = x[b]! - x[a]!;
      const dy = y[b]! - y[a]!;
      const now = Math.hypot(dx, dy);
      const off = now === 0 ? 0 : (now - length) / 2 / now;
      sx[a]! += stiffWeight * (x[a]! + dx * off);
      sy[a]! += stiffWeight * (y[a]! + dy * off);
      sx[b]! += stiffWeight * (x[b]! - dx * off);
      sy[b]! += stiffWeight * (y[b]! - dy * off);
      n[a]! += stiffWeight;
      n[b]! += stiffWeight;
    }
    for (let v = 0; v < count; v++) {
      x[v] = sx[v]! / n[v]!;
      y[v] = sy[v]! / n[v]!;
    }
  }
  return new Map(faces.map((f) => [f, nodes.get(f)!.map((v) => point(x[v]!, y[v]!))]));
}

function lengthMisfit(
  surface: Surface,
  faces: readonly number[],
  corners: ReadonlyMap<number, readonly Point[]>,
): Mm {
  let worst = 0;
  for (const f of faces) {
    const { flat } = surface.faces[f]!;
    const ring = corners.get(f)!;
    flat.forEach((p, i) => {
      const j = (i + 1) % flat.length;
      const was = Math.hypot(p.x - flat[j]!.x, p.y - flat[j]!.y);
      const now = Math.hypot(ring[i]!.x - ring[j]!.x, ring[i]!.y - ring[j]!.y);
      worst = Math.max(worst, Math.abs(was - now));
    });
  }
  return worst;
}
