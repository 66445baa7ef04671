/** The shape of what is saved about panels on sheets of foam. */
import * as v from 'valibot';
import type { LaidSheets, StockSheet } from '../model';

const finite = v.pipe(v.number(), v.finite());
const positive = v.pipe(finite, v.gtValue(0));
const count = v.pipe(finite, v.integer(), v.minValue(0));
const point = v.object({ x: finite, y: finite });

export const allowedTurns = v.picklist(['free', 'quarter', 'half', 'fixed']);

export const stockSheet: v.GenericSchema<unknown, StockSheet> = v.object({
  id: v.pipe(v.string(), v.minLength(1)),
  thickness: positive,
  material: v.string(),
  count: v.pipe(count, v.maxValue(999)),
  price: v.nullable(v.pipe(finite, v.minValue(0))),
  shape: v.variant('kind', [
    v.object({ kind: v.literal('rectangle'), width: positive, height: positive }),
    v.object({ kind: v.literal('offcut'), outline: v.pipe(v.array(point), v.minLength(3)) }),
  ]),
});

export const laidSheets: v.GenericSchema<unknown, LaidSheets> = v.object({
  placed: v.array(
    v.object({
      panel: v.string(),
      copy: count,
      sheet: v.string(),
      sheetCopy: count,
      x: finite,
      y: finite,
      turn: finite,
      mirrored: v.boolean(),
      locked: v.boolean(),
    }),
  ),
  panels: v.record(v.string(), v.string()),
});
