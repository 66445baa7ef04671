/** The dry fit of panels with the program's own proposals accepted, and of shells folded up from the flat pattern. */
import { unwatched } from '../../src/base';
import { dryFit } from '../../src/dryfit';
import { type PlacedPanel, placePanel } from '../../src/dryfit/placing';
import { makePanels } from '../../src/foam';
import type { Point3 } from '../../src/math';
import {
  type DryFit,
  defaultDecisions,
  type FoamDecisions,
  noEdits,
  nothingKnown,
  type Pattern,
  type ProposalKind,
  type Seams,
  type Shell,
} from '../../src/model';
import { proposePanels, recutPattern } from '../../src/panels';
import { foldPattern, offsetPlaces, offsetVectors } from '../../src/shell';
import { marks } from '../foam/strips';
import { bendsOfTruth, seamsOfTruth } from '../foam/truthSeams';
import { patternFromTruth, type Truth } from '../support/harbourWatch';
import { shellOfTruth } from '../support/truthShell';

export interface Held {
  readonly pattern: Pattern;
  readonly seams: Seams;
  readonly shell: Shell;
}

/**
 * Folds a pattern up from its faces, folds and mates alone.
 * @param typed folds and seams whose true bend is typed
 */
export async function foldedOf(truth: Truth, typed: readonly string[] = []): Promise<Held> {
  const pattern = patternFromTruth(truth);
  const seams = seamsOfTruth(truth);
  const is = bendsOfTruth(truth);
  const bends = Object.fromEntries(typed.map((id) => [id, is[id]!]));
  return { pattern, seams, shell: await foldPattern(pattern, seams, { ...nothingKnown, bends }) };
}

/** A pattern cut from a mesh, with its true seams and shell. */
export const heldOf = (truth: Truth): Held => ({
  pattern: patternFromTruth(truth),
  seams: seamsOfTruth(truth),
  shell: shellOfTruth(truth),
});

/** The panels with the program's own proposals accepted, one after the other. */
export async function proposedOf(held: Held, ...kinds: readonly ProposalKind[]): Promise<Held> {
  let { pattern, seams, shell } = held;
  for (const kind of kinds) {
    const proposal = await proposePanels(pattern, seams, shell, noEdits, kind, unwatched);
    if (!proposal.ok) throw new Error(proposal.issues.map((i) => i.message).join(' '));
    const recut = recutPattern(pattern, seams, shell, {
      edits: proposal.value.edits.map((edit, k) => ({ ...edit, id: `e${k + 1}` })),
    });
    if (!recut.shell) throw new Error('no shell is left');
    ({ pattern, seams } = recut);
    shell = recut.shell;
  }
  return { pattern, seams, shell };
}

/** Panels of a shell at its own size. Bends are the shell's. */
function foamOf({ pattern, seams, shell }: Held, changes: Partial<FoamDecisions>) {
  const places = shell.vertices;
  const decisions = { ...defaultDecisions.foam, ...changes };
  const foam = makePanels(
    pattern,
    seams,
    1,
    decisions,
    marks,
    undefined,
    { bends: shell.bends, taken: true },
    { pattern, shell, places },
  );
  return { foam, decisions, shell, places };
}

/** The same, each at its place on the shell, with where the shell has the corners of its faces. */
export function placedOf(held: Held): { readonly placed: PlacedPanel; readonly goal: Point3[][] }[] {
  const { foam, shell, places } = foamOf(held, {});
  const vectors = offsetVectors({ vertices: places, faces: shell.faces });
  return foam.panels.map(({ id, body }) => {
    const placed = placePanel(id, body!, { patches: shell.faces, places, vectors });
    const neutral = offsetPlaces(places, vectors, body!.depth);
    return {
      placed,
      goal: placed.faces.map(({ patch }) => shell.faces[patch]!.vertices.map((v) => neutral[v]!)),
    };
  });
}

/** The same, put together. */
export function dryFitOf(held: Held, changes: Partial<FoamDecisions> = {}, brief = false): Promise<DryFit> {
  return dryFit({ ...foamOf(held, changes), brow: null, brief }, unwatched);
}
