/** Visor blanks on tubes with a window, whose developed sizes have closed forms (plane geometry of prisms and pyramids). */
import { describe, expect, it } from 'vitest';
import { openingChoices } from '../../src/extras';
import { markPanels } from '../../src/marks';
import { boxOf, cross3, norm3, type Point, type Point3, ringArea, subtract3 } from '../../src/math';
import { defaultDecisions, type Panel, type VisorPart } from '../../src/model';
import { shellSides } from '../../src/shell';
import { surfaceOfTruth } from '../foam/shellFigures';
import { seamsOfTruth } from '../foam/truthSeams';
import { testFont } from '../support/lettering';
import { cut, extrasOf, partsOf, windowed } from './tubes';

const flat4 = [100, 100, 100, 100];
const rows4 = [0, 40, 110, 150];
const walls = (count: number) => Array.from({ length: count }, (_, i) => i);
const truthOf = (n: number, gap: number, radii = flat4) => cut(windowed(n, radii, rows4, walls(gap)), 8);
const drum = truthOf(24, 8);

/** Visors on the window in front, several made in one go; each named in the result as it is here. */
function visorsOn<Name extends string>(
  truth: ReturnType<typeof cut>,
  wanted: Readonly<Record<Name, Partial<VisorPart>>>,
  brow: number | null = null,
) {
  const { pattern, shell, places } = surfaceOfTruth(truth);
  const front = openingChoices(pattern, seamsOfTruth(truth), shell, places).find((o) => o.where === 'front')!;
  const parts = Object.entries<Partial<VisorPart>>(wanted).map(
    ([id, changes]): VisorPart => ({
      ...{ id, name: 'Visor', thickness: null, kind: 'visor', edges: front.edges, rim: 'whole' },
      ...{ side: 'outside', margin: 0, eyes: null },
      ...changes,
    }),
  );
  const plane = brow === null ? null : { normal: { x: 0, y: 0, z: 1 }, offset: brow };
  const foam = extrasOf(truth, parts, {}, plane);
  const panels = partsOf(foam);
  const of = (id: string) => ({
    panel: panels.find((p) => p.extra!.part === id),
    messages: foam.issues.filter((i) => i.place.ids?.includes(id)).map((i) => `${i.code}: ${i.message}`),
  });
  const made = Object.fromEntries(parts.map(({ id }) => [id, of(id)])) as Record<Name, ReturnType<typeof of>>;
  return { foam, ...made };
}
const boxed = (points: readonly Point[]) => {
  const box = boxOf(points);
  return { width: box.maxX - box.minX, height: box.maxY - box.minY, box };
};
/** Area of a nearly flat ring in space. */
const areaOf = ([o, ...rest]: readonly Point3[]): number =>
  rest.slice(1).reduce((sum, q, i) => sum + norm3(cross3(subtract3(rest[i]!, o!), subtract3(q, o!))) / 2, 0);
const sizeOf = (panel: Panel) => boxed(panel.outlines.traced.flat());
/** Walls of a regular n-gon of this radius, moved out by d. */
const sideAt = (n: number, radius: number, d: number) =>
  2 * radius * Math.sin(Math.PI / n) + 2 * d * Math.tan(Math.PI / n);

/** The sides of the drum's window at its lower end. */
function lowerEnd(): string[] {
  const { pattern, shell } = surfaceOfTruth(drum);
  const low = (v: number) => shell.vertices[v]!.z === 40;
  return shellSides(shell, pattern, seamsOfTruth(drum)).flatMap((s) =>
    s.kind === 'open' && low(s.from) && low(s.to) ? [s.id] : [],
  );
}

describe('a visor blank', () => {
  const lower = lowerEnd();
  const corner = visorsOn(truthOf(6, 2), { x1: { thickness: 2 } });
  const {
    foam: bareFoam,
    bare,
    eyes,
    low,
    part,
  } = visorsOn(
    drum,
    {
      bare: {},
      eyes: { eyes: 30 },
      low: { eyes: 90 },
      part: { rim: 'part', edges: lower, margin: 10 },
    },
    100,
  );
  /** On a shell whose brow is not known. */
  const { margin, foam: marginal } = visorsOn(drum, { margin: { margin: 12, eyes: 10 } });

  it('unrolls the window of a drum: as wide as its walls, as tall as they are', () => {
    const { width, height } = sizeOf(bare.panel!);
    // K = 0.5, foam of 5 mm: 2.5 mm out. The sheet runs evenly through corners on a circle: between chords and arc.
    const chords = 8 * sideAt(24, 100, 2.5);
    const arc = (8 * 2 * Math.PI * (100 + 2.5 / Math.cos(Math.PI / 24))) / 24;
    expect(width).toBeGreaterThan(chords - 0.05);
    expect(width).toBeLessThan(arc + 0.05);
    expect(height).toBeCloseTo(70, 2);
    expect(bare.messages).toEqual([expect.stringMatching(/visor-fit.*up to 0\.0 mm off/)]);
  });

  it('takes its margin all round, draws the rim and where its edge lies on the panels', () => {
    const within = sizeOf(bare.panel!);
    const { panel } = margin;
    const { width, height } = sizeOf(panel!);
    expect(width).toBeCloseTo(within.width + 24, 2);
    expect(height).toBeCloseTo(within.height + 24, 2);
    const rim = panel!.guides!.find((g) => g.id.endsWith(':rim'))!;
    expect(boxed(rim.points).width).toBeCloseTo(within.width, 2);
    const lines = marginal.panels.filter((p) => !p.extra).flatMap((p) => p.guides ?? []);
    expect(lines.length).toBeGreaterThan(2);
    for (const line of lines) expect(line.label).toBe('Visor');
    // Seams that meet the rim are told by their numbers, on ticks as long as the margin.
    const ticks = panel!.guides!.filter((g) => /^\d+$/.test(g.label));
    expect(ticks.length).toBeGreaterThan(2);
    for (const {
      points: [a, b],
    } of ticks) {
      const long = Math.hypot(a!.x - b!.x, a!.y - b!.y);
      expect(long).toBeGreaterThan(11.9);
      expect(long).toBeLessThan(12 * 1.6);
    }
  });

  it('marks the eye line at its height, and says when it is not there', () => {
    const line = eyes.panel!.guides!.filter((g) => g.label === 'eye line');
    expect(line).toHaveLength(1);
    const { box, width } = sizeOf(eyes.panel!);
    // The window runs from 40 to 110 mm; the eyes are at 70.
    for (const p of line[0]!.points) expect(p.y - box.minY).toBeCloseTo(30, 2);
    expect(boxed(line[0]!.points).width).toBeCloseTo(width, 1);
    expect(low.messages.join()).toContain('eye-line-missing');
    expect(margin.messages.join()).toContain('no brow line');
    expect(bare.panel!.guides!.some((g) => g.label === 'eye line')).toBe(false);
  });

  it('unrolls the window of a cone as a ring segment', () => {
    const { panel, messages } = visorsOn(truthOf(24, 8, [110, 100, 82.5, 72.5]), { x1: { margin: 0 } }).x1;
    // Corners of 100 and 82.5 mm from the axis go out square to the edge that they lie on, d off both walls beside it.
    const edge = Math.atan2(17.5, 70);
    const wall = Math.atan2(17.5 * Math.cos(Math.PI / 24), 70);
    const between =
      Math.cos(wall) * Math.cos(Math.PI / 24) * Math.cos(edge) + Math.sin(wall) * Math.sin(edge);
    const radii = [100, 82.5].map((r) => r + (2.5 * Math.cos(edge)) / between);
    const chords = radii.reduce((sum, r) => sum + 16 * r * Math.sin(Math.PI / 24), 0);
    const arcs = radii.reduce((sum, r) => sum + (2 / 3) * Math.PI * r, 0);
    const rings = panel!.outlines.traced[0]!;
    const along = (points: readonly Point[]) =>
      points.slice(1).reduce((sum, p, i) => sum + Math.hypot(p.x - points[i]!.x, p.y - points[i]!.y), 0);
    const whole = along([...rings, rings[0]!]);
    const slant = Math.hypot(17.5, 70);
    expect(whole - 2 * slant).toBeGreaterThan(chords - 0.1);
    expect(whole - 2 * slant).toBeLessThan(arcs + 0.1);
    expect(messages).toEqual([expect.stringMatching(/up to 0\.[0-2] mm off/)]);
  });

  it('folds over a corner as long as foam follows, exact in its lengths', () => {
    const { panel, messages } = corner.x1;
    const { width, height } = sizeOf(panel!);
    // The ends of the rim lie on corners of 60° as well, where the offset is the mitre's: each wall grows on both sides.
    expect(width).toBeCloseTo(2 * sideAt(6, 100, 1), 3);
    expect(height).toBeCloseTo(70, 3);
    expect(panel!.folds).toHaveLength(1);
    expect(panel!.folds[0]!.bend).toBeCloseTo(Math.PI / 3, 6);
    expect(messages.join()).toMatch(/visor-folded.*folded along 1 line, the sharpest by 60°/);
  });

  it('stands in its window on the shell as large as it is cut, and round it as the window is', () => {
    const { panel } = bare;
    const standing = bareFoam.standing!.find((s) => s.part === 'bare')!;
    // Patches of 12 mm are chords of the bend: shorter by (12 / 102)² / 24, 0.06 %.
    const drawn =
      standing.patches.reduce((sum, p) => sum + areaOf(p), 0) / ringArea(panel!.outlines.traced[0]!);
    expect(drawn).toBeGreaterThan(0.999);
    expect(drawn).toBeLessThan(1 + 1e-9);
    // Between the middles of the walls and their corners, both 2.5 mm out.
    const inner = 100 * Math.cos(Math.PI / 24) + 2.5;
    for (const p of [...standing.patches, ...standing.outline].flat()) {
      expect(Math.hypot(p.x, p.y)).toBeGreaterThan(inner - 0.01);
      expect(Math.hypot(p.x, p.y)).toBeLessThan(inner / Math.cos(Math.PI / 24) + 0.01);
      expect(p.y).toBeGreaterThan(0);
      expect(p.z).toBeGreaterThan(40 - 1e-6);
      expect(p.z).toBeLessThan(110 + 1e-6);
    }
    // Folded over a corner: the fold stands on the corner's line.
    const [fold] = corner.foam.standing![0]!.folds;
    for (const p of fold!) expect(Math.hypot(p.x, p.y)).toBeCloseTo(100 + 1 / Math.cos(Math.PI / 6), 6);
  });

  it('says at its folds how far each bends, unless folds are left out', () => {
    const words = (folds: boolean) => {
      const panels = partsOf(corner.foam);
      const seams = seamsOfTruth(truthOf(6, 2));
      const marks = { ...defaultDecisions.marks, folds };
      const [visor] = markPanels({ ...corner.foam, panels }, seams, marks, testFont()).panels;
      return visor!.lettering.map((l) => l.text);
    };
    expect(words(true)).toContain('bend 60°');
    expect(words(false).filter((w) => w.startsWith('bend'))).toEqual([]);
  });

  it('is refused where no sheet follows, with the figures and a way out', () => {
    const {
      foam,
      x1: { panel, messages },
    } = visorsOn(truthOf(4, 2), { x1: {} });
    expect(panel).toBeUndefined();
    expect(foam.stuckExtras).toEqual(['x1']);
    expect(messages.join()).toMatch(/can’t be made: .* bend of 90°/);
    expect(foam.issues.find((i) => i.code === 'extra-stuck')!.remedy).toContain('part of the rim');
  });

  it('covers a part of the rim, closed straight', () => {
    expect(lower).toHaveLength(8);
    const { width, height } = sizeOf(part.panel!);
    expect(width).toBeCloseTo(sizeOf(bare.panel!).width, 0);
    // A level line closed straight encloses nothing: it is a strip of twice the margin.
    expect(height).toBeCloseTo(20, 0);
  });
});
