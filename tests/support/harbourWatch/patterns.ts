/** The patterns of the Harbour Watch, ready to draw: shell, pieces, numbers, tabs, places, SVG text. */
import { bollardPauldron } from './bollardPauldron';
import { buildTruth } from './buildTruth';
import { numberEdges, numberRuns, withoutMildFolds, withoutNumbers, withTabs } from './decorate';
import { browEdges, gannetHelm, gannetParts } from './gannetHelm';
import { keelBracer } from './keelBracer';
import { placePieces } from './place';
import { type CutOptions, cutShell, usualCut } from './segment';
import type { ShellMesh } from './shellMesh';
import type { Truth } from './truth';
import { type Manner, writeSvg } from './writeSvg';

/** Each in flat frames, not yet numbered or placed: give it to {@link drawPattern}. */
export const gannetPattern = (): Truth => {
  const mesh = gannetHelm();
  return buildTruth(
    mesh,
    cutShell(mesh, {
      ...usualCut,
      maxFaces: 20,
      maxSize: 230,
      darts: true,
      barriers: browEdges(mesh),
      parts: gannetParts(mesh),
    }),
  );
};
export const bollardPattern = (): Truth => {
  const mesh = bollardPauldron();
  return buildTruth(mesh, cutShell(mesh, { ...usualCut, maxFaces: 10 }));
};
export const keelPattern = (): Truth => keelBracer();
export const shellPattern = (mesh: ShellMesh, cut: Partial<CutOptions> = {}): Truth =>
  buildTruth(mesh, cutShell(mesh, { ...usualCut, ...cut }));

export interface DrawOptions {
  readonly manner: Manner;
  readonly seed?: number;
  /** One number an edge, one a run, or none. The default is by edge, and none in the plain manner. */
  readonly numbers?: 'edges' | 'runs' | 'none';
  readonly tabs?: boolean;
  readonly foldSigns?: boolean;
  readonly names?: boolean;
}

/** Folds left out in the stacked manner. */
const mildFold = (3 * Math.PI) / 180;

/** A pattern drawn in a manner: SVG text, and the truth at the drawn places. */
export function drawPattern(flat: Truth, options: DrawOptions): { svg: string; truth: Truth } {
  const { manner } = options;
  const seed = options.seed ?? 1;
  const loose = manner === 'loose';
  let truth = manner === 'stacked' ? withoutMildFolds(flat, mildFold) : flat;
  const numbers = options.numbers ?? (manner === 'plain' ? 'none' : 'edges');
  truth =
    numbers === 'edges'
      ? numberEdges(truth)
      : numbers === 'runs'
        ? numberRuns(truth, seed)
        : withoutNumbers(truth);
  if (options.tabs ?? (loose || manner === 'inch')) truth = withTabs(truth);
  truth = placePieces(truth, {
    width: manner === 'stacked' ? 420 : 900,
    height: manner === 'stacked' ? 594 : null,
    margin: 12,
    head: loose ? 0 : 14,
    pageGap: 20,
    loose,
    seed,
  });
  const svg = writeSvg(truth, {
    manner,
    seed,
    foldSigns: options.foldSigns ?? manner !== 'plain',
    names: options.names ?? true,
  });
  return { svg, truth };
}
