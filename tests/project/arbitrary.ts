/** Random documents for the laws: every decision takes part. */
import fc from 'fast-check';
import { type Decisions, defaultDecisions, type ProjectDocument, type ShellOutline } from '../../src/model';

/** Finite numbers as a person can set them; −0 is not a number that JSON tells from 0. */
const number = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true, noDefaultInfinity: true }).map((n) => (Object.is(n, -0) ? 0 : n));
const id = fc.stringMatching(/^[a-z][0-9a-z.:]{0,11}$/);
const table = <T>(value: fc.Arbitrary<T>) => fc.dictionary(id, value, { maxKeys: 4, noNullPrototype: true });
const point = fc.record({ x: number(-1e4, 1e4), y: number(-1e4, 1e4) });
const lengthAbove0 = number(0.01, 5000);
const length = number(0, 500);
const bend = number(-3.14, 3.14);
const role = fc.constantFrom('outline', 'mountain', 'valley', 'fold', 'notes', 'ignore' as const);
const cut = fc.constantFrom('bevel' as const, 'square' as const, 'flush' as const, 'lapped' as const);
const fold = fc.constantFrom('soft' as const, 'scored' as const);
const edgeEnd = fc.record({ edge: id, end: fc.constantFrom('start' as const, 'end' as const) });
const stretch = fc
  .tuple(number(0, 0.4), number(0.5, 1))
  .map(([from, to]): readonly [number, number] => [from, to]);
const turns = fc.constantFrom('free' as const, 'quarter' as const, 'half' as const, 'fixed' as const);
const orNull = <T>(a: fc.Arbitrary<T>) => fc.option(a, { nil: null });

const anyPart = { id, name: fc.string(), thickness: orNull(lengthAbove0) };
const side = fc.constantFrom('outside' as const, 'inside' as const);
const quantity = fc.integer({ min: 1, max: 20 });
const facePoint = fc.record({ face: id, x: number(0, 1), y: number(0, 1) });
const corners = <T>(one: fc.Arbitrary<T>) => fc.array(one, { minLength: 3, maxLength: 4 });
const within = fc.constantFrom('shell' as const, 'panel' as const);
const outline: fc.Arbitrary<ShellOutline> = fc.oneof(
  fc.record({
    kind: fc.constant('drawn' as const),
    within,
    points: corners(facePoint),
    curved: fc.boolean(),
  }),
  fc.record({
    kind: fc.constant('shape' as const),
    within,
    rings: fc.array(corners(point), { minLength: 1, maxLength: 2 }),
    at: facePoint,
    turn: bend,
    width: lengthAbove0,
  }),
);
const extraPart: fc.Arbitrary<Decisions['extras']['parts'][number]> = fc.oneof(
  fc.record({
    ...anyPart,
    kind: fc.constant('band' as const),
    edges: fc.array(id, { maxLength: 3 }),
    side,
    width: lengthAbove0,
    shape: fc.constantFrom('straight' as const, 'fitted' as const),
    overlap: length,
  }),
  fc.record({
    ...anyPart,
    kind: fc.constant('seamStrip' as const),
    seams: fc.array(id, { maxLength: 3 }),
    side,
    width: lengthAbove0,
  }),
  fc.record(
    {
      ...anyPart,
      kind: fc.constant('layer' as const),
      faces: fc.array(id, { maxLength: 3 }),
      side,
      margin: length,
      outline,
    },
    { requiredKeys: ['id', 'name', 'thickness', 'kind', 'faces', 'side', 'margin'] },
  ),
  fc.record({
    ...anyPart,
    kind: fc.constant('stencil' as const),
    outline,
    side,
    way: fc.constantFrom('mask' as const, 'window' as const),
    border: length,
  }),
  fc.record({
    ...anyPart,
    kind: fc.constant('visor' as const),
    edges: fc.array(id, { maxLength: 3 }),
    rim: fc.constantFrom('whole' as const, 'part' as const),
    side,
    margin: length,
    eyes: orNull(number(-200, 200)),
  }),
  fc.record({
    ...anyPart,
    kind: fc.constant('disc' as const),
    diameter: lengthAbove0,
    inner: length,
    quantity,
  }),
  fc.record({
    ...anyPart,
    kind: fc.constant('bar' as const),
    length: lengthAbove0,
    width: lengthAbove0,
    quantity,
  }),
);

export const anyDecisions: fc.Arbitrary<Decisions> = fc.record<Decisions>({
  reading: fc.record<Decisions['reading']>({
    size: fc.oneof(
      fc.constant({ kind: 'ask' as const }),
      fc.record({ kind: fc.constant('perInch' as const), value: lengthAbove0 }),
      fc.record({ kind: fc.constant('knownLength' as const), line: id, length: lengthAbove0 }),
    ),
    drawnFromInside: fc.boolean(),
    groupRoles: table(role),
    lineRoles: table(role),
    keptTabs: fc.array(id, { maxLength: 3 }),
    stripTabs: fc.boolean(),
    joinWithin: length,
  }),
  seams: fc.record<Decisions['seams']>({
    useNumbers: fc.boolean(),
    findRest: fc.boolean(),
    made: fc.array(
      fc.record(
        {
          a: id,
          b: id,
          direction: fc.constantFrom('opposed' as const, 'along' as const),
          partA: stretch,
          partB: stretch,
        },
        { requiredKeys: ['a', 'b', 'direction'] },
      ),
      { maxLength: 4 },
    ),
    rejected: fc.array(id, { maxLength: 3 }),
    borders: fc.array(id, { maxLength: 3 }),
    half: orNull(fc.record({ rim: fc.array(id, { maxLength: 3 }) })),
  }),
  shell: fc.record<Decisions['shell']>({
    foldUp: fc.boolean(),
    symmetry: fc.boolean(),
    distances: fc.array(fc.record({ from: edgeEnd, to: edgeEnd, length: lengthAbove0 }), { maxLength: 3 }),
    girths: fc.array(fc.record({ at: number(0, 1), tilt: number(-1.5, 1.5), girth: lengthAbove0 }), {
      maxLength: 2,
    }),
    trustDoubtful: fc.boolean(),
    turned: fc.record({ x: bend, y: bend, z: bend }),
  }),
  fit: fc.record<Decisions['fit']>({
    how: fc.constantFrom('head', 'measures', 'known', 'percent'),
    measures: fc.record({
      length: orNull(lengthAbove0),
      breadth: orNull(lengthAbove0),
      height: orNull(lengthAbove0),
    }),
    brow: fc.record({ at: orNull(number(0, 1)), tilt: orNull(number(-1.5, 1.5)) }),
    head: orNull(lengthAbove0),
    headEnteredAs: fc.constantFrom('tape', 'eu', 'us'),
    padding: length,
    clearance: length,
    girth: fc.oneof(
      fc.constant({ kind: 'none' as const }),
      fc.record({ kind: fc.constant('edges' as const), edges: fc.array(id, { maxLength: 4 }) }),
      fc.record({
        kind: fc.constant('tape' as const),
        parts: fc.array(fc.tuple(point, point), { maxLength: 3 }),
      }),
      fc.record({ kind: fc.constant('typed' as const), length: lengthAbove0 }),
    ),
    known: fc.record({ have: orNull(lengthAbove0), want: orNull(lengthAbove0) }),
    percent: number(0.01, 20),
  }),
  panels: fc.record<Decisions['panels']>({
    edits: fc.array(
      fc.oneof(
        fc.record({
          kind: fc.constantFrom('cut' as const, 'join' as const),
          id,
          lines: fc.array(id, { maxLength: 3 }),
        }),
        fc.record(
          {
            kind: fc.constant('draw' as const),
            id,
            way: fc.constantFrom('across' as const, 'slit' as const, 'dart' as const),
            width: orNull(lengthAbove0),
            curved: fc.boolean(),
            points: fc.array(facePoint, { maxLength: 3 }),
          },
          { requiredKeys: ['kind', 'id', 'way', 'curved', 'points'] },
        ),
        fc.record({
          kind: fc.constant('alike' as const),
          id,
          panels: fc.tuple(id, id),
          within: length,
        }),
      ),
      { maxLength: 3 },
    ),
    limits: fc.record({
      bend: number(0, 3.14),
      spread: number(0, 3.14),
      misfit: lengthAbove0,
      dart: length,
      reach: lengthAbove0,
    }),
    smooth: fc.boolean(),
    pairWithin: number(0, 5),
  }),
  extras: fc.record<Decisions['extras']>({ parts: fc.array(extraPart, { maxLength: 3 }) }),
  foam: fc.record<Decisions['foam']>({
    thickness: length,
    standsFor: fc.constantFrom('outside', 'middle', 'inside'),
    neutralRatio: number(0, 1),
    squeeze: length,
    bendTest: fc.record({ sides: orNull(lengthAbove0), wedge: orNull(length) }),
    bendRadius: length,
    flush: fc.constantFrom('outside', 'middle', 'inside'),
    thicknessOf: table(lengthAbove0),
    material: fc.string(),
    materialOf: table(fc.string()),
    preparation: fc.oneof(cut, fc.constant('rules' as const)),
    preparationOf: table(cut),
    flushBelow: number(0, 3),
    lapOver: table(fc.constantFrom('a' as const, 'b' as const)),
    foldPreparation: fc.oneof(fold, fc.constant('rules' as const)),
    foldPreparationOf: table(fold),
    scoreFrom: number(0, 3),
    scoreDepth: number(0.05, 0.95),
    kerf: length,
    traced: fc.constantFrom('outside', 'inside'),
    bends: table(bend),
    roleBends: fc.record({
      mountain: orNull(bend),
      valley: orNull(bend),
      unknown: orNull(bend),
      seam: orNull(bend),
    }),
    mitreLimit: number(1, 20),
  }),
  marks: fc.record<Decisions['marks']>({
    notches: fc.boolean(),
    numbers: fc.boolean(),
    names: fc.boolean(),
    bevels: fc.boolean(),
    folds: fc.boolean(),
    letterHeight: number(0.5, 50),
    up: orNull(bend),
    pieceNames: table(fc.string({ maxLength: 12 })),
    quantities: table(fc.integer({ min: 0, max: 20 })),
  }),
  sheets: fc.record<Decisions['sheets']>({
    stock: fc.array(
      fc.record({
        id,
        thickness: lengthAbove0,
        material: id,
        count: fc.integer({ min: 0, max: 99 }),
        price: orNull(length),
        shape: fc.oneof(
          fc.record({ kind: fc.constant('rectangle' as const), width: lengthAbove0, height: lengthAbove0 }),
          fc.record({
            kind: fc.constant('offcut' as const),
            outline: fc.array(point, { minLength: 3, maxLength: 5 }),
          }),
        ),
      }),
      { maxLength: 3 },
    ),
    gap: length,
    margin: length,
    turns,
    turnsOf: table(turns),
    facesAlike: fc.boolean(),
    turnOverOf: table(fc.boolean()),
    seconds: number(1, 3600),
    enough: number(0, 1),
    seed: fc.integer({ min: 0, max: 999 }),
    laid: orNull(
      fc.record({
        placed: fc.array(
          fc.record({
            panel: id,
            copy: fc.integer({ min: 0, max: 9 }),
            sheet: id,
            sheetCopy: fc.integer({ min: 0, max: 9 }),
            x: number(-900, 900),
            y: number(-900, 900),
            turn: bend,
            mirrored: fc.boolean(),
            locked: fc.boolean(),
          }),
          { maxLength: 3 },
        ),
        panels: table(id),
      }),
    ),
  }),
  pages: fc.record<Decisions['pages']>({
    paper: fc.constantFrom('A4', 'A3', 'Letter', 'Legal', 'Tabloid', 'own'),
    ownSize: fc.record({ width: lengthAbove0, height: lengthAbove0 }),
    orientation: fc.constantFrom('portrait', 'landscape', 'best'),
    margin: length,
    overlap: length,
    arrangement: fc.constantFrom('tiled', 'whole'),
    measured: orNull(fc.record({ x: lengthAbove0, y: lengthAbove0 })),
    reach: orNull(fc.record({ left: length, right: length, top: length, bottom: length })),
    mapPage: fc.boolean(),
    half: fc.boolean(),
  }),
  cutting: fc.record<Decisions['cutting']>({
    kerf: fc.constantFrom('in', 'out'),
    lettering: fc.constantFrom('outlines', 'strokes'),
    leadIn: length,
  }),
  build: fc.record<Decisions['build']>({
    done: fc.array(id, { maxLength: 3 }),
    order: fc.array(id, { maxLength: 3 }),
    currency: fc.string({ maxLength: 3 }),
    sheet: fc.record({ width: lengthAbove0, height: lengthAbove0 }),
    rates: fc.constantFrom(defaultDecisions.build.rates, {
      ...defaultDecisions.build.rates,
      sheetPrice: 7.5,
      sealerCoats: 0,
      waste: 0,
    }),
  }),
  troupe: fc.record<Decisions['troupe']>({
    wearers: fc.array(
      fc.record({
        id,
        name: fc.string({ maxLength: 12 }),
        girth: orNull(lengthAbove0),
        length: orNull(lengthAbove0),
        breadth: orNull(lengthAbove0),
        height: orNull(lengthAbove0),
      }),
      { maxLength: 3 },
    ),
  }),
});

export const anyDocument: fc.Arbitrary<ProjectDocument> = fc.record<ProjectDocument>({
  title: fc.string({ maxLength: 20, unit: 'grapheme' }),
  sources: fc.array(
    fc.record({
      name: fc.string({ minLength: 1, maxLength: 12 }),
      svg: fc.oneof(
        fc.constant(
          '<svg xmlns="http://www.w3.org/2000/svg"\n width="10mm" height="10mm"><path d="M0 0h9"/></svg>',
        ),
        fc.string({ maxLength: 60, unit: 'binary' }),
      ),
    }),
    { minLength: 1, maxLength: 3 },
  ),
  decisions: anyDecisions,
  lengthUnit: fc.constantFrom('mm', 'in'),
});

export const plainDocument: ProjectDocument = {
  title: 'Gannet helm',
  sources: [
    {
      name: 'gannet-helm.svg',
      svg: '<svg xmlns="http://www.w3.org/2000/svg" width="210mm" height="297mm" viewBox="0 0 210 297"/>',
    },
  ],
  decisions: defaultDecisions,
  lengthUnit: 'mm',
};
