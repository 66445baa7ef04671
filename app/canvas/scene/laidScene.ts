/** What the scenes of pages and of sheets of foam have in common: panels that lie on something. */
import type { Box, Point } from '../../../src/math';
import { type AreaSet, emptyScene, type Label, type Pickable, type Scene, type Space } from './scene';
import type { StrokeBook } from './strokeBook';

/** Print smaller than 5 pixels can't be read: lettering is not drawn below this zoom, pixels per mm. */
export const letteringFrom = 1.2;

export interface LaidParts {
  readonly space: Space;
  /** What the panels lie on. */
  readonly ground: readonly AreaSet[];
  readonly fills: readonly (readonly Point[])[];
  readonly letters: readonly (readonly Point[])[];
  readonly book: StrokeBook;
  readonly labels: readonly Label[];
  readonly pickables: readonly Pickable[];
  readonly bounds: Box | null;
}

export function laidScene({
  space,
  ground,
  fills,
  letters,
  book,
  labels,
  pickables,
  bounds,
}: LaidParts): Scene {
  return {
    ...emptyScene(space),
    areas: [
      ...ground,
      { tone: 'piece', rings: fills },
      { tone: 'lettering', rings: letters, fromScale: letteringFrom },
    ],
    strokes: book.inOrder([
      'frame',
      'leader',
      'placement',
      'softBend',
      'scored',
      'valley',
      'mountain',
      'outline',
      'borderTick',
      'notch',
      'registration',
      'unread',
    ]),
    labels,
    pickables,
    bounds,
    zero: bounds ? { x: bounds.minX, y: bounds.maxY } : { x: 0, y: 0 },
  };
}
