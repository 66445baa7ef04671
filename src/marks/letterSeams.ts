/**
 * Seam numbers and bevels: one label near the middle of each run, along the edge, inside the panel and nearer to its
 * own edge than to any other. Sizes go down before places go away; where nothing fits, the label stands at the nearest
 * free spot with a leader, inside if possible, else outside the outline. The tip of a leader lies on the label's own stretch,
 * so a bevel of a part of a run is not read as that of the whole.
 */
import {
  add,
  directionAngle,
  dot,
  type Point,
  pointAlong,
  rotate,
  scaleBy,
  subtract,
  turnLeft,
  unitOf,
} from '../math';
import type { LetterShapes, PanelEdge } from '../model';
import { degrees, type Mm, type Rad } from '../units';
import { type Block, letterBlock, numberBlock, plateOf, textBlock } from './block';
import { type LeaderTarget, placeWithLeader } from './letterLeader';
import { heightsFrom, type Lettered, type PanelLetters } from './panelLetters';
import { distanceTo, type Line, linesOf } from './room';
import type { RunSide } from './runSides';
import { leastBevel, letterClearance, numberEvery, smallestLetter } from './tolerance';
import { walkAlong } from './walk';

/** A label still to be placed: its texts and the part of the run along which it may slide. */
interface Label {
  readonly side: RunSide;
  readonly number: string;
  readonly bevel: string;
  readonly from: Mm;
  readonly to: Mm;
}

/** Letters all run sides of a panel, those with the least room first. */
export function letterSeams(
  on: PanelLetters,
  sides: readonly RunSide[],
  show: { readonly numbers: boolean; readonly bevels: boolean },
): Lettered {
  const result: Lettered = { lettering: [], leaders: [], unplaced: [] };
  const labels = sides.flatMap((side) => labelsOf(side, show));
  const byRoom = labels
    .map((label, order) => ({ label, order, room: label.to - label.from }))
    .sort((a, b) => a.room - b.room || a.order - b.order);
  for (const { label } of byRoom) placeLabel(on, label, result);
  return result;
}

/** "12° in": the cut leans in under the traced face. "12° out": it flares out. "over", "under": the panel runs past its
 *  mate, or stops at it. Empty when cut square. */
function bevelText({ bevel, lap }: PanelEdge): string {
  if (lap) return lap;
  if (Math.abs(bevel) < leastBevel) return '';
  return `${Math.max(1, Math.round(degrees(Math.abs(bevel))))}° ${bevel > 0 ? 'in' : 'out'}`;
}

function labelsOf(side: RunSide, show: { readonly numbers: boolean; readonly bevels: boolean }): Label[] {
  const groups: { text: string; from: Mm; to: Mm }[] = [];
  let along = 0;
  for (const { edge, length } of side.edges) {
    const text = show.bevels ? bevelText(edge) : '';
    const last = groups.at(-1);
    if (last && last.text === text) last.to = along + length;
    else groups.push({ text, from: along, to: along + length });
    along += length;
  }
  const one = groups.length === 1 ? groups[0]!.text : '';
  const labels: Label[] = [];
  if (show.numbers) {
    const count = Math.max(1, Math.ceil(side.length / numberEvery));
    for (let i = 0; i < count; i++) {
      labels.push({
        side,
        number: String(side.number),
        bevel: one,
        from: (i * side.length) / count,
        to: ((i + 1) * side.length) / count,
      });
    }
  }
  if (groups.length > 1 || !show.numbers) {
    for (const group of groups)
      if (group.text !== '')
        labels.push({ side, number: '', bevel: group.text, from: group.from, to: group.to });
  }
  return labels;
}

function placeLabel(on: PanelLetters, label: Label, result: Lettered): void {
  const own = linesOf(label.side.points);
  const ownEdges = new Set(label.side.edges.map((e) => e.edge));
  const others = on.panel.loops
    .flat()
    .filter((e) => !ownEdges.has(e))
    .flatMap((e) => linesOf(e.points));
  const of = label.side.edges[Math.floor(label.side.edges.length / 2)]!.seam.id;
  const put = (block: Block, centre: Point, angle: Rad) => {
    on.room.occupy(plateOf(block, centre, angle));
    result.lettering.push(...letterBlock(on.font, block, centre, angle, on.up, of));
  };
  for (const height of heightsFrom(on.tallest)) {
    for (const block of blocksOf(on.font, label, height)) {
      const found = placeAlong(on, label, block, own, others);
      if (found) {
        put(block, found.centre, found.angle);
        return;
      }
    }
  }
  const targets = targetsOf(label);
  for (const height of heightsFrom(Math.min(on.tallest, 3))) {
    for (const block of blocksOf(on.font, label, height)) {
      const found = placeWithLeader(on.room, on.spots, block, targets, on.up - Math.PI / 2);
      if (!found) continue;
      put(block, found.centre, found.angle);
      on.room.addLeader(found.leader);
      result.leaders.push({ kind: 'leader', points: [found.leader.a, found.leader.b], closed: false, of });
      return;
    }
  }
  if (label.bevel === '' || label.number === '') {
    result.unplaced.push(label.number === '' ? label.bevel : label.number);
    return;
  }
  // No room for both together: the number first, which matters more, then the bevel at a leader of its own.
  placeLabel(on, { ...label, bevel: '' }, result);
  placeLabel(on, { ...label, number: '' }, result);
}

/** Places on the label's stretch that a leader may point to, the middle first. */
function targetsOf({ side, from, to }: Label): LeaderTarget[] {
  return [0.5, 0.35, 0.65, 0.2, 0.8].map((part) => {
    const { at, segment } = pointAlong(side.points, from + part * (to - from));
    const direction = unitOf(subtract(side.points[segment + 1]!, side.points[segment]!));
    return { at, inward: turnLeft(direction) };
  });
}

function blocksOf(font: LetterShapes, label: Label, height: Mm): Block[] {
  const small = Math.max(smallestLetter, 0.75 * height);
  if (label.number === '') return [textBlock(font, { text: label.bevel, use: 'bevel', height: small })];
  const row = numberBlock(font, label.number, label.bevel, height, smallestLetter, 'row');
  if (label.bevel === '') return [row];
  return [row, numberBlock(font, label.number, label.bevel, height, smallestLetter, 'stack')];
}

/** Distances from the edge to try, as parts of the block's height beyond the clearance. */
const insets = [0.35, 0.8, 1.6, 2.6];

/** Slides the block along its stretch, nearest to the middle first, close to the edge first. */
function placeAlong(
  on: PanelLetters,
  label: Label,
  block: Block,
  own: readonly Line[],
  others: readonly Line[],
): { centre: Point; angle: Rad } | null {
  const walk = walkAlong(label.side.points);
  const step = Math.max(1, block.halfHeight);
  const middle = (label.from + label.to) / 2;
  const reach = (label.to - label.from) / 2;
  for (const inset of insets) {
    for (let i = 0; i * step <= reach; i++) {
      for (const way of i === 0 ? [0] : [-1, 1]) {
        const s = middle + way * i * step;
        const { at } = walk.at(s);
        const back = walk.at(s - block.halfWidth).at;
        const ahead = walk.at(s + block.halfWidth).at;
        const direction = unitOf(subtract(ahead, back));
        if (direction.x === 0 && direction.y === 0) continue;
        const depth = letterClearance + block.halfHeight * (1 + inset);
        const centre = add(at, scaleBy(turnLeft(direction), depth));
        const angle = readableAngle(direction, on.up);
        if (!on.room.fits(plateOf(block, centre, angle), letterClearance, 'inside')) continue;
        if (belongs(block, centre, angle, own, others)) return { centre, angle };
      }
    }
  }
  return null;
}

/** Whether every text of the block stands nearer to its own edges than to any other: else it would be read as theirs. */
function belongs(
  block: Block,
  centre: Point,
  angle: Rad,
  own: readonly Line[],
  others: readonly Line[],
): boolean {
  return block.parts.every((part) => {
    const at = add(centre, rotate({ x: part.x, y: part.y }, angle));
    let nearest = Number.POSITIVE_INFINITY;
    for (const line of own) nearest = Math.min(nearest, distanceTo(at, line));
    return others.every((line) => distanceTo(at, line) > nearest);
  });
}

/** Baseline along the edge, turned so that the letters do not stand on their heads; upright edges read bottom to top. */
function readableAngle(direction: Point, up: Rad): Rad {
  const upward = rotate({ x: 1, y: 0 }, up);
  const lift = dot(turnLeft(direction), upward);
  const sideways = Math.abs(lift) < sidewaysLift;
  const upright = sideways ? dot(direction, upward) > 0 : lift > 0;
  return directionAngle(upright ? direction : scaleBy(direction, -1));
}

/** Sine of about 3°: edges this near to upright all read the same way, so that neighbours agree. */
const sidewaysLift = 0.05;
