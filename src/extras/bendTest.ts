/**
 * The bend test: a strip and a square corner of the maker's own foam, bent and measured.
 *
 * Strip of length L, bent through φ over the inside radius R: with legs A and B measured on its outside to the corner
 * that their lines make, L = A + B − BD and BD = 2 (R + t) tan(φ/2) − φ (R + K t), the bend deduction of sheet-metal
 * bending; so K = ((L − A − B + 2 (R + t) tan(φ/2)) / φ − R) / t. DIN 6935 writes the same allowance as φ (r + k s/2),
 * k = 2 K (quoted by public code bases; the standard itself was not at hand).
 *
 * Corner of two plates that are cut square and meet at φ with their inner edges: the wedge outside is 2 t sin(φ/2) wide.
 * Foam that is squeezed turns about a point the squeeze c above the inside: w = 2 (t − c) sin(φ/2) (plane geometry).
 */
import { fail, type Issue, type Outcome, succeed } from '../base';
import { type Point, point } from '../math';
import type { FoamDecisions, MarkDecisions, Panel, PanelGuide } from '../model';
import type { Mm, Rad } from '../units';
import { asPanel } from './asPanel';
import { rulerReading } from './tolerance';

/** Length and width of the strip; bent in its middle. */
export const testStrip = { length: 200, width: 25 } as const;
const testPlate = { length: 60, width: 40 } as const;
/** Strip and plates are bent square. */
export const testBend: Rad = Math.PI / 2;

const refused = (message: string): Issue => ({
  code: 'bend-test-off',
  severity: 'error',
  stage: 'foam',
  message,
  remedy: 'Check the thickness of the foam, then bend and measure again.',
  place: {},
});

/**
 * K from both outer sides of the bent strip.
 * @param sides A + B, mm
 * @returns refused where no foam could have bent so (K outside 0 to 1)
 */
export function neutralRatioFrom(sides: Mm, { thickness, bendRadius }: TestFoam): Outcome<number> {
  const allowance = testStrip.length - sides + 2 * (bendRadius + thickness) * Math.tan(testBend / 2);
  const ratio = (allowance / testBend - bendRadius) / thickness;
  if (!(ratio >= 0 && ratio <= 1)) {
    const low = sidesFor(1, { thickness, bendRadius });
    const high = sidesFor(0, { thickness, bendRadius });
    return fail(
      refused(
        `Both sides together come to ${low.toFixed(1)} to ${high.toFixed(1)} mm on foam of ${thickness} mm; ${sides.toFixed(1)} mm can’t be.`,
      ),
    );
  }
  return succeed(ratio);
}

/** Both outer sides of the strip on foam with this K: what a maker would measure. */
export const sidesFor = (ratio: number, { thickness, bendRadius }: TestFoam): Mm =>
  testStrip.length +
  2 * (bendRadius + thickness) * Math.tan(testBend / 2) -
  testBend * (bendRadius + ratio * thickness);

type TestFoam = Pick<FoamDecisions, 'thickness' | 'bendRadius'>;

/** The squeeze from the wedge that stays open outside the square corner. */
export function squeezeFrom(wedge: Mm, { thickness }: Pick<FoamDecisions, 'thickness'>): Outcome<Mm> {
  const open = 2 * Math.sin(testBend / 2);
  const measured = thickness - wedge / open;
  const squeeze = measured < 0 && measured > -rulerReading ? 0 : measured;
  if (!(squeeze >= 0 && squeeze <= thickness / 2))
    return fail(
      refused(
        `The wedge comes to ${((thickness / 2) * open).toFixed(1)} to ${(thickness * open).toFixed(1)} mm on foam of ${thickness} mm; ${wedge.toFixed(1)} mm can’t be.`,
      ),
    );
  return succeed(squeeze);
}

/** Strip, plates, and an angle with a scale to read the strip on; each is a panel to be printed and cut. */
export function bendTestPanels(foam: FoamDecisions): readonly Panel[] {
  const part = (k: number, name: string, rings: Point[][], quantity: number, guides: PanelGuide[]): Panel =>
    asPanel(
      { kind: 'bar', id: `test-${k}`, name, thickness: null, length: 1, width: 1, quantity },
      { id: `bend-test-${k}`, name, rings, quantity, thickness: foam.thickness, folds: [], guides },
      { ...foam, kerf: 0 },
    );
  const box = (length: Mm, width: Mm) => [
    point(0, 0),
    point(length, 0),
    point(length, width),
    point(0, width),
  ];
  const line = (id: string, a: Point, b: Point): PanelGuide => ({
    id,
    points: [a, b],
    closed: false,
    label: '',
  });
  const { length, width } = testStrip;
  return [
    part(1, 'Strip', [box(length, width)], 1, [
      line('bend-test:middle', point(length / 2, 0), point(length / 2, width)),
    ]),
    part(2, 'Plate', [box(testPlate.length, testPlate.width)], 2, []),
    part(3, 'Paper angle', [angleRing()], 1, angleScale()),
  ];
}

/** Legs of the paper angle, their width, and the stretch of each that carries a scale. */
const leg = { reach: 125, width: 18, from: 85, to: 120 } as const;

/** An L: its inner corner is the origin, the bent strip lies in it. */
const angleRing = (): Point[] => [
  point(-leg.width, -leg.width),
  point(leg.reach, -leg.width),
  point(leg.reach, 0),
  point(0, 0),
  point(0, leg.reach),
  point(-leg.width, leg.reach),
];

/** A tick every millimetre, longer at fives and tens; none longer than the first dash of a placement line. */
function angleScale(): PanelGuide[] {
  const ticks: PanelGuide[] = [];
  for (let mm: number = leg.from; mm <= leg.to; mm++) {
    const reach = mm % 10 === 0 ? 3 : mm % 5 === 0 ? 2.2 : 1.4;
    ticks.push(
      { id: `bend-test:x${mm}`, points: [point(mm, 0), point(mm, -reach)], closed: false, label: '' },
      { id: `bend-test:y${mm}`, points: [point(0, mm), point(-reach, mm)], closed: false, label: '' },
    );
  }
  return ticks;
}

/** Marks of the test: names and sizes alone. */
export const bendTestMarks = (marks: MarkDecisions): MarkDecisions => ({ ...marks, names: true, up: null });

/** What to do, in order; printed beside the parts. */
export const bendTestSteps: readonly { readonly label: string; readonly value: string }[] = [
  { label: '1', value: 'Cut strip and plates square from your foam; the angle stays paper.' },
  { label: '2', value: 'Warm the strip, fold it sharp at its line to 90°, let it cool in shape.' },
  {
    label: '3',
    value:
      'Lay its outside into the paper angle. Read both ends: a tick is 1 mm, the longest are 90, 100, 110, 120.',
  },
  { label: '4', value: 'Type both readings together as “both outer sides”.' },
  { label: '5', value: 'Set two plates long edge to long edge at 90°, inner edges pressed as when glued.' },
  { label: '6', value: 'Measure the gap between the outer edges; type it as “open wedge”.' },
];
