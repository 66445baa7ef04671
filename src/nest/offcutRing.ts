/** The outline of an offcut: checked, and moved to where sheets lie. */
import { fail, type Issue, type Outcome, succeed } from '../base';
import { boxOf, type Point, ringArea } from '../math';
import { uniteRings } from '../plane';
import { leastOffcut, offcutLoss, sheetReach } from './tolerance';

const problem = (code: string, message: string, remedy: string): Issue => ({
  ...{ code, severity: 'error', stage: 'sheets', message, remedy },
  place: {},
});

/**
 * A closed outline as sheets are kept: counter-clockwise, its box at the origin.
 *
 * @param ring corners in mm in either direction, the first one not repeated
 * @returns a problem when it has fewer than three corners, crosses or touches itself, or is too small or too large
 */
export function offcutRing(ring: readonly Point[]): Outcome<readonly Point[]> {
  if (ring.length < 3)
    return fail(
      problem('offcut-open', 'An offcut needs three corners or more.', 'Lay the corners that are missing.'),
    );
  const box = boxOf(ring);
  const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
  if (Math.max(width, height) > sheetReach)
    return fail(
      problem(
        'offcut-large',
        `The offcut is larger than ${sheetReach / 1000} m.`,
        'Look whether its size is in the right unit.',
      ),
    );
  if (Math.min(width, height) < leastOffcut)
    return fail(
      problem(
        'offcut-small',
        `The offcut is narrower than ${leastOffcut} mm.`,
        'Draw it larger; so small a rest holds no panel.',
      ),
    );
  const moved = ring.map((p) => ({ x: p.x - box.minX, y: p.y - box.minY }));
  const area = Math.abs(ringArea(moved));
  const covered = uniteRings([moved], 'evenOdd');
  const kept = covered.reduce((sum, r) => sum + ringArea(r), 0);
  if (covered.length !== 1 || Math.abs(kept - area) > offcutLoss * width * height)
    return fail(
      problem(
        'offcut-crosses',
        'The outline of the offcut crosses itself.',
        'Lay its corners in order round the rim, each once.',
      ),
    );
  return succeed(ringArea(moved) < 0 ? moved.reverse() : moved);
}
