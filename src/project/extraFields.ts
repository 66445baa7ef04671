/** Extra parts as they are saved. */
import * as v from 'valibot';
import type { ExtraPart } from '../model';

const finite = v.pipe(v.number(), v.finite());
const notNegative = v.pipe(finite, v.minValue(0));
const positive = v.pipe(finite, v.gtValue(0));
const count = v.pipe(finite, v.integer(), v.minValue(1), v.maxValue(999));
const ids = v.array(v.string());
const side = v.picklist(['outside', 'inside']);
const common = { id: v.string(), name: v.string(), thickness: v.nullable(positive) };

export const extraPart: v.GenericSchema<unknown, ExtraPart> = v.variant('kind', [
  v.object({
    ...common,
    kind: v.literal('band'),
    edges: ids,
    side,
    width: positive,
    shape: v.picklist(['straight', 'fitted']),
    overlap: notNegative,
  }),
  v.object({ ...common, kind: v.literal('seamStrip'), seams: ids, side, width: positive }),
  v.object({ ...common, kind: v.literal('layer'), faces: ids, side, margin: notNegative }),
  v.object({
    ...common,
    kind: v.literal('visor'),
    edges: ids,
    rim: v.picklist(['whole', 'part']),
    side,
    margin: notNegative,
    eyes: v.nullable(finite),
  }),
  v.object({ ...common, kind: v.literal('disc'), diameter: positive, inner: notNegative, quantity: count }),
  v.object({ ...common, kind: v.literal('bar'), length: positive, width: positive, quantity: count }),
]);
