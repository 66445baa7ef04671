/** Steps in the maker's words, for the screen and for paper. */
import type { BuildRun, BuildStep, Caution, FoamResult } from '../model';
import { degrees, formatLength } from '../units';
import type { StepPicture } from './stepPicture';

type NameOf = (panel: string) => string;
type Shown = Pick<StepPicture, 'shows' | 'broken' | 'strokes'>;

const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;

/** "Glue Cheek to Brow: seams 4 and 7". */
export function stepTitle(step: BuildStep, nameOf: NameOf): string {
  const numbers = [...new Set(step.runs.map((r) => r.number))];
  const seams =
    numbers.length === 0 ? '' : `: seam${numbers.length > 1 ? 's' : ''} ${listed(numbers.map(String))}`;
  const others = [...new Set(step.runs.flatMap((r) => r.panels))].filter((p) => !step.adds.includes(p));
  switch (step.kind) {
    case 'begin':
      return `Lay ${listed(step.adds.map(nameOf))} ready: nothing is glued to it`;
    case 'add':
      return `Add ${listed(step.adds.map(nameOf))}`;
    case 'paint':
      return `Paint with the stencil ${listed(step.adds.map(nameOf))}: it is not glued`;
    case 'shape':
      return `Close ${listed([...new Set(step.runs.flatMap((r) => r.panels))].map(nameOf))} upon itself${seams}`;
    case 'close':
      return `Close between ${listed(others.map(nameOf))}${seams}`;
    case 'join':
      return `Join the parts at ${listed(others.map(nameOf))}${seams}`;
    case 'attach':
      return others.length === 0
        ? `Glue ${listed(step.adds.map(nameOf))} together${seams}`
        : `Glue ${listed(step.adds.map(nameOf))} to ${listed(others.map(nameOf))}${seams}`;
  }
}

/** The panels' own words: "in" leans in under the drawn face, "out" flares out from it. Square, one angle or a range. */
function bevelWords(range: readonly [number, number]): string {
  const [low, high] = range.map((b) => Math.round(degrees(b))) as [number, number];
  const tilt = (angle: number) =>
    angle === 0 ? 'square' : `${Math.abs(angle)}° ${angle > 0 ? 'in' : 'out'}`;
  if (range.every((b) => Math.abs(degrees(b)) < 1)) return 'cut square';
  if (low === high) return `bevel ${tilt(low)}`;
  if (low > 0) return `bevel ${low}° to ${tilt(high)}`;
  return high < 0 ? `bevel ${-high}° to ${tilt(low)}` : `bevel ${tilt(low)} to ${tilt(high)}`;
}

/** "Seam 4, Cheek and Brow: 124 mm, bevel 12° to 18° in, 3 notches". */
export function runLine(run: BuildRun, nameOf: NameOf, unit: 'mm' | 'in'): string {
  const length = (mm: number) => formatLength(mm, unit, { decimals: unit === 'mm' ? 0 : 1 });
  const facts = [
    length((run.lengthA + run.lengthB) / 2),
    bevelWords(run.bevel),
    ...(run.notches > 0 ? [`${run.notches} notch${run.notches > 1 ? 'es' : ''}`] : []),
    ...(run.openWedge >= 0.5 ? [`wedge of ${length(run.openWedge)} to fill`] : []),
    ...(run.mismatch >= 1 ? [`ease ${length(run.mismatch)} in`] : []),
  ];
  const [one, other] = run.panels;
  const where = one === other ? `within ${nameOf(one)}` : `${nameOf(one)} and ${nameOf(other)}`;
  return `Seam ${run.number}, ${where}: ${facts.join(', ')}`;
}

/** What the picture of a step shows: its text alternative. */
export function pictureName(step: BuildStep, { shows, broken }: Shown, nameOf: NameOf): string {
  const added = listed(step.adds.map(nameOf));
  const isExtra = step.kind === 'add' || step.kind === 'paint';
  const lit = isExtra
    ? `the place of ${added}`
    : step.runs.length > 0
      ? 'the seams of this step'
      : `the edge of ${added}`;
  switch (shows) {
    case 'part':
      return `${added} by itself, its edge drawn wide`;
    case 'panels':
      return `The panels of this step lying flat, with ${lit} drawn wide`;
    case 'shell':
      return `The shell so far, with ${lit} drawn wide${broken ? ` and broken: it is ${isExtra ? broken : 'behind'}` : ''}`;
  }
}

/** What has to be said beside the picture of a step; null where it says all. */
export function pictureLine(step: BuildStep, { shows, broken, strokes }: Shown): string | null {
  if (strokes.length === 0)
    return 'Nothing is glued here: what this step needs is not there yet. Move it later.';
  if (shows === 'part')
    return step.adds.length > 1
      ? 'The picture shows the parts by themselves: they have no place on what is there so far.'
      : 'The picture shows the part by itself: it has no place on what is there so far.';
  if (broken === 'inside') return 'Broken lines: it goes on the inside, behind the wall that is drawn.';
  if (broken === 'behind') return 'Broken lines: they are behind what is drawn.';
  return null;
}

/** What to do where a step closes the last way in for a hand; null where one stays open. */
export function reachLine({ blind, opening }: BuildStep, unit: 'mm' | 'in'): string | null {
  if (!blind) return null;
  const left =
    opening > 0
      ? `The widest opening left is ${formatLength(opening, unit, { decimals: unit === 'mm' ? 0 : 1 })} round`
      : 'No opening is left';
  return `${left}: no hand gets behind these seams. Finish all work inside first, then press them from outside, a finger’s width at a time.`;
}

/** Cautions of a step: each at the first step that it matters for, those of finishing at the last. */
export function stepCautions(
  steps: readonly BuildStep[],
  index: number,
  panels: FoamResult['panels'],
): readonly Caution['topic'][] {
  const visors = new Set(panels.flatMap((p) => (p.extra?.kind === 'visor' ? [p.id] : [])));
  const slanted = (s: BuildStep | undefined) => s?.runs.some((r) => r.bevel.some((b) => b !== 0)) ?? false;
  const glues = (s: BuildStep | undefined) => (s?.runs.length ?? 0) > 0;
  const first = (has: (s: BuildStep | undefined) => boolean) => steps.findIndex(has) === index;
  return [
    ...(first(slanted) ? (['blade', 'dust'] as const) : []),
    ...(steps[index]!.adds.some((p) => visors.has(p)) ? (['sight'] as const) : []),
    ...(first(glues) ? (['adhesive'] as const) : []),
    ...(steps.findIndex((s) => s.kind === 'paint') === index ? (['paint'] as const) : []),
    ...(index === steps.length - 1 ? (['heat', 'wearing', 'costume'] as const) : []),
  ];
}
