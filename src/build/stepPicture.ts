/**
 * A picture for each step: the shell so far with the seams or the place of the step lit, seen from where most of that
 * shows. What lies inside, or behind what is there already, is drawn in broken lines. Without a folded shell, and for a
 * part without a place on it, the panels lie flat.
 */
import type { Point } from '../math';
import type { BuildStep, FoamResult, Recut, Shell, ShellPictureStroke } from '../model';
import { linesSeen, linesThrough, pictureOf, type ShellSide, shellSides, type ViewDirection } from '../shell';
import { type ExtraPlace, extraPlaces, type PlaceLine } from './extraPlaces';
import { flatPicture } from './flatPicture';
import { clearlyMore, dash } from './tolerance';

export interface StepPicture {
  readonly width: number;
  readonly height: number;
  readonly strokes: readonly PictureStroke[];
  /** `shell`: folded up as far as it is there; `panels`: the panels of the step lying flat; `part`: a part by itself. */
  readonly shows: 'shell' | 'panels' | 'part';
  /** Why lit lines are broken; null where they are not. */
  readonly broken: 'inside' | 'behind' | null;
}

export type PictureStroke = ShellPictureStroke & { readonly lit: boolean };

/** Draws a step. A step that glues and brings nothing where it stands gives no strokes. */
export type StepDrawer = (step: BuildStep) => StepPicture;

/** Half-left and half-right, from front and back, a little and far above, and from below. */
const views: readonly ViewDirection[] = [
  [1 / 6, 1 / 9],
  [-1 / 6, 1 / 9],
  [5 / 6, 1 / 9],
  [-5 / 6, 1 / 9],
  [1 / 6, 1 / 3],
  [5 / 6, 1 / 3],
  [1 / 6, -1 / 4],
].map(([azimuth, elevation]) => ({ azimuth: azimuth! * Math.PI, elevation: elevation! * Math.PI }));

/** What of the shell is there. */
interface SoFar {
  readonly part: Shell;
  readonly sides: readonly ShellSide[];
  /** Index in `part` of a face of the whole shell. */
  readonly newIndex: ReadonlyMap<number, number>;
}

/**
 * A drawer that has looked at the whole shell once.
 * @param folded the pattern as it is cut, its seams and the shell that they fold up to, where there is one
 */
export function stepDrawer(
  folded: Pick<Recut, 'shell' | 'pattern' | 'seams'> | null,
  foam: FoamResult,
): StepDrawer {
  if (!folded?.shell) return (step) => flatPicture(step, foam);
  const { shell } = folded;
  const all = shellSides(shell, folded.pattern, folded.seams);
  const places = extraPlaces(shell, foam);
  return (step) => {
    // The pieces of the pattern as it is cut are the panels.
    const soFar = shellSoFar(shell, all, new Set(step.present));
    const there = (panel: string): ExtraPlace | null => {
      const place = places.get(panel);
      const kept = (lines: readonly PlaceLine[]) => lines.filter((l) => soFar.newIndex.has(l.face));
      const lines = kept(place?.lines ?? []);
      return place && lines.length > 0 ? { ...place, lines, folds: kept(place.folds) } : null;
    };
    const own = step.adds.flatMap((p) => there(p) ?? []);
    const others = step.present.flatMap((p) => (step.adds.includes(p) ? [] : (there(p) ?? [])));
    const seams = new Set(
      step.runs.length > 0
        ? step.runs.flatMap((r) => r.seams)
        : soFar.sides.flatMap((s) =>
            step.adds.includes(soFar.part.faces[s.face]!.piece) && s.kind === 'open' ? [s.id] : [],
          ),
    );
    const isExtra = step.kind === 'add' || step.kind === 'paint';
    const lit = isExtra ? placeLit(soFar, own) : seamsLit(soFar, seams);
    return lit ? pictured(soFar, lit, own, others) : flatPicture(step, foam);
  };
}

function shellSoFar(shell: Shell, all: readonly ShellSide[], pieces: ReadonlySet<string>): SoFar {
  const kept = shell.faces.flatMap((f, i) => (pieces.has(f.piece) ? [i] : []));
  const newIndex = new Map(kept.map((face, i) => [face, i] as const));
  const sides = opened(
    all.flatMap((side) => {
      const face = newIndex.get(side.face);
      return face === undefined ? [] : [{ ...side, face }];
    }),
  );
  return { part: { ...shell, faces: kept.map((i) => shell.faces[i]!) }, sides, newIndex };
}

type Stroke = Pick<PictureStroke, 'from' | 'to' | 'id'>;

/** What is lit, from a view. */
interface Lit {
  readonly seams: ReadonlySet<string>;
  readonly view: ViewDirection;
  /** Beside the seams that are seen as lines of the shell. */
  readonly strokes: readonly Stroke[];
  readonly broken: StepPicture['broken'];
}

const noSeams: ReadonlySet<string> = new Set();
const longest = (strokes: readonly Stroke[]) =>
  strokes.reduce((sum, { from, to }) => sum + Math.hypot(to.x - from.x, to.y - from.y), 0);

/** The view from which most is seen; an earlier one is kept unless a later one shows clearly more. */
function best<T>(of: (view: ViewDirection) => T, length: (t: T) => number): { view: ViewDirection; seen: T } {
  let most: { view: ViewDirection; seen: T; length: number } | null = null;
  for (const view of views) {
    const seen = of(view);
    const found = { view, seen, length: length(seen) };
    if (!most || found.length > clearlyMore * most.length) most = found;
  }
  return most!;
}

function seamsLit({ part, sides }: SoFar, seams: ReadonlySet<string>): Lit | null {
  const own = sides.filter((s) => seams.has(s.id));
  if (own.length === 0) return null;
  const shining = (view: ViewDirection) =>
    pictureOf(part, sides, view).strokes.filter((s) => seams.has(s.id));
  const { view, seen } = best(shining, longest);
  if (seen.length > 0) return { seams, view, strokes: [], broken: null };
  const lines = own.map((s) => [part.vertices[s.from]!, part.vertices[s.to]!] as const);
  const behind = best((v) => withId(linesThrough(part, v, lines)), longest);
  return { seams: noSeams, view: behind.view, strokes: behind.seen, broken: 'behind' };
}

function placeLit(soFar: SoFar, places: readonly ExtraPlace[]): Lit | null {
  const lines = places.flatMap((p) => p.lines);
  if (lines.length === 0) return null;
  const inside = places.every((p) => p.side === 'inside');
  const { view, seen } = best((v) => placeSeen(soFar, lines, v), longest);
  if (seen.length > 0) return { seams: noSeams, view, strokes: seen, broken: inside ? 'inside' : null };
  const behind = best(
    (v) =>
      withId(
        linesThrough(
          soFar.part,
          v,
          lines.map((l) => l.ends),
        ),
      ),
    longest,
  );
  return { seams: noSeams, view: behind.view, strokes: behind.seen, broken: inside ? 'inside' : 'behind' };
}

const withId = (lines: readonly Pick<Stroke, 'from' | 'to'>[]): Stroke[] =>
  lines.map((l) => ({ ...l, id: '' }));

/** What is seen of lines on the outside of the shell. */
const placeSeen = ({ part }: SoFar, lines: readonly PlaceLine[], view: ViewDirection): Stroke[] =>
  withId(
    linesSeen(
      part,
      view,
      lines.map((l) => l.ends),
    ),
  );

function pictured(
  soFar: SoFar,
  { seams, view, strokes, broken }: Lit,
  own: readonly ExtraPlace[],
  others: readonly ExtraPlace[],
): StepPicture {
  const shell = pictureOf(soFar.part, soFar.sides, view);
  const size = Math.max(shell.width, shell.height);
  const flat = (lit: boolean) => (s: Stroke) => ({ kind: 'flat' as const, ...s, lit });
  // Of parts that are there already, those inside are not seen.
  const light = [
    ...own.flatMap((p) => p.folds),
    ...others.filter((p) => p.side === 'outside').flatMap((p) => [...p.lines, ...p.folds]),
  ];
  return framed({
    strokes: [
      ...shell.strokes.map((s) => ({ ...s, lit: seams.has(s.id) })),
      ...placeSeen(soFar, light, view).map(flat(false)),
      ...(broken ? dashed(strokes, size) : strokes).map(flat(true)),
    ],
    shows: 'shell',
    broken,
  });
}

/** Lines cut to dashes; where one line goes on from another, the dashes do too. */
function dashed(strokes: readonly Stroke[], size: number): Stroke[] {
  const [line, gap] = [dash.line * size, dash.gap * size];
  const out: Stroke[] = [];
  let phase = 0;
  let end: Point | null = null;
  for (const { from, to, id } of strokes) {
    if (!end || Math.hypot(end.x - from.x, end.y - from.y) > 1e-6 * size) phase = 0;
    const length = Math.hypot(to.x - from.x, to.y - from.y);
    const at = (d: number) => ({
      x: from.x + ((to.x - from.x) * d) / length,
      y: from.y + ((to.y - from.y) * d) / length,
    });
    for (let start = -phase; start < length; start += line + gap) {
      const [a, b] = [Math.max(0, start), Math.min(length, start + line)];
      if (b > a) out.push({ from: at(a), to: at(b), id });
    }
    phase = (phase + length) % (line + gap);
    end = to;
  }
  return out;
}

/** Lines may reach beyond the faces: the frame goes round all of them. */
function framed(picture: Pick<StepPicture, 'strokes' | 'shows' | 'broken'>): StepPicture {
  const points = picture.strokes.flatMap((s) => [s.from, s.to]);
  const least = (of: (p: Point) => number) => points.reduce((low, p) => Math.min(low, of(p)), Infinity);
  const [minX, minY] = [least((p) => p.x), least((p) => p.y)];
  const move = (p: Point): Point => ({ x: p.x - minX, y: p.y - minY });
  return {
    ...picture,
    width: -least((p) => -p.x) - minX,
    height: -least((p) => -p.y) - minY,
    strokes: picture.strokes.map((s) => ({ ...s, from: move(s.from), to: move(s.to) })),
  };
}

/** Seams whose other side is not there yet are open edges. */
function opened(sides: readonly ShellSide[]): ShellSide[] {
  const keyOf = (s: ShellSide) => `${s.id} ${Math.min(s.from, s.to)} ${Math.max(s.from, s.to)}`;
  const count = new Map<string, number>();
  for (const s of sides) count.set(keyOf(s), (count.get(keyOf(s)) ?? 0) + 1);
  return sides.map((s) => (s.kind === 'seam' && count.get(keyOf(s)) === 1 ? { ...s, kind: 'open' } : s));
}
