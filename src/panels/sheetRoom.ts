/** The sheet of foam that proposed panels have to fit on. */
import type { BuildDecisions, FoamDecisions, SheetDecisions } from '../model';
import type { SheetRoom } from './block';

export type { SheetRoom };

/**
 * Room on the largest whole sheet of the main foam, else on the sheet that Build buys: without the free rim, and without
 * what foam adds to an outline (up to its thickness on either side: common practice, no source), at the drawing's size.
 * @param scale factor from the drawing to finished foam
 * @returns null where nothing would be left
 */
export function sheetRoom(
  { stock, margin }: Pick<SheetDecisions, 'stock' | 'margin'>,
  { sheet }: Pick<BuildDecisions, 'sheet'>,
  { thickness, material }: Pick<FoamDecisions, 'thickness' | 'material'>,
  scale: number,
): SheetRoom | null {
  const whole = stock.flatMap(({ shape, ...s }) =>
    shape.kind === 'rectangle' && s.thickness === thickness && s.material === material && s.count > 0
      ? [shape]
      : [],
  );
  const [largest] = [...(whole.length > 0 ? whole : [sheet])].sort(
    (a, b) => b.width * b.height - a.width * a.height,
  );
  if (!largest) return null;
  const less = 2 * (margin + thickness);
  const [width, height] = [(largest.width - less) / scale, (largest.height - less) / scale];
  return width > 0 && height > 0 ? { width, height } : null;
}
