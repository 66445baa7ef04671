import { compareText } from './edgeTable';

/** Id of the seam between two edges, whichever is named first. */
export function seamIdOf(edgeA: string, edgeB: string): string {
  return compareText(edgeA, edgeB) <= 0 ? `${edgeA}+${edgeB}` : `${edgeB}+${edgeA}`;
}
