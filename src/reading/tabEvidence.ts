/** What the drawing says about flaps beside their shape: numbers near them, their looks, lines as long as their base. */
import Flatbush from 'flatbush';
import { distance, dot, type Point, subtract, turnLeft, unitOf } from '../math';
import type { DrawingText } from '../model';
import type { StrokeGraph } from '../plane';
import type { Mm } from '../units';
import { isEdgeCode } from './captions';
import { baseKey, type Flap, pairKey } from './flaps';
import type { Ink } from './ink';
import { distanceToStretch } from './sheets';
import type { Span } from './spans';
import type { LookGroup } from './styleGroups';
import type { FlapEvidence } from './tabs';
import { tabHeightShare } from './tolerance';

/** A code stands at a line when its middle is this near, in text sizes, and this near the line's middle. */
const nearLine = 1.3;
const nearMiddle = 0.25;

/** Lines of a look that are flaps to this share make it a look of flaps. */
const lookShare = 0.8;

/** Prepares the answers for all flaps of a drawing. */
export function flapEvidence(
  flaps: readonly Flap[],
  graph: StrokeGraph,
  spans: readonly Span[],
  ink: Ink,
  groupOf: readonly LookGroup[],
): (flap: Flap) => FlapEvidence {
  const codesAt = codeFinder(ink.texts);
  const flapLooks = looksOfFlaps(flaps, spans, graph, ink, groupOf);
  const lengths = otherLengths(flaps, spans, graph);
  const hasLook = (f: Flap, look: string) =>
    f.sides.every((side) => side.some((s) => lookAt(s, ink, groupOf) === look));
  // Each look is judged by itself: in a pattern of small pieces the outlines' own look is one of flaps too.
  const ownLooks = [...flapLooks].filter((look) => {
    const own = flaps.filter((f) => hasLook(f, look));
    return isUniform(own) && outlineRunsOn(own, flaps, graph, ink, (s) => lookAt(s, ink, groupOf) === look);
  });
  const noise = graph.report.tolerance;
  return (flap) => {
    const p = flap.polygon;
    let outerCodes = 0;
    for (let i = 1; i < p.length; i++) {
      const a = p[i]!;
      const b = p[(i + 1) % p.length]!;
      // A number on a tab is near all its sides; a side's own number is much nearer to it than to the base.
      if (codesAt(a, b).some((c) => Math.abs(c.off) < 0.5 * distanceToStretch(c.at, p[0]!, p[1]!)))
        outerCodes++;
    }
    // The paper lies to the right of the base as the flap sees it.
    const atBase = codesAt(p[0]!, p[1]!);
    return {
      outerCodes,
      baseCode: atBase.some((c) => c.off < -0.15 * c.size && c.repeated),
      ownLook: ownLooks.some((look) => hasLook(flap, look)),
      baseMates: countNear(lengths, flap.length, noise),
      topMates: flap.triangle ? 0 : countNear(lengths, distance(p[2]!, p[3]!), noise),
    };
  };
}

/** Tabs of one look have one height, one slope or one proportion, but for those cut short; faces have none of these. */
const uniformShare = 0.5;
const uniformSpread = 0.03;

function isUniform(flaps: readonly Flap[]): boolean {
  if (flaps.length < 4) return flaps.every((f) => f.level && f.height <= tabHeightShare * f.length);
  const most = (value: (f: Flap) => number) => {
    const sorted = flaps.map(value).sort((a, b) => a - b);
    let best = 0;
    for (let start = 0, end = 0; start < sorted.length; start++) {
      while (end < sorted.length && sorted[end]! <= sorted[start]! * (1 + uniformSpread)) end++;
      best = Math.max(best, end - start);
    }
    return best;
  };
  const slope = (f: Flap) => f.angles[0] + f.angles[1];
  return (
    Math.max(
      most((f) => f.height),
      most(slope),
      most((f) => f.height / f.length),
    ) >=
    uniformShare * flaps.length
  );
}

/** Part of the flaps at whose foot the outline must be seen to run on in another look. */
const runOnShare = 0.3;

/**
 * True when lines that are neither flaps nor their bases leave the feet of enough flaps. Else the flaps' look is simply
 * that of all outlines, as in a pattern of small pieces.
 */
function outlineRunsOn(
  flaps: readonly Flap[],
  all: readonly Flap[],
  graph: StrokeGraph,
  ink: Ink,
  isFlapLook: (stroke: number) => boolean,
): boolean {
  const bases = new Set(all.map(baseKey));
  const runsOn = new Uint8Array(graph.nodes.length);
  for (const l of graph.links) {
    if (bases.has(pairKey(l.from, l.to)) || l.strokes.every((k) => isFlapLook(k >> 1))) continue;
    // Folds leave the feet as well; a dashed line says nothing.
    if (l.strokes.every((k) => ink.lines[ink.strokes[k >> 1]!.line]!.line.style.dash.length > 0)) continue;
    runsOn[l.from] = 1;
    runsOn[l.to] = 1;
  }
  const seen = flaps.filter((f) => runsOn[f.nodes[0]!] || runsOn[f.nodes[1]!]).length;
  return flaps.length > 0 && seen >= runOnShare * flaps.length;
}

const lookAt = (stroke: number, ink: Ink, groupOf: readonly LookGroup[]): string =>
  groupOf[ink.strokes[stroke]!.line]!.key;

interface CodeAt {
  /** Distance from the line, + to its left. */
  readonly off: Mm;
  readonly size: Mm;
  readonly at: Point;
  readonly repeated: boolean;
}

/** Finds the codes that stand at the middle of a stretch, along it or level. */
function codeFinder(texts: readonly DrawingText[]): (a: Point, b: Point) => CodeAt[] {
  const codes = texts.filter((t) => isEdgeCode(t.text) && t.size > 0);
  if (codes.length === 0) return () => [];
  const times = new Map<string, number>();
  for (const t of codes) times.set(t.text.trim(), (times.get(t.text.trim()) ?? 0) + 1);
  const largest = codes.reduce((m, t) => Math.max(m, t.size), 0);
  const index = new Flatbush(codes.length);
  for (const t of codes) index.add(t.centre.x, t.centre.y);
  index.finish();
  return (a, b) => {
    const length = distance(a, b);
    if (length === 0) return [];
    const m = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
    const reach = nearLine * largest + nearMiddle * length;
    const along = unitOf(subtract(b, a));
    const left = turnLeft(along);
    return index.search(m.x - reach, m.y - reach, m.x + reach, m.y + reach).flatMap((i): CodeAt[] => {
      const t = codes[i]!;
      const d = subtract(t.centre, m);
      const off = dot(d, left);
      if (Math.abs(off) > nearLine * t.size || Math.abs(dot(d, along)) > nearMiddle * length) return [];
      return [{ off, size: t.size, at: t.centre, repeated: times.get(t.text.trim())! > 1 }];
    });
  };
}

/** Looks whose lines are flap sides for the most part. */
function looksOfFlaps(
  flaps: readonly Flap[],
  spans: readonly Span[],
  graph: StrokeGraph,
  ink: Ink,
  groupOf: readonly LookGroup[],
): Set<string> {
  const sides = new Set(flaps.flatMap((f) => f.sides.flat()));
  const bases = new Set(flaps.flatMap((f) => f.baseStrokes));
  const total = new Map<string, number>();
  const inFlaps = new Map<string, number>();
  for (const { from, to, strokes } of spans) {
    const d = distance(graph.nodes[from]!, graph.nodes[to]!);
    const isSide = strokes.some((s) => sides.has(s));
    // A flap drawn as a closed shape has its base in the same look.
    if (!isSide && strokes.some((s) => bases.has(s))) continue;
    strokes.forEach((s, i) => {
      const look = lookAt(s, ink, groupOf);
      // Strokes that lie on each other mostly have one look, which counts once.
      for (let k = 0; k < i; k++) if (lookAt(strokes[k]!, ink, groupOf) === look) return;
      total.set(look, (total.get(look) ?? 0) + d);
      if (isSide) inFlaps.set(look, (inFlaps.get(look) ?? 0) + d);
    });
  }
  const out = new Set<string>();
  for (const [look, d] of inFlaps) if (d >= lookShare * total.get(look)!) out.add(look);
  return out;
}

/** Lengths of all lines that are no part of a flap, ascending. */
function otherLengths(flaps: readonly Flap[], spans: readonly Span[], graph: StrokeGraph): Float64Array {
  const parts = new Set(flaps.flatMap((f) => [...f.baseStrokes, ...f.sides.flat()]));
  const lengths: number[] = [];
  for (const { from, to, strokes } of spans)
    if (!strokes.some((s) => parts.has(s))) lengths.push(distance(graph.nodes[from]!, graph.nodes[to]!));
  return Float64Array.from(lengths).sort();
}

function countNear(sorted: Float64Array, value: number, noise: Mm): number {
  const slack = 0.002 * value + 2 * noise;
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const mid = (low + high) >> 1;
    if (sorted[mid]! < value - slack) low = mid + 1;
    else high = mid;
  }
  let count = 0;
  while (low + count < sorted.length && sorted[low + count]! <= value + slack) count++;
  return count;
}
