/** The closed lines of a drawing as one shape: what lies inside an odd number of them belongs to it. */
import { fail, type Issue, type Outcome, succeed } from '../base';
import { boxOf, type Point, point, ringArea } from '../math';
import type { Drawing } from '../model';
import type { Mm } from '../units';
import { flattenLine } from './lineLength';

export interface ClosedShape {
  /** About the middle of their box, mm, y up; the first point of a ring is not repeated. */
  readonly rings: readonly (readonly Point[])[];
  /** Lines that are not closed, and so left out. */
  readonly open: number;
}

/** How far rings may leave their curves: below what a blade follows. */
const flatness: Mm = 0.05;
/** Points of all rings together: a saved project and every search along seams hold them. */
const mostPoints = 4000;
/** Rings of less area, mm², are specks. */
const speck = 0.01;

const problem = (code: string, message: string, remedy: string): Issue => ({
  code,
  severity: 'error',
  stage: 'drawing',
  message,
  remedy,
  place: {},
});

/**
 * @param name of the file, for the messages
 * @returns `shape-without-rings` when nothing is closed, `shape-too-fine` when there are too many points
 */
export function closedShape({ lines }: Pick<Drawing, 'lines'>, name: string): Outcome<ClosedShape> {
  const closed = lines.filter((line) => line.closed);
  const rings = closed
    .map((line) => withoutRepeat(flattenLine(line, flatness)))
    .filter((ring) => ring.length > 2 && Math.abs(ringArea(ring)) > speck);
  if (rings.length === 0)
    return fail(
      problem(
        'shape-without-rings',
        `${name} holds no closed line.`,
        'Draw the shape’s outline as closed lines, and turn text and strokes into outlines first.',
      ),
    );
  const count = rings.reduce((sum, ring) => sum + ring.length, 0);
  if (count > mostPoints)
    return fail(
      problem(
        'shape-too-fine',
        `${name} has ${count} points in its outlines; ${mostPoints} are the most.`,
        'Simplify the outlines, or bring the shape in several files.',
      ),
    );
  const box = boxOf(rings.flat());
  const [x, y] = [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2];
  return succeed({
    rings: rings.map((ring) => ring.map((p) => point(p.x - x, p.y - y))),
    open: lines.length - closed.length,
  });
}

function withoutRepeat(ring: readonly Point[]): readonly Point[] {
  const [first, last] = [ring[0], ring.at(-1)];
  const repeats = first && last && Math.hypot(first.x - last.x, first.y - last.y) < 1e-9;
  return repeats ? ring.slice(0, -1) : ring;
}
