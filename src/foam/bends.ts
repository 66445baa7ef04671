/** The bend angle in force at every fold and seam: the person's word for it, else for its role, else none. */
import type { Issue } from '../base';
import type { FoamDecisions, Pattern, Seams } from '../model';
import { formatAngle, type Rad } from '../units';
import { refusedBend, softBendLimit } from './tolerance';

export interface Bends {
  readonly ofFold: ReadonlyMap<string, Rad | null>;
  readonly ofSeam: ReadonlyMap<string, Rad | null>;
  /** Fold and seam ids without a bend, in order of pieces, folds first. */
  readonly unset: readonly string[];
  readonly issues: readonly Issue[];
}

/** Looks up every bend. Angles of 170° or more are refused with an issue and count as not set. */
export function findBends(pattern: Pattern, seams: Seams, foam: FoamDecisions): Bends {
  const ofFold = new Map<string, Rad | null>();
  const ofSeam = new Map<string, Rad | null>();
  const refused: string[] = [];
  const contrary: string[] = [];
  const steep: string[] = [];
  const unset: string[] = [];
  const settle = (id: string, role: Rad | null): Rad | null => {
    const bend = foam.bends[id] ?? role;
    if (bend !== null && !(Math.abs(bend) < refusedBend)) {
      refused.push(id);
      return null;
    }
    if (bend === null) unset.push(id);
    return bend;
  };
  for (const piece of pattern.pieces) {
    for (const fold of piece.folds) {
      const bend = settle(fold.id, foam.roleBends[fold.role]);
      ofFold.set(fold.id, bend);
      if (bend === null) continue;
      if (Math.abs(bend) > softBendLimit) steep.push(fold.id);
      if ((fold.role === 'mountain' && bend < 0) || (fold.role === 'valley' && bend > 0))
        contrary.push(fold.id);
    }
  }
  for (const seam of seams.seams) ofSeam.set(seam.id, settle(seam.id, foam.roleBends.seam));
  return { ofFold, ofSeam, unset, issues: bendIssues({ refused, contrary, steep, unset }) };
}

function bendIssues(found: {
  readonly refused: readonly string[];
  readonly contrary: readonly string[];
  readonly steep: readonly string[];
  readonly unset: readonly string[];
}): Issue[] {
  const limit = formatAngle(softBendLimit);
  return [
    ...finding(
      'bend-too-sharp',
      'error',
      found.refused,
      `Foam cannot be cut for a bend of ${formatAngle(refusedBend)} or more, as typed for`,
      'Type the angle that the foam turns through there: 0° is flat, 90° a square corner. Until then it counts as flat.',
    ),
    ...finding(
      'fold-too-steep',
      'warning',
      found.steep,
      `Foam does not follow a bend over ${limit} inside a panel without buckling, as wanted at`,
      'Make such a fold a seam: cut the piece there in the drawing.',
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
