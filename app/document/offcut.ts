/** The outline of an offcut from an SVG file: its longest closed line, moved to the origin. */
import { fail, type Issue, type Outcome } from '../../src/base';
import { type Point, polylineLength } from '../../src/math';
import type { PatternSource } from '../../src/model';
import { offcutRing } from '../../src/nest';

const problem = (message: string, remedy: string): Issue => ({
  code: 'offcut-unreadable',
  severity: 'error',
  stage: 'sheets',
  message,
  remedy,
  place: {},
});

/** How far the outline may leave its curves, mm: far below what a blade follows. */
const flatness = 0.05;

function withoutRepeat(ring: readonly Point[]): readonly Point[] {
  const [first, last] = [ring[0], ring.at(-1)];
  const repeats = first && last && Math.hypot(first.x - last.x, first.y - last.y) < 1e-9;
  return repeats ? ring.slice(0, -1) : ring;
}

/** The reader of drawings is large: it is loaded when the first outline is asked for. */
export async function readOffcut(source: PatternSource): Promise<Outcome<readonly Point[]>> {
  const { flattenLine, readDrawing } = await import('../../src/drawing');
  const read = readDrawing(source, { file: 0, size: { kind: 'ask' } });
  if (!read.ok) return read;
  if (read.value.size.from.kind === 'none')
    return fail(
      problem(
        `${source.name} does not say how large it is.`,
        'Save it with a width and height in mm or in, or type the offcut as a rectangle.',
      ),
    );
  const rings = read.value.lines
    .filter((line) => line.closed)
    .map((line) => withoutRepeat(flattenLine(line, flatness)))
    .filter((ring) => ring.length > 2);
  const [longest] = [...rings].sort((a, b) => polylineLength(b) - polylineLength(a));
  if (!longest)
    return fail(
      problem(`${source.name} holds no closed line.`, 'Draw the offcut’s outline as one closed line.'),
    );
  return offcutRing(longest);
}
