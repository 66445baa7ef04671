/** Extra parts as they are saved. */
import * as v from 'valibot';
import type { ExtraPart, ShellOutline } from '../model';

const finite = v.pipe(v.number(), v.finite());
const notNegative = v.pipe(finite, v.minValue(0));
const positive = v.pipe(finite, v.gtValue(0));
const count = v.pipe(finite, v.integer(), v.minValue(1), v.maxValue(999));
const ids = v.array(v.string());
const side = v.picklist(['outside', 'inside']);
const common = { id: v.string(), name: v.string(), thickness: v.nullable(positive) };

const facePoint = v.object({ face: v.string(), x: finite, y: finite });
const flatPoint = v.object({ x: finite, y: finite });
const within = v.picklist(['shell', 'panel']);

const outline: v.GenericSchema<unknown, ShellOutline> = v.variant('kind', [
  v.object({
    kind: v.literal('drawn'),
    within,
    points: v.pipe(v.array(facePoint), v.minLength(3)),
    curved: v.boolean(),
  }),
  v.object({
    kind: v.literal('shape'),
    within,
    rings: v.pipe(v.array(v.pipe(v.array(flatPoint), v.minLength(3))), v.minLength(1)),
    at: facePoint,
    turn: finite,
    width: positive,
  }),
]);

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
  v.object({
    ...common,
    kind: v.literal('layer'),
    faces: ids,
    side,
    margin: notNegative,
    outline: v.exactOptional(outline),
  }),
  v.object({
    ...common,
    kind: v.literal('stencil'),
    outline,
    side,
    way: v.picklist(['mask', 'window']),
    border: notNegative,
  }),
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
