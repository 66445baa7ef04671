/**
 * Notches: the chosen tick patterns laid on both edges of every pair, at equal arc length from the corner that both
 * sides share; on panels from a shell at places between the same vertices of it, which meet once the panels are bent.
 * Ticks stand square on the traced edge and point into the panel.
 */
import type { Issue } from '../base';
import { add, type Point, pointAlong, ringArea, scaleBy, subtract, turnLeft, unitOf } from '../math';
import type { NotchMark, Panel } from '../model';
import type { Mm } from '../units';
import { chooseNotches, type NotchChoice } from './notchCodes';
import { distanceTo, linesOf, makeRoom } from './room';
import type { EdgePair, RunPairs, RunSide, SideEdge } from './runSides';
import { notchWithinEdge, onOutline } from './tolerance';
import { listNumbers } from './words';

export interface PlacedNotches {
  readonly byPanel: ReadonlyMap<string, readonly NotchMark[]>;
  readonly choice: NotchChoice;
  readonly issues: readonly Issue[];
}

/** Chooses and places the notches of all runs. */
export function placeNotches(
  panels: readonly Panel[],
  runs: readonly RunPairs[],
  sides: readonly RunSide[],
): PlacedNotches {
  const outlines = new Map(
    panels.map((p) => [p.id, p.outlines.traced.flatMap((ring) => linesOf([...ring, ...ring.slice(0, 1)]))]),
  );
  const usable = (pair: EdgePair, along: Mm): boolean =>
    [pair.a, pair.b].every((side) => {
      if (side === null) return false;
      const place = placeOn(pair, side, along);
      // In thick foam what meets there may lie beyond the corner on one of the two panels.
      if (Math.min(place, side.length - place) < notchWithinEdge) return false;
      const { at } = pointAlong(side.fromStart, place);
      return (outlines.get(side.panel) ?? []).some((line) => distanceTo(at, line) <= onOutline);
    });
  const choice = chooseNotches(
    runs.map((run) => ({
      run: run.run,
      pairLengths: run.pairs.map((p) => (p.a && p.b ? Math.min(p.a.length, p.b.length) : 0)),
      usable: (pair, along) => usable(run.pairs[pair]!, along),
      panels: [
        ...new Set(run.pairs.flatMap((p) => [p.a?.panel, p.b?.panel]).filter((id) => id !== undefined)),
      ],
    })),
    neighboursOf(sides),
  );

  const byPanel = new Map<string, NotchMark[]>(panels.map((p) => [p.id, []]));
  const tickOf = new Map(panels.map((p) => [p.id, tickMaker(p)]));
  for (const run of runs) {
    for (const tick of choice.patterns.get(run.run)?.ticks ?? []) {
      const pair = run.pairs[tick.pair]!;
      for (const side of [pair.a, pair.b]) {
        if (!side) continue;
        byPanel.get(side.panel)?.push(tickOf.get(side.panel)!(side, placeOn(pair, side, tick.along)));
      }
    }
  }
  return { byPanel, choice, issues: issuesOf(choice, runs) };
}

/**
 * Where the tick `along` from the common start stands on one side: as far along, or, where both sides know the places
 * of the shell's vertices along them, at the same part of the way between the same two vertices.
 */
export function placeOn(pair: EdgePair, side: SideEdge, along: Mm): Mm {
  const [a, b] = [pair.a, pair.b].map((s) => (s ? verticesFromStart(s) : null));
  const own = verticesFromStart(side);
  if (!a || !b || !own || a.length !== b.length) return along;
  const between = a.map((v, k) => (v + b[k]!) / 2);
  let k = 0;
  while (k < between.length - 2 && along > between[k + 1]!) k++;
  const step = between[k + 1]! - between[k]!;
  const t = step > 0 ? (along - between[k]!) / step : 0;
  return own[k]! + t * (own[k + 1]! - own[k]!);
}

function verticesFromStart({ edge, fromStart, length }: SideEdge): readonly Mm[] | null {
  const { vertices } = edge;
  if (!vertices || vertices.length < 2) return null;
  return fromStart === edge.points ? vertices : vertices.map((v) => length - v).reverse();
}

/** Runs that follow each other round a loop of a panel, open edges between them or not. */
function neighboursOf(sides: readonly RunSide[]): [string, string][] {
  const loops = new Map<string, string[]>();
  for (const side of sides) {
    const key = `${side.panel} ${side.loop}`;
    loops.set(key, [...(loops.get(key) ?? []), side.run]);
  }
  return [...loops.values()].flatMap((runs) =>
    runs.flatMap((run, i): [string, string][] => {
      const next = runs[(i + 1) % runs.length]!;
      return next === run ? [] : [[run, next]];
    }),
  );
}

/** Ticks of 4 mm, shorter on small panels and where the far side of the material is near. */
function tickMaker(panel: Panel): (side: SideEdge, along: Mm) => NotchMark {
  const rings = panel.outlines.traced;
  const area = rings.reduce((sum, ring) => sum + ringArea(ring), 0);
  const room = makeRoom(rings, [], []);
  const usual = Math.min(4, Math.max(1.5, 0.1 * Math.sqrt(Math.max(0, area))));
  return (side, along) => {
    const { at, segment } = pointAlong(side.fromStart, along);
    const direction = unitOf(subtract(side.fromStart[segment + 1]!, side.fromStart[segment]!));
    const backwards = side.fromStart !== side.edge.points;
    const inward: Point = scaleBy(turnLeft(direction), backwards ? -1 : 1);
    const length = Math.min(usual, 0.4 * room.clearAlong(at, inward, 4 * usual));
    return {
      seam: side.seam.id,
      edge: side.edge.id,
      along,
      at,
      to: add(at, scaleBy(inward, length)),
    };
  };
}

function issuesOf(choice: NotchChoice, runs: readonly RunPairs[]): Issue[] {
  const byRun = new Map(runs.map((r) => [r.run, r]));
  const numbers = (ids: readonly string[]) =>
    [...new Set(ids.map((id) => byRun.get(id)?.number ?? 0))].sort((a, b) => a - b);
  const seamIds = (ids: readonly string[]) =>
    ids.flatMap((id) => byRun.get(id)?.pairs.map((p) => p.seam.id) ?? []);
  const whole = choice.tooShort.filter((id) => byRun.get(id)?.pairs.every((p) => p.a && p.b));
  const issues: Issue[] = [];
  if (whole.length > 0) {
    issues.push({
      code: 'seam-without-notch',
      severity: 'note',
      stage: 'marks',
      message: `${listNumbers('Seam', numbers(whole))} too short for a notch that tells its ends apart.`,
      remedy: 'Match by number and by the corners.',
      place: { ids: seamIds(whole) },
    });
  }
  for (const [a, b] of choice.alike) {
    const [first, second] = numbers([a, b]);
    issues.push({
      code: 'notches-look-alike',
      severity: 'warning',
      stage: 'marks',
      message: `Seams ${first} and ${second} lie side by side and carry notches in the same places.`,
      remedy: 'Go by the seam numbers there.',
      place: { ids: seamIds([a, b]) },
    });
  }
  return issues;
}
