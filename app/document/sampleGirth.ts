/**
 * A sample comes with its girth measured: once its pattern is read, the edges and folds that the samples' list names by
 * their middles become the girth, as if the person had clicked them. Nothing happens when one of them is not found, and
 * the file's own size must be settled first. Positions in mm, y up, on the drawing.
 */
import { distance, pointAlong, polylineLength } from '../../src/math';
import type { Pattern } from '../../src/model';
import type { Editor } from './editor';
import type { SampleMeasure } from './samples';

/** A line is the one named when its middle is this near. The list has thousandths of a mm; joined line ends may move by
 *  a tenth, and other lines' middles are further away than a number is high. */
const sameMiddle = 1;

/** Ids of the edges and folds with these middles, in the same order; null when one is not there. */
export function linesAt(
  pattern: Pattern,
  middles: readonly (readonly [number, number])[],
): readonly string[] | null {
  const lines = pattern.pieces.flatMap((piece) =>
    [...piece.outline, ...piece.holes.flat(), ...piece.folds].map(({ id, points }) => ({
      id,
      at: pointAlong(points, polylineLength(points) / 2).at,
    })),
  );
  const ids: string[] = [];
  for (const [x, y] of middles) {
    const near = lines
      .map(({ id, at }) => ({ id, off: distance(at, { x, y }) }))
      .filter(({ off }) => off <= sameMiddle)
      .sort((a, b) => a.off - b.off)[0];
    if (!near) return null;
    ids.push(near.id);
  }
  return ids;
}

/**
 * Measures the open document's girth as soon as its pattern allows it, once. Ends without a word when the person
 * measures it in another way before, or opens something else.
 */
export function measureWhenRead(editor: Editor, measure: SampleMeasure): void {
  const { session } = editor;
  const { documentId } = session.getState();
  const look = () => {
    const s = session.getState();
    if (s.document === null || s.documentId !== documentId || s.document.decisions.fit.girth.kind !== 'none')
      return stop();
    const { pattern } = s.results;
    if (!pattern || pattern.size.from.kind === 'none') return;
    const edges = linesAt(pattern, measure.middles);
    if (!edges) return;
    stop();
    editor.decideOnOpening(`Measure the ${measure.label.toLowerCase()}`, (d) => ({
      ...d,
      fit: { ...d.fit, girth: { kind: 'edges', edges } },
    }));
  };
  const stop = session.subscribe((now, before) => {
    const touched =
      now.documentId !== before.documentId ||
      now.results.pattern !== before.results.pattern ||
      now.document?.decisions.fit.girth !== before.document?.decisions.fit.girth;
    if (touched) look();
  });
  look();
}
