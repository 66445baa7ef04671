/** What the tools may ask, answered from the scene on screen. */
import { type Box, boxOf, distance, type Point, polylineLength } from '../../../src/math';
import type { LineRole, Pattern } from '../../../src/model';
import { facePlace, nearestOnOutline } from '../../../src/panels';
import { type Session, shownIn } from '../../document';
import type { BenchFacts, PointerKind, WalkStep } from '../../tools';
import type { SceneIndex } from '../scene/pick';
import type { Relations } from '../scene/relations';
import type { Scene } from '../scene/scene';

/** How far from a line a pointer still takes it, CSS pixels: a mouse is exact, a fingertip covers about 44 pixels. */
const pickReach: Readonly<Record<PointerKind, number>> = { mouse: 6, pen: 8, touch: 12 };
/** How far a tape's end jumps to a corner, CSS pixels. */
const snapReach: Readonly<Record<PointerKind, number>> = { mouse: 8, pen: 10, touch: 16 };

/** Round measures that corners are laid on, mm. */
const gridSteps = { mm: [1, 5, 10, 50], in: [1 / 16, 1 / 4, 1, 4].map((n) => n * 25.4) } as const;

/** The finest of them that a pointer can still aim at. */
export const gridStep = (scale: number, pointer: PointerKind, unit: 'mm' | 'in'): number =>
  gridSteps[unit].find((step) => step * scale >= pickReach[pointer]) ?? gridSteps[unit].at(-1)!;

const onGrid = ({ x, y }: Point, step: number): Point => ({
  // No minus zero.
  x: Math.round(x / step) * step + 0,
  y: Math.round(y / step) * step + 0,
});

const roleWords: Readonly<Record<LineRole, string>> = {
  outline: 'outline',
  mountain: 'mountain fold',
  valley: 'valley fold',
  fold: 'fold',
  notes: 'notes',
  ignore: 'ignored',
};

export interface Surroundings {
  readonly session: Session;
  readonly scene: Scene;
  readonly index: SceneIndex;
  readonly relations: Relations;
  /** Pixels per mm. */
  readonly scale: number;
  readonly length: (mm: number) => string;
}

export function factsOf({ session, scene, index, relations, scale, length }: Surroundings): BenchFacts {
  return {
    selection: session.selection,
    hovered: session.hovered,
    pairFrom: session.pairFrom,
    girth: session.document?.decisions.fit.girth ?? { kind: 'none' },
    drawing: session.drawing,
    offcut: session.offcut,
    outline: outlineOf(session),
    measurable: scene.space === 'drawing',
    movable: scene.movable ?? false,
    several: session.several,
    selectable: scene.selectable,
    hitAt: (at, kinds, pointer) => index.at(at, pickReach[pointer] / scale, kinds),
    within: (from, to, kind) => index.within(boxBetween(from, to), kind),
    snap: (at, pointer) => index.cornerNear(at, snapReach[pointer] / scale) ?? at,
    onGrid: (at, pointer) => onGrid(at, gridStep(scale, pointer, session.document?.lengthUnit ?? 'mm')),
    isNear: (a, b, pointer) => distance(a, b) <= snapReach[pointer] / scale,
    rimAt: (at, pointer, only) => rimAt(shownIn(session).pattern, at, snapReach[pointer] / scale, only),
    panelName: (id) => {
      const piece = shownIn(session).pattern?.pieces.find((p) => p.id === id);
      return piece ? `panel ${piece.name}` : 'a panel';
    },
    walk: (from, to, kind) => walkAlong(index.inOrder(kind), from, to),
    endsOf: (id) => {
      const edge = index.withId(id)[0];
      const first = edge?.points[0];
      const last = edge?.points.at(-1);
      return first && last ? [first, last] : null;
    },
    describe: (id) => {
      const name = scene.names?.get(id);
      if (name) return name;
      if (relations.edge(id)) return relations.describe(id, length, scene.drawingScale ?? 1);
      const role = session.results.pattern?.roleOfLine[id];
      const line = index.withId(id)[0];
      if (!line) return 'Nothing';
      const number = index.inOrder('line').indexOf(id) + 1;
      const mm = polylineLength(line.points);
      return `Line ${number}, ${length(mm)}${role ? `, ${roleWords[role]}` : ''}`;
    },
    length,
    lengthOf: (edges) =>
      edges.reduce((sum, id) => sum + polylineLength(relations.edge(id)?.edge.points ?? []), 0),
  };
}

/** The corners of an outline where they stand now; those whose face is gone are left out. */
function outlineOf({ outline, results: { pattern, recut } }: Session): BenchFacts['outline'] {
  if (!outline) return null;
  const { curved, pen, places } = outline;
  const found = outline.points.map((p) => (pattern && recut ? facePlace(pattern, recut, p) : null));
  return { points: found.flatMap((f) => (f ? [f.at] : [])), curved, pen, places: places !== null };
}

/** The nearest outline within reach. */
function rimAt(pattern: Pattern | null, at: Point, reach: number, only: string | null) {
  let best: { panel: string; at: Point; off: number } | null = null;
  for (const piece of pattern?.pieces ?? []) {
    if (only !== null && piece.id !== only) continue;
    const place = nearestOnOutline(piece, at, reach);
    if (place && place.off <= reach && place.off < (best?.off ?? Number.POSITIVE_INFINITY))
      best = { panel: piece.id, at: place.at, off: place.off };
  }
  return best;
}

const boxBetween = (from: Point, to: Point): Box => boxOf([from, to]);

/** Round and round: after the last comes the first. */
export function walkAlong(ids: readonly string[], from: string | null, to: WalkStep): string | null {
  const at = from === null ? -1 : ids.indexOf(from);
  const n = ids.length;
  switch (to) {
    case 'first':
      return ids[0] ?? null;
    case 'last':
      return ids.at(-1) ?? null;
    case 'next':
      return ids[at < 0 ? 0 : (at + 1) % n] ?? null;
    case 'previous':
      return ids[at < 0 ? n - 1 : (at + n - 1) % n] ?? null;
  }
}
