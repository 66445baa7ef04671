/** The sentences of the map page; each appears only where what it explains is on the pages. */
import { formatLength } from '../units';
import type { MapContext } from './mapContext';
import type { MapInput } from './mapPage';
import type { PrintedPanel } from './printed';

/** How to read what stands on the panels. */
export function markWords(panels: readonly PrintedPanel[], context: MapContext): string[] {
  const letters = panels.flatMap((p) => p.lettering);
  const uses = new Set(letters.map((l) => l.use));
  const words: string[] = [];
  if (uses.has('seamNumber'))
    words.push(
      letters.some((l) => l.use === 'seamNumber' && turnable.test(l.text))
        ? 'Glue an edge to the edge with the same number. A bar under a number is its foot: 6 is not 9.'
        : 'Glue an edge to the edge with the same number.',
    );
  if (panels.some((p) => p.lines.some((l) => l.kind === 'notch')))
    words.push(
      'Notches stand at the same distance from the corner on both edges of a seam: bring them together first. Edges whose ticks do not meet do not belong together, or one is turned round.',
    );
  if (uses.has('bevel'))
    words.push(
      'An angle beside a number is the tilt of the blade from square. "In": the cut leans in under the drawn face. "Out": it flares out from it.',
    );
  if (uses.has('up')) words.push('The arrow points up on the finished shell.');
  if (letters.some((l) => l.use === 'detail' && l.text.includes('mirrored')))
    words.push('"cut 1 + 1 mirrored": cut once as drawn and once more with the template turned over.');
  if (context.tracedFace === 'inside')
    words.push('The templates are mirrored: lay them on the face of the foam that becomes the inside.');
  return words;
}

/** How to check, cut and join the pages. */
export function joiningWords({ format, joined, context }: MapInput): string[] {
  const words = [
    'Print at 100 %, without fitting to the page. Measure the check square first: if it is not 100 mm both ways, enter what it measures in the Pages step and print again.',
  ];
  const { x, y } = format.correction;
  if (x !== 1 || y !== 1)
    words.push(`These pages are corrected for your printer: ${factor(x)} across, ${factor(y)} upright.`);
  if (joined) {
    const overlap = formatLength(format.overlap, context.lengthUnit);
    words.push(
      `Pages overlap by ${overlap}. Trim a page along its frame, lay it on the thin line of its neighbour and slide it until the registration marks cover each other. Triangles name the neighbour.`,
    );
    words.push(
      'Join rows first, then the rows to each other. Pages without any part of a panel are left out.',
    );
  }
  return words;
}

/** Numbers of digits that stay digits upside down, with one that becomes another. */
const turnable = /^[0689]*[69][0689]*$/;

const factor = (k: number): string => `× ${k.toFixed(4)}`;
