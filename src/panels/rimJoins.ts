/** Joins on the rims of holes: what fills its hole lies flat there; what stands up from it cannot be joined. */
import type { Issue } from '../base';
import type { Pattern } from '../model';
import type { Mm } from '../units';
import { type FaceHole, holesOf } from './bridges';
import { layFlat } from './flat';
import { liesOnItself } from './overlap';
import { partsOf } from './parts';
import type { Surface } from './surface';
import { standsUpFrom } from './tolerance';

/** Why what is sewn to a rim does not lie flat in its hole. */
export interface Upright {
  /** The panel would lie on itself. */
  readonly overlap: boolean;
  /** By how much foam would have to give along an edge. */
  readonly misfit: Mm;
}

interface Joined {
  readonly pattern: Pattern;
  readonly surface: Surface;
  readonly cut: readonly boolean[];
}

/** Hinges on the rim of a hole, by their numbers. */
function hingesOn({ pattern, surface }: Joined, { id }: FaceHole): number[] {
  const rim = new Set(holesOf(pattern).find((h) => h.id === id)?.rim);
  return surface.hinges.flatMap(({ a, b }, h) =>
    [a, b].some((c) => rim.has(surface.chains[c]!.side)) ? [h] : [],
  );
}

/** Whether nothing is joined across a rim. */
export const isIdleRim = (state: Joined, hole: FaceHole): boolean =>
  hingesOn(state, hole).every((h) => state.cut[h]);

/** Null where what is joined across a rim lies flat in its hole, or is at fault by itself. */
export function standsUp(state: Joined, hole: FaceHole): Upright | null {
  const { pattern, surface, cut } = state;
  const joined = hingesOn(state, hole).filter((h) => !cut[h]);
  if (joined.length === 0) return null;
  const own = new Set(
    joined.flatMap((h) => [surface.hinges[h]!.a, surface.hinges[h]!.b].map((c) => surface.chains[c]!.face)),
  );
  const look = (by: readonly boolean[]): Upright => {
    const flats = partsOf(pattern, surface, by)
      .filter((p) => p.faces.some((f) => own.has(f)))
      .map((p) => layFlat(surface, p.faces, by, p.lead));
    return {
      overlap: flats.some((flat) => liesOnItself(surface, flat)),
      misfit: Math.max(...flats.map((flat) => flat.misfit)),
    };
  };
  const [now, apart] = [look(cut), look(cut.map((c, h) => c || joined.includes(h)))];
  const overlap = now.overlap && !apart.overlap;
  return overlap || now.misfit - apart.misfit > standsUpFrom ? { overlap, misfit: now.misfit } : null;
}

/** In words, to go on after "because". */
export const uprightWords = ({ overlap, misfit }: Upright): string =>
  `what is sewn to the rim of its hole stands up from it: laid flat, ${
    overlap
      ? 'the panel would lie on itself'
      : `foam would have to give by ${misfit.toFixed(1)} mm along an edge`
  }`;

/** @param why null: no two bridges reach the rim */
export const rimKept = (edit: string, lines: readonly string[], why: Upright | null): Issue => ({
  code: 'panel-edit-on-rim',
  severity: 'warning',
  stage: 'panels',
  message: `A join could not be made because ${
    why ? uprightWords(why) : 'its hole is shut in between others, so that nothing holds its rim'
  }. ${lines.length === 1 ? 'That seam stays a seam' : 'Those seams stay seams'}; everything else is as you left it.`,
  remedy: why
    ? 'Take this join out in the Panels step and glue there, or join one side alone where it folds into the hole.'
    : 'Take this join out in the Panels step, and glue there.',
  place: { ids: [edit, ...lines] },
});
