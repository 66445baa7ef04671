/** Step Sheets while an offcut is drawn: an empty bench at true size, with the outline of a sheet as Build buys it for comparison. */
import { emptyScene, type Scene } from './scene';
import { ring } from './shapes';
import { StrokeBook } from './strokeBook';

export function offcutScene({ width, height }: { readonly width: number; readonly height: number }): Scene {
  const book = new StrokeBook();
  const outline = [
    { x: 0, y: -height },
    { x: width, y: -height },
    { x: width, y: 0 },
    { x: 0, y: 0 },
  ];
  book.add('frame', ring(outline));
  return {
    ...emptyScene('offcut'),
    strokes: book.inOrder(['frame']),
    labels: [
      {
        text: 'A whole sheet, to compare',
        at: { x: width / 2, y: -height },
        off: { x: 0, y: 1 },
        tone: 'soft',
        size: 'small',
        height: 0,
        room: width,
        rank: 1,
        boxed: false,
      },
    ],
    // Room above for the line of help, so that it covers no corner.
    bounds: { minX: 0, minY: -height, maxX: width, maxY: height / 2 },
  };
}
