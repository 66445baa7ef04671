/**
 * The connected closed parts of a drawing (blocks) and the open strokes beside them (scraps), with what lies inside
 * what. A first look at the whole drawing, before anything has a role.
 */
import { type Box, distance, type Point } from '../math';
import {
  bridges,
  faceFinder,
  type StrokeGraph,
  type Subdivision,
  splitAtCrossings,
  subdivide,
} from '../plane';
import type { Mm, Mm2 } from '../units';
import type { Ink } from './ink';
import { squareness } from './tolerance';

export interface Block {
  readonly faces: readonly number[];
  /** Area inside the outer loop. */
  readonly area: Mm2;
  readonly box: Box;
  /** Corners of the outer loop, straight nodes left out. */
  readonly corners: readonly Point[];
  /** Length of each line (by index) in this block. */
  readonly lines: ReadonlyMap<number, Mm>;
  /** Every face is a rectangle without curves. */
  readonly rectangles: boolean;
  /** Index of the block it lies in, or −1. */
  readonly within: number;
  readonly children: readonly number[];
  /** Texts inside it but not inside its children. */
  readonly texts: readonly number[];
}

/** A connected set of strokes that closes nothing. */
export interface Scrap {
  readonly lines: readonly number[];
  readonly points: readonly Point[];
  readonly length: Mm;
  readonly within: number;
}

export interface Blocks {
  /** The drawing without bridges: links that close nothing are left out. */
  readonly closed: Subdivision;
  readonly blocks: readonly Block[];
  readonly scraps: readonly Scrap[];
  /** Length of each line that hangs on a block without closing anything. */
  readonly hanging: ReadonlyMap<number, Mm>;
  readonly blockOfFace: Int32Array;
}

export function findBlocks(graph: StrokeGraph, ink: Ink): Blocks {
  const crossed = splitAtCrossings(graph);
  const whole = subdivide(crossed.nodes, crossed.links);
  const loose = bridges(whole);
  const closed = loose.includes(true)
    ? subdivide(
        crossed.nodes,
        crossed.links.filter((_, i) => !loose[i]),
      )
    : whole;
  const blockOfFace = new Int32Array(closed.faces.length).fill(-1);
  closed.parts.forEach((p, i) => {
    for (const f of p.faces) blockOfFace[f] = i;
  });
  const find = faceFinder(closed);
  const texts: number[][] = closed.parts.map(() => []);
  ink.texts.forEach((t, i) => {
    const block = blockOfFace[find(t.centre)]!;
    if (block >= 0) texts[block]!.push(i);
  });
  const children: number[][] = closed.parts.map(() => []);
  closed.parts.forEach((p, i) => {
    const outside = blockOfFace[p.within]!;
    if (outside >= 0) children[outside]!.push(i);
  });
  const linesOf = closed.parts.map(() => new Map<number, number>());
  const partOfLink = closed.links.map((_, i) => closed.loops[closed.loopOf[2 * i]!]!.part);
  closed.links.forEach((l, i) => {
    const d = distance(closed.nodes[l.from]!, closed.nodes[l.to]!);
    for (const line of linesAlong(l.strokes, ink)) addLength(linesOf[partOfLink[i]!]!, line, d);
  });
  const blocks = closed.parts.map((part, i): Block => {
    const outer = closed.loops[part.outerLoop]!;
    return {
      faces: part.faces,
      area: -outer.area,
      box: outer.box,
      corners: cornersOf(closed, outer.halfEdges),
      lines: linesOf[i]!,
      rectangles: part.faces.every((f) =>
        isRectangle(closed, closed.loops[closed.faces[f]!.loop]!.halfEdges),
      ),
      within: blockOfFace[part.within]!,
      children: children[i]!,
      texts: texts[i]!,
    };
  });
  const { scraps, hanging } = looseStrokes(whole, loose, ink, (p) => blockOfFace[find(p)]!);
  return { closed, blocks, scraps, hanging, blockOfFace };
}

function looseStrokes(
  whole: Subdivision,
  loose: readonly boolean[],
  ink: Ink,
  blockAt: (p: Point) => number,
) {
  const scrapLinks = new Map<number, number[]>();
  const hanging = new Map<number, number>();
  whole.links.forEach((l, i) => {
    if (!loose[i]) return;
    const part = whole.loops[whole.loopOf[2 * i]!]!.part;
    if (whole.parts[part]!.faces.length > 0) {
      const d = distance(whole.nodes[l.from]!, whole.nodes[l.to]!);
      for (const line of linesAlong(l.strokes, ink)) addLength(hanging, line, d);
    } else {
      const list = scrapLinks.get(part);
      if (list) list.push(i);
      else scrapLinks.set(part, [i]);
    }
  });
  const scraps = [...scrapLinks.values()].map((links): Scrap => {
    const points = links.flatMap((i) => [
      whole.nodes[whole.links[i]!.from]!,
      whole.nodes[whole.links[i]!.to]!,
    ]);
    const lines = new Set(links.flatMap((i) => linesAlong(whole.links[i]!.strokes, ink)));
    const length = links.reduce(
      (sum, i) => sum + distance(whole.nodes[whole.links[i]!.from]!, whole.nodes[whole.links[i]!.to]!),
      0,
    );
    return { lines: [...lines].sort((a, b) => a - b), points, length, within: blockAt(points[0]!) };
  });
  return { scraps, hanging };
}

/** Lines (each once) whose strokes run along a link. */
export function linesAlong(strokes: readonly number[], ink: Ink): number[] {
  if (strokes.length === 1) return [ink.strokes[strokes[0]! >> 1]!.line];
  return [...new Set(strokes.map((s) => ink.strokes[s >> 1]!.line))];
}

export function addLength(map: Map<number, number>, key: number, length: number): void {
  map.set(key, (map.get(key) ?? 0) + length);
}

/** Corner points of a loop; nodes where it runs straight on are left out. */
export function cornersOf(s: Subdivision, halfEdges: readonly number[]): Point[] {
  const points = halfEdges.map((h) => s.nodes[s.origin[h]!]!);
  return points.filter((p, i) => {
    const before = points[(i + points.length - 1) % points.length]!;
    const after = points[(i + 1) % points.length]!;
    const turn = turnAt(before, p, after);
    return Math.abs(turn) > squareness;
  });
}

/** Change of direction at p, counter-clockwise positive. */
export function turnAt(before: Point, p: Point, after: Point): number {
  const ax = p.x - before.x;
  const ay = p.y - before.y;
  const bx = after.x - p.x;
  const by = after.y - p.y;
  return Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
}

function isRectangle(s: Subdivision, halfEdges: readonly number[]): boolean {
  if (halfEdges.length > 64) return false;
  const c = cornersOf(s, halfEdges);
  return (
    c.length === 4 &&
    c.every(
      (p, i) => Math.abs(Math.abs(turnAt(c[(i + 3) % 4]!, p, c[(i + 1) % 4]!)) - Math.PI / 2) <= squareness,
    )
  );
}
