/**
 * The bend angle in force at every fold and seam. Order of authority: the person's word for this fold or seam; the
 * folded shell; what the file itself gives for a fold; the person's word for its kind; none.
 */
import type { Issue } from '../base';
import { type BendSource, drawnBy, type FoamDecisions, type Pattern, type Seams } from '../model';
import { formatAngle, type Rad } from '../units';
import { foldPreparation } from './edgeRules';
import { refusedBend, softBendLimit } from './tolerance';

/** What the folded shell offers. */
export interface FoldedBends {
  /** By fold id and seam id, + convex. */
  readonly bends: Readonly<Record<string, Rad>>;
  /** False while the shell folds up doubtfully and nobody has said that its bends may be taken all the same. */
  readonly taken: boolean;
}

export interface Bends {
  readonly ofFold: ReadonlyMap<string, Rad | null>;
  readonly ofSeam: ReadonlyMap<string, Rad | null>;
  /** Where each bend in force is from, by fold id and seam id. */
  readonly from: ReadonlyMap<string, BendSource>;
  /** Fold and seam ids without a bend, in order of pieces, folds first. */
  readonly unset: readonly string[];
  readonly issues: readonly Issue[];
}

/** Looks up every bend. Angles of 170° or more are refused with an issue and count as not set. */
export function findBends(
  pattern: Pattern,
  seams: Seams,
  foam: FoamDecisions,
  folded: FoldedBends | null = null,
): Bends {
  const ofFold = new Map<string, Rad | null>();
  const ofSeam = new Map<string, Rad | null>();
  const from = new Map<string, BendSource>();
  const unset: string[] = [];
  const found: Found = { refused: [], shut: [], contrary: [], steep: [], unset: [], waiting: [] };
  const settle = (id: string, role: Rad | null, drawn: Rad | null = null): Rad | null => {
    const typed = own(foam.bends, id);
    const offered = typed === null && folded ? own(folded.bends, id) : null;
    const shell = folded?.taken ? offered : null;
    const bend = typed ?? shell ?? drawn ?? role;
    const waits = offered !== null && shell === null;
    if (waits) found.waiting.push(id);
    if (bend === null) {
      unset.push(id);
      if (!waits) found.unset.push(id);
      return null;
    }
    const source = typed !== null ? 'typed' : shell !== null ? 'shell' : drawn !== null ? 'file' : 'kind';
    if (!(Math.abs(bend) < refusedBend)) {
      found[source === 'shell' ? 'shut' : 'refused'].push(id);
      return null;
    }
    from.set(id, source);
    return bend;
  };
  for (const piece of pattern.pieces) {
    for (const fold of piece.folds) {
      const bend = settle(fold.id, foam.roleBends[fold.role], fold.givenBend ?? null);
      ofFold.set(fold.id, bend);
      if (bend === null) continue;
      if (Math.abs(bend) > softBendLimit && foldPreparation(fold.id, bend, foam) === 'soft')
        found.steep.push(fold.id);
      // What the shell says against the drawing is a finding of the fold-up.
      if (from.get(fold.id) === 'shell') continue;
      if ((fold.role === 'mountain' && bend < 0) || (fold.role === 'valley' && bend > 0))
        found.contrary.push(fold.id);
    }
  }
  // A cut across a flat face is flat, whatever seams usually bend.
  for (const seam of seams.seams)
    ofSeam.set(seam.id, settle(seam.id, drawnBy(seam.id) === null ? foam.roleBends.seam : 0));
  return { ofFold, ofSeam, from, unset, issues: bendIssues(found) };
}

const own = (bends: Readonly<Record<string, Rad>>, id: string): Rad | null =>
  (Object.hasOwn(bends, id) ? bends[id] : undefined) ?? null;

interface Found {
  readonly refused: string[];
  /** Folded shut by the shell. */
  readonly shut: string[];
  readonly contrary: string[];
  readonly steep: string[];
  /** Nobody offers a bend. */
  readonly unset: string[];
  /** The shell has a bend, but is not trusted. */
  readonly waiting: string[];
}

function bendIssues(found: Found): Issue[] {
  const limit = formatAngle(softBendLimit);
  return [
    ...finding(
      'bends-not-trusted',
      'warning',
      found.waiting,
      'The shell folds up doubtfully, so its bend angle is offered but not used at',
      'Look at what the findings of the fold-up name and put it right, or say in the Seams step that its angles may be taken as they are. Until then a bend for the kind of fold counts, or none.',
    ),
    ...finding(
      'bend-too-sharp',
      'error',
      found.refused,
      `Foam cannot be cut for a bend of ${formatAngle(refusedBend)} or more, as typed for`,
      'Type the angle that the foam turns through there: 0° is flat, 90° a square corner. Until then it counts as flat.',
    ),
    ...finding(
      'bend-folded-shut',
      'warning',
      found.shut,
      `Foam cannot be cut for a bend of ${formatAngle(refusedBend)} or more, as the folded shell has it at`,
      'Type the angle that is meant there, or check the seams beside it. Until then it counts as flat.',
    ),
    ...finding(
      'fold-too-steep',
      'warning',
      found.steep,
      `Foam does not follow a soft bend over ${limit} inside a panel without buckling, as wanted at`,
      'Have such folds scored (Foam, edges), or select them and split the panel along them (Panels).',
    ),
    ...finding(
      'bend-against-role',
      'warning',
      found.contrary,
      'Mountains bend by a positive angle and valleys by a negative one; it is the other way round at',
      'Check the sign of the angle, or the role of the line.',
    ),
    ...finding(
      'bend-not-set',
      'warning',
      found.unset,
      'No bend angle is set, so the foam counts as flat there, at',
      'Type an angle for each, or one for all seams and for each kind of fold.',
    ),
  ];
}

/** One issue for all folds and seams of a kind; none when there are none. */
function finding(
  code: string,
  severity: Issue['severity'],
  ids: readonly string[],
  what: string,
  remedy: string,
): Issue[] {
  if (ids.length === 0) return [];
  const where = ids.length === 1 ? 'one fold or seam' : `${ids.length} folds or seams`;
  return [{ code, severity, stage: 'foam', message: `${what} ${where}.`, remedy, place: { ids } }];
}
