/**
 * The dry fit: panels with their real thickness and prepared edges at their places on the shell. See README.
 */
import { GirthwiseError, type Work } from '../base';
import { add3, distance3, type Point3, point3, scaleBy3 } from '../math';
import type {
  BendModel,
  DryFit,
  DryFitClash,
  DryFitSeam,
  DryFitWay,
  FoamDecisions,
  FoamResult,
  PanelBody,
  Plane3,
  SeamPreparation,
  Shell,
} from '../model';
import { foamDepths } from '../model';
import { closedSection, offsetVectors, steppedPlaces, steppedShell } from '../shell';
import type { Mm } from '../units';
import {
  byWorst,
  figuresAtDepths,
  type MeasuredSide,
  meantToMeet,
  rangeOf,
  sidesOf,
  worseOf,
  worstOf,
  worstPlaceOf,
} from './figures';
import { gapsOf, type SeamSide, seamSides } from './gaps';
import { cornerAt, type DryFitSurface, type PlacedPanel, placePanel, placePaper } from './placing';
import { loadSolidLibrary, type SolidLibrary } from './solidLibrary';
import { clashVolume, neutralDoubt } from './tolerance';
import { measureVolumes, type Volumes } from './volumes';

export interface DryFitInput {
  readonly foam: FoamResult;
  readonly decisions: FoamDecisions;
  /** The shell that the panels were made from, its vertices at `places` on the paper's surface at the final size. */
  readonly shell: Shell;
  readonly places: readonly Point3[];
  /** Where the inside girth is measured; null: it is not. */
  readonly brow: Plane3 | null;
  /** Only the panels as designed: what another foam and the bare paper would leave is left out. */
  readonly brief?: boolean;
}

const models: readonly BendModel[] = ['rigid', 'mitre'];

/** Shares of the whole work: designed, the two with another neutral layer, the paper. */
const shares = [0, 0.3, 0.52, 0.74, 1];

/**
 * Measures gaps, overlaps, clashes and the inside girth. Loads the solid library when it is first used.
 * @throws GirthwiseError when no panel was made from the shell
 * @throws Cancelled through `work`
 */
export async function dryFit(input: DryFitInput, work: Work): Promise<DryFit> {
  const { foam, decisions, shell, places, brief = false } = input;
  const held = foam.panels.flatMap(({ id, body }) => (body ? [{ id, body }] : []));
  if (held.length === 0)
    throw new GirthwiseError(
      'dry-fit-without-shell',
      'No panel was made from the folded shell, so there is nothing to put together.',
    );
  await work.step(0, 1, 'Loading the solid library');
  const library = await loadSolidLibrary();
  const surface: DryFitSurface = {
    patches: shell.faces,
    places,
    vectors: offsetVectors({ vertices: places, faces: shell.faces }),
  };
  const cutOf = new Map(foam.rows.map((row) => [row.seam, row]));
  const partWork = (k: number): Work => ({
    step: (done, total, what) =>
      work.step(shares[k]! + ((shares[k + 1]! - shares[k]!) * done) / Math.max(1, total), 1, what),
  });
  const designed = held.map(({ id, body }) => placePanel(id, body, surface));
  const own = await measureWay(designed, surface, cutOf, library, brief ? work : partWork(0));
  const otherNeutral: DryFit['otherNeutral'][number][] = [];
  const otherSides: ByModel<readonly MeasuredSide[]>[] = [];
  for (const [k, sign] of (brief ? [] : [-1, 1]).entries()) {
    const off = sign * neutralDoubt;
    const panels = held.map(({ id, body }) =>
      placePanel(id, body, surface, ({ heights }) => off * (heights.outside - heights.inside)),
    );
    const other = await measureWay(panels, surface, cutOf, library, partWork(1 + k));
    otherNeutral.push({ neutralRatio: decisions.neutralRatio + off, way: other.way });
    otherSides.push(other.sides);
  }
  const paper = brief
    ? null
    : held.map(({ id, body }) => placePaper(id, body, surface, paperSkins(body, decisions)));
  const plain = paper && (await measureWay(paper, surface, null, library, partWork(3)));
  const sides = seamSides(designed, surface);
  const measured = new Set(own.sides.rigid.map((side) => side.seam));
  return {
    panels: held.length,
    leftOut: foam.panels.flatMap(({ id, body }) => (body ? [] : [id])),
    unmeasured: [...new Set(sides.map((side) => side.seam))].filter((seam) => !measured.has(seam)),
    designed: own.way,
    otherNeutral,
    uncompensated: plain?.way ?? null,
    seams: seamList(designed, sides, own.sides, otherSides, sharpestFolds(designed, surface, foam)),
    clashes: clashesOf(designed, surface, sides, own.volumes),
    foamVolume: own.volumes.rigid.foam,
    insideGirth: input.brow ? insideGirth(designed, surface, shell, decisions, input.brow) : null,
  };
}

/** The skins of foam as thick as the panel's, on the side of the paper that the decisions say. */
function paperSkins({ heights }: PanelBody, { standsFor }: FoamDecisions): PanelBody['heights'] {
  const { inside, outside } = foamDepths({ thickness: heights.outside - heights.inside, standsFor });
  return { inside: -inside, outside };
}

type ByModel<T> = Readonly<Record<BendModel, T>>;

interface MeasuredWay {
  readonly way: DryFitWay;
  readonly sides: ByModel<readonly MeasuredSide[]>;
  readonly volumes: ByModel<Volumes>;
}

/** @param cutOf how each seam is cut; null: all of them plainly, and their gap counts at every depth */
async function measureWay(
  panels: readonly PlacedPanel[],
  surface: DryFitSurface,
  cutOf: ReadonlyMap<string, FoamResult['rows'][number]> | null,
  library: SolidLibrary,
  work: Work,
): Promise<MeasuredWay> {
  const pairs = seamSides(panels, surface);
  const measure = (model: BendModel): MeasuredSide[] =>
    pairs.flatMap((side) => {
      const row = cutOf?.get(side.seam);
      // The paper's edges are plain, and what they leave counts at every depth, as it does at a bevel.
      const preparation = cutOf ? row?.preparation : 'bevel';
      if (!preparation || !isMeasured(preparation)) return [];
      const gaps = gapsOf(panels, side, surface, model);
      const { seam, vertices } = side;
      return gaps ? [{ seam, vertices, preparation, bend: row?.bend ?? null, gaps }] : [];
    });
  const sides = { rigid: measure('rigid'), mitre: measure('mitre') };
  const rigid = await measureVolumes(panels, surface, 'rigid', library, partOf(work, 0, 0.7));
  const mitre = await measureVolumes(panels, surface, 'mitre', library, partOf(work, 0.7, 1));
  const volumes = { rigid, mitre };
  const worse = (of: (side: MeasuredSide) => boolean) =>
    models.map((model) => figuresAtDepths(sides[model].filter(of))).reduce(worseOf, null);
  return {
    way: {
      bevelled: worse((side) => side.preparation !== 'square'),
      square: worse((side) => side.preparation === 'square'),
      gap: worse(() => true),
      overlapShare: Math.max(...models.map((model) => shareOf(volumes[model]))),
    },
    sides,
    volumes,
  };
}

/** Cuts whose two faces are meant to lie on each other in the plane that halves the bend. */
const isMeasured = (preparation: SeamPreparation): boolean =>
  preparation === 'bevel' || preparation === 'square';

const shareOf = ({ foam, shared }: Volumes): number =>
  foam > 0 ? shared.reduce((sum, { volume }) => sum + volume, 0) / foam : 0;

const partOf = (work: Work, from: number, to: number): Work => ({
  step: (done, total, what) => work.step(from + ((to - from) * done) / Math.max(1, total), 1, what),
});

function seamList(
  panels: readonly PlacedPanel[],
  sides: readonly SeamSide[],
  measured: ByModel<readonly MeasuredSide[]>,
  others: readonly ByModel<readonly MeasuredSide[]>[],
  foldAt: (panels: readonly number[], vertex: number) => DryFitSeam['fold'],
): DryFitSeam[] {
  const grouped = (of: typeof measured) => ({ rigid: bySeam(of.rigid), mitre: bySeam(of.mitre) });
  const byModel = grouped(measured);
  const byOther = others.map(grouped);
  const worstIn = (of: ReturnType<typeof grouped>, seam: string, model: BendModel) =>
    worstOf(of[model].get(seam) ?? []);
  return [...bySeam(sides)]
    .flatMap(([seam, pairs]): DryFitSeam[] => {
      const found = models.flatMap((model) => {
        const of = byModel[model].get(seam);
        return of ? [{ model, of, worst: worstOf(of) }] : [];
      });
      const worse = found.sort((p, q) => q.worst - p.worst)[0];
      if (!worse) return [];
      const { model, of, worst } = worse;
      const first = pairs[0]!;
      const place = worstPlaceOf(of)!;
      return [
        {
          seam,
          panels: [panels[first.a.panel]!.id, panels[first.b.panel]!.id],
          preparation: of[0]!.preparation,
          touches: meantToMeet(of[0]!.preparation, of[0]!.bend),
          model,
          inside: rangeOf(of.flatMap(({ gaps }) => gaps.inside)),
          middle: rangeOf(of.flatMap(({ gaps }) => gaps.middle)),
          outside: rangeOf(of.flatMap(({ gaps }) => gaps.outside)),
          worst,
          worstBy: { rigid: worstIn(byModel, seam, 'rigid'), mitre: worstIn(byModel, seam, 'mitre') },
          worstOther: byOther.map((of) => Math.max(...models.map((m) => worstIn(of, seam, m)))),
          place,
          sides: sidesOf(found.flatMap(({ of: sides }) => sides)),
          fold: foldAt([first.a.panel, first.b.panel], place.vertices[place.part > 0.5 ? 1 : 0]),
        },
      ];
    })
    .sort(byWorst);
}

/** Finds the sharpest fold of some panels that ends at a vertex. */
function sharpestFolds(
  panels: readonly PlacedPanel[],
  { patches }: DryFitSurface,
  foam: FoamResult,
): (panels: readonly number[], vertex: number) => DryFitSeam['fold'] {
  const bendOf = new Map(foam.panels.flatMap((panel) => panel.folds.map(({ id, bend }) => [id, bend ?? 0])));
  const at = new Map<string, NonNullable<DryFitSeam['fold']>>();
  panels.forEach(({ id: panel, body }, k) => {
    for (const { face, side, fold: id } of body.folds) {
      const bend = bendOf.get(id);
      if (bend === undefined) continue;
      const { vertices } = patches[body.faces[face]!.patch]!;
      for (const vertex of [vertices[side]!, vertices[(side + 1) % vertices.length]!]) {
        const key = `${k} ${vertex}`;
        if (Math.abs(bend) > Math.abs(at.get(key)?.bend ?? 0)) at.set(key, { id, panel, bend });
      }
    }
  });
  return (of, vertex) =>
    of
      .flatMap((k) => at.get(`${k} ${vertex}`) ?? [])
      .reduce<DryFitSeam['fold']>(
        (most, f) => (most && Math.abs(most.bend) >= Math.abs(f.bend) ? most : f),
        null,
      );
}

function bySeam<T extends { readonly seam: string }>(list: readonly T[]): Map<string, T[]> {
  const found = new Map<string, T[]>();
  for (const one of list) {
    const so = found.get(one.seam);
    if (so) so.push(one);
    else found.set(one.seam, [one]);
  }
  return found;
}

/** Panels that share no seam and no vertex of the shell, yet foam; the larger volume of both models. */
function clashesOf(
  panels: readonly PlacedPanel[],
  { patches, places }: DryFitSurface,
  sides: readonly SeamSide[],
  volumes: ByModel<Volumes>,
): DryFitClash[] {
  const key = (a: number, b: number) => (a < b ? `${a} ${b}` : `${b} ${a}`);
  const glued = new Set(sides.map(({ a, b }) => key(a.panel, b.panel)));
  const corners = panels.map(({ faces }) => new Set(faces.flatMap(({ patch }) => patches[patch]!.vertices)));
  const worst = new Map<string, DryFitClash>();
  for (const { a, b, volume, at } of models.flatMap((model) => volumes[model].shared)) {
    if (volume < clashVolume || glued.has(key(a, b))) continue;
    if ([...corners[a]!].some((v) => corners[b]!.has(v))) continue;
    if ((worst.get(key(a, b))?.volume ?? 0) >= volume) continue;
    const vertex = [...corners[a]!, ...corners[b]!].reduce((near, v) =>
      distance3(places[v]!, at) < distance3(places[near]!, at) ? v : near,
    );
    worst.set(key(a, b), { panels: [panels[a]!.id, panels[b]!.id], volume, at, vertex });
  }
  return [...worst.values()].sort((p, q) => q.volume - p.volume);
}

/**
 * The brow section of the inner skins as they stand, with the steps between panels of different thickness; where no
 * panel is, of the inside that the main thickness has.
 */
function insideGirth(
  panels: readonly PlacedPanel[],
  { places, vectors }: DryFitSurface,
  shell: Shell,
  decisions: FoamDecisions,
  plane: Plane3,
): Mm | null {
  const heightOf = shell.faces.map(() => -foamDepths(decisions).inside);
  for (const { body, faces } of panels)
    for (const { patch } of faces) heightOf[patch] = body.depth + body.heights.inside;
  const stepped = steppedShell(shell, heightOf);
  const inside = steppedPlaces(stepped, places, vectors);
  const sums = new Map<number, { sum: Point3; count: number }>();
  for (const panel of panels)
    panel.faces.forEach(({ patch, ring }, f) => {
      ring.forEach((_, i) => {
        const v = stepped.shell.faces[patch]!.vertices[i]!;
        const so = sums.get(v) ?? { sum: point3(0, 0, 0), count: 0 };
        const at = cornerAt(panel, f, i, panel.body.heights.inside, 'mitre');
        sums.set(v, { sum: add3(so.sum, at), count: so.count + 1 });
      });
    });
  for (const [v, { sum, count }] of sums) inside[v] = scaleBy3(sum, 1 / count);
  return closedSection(stepped.shell, plane, inside)?.tautGirth ?? null;
}
