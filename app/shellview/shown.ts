import type { FoamResult } from '../../src/model';
import { type Session, shownIn } from '../document';

/** Parts that lie on the shell's faces, and those that stand at its openings and along its seams. */
export type PartsOnShell = Pick<FoamResult, 'onShell' | 'standing'>;

/** What of the shell is shown, chosen in the view itself; none of it is part of the document. */
export interface Shown {
  /** 0 flat, 1 folded. */
  readonly part: number;
  /** Bends as marks and figures. */
  readonly bends: boolean;
  /** Where the dry fit gapes and presses. */
  readonly gaps: boolean;
  /** The brow plane with its section. */
  readonly brow: boolean;
  /** The finished inside with the head in it. */
  readonly head: boolean;
  /** Extra parts that lie and stand on it. */
  readonly layers: boolean;
  /** The shell moves along its softest free motion. */
  readonly breathes: boolean;
  /** −1 to 1: how far along that motion. */
  readonly breath: number;
  /** The opening that is pointed at, by its place in the list. */
  readonly opening: number | null;
}

export const shownAtFirst: Shown = {
  part: 1,
  bends: false,
  gaps: true,
  brow: true,
  head: false,
  layers: true,
  breathes: false,
  breath: 0,
  opening: null,
};

/** The foam whose parts lie and stand on the shell of this step; null where the step shows the shell of the pattern. */
export function foamOn(s: Session): PartsOnShell | null {
  const { recut, foam } = s.results;
  const shell = recut?.pulled ?? recut?.shell;
  return shell && shownIn(s).shell === shell ? foam : null;
}
