/**
 * The dry fit drawn on the shell: stretches of seams by how far they gape or press, told apart by dash and weight; what
 * presses has bars across it. Pure.
 */
import { add3, type Point3, scaleBy3, subtract3 } from '../../src/math';
import type { DryFit, DryFitSeam } from '../../src/model';
import { pictureOf, type ShellSide, type ViewDirection } from '../../src/shell';
import { formatLength, type Mm } from '../../src/units';
import { type GapSize, gapSizes } from './gapSizes';
import type { ShellModel } from './model';
import { endsOf, normalOfRing, ringOf } from './painting';
import { addDashed, inwardsOf } from './strokes';

/** Half the length of a bar across a stretch that presses, and their distance. */
export const barHalf: Mm = 3;
export const barApart: Mm = 6;

/** One side of a seam that is drawn. */
export interface GapStretch {
  readonly seam: string;
  readonly vertices: readonly [number, number];
  readonly size: GapSize;
  /** It presses further than it gapes. */
  readonly presses: boolean;
}

/** The sides that gape or press by enough to be drawn. */
export function gapStretches(seams: readonly DryFitSeam[]): GapStretch[] {
  return seams.flatMap(({ seam, sides }) =>
    sides.flatMap(({ vertices, open, pressed }) => {
      const size = gapSizes.find(({ from }) => Math.max(open, pressed) >= from);
      return size ? [{ seam, vertices, size: size.name, presses: pressed > open }] : [];
    }),
  );
}

const between = (p: Point3, q: Point3, t: number): Point3 => add3(p, scaleBy3(subtract3(q, p), t));

const keyOf = (a: number, b: number): string => (a < b ? `${a} ${b}` : `${b} ${a}`);

/** The sides of faces along each stretch. */
function sidesAlong(model: ShellModel, stretches: readonly GapStretch[]) {
  const byKey = new Map(stretches.map((stretch) => [keyOf(...stretch.vertices), stretch]));
  const done = new Set<string>();
  return model.sides.flatMap((side) => {
    const key = keyOf(side.from, side.to);
    const stretch = side.kind === 'seam' || side.kind === 'open' ? byKey.get(key) : undefined;
    if (!stretch) return [];
    const first = !done.has(key);
    done.add(key);
    return [{ side, stretch, key, first }];
  });
}

export type GapLines = Readonly<Record<GapSize | 'bars', number[]>>;

/** Line stretches of each size and the bars, six numbers each. */
export function gapLines(
  model: ShellModel,
  places: Float64Array,
  stretches: readonly GapStretch[],
  stretch: number,
): GapLines {
  const out: GapLines = { wide: [], some: [], little: [], bars: [] };
  for (const { side, stretch: at, first } of sidesAlong(model, stretches)) {
    const [p, q] = endsOf(model, places, side);
    const { dash } = gapSizes.find(({ name }) => name === at.size)!;
    if (first)
      addDashed(
        out[at.size],
        p,
        q,
        dash.map((d) => d * stretch),
      );
    if (!at.presses) continue;
    // Half a bar into each face, so that it follows the bend.
    const inwards = inwardsOf(p, q, normalOfRing(ringOf(model, places, side.face)));
    const length = Math.hypot(q.x - p.x, q.y - p.y, q.z - p.z);
    const count = Math.max(1, Math.round(length / (barApart * stretch)));
    for (let k = 0; k < count; k++) {
      const foot = between(p, q, (k + 0.5) / count);
      const tip = add3(foot, scaleBy3(inwards, barHalf * stretch));
      out.bars.push(foot.x, foot.y, foot.z, tip.x, tip.y, tip.z);
    }
  }
  return out;
}

/** A visible part of a stretch in the drawing in lines. */
export interface DrawnGap extends GapStretch {
  readonly from: { readonly x: Mm; readonly y: Mm };
  readonly to: { readonly x: Mm; readonly y: Mm };
}

/** What of the stretches is seen from a direction, in the picture that `pictureOf` makes of the whole shell. */
export function drawnGaps(
  model: ShellModel,
  stretches: readonly GapStretch[],
  view: ViewDirection,
): DrawnGap[] {
  const along = sidesAlong(model, stretches);
  const byKey = new Map(along.map(({ key, stretch }) => [key, stretch]));
  const named = along.map(({ side, key }): ShellSide => ({ ...side, id: key }));
  return pictureOf(model.shell, named, view).strokes.map(({ id, from, to }) => ({
    ...byKey.get(id)!,
    from,
    to,
  }));
}

/** How many of the worst places are marked. */
const marked = 3;

export interface GapMark {
  readonly seam: string;
  readonly at: Point3;
  /** + open, − overlapping. */
  readonly gap: Mm;
}

/** The worst places that are drawn at all, and those of the selected seams. */
export function gapMarks(
  vertices: readonly Point3[],
  seams: readonly DryFitSeam[],
  selection: readonly string[],
): GapMark[] {
  const least = gapSizes.at(-1)!.from;
  return seams
    .filter(({ seam, worst }, k) => (k < marked && worst >= least) || selection.includes(seam))
    .map(({ seam, place }) => {
      const [p, q] = place.vertices.map((v) => vertices[v]!) as [Point3, Point3];
      return { seam, at: between(p, q, place.part), gap: place.gap };
    });
}

/** "0.86 mm open", "0.40 mm too tight". */
export const gapWords = (gap: Mm, unit: 'mm' | 'in'): string =>
  `${formatLength(Math.abs(gap), unit, { decimals: unit === 'mm' ? 2 : 3 })} ${gap < 0 ? 'too tight' : 'open'}`;

/** The dry fit of the shell that is shown; null where it belongs to other panels or another shell. */
export const gapsOn = (model: ShellModel, { dryFit, results }: GapSource): DryFit | null =>
  dryFit && dryFit.of === results.foam && (results.recut?.pulled ?? results.recut?.shell) === model.shell
    ? dryFit.made
    : null;

interface GapSource {
  readonly dryFit: { readonly made: DryFit; readonly of: unknown } | null;
  readonly results: {
    readonly foam: unknown;
    readonly recut: { readonly shell: unknown; readonly pulled?: unknown } | null;
  };
}
