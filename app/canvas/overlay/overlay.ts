/**
 * What lies over the scene for the moment: what is under the pointer, selected, picked first, at the keyboard cursor,
 * in the girth, or being drawn. Plain data in scene positions; it changes often and is small, so it is made anew.
 */
import { distance, lerp, type Point, polylineLength } from '../../../src/math';
import { closedCurve, curveThrough } from '../../../src/plane';
import type { Girth, Preview } from '../../tools';
import type { SceneIndex } from '../scene/pick';
import type { Relations } from '../scene/relations';
import type { Label, Pickable, Polyline, Scene } from '../scene/scene';
import { inwards, middleOf, openLine, placeAt, ring, threadCurve } from '../scene/shapes';

export type OverlayLook =
  | 'hover'
  | 'mate'
  | 'selected'
  | 'first'
  | 'cursor'
  | 'chain'
  | 'tape'
  | 'thread'
  | 'band'
  | 'pulse';

export interface OverlayCurve {
  readonly from: Point;
  readonly c1: Point;
  readonly c2: Point;
  readonly to: Point;
}

/** A head that points along an edge from the corner where both sides of a seam begin. */
export interface Arrow {
  readonly at: Point;
  readonly along: Point;
}

export interface Overlay {
  readonly areas: readonly { readonly look: OverlayLook; readonly ring: readonly Point[] }[];
  readonly strokes: readonly { readonly look: OverlayLook; readonly lines: readonly Polyline[] }[];
  readonly threads: readonly OverlayCurve[];
  readonly arrows: readonly Arrow[];
  /** Ends of tapes and threads. */
  readonly dots: readonly Point[];
  readonly labels: readonly Label[];
}

export interface OverlayInputs {
  readonly scene: Scene;
  readonly index: SceneIndex;
  readonly relations: Relations;
  readonly selection: readonly string[];
  readonly hovered: string | null;
  /** Two edges that may be mates, joined for a look. */
  readonly likely?: { readonly from: string; readonly to: string } | null;
  readonly pairFrom: string | null;
  readonly cursor: string | null;
  /** The girth where it is shown; `none` elsewhere. */
  readonly girth: Girth;
  readonly preview: Preview | null;
  /** Ids of a place that was asked for. */
  readonly pulse: readonly string[];
  /** Mates are joined by threads in this step. */
  readonly threads: boolean;
  readonly length: (mm: number) => string;
}

/** More threads than these at once are a tangle: a selection of many seams shows its edges only. */
const threadsAtMost = 12;

export function overlayOf(inputs: OverlayInputs): Overlay {
  const book = new OverlayBook();
  addGirth(inputs, book);
  addSelection(inputs, book);
  addHover(inputs, book);
  addPreview(inputs, book);
  addLikely(inputs, book);
  if (inputs.pairFrom !== null) book.stroke('first', ...linesOf(inputs, inputs.pairFrom));
  for (const id of inputs.pulse.flatMap((p) => inputs.relations.edgesOf(p)))
    book.stroke('pulse', ...linesOf(inputs, id));
  if (inputs.cursor !== null) book.stroke('cursor', ...linesOf(inputs, inputs.cursor));
  return book.done();
}

class OverlayBook {
  private readonly areas: { look: OverlayLook; ring: readonly Point[] }[] = [];
  private readonly strokes = new Map<OverlayLook, Polyline[]>();
  readonly threads: OverlayCurve[] = [];
  readonly arrows: Arrow[] = [];
  readonly dots: Point[] = [];
  readonly labels: Label[] = [];

  stroke(look: OverlayLook, ...lines: readonly Polyline[]): void {
    if (lines.length === 0) return;
    const set = this.strokes.get(look);
    if (set) set.push(...lines);
    else this.strokes.set(look, [...lines]);
  }

  area(look: OverlayLook, points: readonly Point[]): void {
    this.areas.push({ look, ring: points });
  }

  done(): Overlay {
    return {
      areas: this.areas,
      // Selected things lie under what is at the pointer; the cursor lies above all.
      strokes: (
        ['chain', 'tape', 'selected', 'mate', 'hover', 'first', 'thread', 'band', 'pulse', 'cursor'] as const
      ).flatMap((look) => {
        const lines = this.strokes.get(look);
        return lines ? [{ look, lines }] : [];
      }),
      threads: this.threads,
      arrows: this.arrows,
      dots: this.dots,
      labels: this.labels,
    };
  }
}

const lineOf = (p: Pickable): Polyline => ({ points: p.points, closed: p.closed });

const linesOf = (inputs: OverlayInputs, id: string): Polyline[] => inputs.index.withId(id).map(lineOf);

function addSelection(inputs: OverlayInputs, book: OverlayBook): void {
  const ids = [...new Set(inputs.selection.flatMap((id) => inputs.relations.edgesOf(id)))];
  for (const id of ids) {
    for (const thing of inputs.index.withId(id)) {
      if (thing.closed) book.area('selected', thing.points);
      book.stroke('selected', lineOf(thing));
    }
  }
  if (!inputs.threads) return;
  const mated = ids.filter((id) => inputs.relations.mateOf(id));
  const sides = mated.filter(
    (id) => inputs.relations.mateOf(id)?.seam.a.edge === id || !matesWith(id, mated, inputs),
  );
  if (sides.length <= threadsAtMost) for (const id of sides) addThread(id, inputs, book);
}

const matesWith = (id: string, ids: readonly string[], inputs: OverlayInputs): boolean => {
  const mate = inputs.relations.mateOf(id)?.mate;
  return mate !== undefined && ids.includes(mate);
};

function addHover(inputs: OverlayInputs, book: OverlayBook): void {
  if (inputs.hovered === null) return;
  const ids = inputs.relations.edgesOf(inputs.hovered);
  const only = ids.length === 1 ? ids[0] : undefined;
  for (const id of ids) book.stroke('hover', ...linesOf(inputs, id));
  // While a pair is being made its own thread is shown, not the one that it would replace.
  if (!inputs.threads || inputs.pairFrom !== null) return;
  for (const id of only === undefined ? ids.filter((_, i) => i % 2 === 0).slice(0, threadsAtMost) : [only]) {
    const mate = inputs.relations.mateOf(id);
    if (!mate) continue;
    book.stroke('mate', ...linesOf(inputs, mate.mate));
    addThread(id, inputs, book);
  }
}

/** A thread from the middle of an edge to the middle of its mate, with heads at the corner that both sides share. */
function addThread(id: string, inputs: OverlayInputs, book: OverlayBook): void {
  const mate = inputs.relations.mateOf(id);
  const here = inputs.index.withId(id)[0];
  const there = mate ? inputs.index.withId(mate.mate)[0] : undefined;
  if (!mate || !here || !there) return;
  thread(middleOf(here.points).at, middleOf(there.points).at, book);
  book.arrows.push(headAt(here.points, mate.here), headAt(there.points, mate.there));
}

function thread(from: Point, to: Point, book: OverlayBook): void {
  book.threads.push({ from, to, ...threadCurve(from, to) });
  book.dots.push(from, to);
}

/** The head stands a quarter of the way along, so that it points out of its corner and short edges keep it apart. */
function headAt(points: readonly Point[], end: 'start' | 'end'): Arrow {
  const walk = end === 'start' ? points : [...points].reverse();
  return placeAt(walk, polylineLength(walk) / 4);
}

function addPreview(inputs: OverlayInputs, book: OverlayBook): void {
  const preview = inputs.preview;
  if (!preview) return;
  if (preview.kind === 'band') {
    const { from, to } = preview;
    const corners = [from, { x: to.x, y: from.y }, to, { x: from.x, y: to.y }];
    book.area('band', corners);
    book.stroke('band', ring(corners));
    return;
  }
  if (preview.kind === 'carry') {
    const { by, id } = preview;
    for (const carried of inputs.selection.includes(id) ? inputs.selection : [id]) {
      for (const thing of inputs.index.withId(carried)) {
        const points = thing.points.map((p) => ({ x: p.x + by.x, y: p.y + by.y }));
        book.area('band', points);
        book.stroke('band', ring(points));
      }
    }
    return;
  }
  if (preview.kind === 'tape') {
    book.stroke('tape', openLine([preview.from, preview.to]));
    book.dots.push(preview.from, preview.to);
    book.labels.push(
      figure(inputs.length(distance(preview.from, preview.to)), lerp(preview.from, preview.to, 0.5)),
    );
    return;
  }
  if (preview.kind === 'outline') {
    const { points, on } = preview;
    const sides = [...points, on];
    if (sides.length > 2) book.area('band', sides);
    if (sides.length > 2) book.stroke('band', openLine([on, points[0]!]));
    for (const [i, p] of points.entries()) {
      const next = sides[i + 1]!;
      book.stroke('tape', openLine([p, next]));
      if (distance(p, next) > 0)
        book.labels.push(figure(inputs.length(distance(p, next)), lerp(p, next, 0.5)));
    }
    book.dots.push(...sides);
    return;
  }
  if (preview.kind === 'closed') {
    const { points, curved, on } = preview;
    const all = [...points, on];
    const ring = curved ? closedCurve(all) : all;
    if (all.length > 1) book.stroke('tape', openLine([...ring, ring[0]!]));
    book.dots.push(...all);
    return;
  }
  if (preview.kind === 'drawn') {
    const line = preview.curved ? curveThrough(preview.points) : preview.points;
    if (line.length > 1) book.stroke('tape', openLine(line));
    book.dots.push(...preview.points);
    return;
  }
  const first = inputs.index.withId(preview.from)[0];
  if (!first) return;
  const to = typeof preview.to === 'string' ? inputs.index.withId(preview.to)[0] : undefined;
  const end = typeof preview.to === 'string' ? (to ? middleOf(to.points).at : null) : preview.to;
  if (end === null) return;
  thread(middleOf(first.points).at, end, book);
  // Seen from outside, mates run against each other: the first edge's start meets the other's end.
  book.arrows.push(headAt(first.points, 'start'));
  if (to) book.arrows.push(headAt(to.points, 'end'));
}

function addLikely({ likely, index }: OverlayInputs, book: OverlayBook): void {
  const here = likely ? index.withId(likely.from)[0] : undefined;
  const there = likely ? index.withId(likely.to)[0] : undefined;
  if (!here || !there) return;
  book.stroke('first', lineOf(here));
  book.stroke('mate', lineOf(there));
  thread(middleOf(here.points).at, middleOf(there.points).at, book);
  book.arrows.push(headAt(here.points, 'start'), headAt(there.points, 'end'));
}

function addGirth(inputs: OverlayInputs, book: OverlayBook): void {
  const { girth, scene } = inputs;
  const k = scene.drawingScale;
  if (k === null) return;
  if (girth.kind === 'edges') {
    for (const id of girth.edges) {
      const edge = inputs.index.withId(id)[0];
      if (!edge) continue;
      book.stroke('chain', lineOf(edge));
      const middle = middleOf(edge.points);
      const mm = polylineLength(edge.points);
      book.labels.push({
        ...figure(inputs.length(mm / k), middle.at),
        off: inwards(middle),
        room: mm,
        rank: 20,
      });
    }
  }
  if (girth.kind === 'tape') {
    for (const [a, b] of girth.parts) {
      const from = { x: a.x * k, y: a.y * k };
      const to = { x: b.x * k, y: b.y * k };
      book.stroke('tape', openLine([from, to]));
      book.dots.push(from, to);
      book.labels.push(figure(inputs.length(distance(a, b)), lerp(from, to, 0.5)));
    }
  }
}

const figure = (text: string, at: Point): Label => ({
  text,
  at,
  off: null,
  tone: 'accent',
  size: 'normal',
  height: 0,
  room: 0,
  rank: 30,
  boxed: true,
});
