/**
 * The names of parts beside the lines where they go: one for each name, at the longest of its lines, as near to its middle
 * as there is room, inside the line if it is closed, else on either side. A name without room is left out: the line alone
 * still shows the place.
 */
import {
  add,
  directionAngle,
  dot,
  polylineLength,
  rotate,
  scaleBy,
  subtract,
  turnLeft,
  unitOf,
} from '../math';
import type { Panel, PanelGuide } from '../model';
import { degrees, type Mm, type Rad } from '../units';
import { letterBlock, plateOf, textBlock } from './block';
import { heightsFrom, type Lettered, type PanelLetters } from './panelLetters';
import { letterClearance, smallestLetter } from './tolerance';
import { walkAlong } from './walk';

/** Guides read from a distance of a hand: smaller than seam numbers, which are looked for first. */
const tallest: Mm = 3;
/** Steps along the line from its middle to both ends. */
const tries = 12;

/** Folds of a visor that bend less are not told in figures: they come by themselves. */
const toldBend: Rad = (5 * Math.PI) / 180;

/**
 * Letters the guides of a panel; of a visor its folds as well, with how far each is bent: it is held on nothing that
 * would bend it until it is glued.
 */
export function letterGuides(on: PanelLetters, panel: Panel, folds: boolean): Lettered {
  const result: Lettered = { lettering: [], leaders: [], unplaced: [] };
  const byName = new Map<string, PanelGuide[]>();
  for (const guide of panel.guides ?? [])
    if (guide.label !== '') byName.set(guide.label, [...(byName.get(guide.label) ?? []), guide]);
  for (const [label, guides] of byName) {
    const lines = guides
      .map((g) => (g.closed ? [...g.points, g.points[0]!] : g.points))
      .sort((a, b) => polylineLength(b) - polylineLength(a));
    for (const line of lines) if (place(on, label, line, guides[0]!.id, result)) break;
  }
  if (!folds || panel.extra?.kind !== 'visor') return result;
  // Where there is room for some alone, for the sharpest.
  const bent = panel.folds.flatMap(({ id, points, bend }) => (bend === null ? [] : [{ id, points, bend }]));
  for (const { id, points, bend } of bent.sort((a, b) => Math.abs(b.bend) - Math.abs(a.bend)))
    if (Math.abs(bend) >= toldBend)
      place(on, `bend ${Math.round(degrees(Math.abs(bend)))}°`, points, id, result);
  return result;
}

function place(
  on: PanelLetters,
  label: string,
  line: PanelGuide['points'],
  of: string,
  result: Lettered,
): boolean {
  if (line.length < 2) return false;
  const length = polylineLength(line);
  const walk = walkAlong(line);
  for (const height of heightsFrom(Math.max(smallestLetter, Math.min(tallest, on.tallest)))) {
    const block = textBlock(on.font, { text: label, use: 'detail', height });
    for (let k = 0; k <= tries; k++)
      for (const way of k === 0 ? [0] : [-1, 1]) {
        const s = length / 2 + (way * k * length) / (2 * tries + 2);
        const along = unitOf(subtract(walk.at(s + block.halfWidth).at, walk.at(s - block.halfWidth).at));
        if (along.x === 0 && along.y === 0) continue;
        for (const side of [1, -1]) {
          const away = letterClearance + 1.2 * block.halfHeight;
          const centre = add(walk.at(s).at, scaleBy(turnLeft(along), side * away));
          const upward = rotate({ x: 1, y: 0 }, on.up);
          const upright = dot(turnLeft(along), upward) >= -1e-9;
          const angle = directionAngle(upright ? along : scaleBy(along, -1));
          if (!on.room.fits(plateOf(block, centre, angle), letterClearance / 2, 'inside')) continue;
          on.room.occupy(plateOf(block, centre, angle));
          result.lettering.push(...letterBlock(on.font, block, centre, angle, on.up, of));
          return true;
        }
      }
  }
  return false;
}
