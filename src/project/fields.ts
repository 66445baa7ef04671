/**
 * The shape of a saved project, field by field: what a field may hold, and how much of it can be kept when a part of
 * it is damaged (a whole field, single entries of a record, single items of a list). The types make sure that no
 * field of the decisions is forgotten here.
 */
import * as v from 'valibot';
import type {
  BuildDecisions,
  CuttingDecisions,
  Decisions,
  ExtraDecisions,
  FitDecisions,
  FoamDecisions,
  MarkDecisions,
  PageDecisions,
  PanelDecisions,
  PanelEdit,
  ReadingDecisions,
  SeamDecisions,
  SheetDecisions,
  ShellDecisions,
  TroupeDecisions,
} from '../model';
import { extraPart } from './extraFields';
import { allowedTurns, laidSheets, stockSheet } from './sheetSchema';

type Schema<T> = v.GenericSchema<unknown, T>;

/** `what`: the subject of "… is expected". */
interface Whole<T> {
  readonly keep: 'whole';
  readonly schema: Schema<T>;
  readonly what: string;
}
interface Entries<V> {
  readonly keep: 'entries';
  readonly schema: Schema<V>;
  readonly what: string;
}
interface Items<V> {
  readonly keep: 'items';
  readonly schema: Schema<V>;
  readonly what: string;
}
export type AnyField = Whole<unknown> | Entries<unknown> | Items<unknown>;

/** The kinds of field that may stand for a value of type T. */
type FieldOf<T> =
  | Whole<T>
  | (T extends readonly (infer V)[]
      ? Items<V>
      : T extends Readonly<Record<string, infer V>>
        ? string extends keyof T
          ? Entries<V>
          : never
        : never);

type Fields<T> = { readonly [K in keyof T]-?: FieldOf<T[K]> };

const whole = <T>(schema: Schema<T>, what: string): Whole<T> => ({ keep: 'whole', schema, what });
const entries = <V>(schema: Schema<V>, what: string): Entries<V> => ({ keep: 'entries', schema, what });
const items = <V>(schema: Schema<V>, what: string): Items<V> => ({ keep: 'items', schema, what });

const finite = v.pipe(v.number(), v.finite());
const notNegative = v.pipe(finite, v.minValue(0));
const positive = v.pipe(finite, v.gtValue(0));
const text = v.string();
const point = v.object({ x: finite, y: finite });
const lineRole = v.picklist(['outline', 'mountain', 'valley', 'fold', 'notes', 'ignore']);
const preparation = v.picklist(['bevel', 'square', 'flush', 'lapped']);
const foldPreparation = v.picklist(['soft', 'scored']);
const side = v.picklist(['outside', 'middle', 'inside']);
/** A bend goes at most to the fold lying flat on itself. */
const angleUpTo = v.pipe(finite, v.minValue(0), v.maxValue(Math.PI));
const bend = v.pipe(finite, v.minValue(-Math.PI), v.maxValue(Math.PI));

const yesNo = whole(v.boolean(), 'yes or no (true or false)');
const length = whole(notNegative, 'a length in millimetres, 0 or more,');
const someLength = whole(positive, 'a length in millimetres above 0');

const reading: Fields<ReadingDecisions> = {
  size: whole(
    v.variant('kind', [
      v.object({ kind: v.literal('ask') }),
      v.object({ kind: v.literal('perInch'), value: positive }),
      v.object({ kind: v.literal('knownLength'), line: text, length: positive }),
    ]),
    'the size of the drawing',
  ),
  drawnFromInside: yesNo,
  groupRoles: entries(lineRole, 'a role of lines'),
  lineRoles: entries(lineRole, 'a role of lines'),
  keptTabs: items(text, 'the id of a tab'),
  stripTabs: yesNo,
  joinWithin: length,
};

const share = v.pipe(finite, v.minValue(0), v.maxValue(1));
const stretch = v.pipe(
  v.strictTuple([share, share]),
  v.check(([from, to]) => from < to),
);

const seams: Fields<SeamDecisions> = {
  useNumbers: yesNo,
  findRest: yesNo,
  made: items(
    v.object({
      a: text,
      b: text,
      direction: v.picklist(['opposed', 'along']),
      partA: v.exactOptional(stretch),
      partB: v.exactOptional(stretch),
    }),
    'a pair of edges with its direction',
  ),
  rejected: items(text, 'the id of a seam'),
  borders: items(text, 'the id of an edge'),
  half: whole(v.nullable(v.object({ rim: v.array(text) })), 'the rim of a half pattern, or null,'),
};

const edgeEnd = v.object({ edge: text, end: v.picklist(['start', 'end']) });
const part = v.pipe(finite, v.minValue(0), v.maxValue(1));
const tilt = v.pipe(finite, v.minValue(-Math.PI / 2), v.maxValue(Math.PI / 2));

const shell: Fields<ShellDecisions> = {
  foldUp: yesNo,
  symmetry: yesNo,
  distances: items(
    v.object({ from: edgeEnd, to: edgeEnd, length: positive }),
    'a distance between two ends of edges',
  ),
  girths: items(v.object({ at: part, tilt, girth: positive }), 'a girth with its height and tilt'),
  trustDoubtful: yesNo,
  turned: whole(v.object({ x: finite, y: finite, z: finite }), 'three angles in radians'),
};

const fit: Fields<FitDecisions> = {
  how: whole(
    v.picklist(['head', 'measures', 'known', 'percent']),
    '“head”, “measures”, “known” or “percent”',
  ),
  measures: whole(
    v.object({
      length: v.nullable(positive),
      breadth: v.nullable(positive),
      height: v.nullable(positive),
    }),
    'length, breadth and height of the head (each may be null)',
  ),
  brow: whole(
    v.object({ at: v.nullable(part), tilt: v.nullable(tilt) }),
    'height (0 to 1) and tilt of the brow (each may be null)',
  ),
  head: whole(v.nullable(positive), 'a girth in millimetres above 0, or null,'),
  headEnteredAs: whole(v.picklist(['tape', 'eu', 'us']), '“tape”, “eu” or “us”'),
  padding: length,
  clearance: length,
  girth: whole(
    v.variant('kind', [
      v.object({ kind: v.literal('none') }),
      v.object({ kind: v.literal('edges'), edges: v.array(text) }),
      v.object({ kind: v.literal('tape'), parts: v.array(v.strictTuple([point, point])) }),
      v.object({ kind: v.literal('typed'), length: positive }),
    ]),
    'how the girth is measured',
  ),
  known: whole(
    v.object({ have: v.nullable(positive), want: v.nullable(positive) }),
    'a known length (have, want)',
  ),
  percent: whole(positive, 'a scale above 0'),
};

const foam: Fields<FoamDecisions> = {
  thickness: length,
  standsFor: whole(side, '“outside”, “middle” or “inside”'),
  neutralRatio: whole(v.pipe(finite, v.minValue(0), v.maxValue(1)), 'a part between 0 and 1'),
  squeeze: length,
  bendTest: whole(
    v.object({ sides: v.nullable(positive), wedge: v.nullable(notNegative) }),
    'what a bend test measured (each may be null)',
  ),
  bendRadius: length,
  flush: whole(side, '“outside”, “middle” or “inside”'),
  thicknessOf: entries(positive, 'a thickness in millimetres above 0'),
  material: whole(text, 'a name'),
  materialOf: entries(text, 'a name'),
  preparation: whole(
    v.picklist(['bevel', 'square', 'flush', 'lapped', 'rules']),
    '“bevel”, “square”, “flush”, “lapped” or “rules”',
  ),
  preparationOf: entries(preparation, '“bevel”, “square”, “flush” or “lapped”'),
  flushBelow: whole(v.pipe(finite, v.minValue(0), v.maxValue(Math.PI)), 'an angle in radians from 0 to π'),
  lapOver: entries(v.picklist(['a', 'b']), '“a” or “b”'),
  foldPreparation: whole(v.picklist(['soft', 'scored', 'rules']), '“soft”, “scored” or “rules”'),
  foldPreparationOf: entries(foldPreparation, '“soft” or “scored”'),
  scoreFrom: whole(v.pipe(finite, v.minValue(0), v.maxValue(Math.PI)), 'an angle in radians from 0 to π'),
  scoreDepth: whole(v.pipe(finite, v.minValue(0.05), v.maxValue(0.95)), 'a part between 0.05 and 0.95'),
  kerf: length,
  traced: whole(v.picklist(['outside', 'inside']), '“outside” or “inside”'),
  bends: entries(bend, 'an angle in radians from −π to π'),
  roleBends: whole(
    v.object({
      mountain: v.nullable(bend),
      valley: v.nullable(bend),
      unknown: v.nullable(bend),
      seam: v.nullable(bend),
    }),
    'an angle in radians (or null) for mountain, valley, unknown and seam',
  ),
  mitreLimit: whole(v.pipe(finite, v.minValue(1)), 'a number of 1 or more'),
};

const marks: Fields<MarkDecisions> = {
  notches: yesNo,
  numbers: yesNo,
  names: yesNo,
  bevels: yesNo,
  folds: yesNo,
  letterHeight: someLength,
  up: whole(v.nullable(finite), 'an angle in radians, or null,'),
  pieceNames: entries(text, 'a name'),
  quantities: entries(v.pipe(finite, v.integer(), v.minValue(0)), 'a whole number'),
};

const panelEdit: Schema<PanelEdit> = v.variant('kind', [
  v.object({ kind: v.literal('cut'), id: text, lines: v.array(text) }),
  v.object({ kind: v.literal('join'), id: text, lines: v.array(text) }),
  v.object({
    kind: v.literal('draw'),
    id: text,
    way: v.picklist(['across', 'slit', 'dart']),
    width: v.exactOptional(v.nullable(positive)),
    curved: v.boolean(),
    points: v.array(v.object({ face: text, x: finite, y: finite })),
  }),
  v.object({ kind: v.literal('alike'), id: text, panels: v.tuple([text, text]), within: notNegative }),
]);

const panels: Fields<PanelDecisions> = {
  edits: items(panelEdit, 'a split, join or drawn line of panels'),
  limits: whole(
    v.object({ bend: angleUpTo, spread: angleUpTo, misfit: positive, dart: notNegative, reach: positive }),
    'what foam can follow: bend, spread, misfit, dart and reach',
  ),
  smooth: yesNo,
  pairWithin: length,
};

const sheets: Fields<SheetDecisions> = {
  stock: items(stockSheet, 'a sheet of foam'),
  gap: length,
  margin: length,
  turns: whole(allowedTurns, '“free”, “quarter”, “half” or “fixed”'),
  turnsOf: entries(allowedTurns, '“free”, “quarter”, “half” or “fixed”'),
  facesAlike: yesNo,
  turnOverOf: entries(v.boolean(), 'yes or no (true or false)'),
  seconds: whole(v.pipe(finite, v.minValue(1), v.maxValue(3600)), 'a number of seconds from 1 to 3600'),
  enough: whole(v.pipe(finite, v.minValue(0), v.maxValue(1)), 'a part between 0 and 1'),
  seed: whole(v.pipe(finite, v.integer(), v.minValue(0)), 'a whole number'),
  laid: whole(v.nullable(laidSheets), 'where panels lie on sheets, or null,'),
};

const strip = notNegative;
const extras: Fields<ExtraDecisions> = { parts: items(extraPart, 'an extra part') };

const pages: Fields<PageDecisions> = {
  paper: whole(v.picklist(['A4', 'A3', 'Letter', 'Legal', 'Tabloid', 'own']), 'a paper size'),
  ownSize: whole(v.object({ width: positive, height: positive }), 'a width and a height above 0'),
  orientation: whole(v.picklist(['portrait', 'landscape', 'best']), '“portrait”, “landscape” or “best”'),
  margin: length,
  overlap: length,
  arrangement: whole(v.picklist(['tiled', 'whole']), '“tiled” or “whole”'),
  measured: whole(v.nullable(v.object({ x: positive, y: positive })), 'two measured lengths, or null,'),
  reach: whole(
    v.nullable(v.object({ left: strip, right: strip, top: strip, bottom: strip })),
    'four widths in millimetres, 0 or more, or null,',
  ),
  mapPage: yesNo,
  half: yesNo,
};

const cutting: Fields<CuttingDecisions> = {
  kerf: whole(v.picklist(['in', 'out']), '“in” or “out”'),
  lettering: whole(v.picklist(['outlines', 'strokes']), '“outlines” or “strokes”'),
  leadIn: length,
};

const rate = notNegative;
const count = v.pipe(notNegative, v.integer());

const build: Fields<BuildDecisions> = {
  done: items(text, 'the id of a step'),
  order: items(text, 'the id of a step'),
  currency: whole(v.pipe(text, v.maxLength(8)), 'a sign or word for the currency'),
  sheet: whole(v.object({ width: positive, height: positive }), 'a width and a height above 0'),
  rates: whole(
    v.object({
      sheetPrice: rate,
      waste: v.pipe(notNegative, v.maxValue(0.95)),
      adhesiveCoverage: positive,
      adhesivePrice: rate,
      sealerCoats: count,
      sealerCoverage: positive,
      sealerPrice: rate,
      paintCoats: count,
      paintCoverage: positive,
      paintPrice: rate,
      padShare: part,
      padPrice: rate,
      tapePerSeam: rate,
      tapePrice: rate,
      pageTime: rate,
      cutTime: rate,
      bevelTime: rate,
      glueTime: rate,
      smoothTime: rate,
      heatTime: rate,
      coatTime: rate,
      fitOutTime: rate,
      dayHours: v.pipe(positive, v.maxValue(24)),
    }),
    'prices, coverages and times of 0 or more',
  ),
};

const troupe: Fields<TroupeDecisions> = {
  wearers: items(
    v.object({
      id: text,
      name: text,
      girth: v.nullable(positive),
      length: v.nullable(positive),
      breadth: v.nullable(positive),
      height: v.nullable(positive),
    }),
    'a wearer with name, girth, length, breadth and height (measures may be null)',
  ),
};

/** Every decision, by section and name. */
export const decisionFields: { readonly [S in keyof Decisions]: Fields<Decisions[S]> } = {
  reading,
  seams,
  shell,
  fit,
  panels,
  extras,
  foam,
  marks,
  sheets,
  pages,
  cutting,
  build,
  troupe,
};

export const titleField = whole(text, 'a title');
export const unitField = whole(v.picklist(['mm', 'in']), '“mm” or “in”');
export const sourceFields = items(v.object({ name: text, svg: text }), 'a pattern file with name and svg');
