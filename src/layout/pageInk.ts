/**
 * One page of panels: its part of the layout cut at the frame, registration marks, the neighbours' names, the check
 * square in the emptiest place, frame and footer.
 */
import { type Box, boxOf, type Point } from '../math';
import type { Lettering, LetterShapes, Page, PageStroke } from '../model';
import { drawCheckSquare, noteWidth, placeCheckSquare } from './checkSquare';
import { boxesMeet, clipLine, clipRing } from './clip';
import { drawFooter } from './footer';
import { inkMapOf, letteringBox } from './inkMap';
import { drawNeighbours } from './neighbours';
import { type PageFormat, toPage } from './pageFormat';
import type { PrintedPanel } from './printed';
import { markRadius, markStrokes, recordOf, type SharedMark } from './registration';

export interface PageDraft {
  readonly name: string;
  readonly row: number;
  readonly column: number;
  /** What it shows, layout space. */
  readonly box: Box;
  readonly neighbours: Page['neighbours'];
  readonly marks: readonly SharedMark[];
}

export interface FooterWords {
  readonly title: string;
  readonly number: number;
  readonly count: number;
}

/** How much a line of lettering, marks or a cut matters to what is laid over it. */
const inkWeight = { cut: 3, letters: 40, mark: 20, thin: 1.5 };

export function drawPage(
  draft: PageDraft,
  panels: readonly PrintedPanel[],
  format: PageFormat,
  font: LetterShapes,
  words: FooterWords,
): Page {
  const { box } = draft;
  const origin = { x: box.minX, y: box.minY };
  const onPage = (p: Point) => toPage(format, origin, p);
  const strokes: PageStroke[] = [];
  const lettering: Lettering[] = [];
  const shown: string[] = [];
  const ink = inkMapOf(box);

  for (const panel of panels) {
    if (!boxesMeet(panel.box, box)) continue;
    const before = strokes.length + lettering.length;
    for (const line of panel.lines) {
      for (const part of clipLine(line.points, line.closed, box)) {
        strokes.push({
          kind: line.kind,
          points: part.points.map(onPage),
          closed: part.closed,
          ...(part.from > 0 ? { dashStart: part.from } : {}),
        });
        const weight = line.kind === 'cut' ? inkWeight.cut : inkWeight.thin;
        const ends = part.closed ? [...part.points, part.points[0]!] : part.points;
        for (let i = 1; i < ends.length; i++) ink.addLine(ends[i - 1]!, ends[i]!, weight);
      }
    }
    for (const letter of panel.lettering) {
      const rings = letter.rings.map((ring) => clipRing(ring, box)).filter((ring) => ring.length > 0);
      if (rings.length === 0) continue;
      ink.addBox(letteringBox(rings), inkWeight.letters);
      // On a page nothing is mirrored any more: the group that a text stood in no longer matters.
      const { block: _, ...alone } = letter;
      lettering.push({ ...alone, rings: rings.map((ring) => ring.map(onPage)), at: onPage(letter.at) });
    }
    if (strokes.length + lettering.length > before) shown.push(panel.panel);
  }

  const radius = markRadius(format.overlap);
  const registration = draft.marks.map((mark) => {
    const at = onPage(mark.at);
    strokes.push(...markStrokes(at, radius));
    ink.addBox(around(mark.at, 2 * radius), inkWeight.mark);
    return recordOf(mark, at);
  });
  const names = drawNeighbours(draft, format, font, ink);
  const square = drawCheckSquare(placeCheckSquare(box, ink, noteWidth(font)), onPage, font);
  strokes.push(...names.strokes, ...square.strokes);
  lettering.push(...names.lettering, ...square.lettering);
  const footer = drawFooter(format, draft.name, words, font);
  strokes.push(...footer.strokes);
  lettering.push(...footer.lettering);
  return {
    name: draft.name,
    row: draft.row,
    column: draft.column,
    origin,
    neighbours: draft.neighbours,
    strokes,
    lettering,
    registration,
    panels: shown,
  };
}

const around = (p: Point, reach: number): Box =>
  boxOf([
    { x: p.x - reach, y: p.y - reach },
    { x: p.x + reach, y: p.y + reach },
  ]);
