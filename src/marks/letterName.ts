/**
 * Name, quantity, thickness and the up arrow: one block in the widest free place of the panel, upright if that costs
 * little size, else along the panel; taken apart when it fits nowhere whole; with a leader outside as a last resort.
 */
import { type Point, rotate } from '../math';
import type { Panel } from '../model';
import type { Mm, Rad } from '../units';
import { arrowBlock, type Block, letterBlock, linesBlock, plateOf, type TextLine } from './block';
import { type LeaderTarget, outside } from './letterLeader';
import { heightsFrom, type Lettered, type PanelLetters } from './panelLetters';
import { letterClearance, smallestLetter } from './tolerance';

/** An upright block this part of the tallest possible size is preferred to a turned one. */
const uprightWorth = 0.7;
/** Spots tried for each block and size. */
const spotsTried = 160;

/** Lettering outside the outline, and sizes of an arrow that stands by itself. */
const outsideHeight: Mm = 2.4;
const arrowSizes: readonly Mm[] = [8, 6.5, 5, 4];

interface Found {
  readonly block: Block;
  readonly centre: Point;
  readonly angle: Rad;
  readonly height: Mm;
}

/** "cut 1", "cut 2 + 2 mirrored". A mirrored panel is cut once more with its template turned over. */
function quantityText(panel: Panel): string {
  return panel.mirrored ? `cut ${panel.quantity} + ${panel.quantity} mirrored` : `cut ${panel.quantity}`;
}

/** Letters name and details. `named` false: neither, only the arrow is drawn where there is room. */
export function letterName(on: PanelLetters, named: boolean, tallestName: Mm): Lettered {
  const result: Lettered = { lettering: [], leaders: [], unplaced: [] };
  const { panel } = on;
  const put = (found: Found) => {
    on.room.occupy(plateOf(found.block, found.centre, found.angle));
    result.lettering.push(...letterBlock(on.font, found.block, found.centre, found.angle, on.up, panel.id));
  };
  const heights = heightsFrom(tallestName);
  if (!named) {
    const arrow = best(on, arrowSizes, (size) => [arrowBlock(size)]);
    if (arrow) put(arrow);
    return result;
  }
  const details = `${quantityText(panel)} · ${thicknessText(panel.thickness)}`;
  const whole = best(on, heights, (h) => wholeBlocks(on, panel.name, details, h));
  if (whole) {
    put(whole);
    return result;
  }
  const apart: [string, (h: Mm) => Block][] = [
    [panel.name, (h) => linesBlock(on.font, [nameLine(panel.name, h)], 'none')],
    [details, (h) => linesBlock(on.font, [detailLine(details, h)], 'none')],
  ];
  const left: TextLine[] = [];
  for (const [text, block] of apart) {
    const found = best(on, heights, (h) => [block(h)]);
    if (found) put(found);
    else left.push(text === panel.name ? nameLine(text, outsideHeight) : detailLine(text, outsideHeight));
  }
  const arrow = best(on, arrowSizes, (size) => [arrowBlock(size)]);
  if (arrow) put(arrow);
  if (left.length === 0 && arrow) return result;
  const block =
    left.length > 0 ? linesBlock(on.font, left, arrow ? 'none' : 'left') : arrowBlock(arrowSizes[0]!);
  const led = outside(on.room, block, rim(on), on.up - Math.PI / 2);
  if (!led) {
    result.unplaced.push(...left.map((l) => l.text), ...(arrow ? [] : ['up arrow']));
    return result;
  }
  put({ block, centre: led.centre, angle: led.angle, height: 0 });
  on.room.addLeader(led.leader);
  result.leaders.push({ kind: 'leader', points: [led.leader.a, led.leader.b], closed: false, of: panel.id });
  return result;
}

const nameLine = (text: string, height: Mm): TextLine => ({ text, use: 'name', height });
const detailLine = (text: string, height: Mm): TextLine => ({
  text,
  use: 'detail',
  height: Math.max(smallestLetter, 0.68 * height),
});

/** "5 mm", "4.5 mm": foam thickness is sold in millimetres. */
const thicknessText = (thickness: Mm): string => `${Math.round(thickness * 100) / 100} mm`;

/** The name in one line, or in two when it has words; the arrow beside or above. */
function wholeBlocks(on: PanelLetters, name: string, details: string, height: Mm): Block[] {
  const detail = detailLine(details, height);
  const blocks = [
    linesBlock(on.font, [nameLine(name, height), detail], 'left'),
    linesBlock(on.font, [nameLine(name, height), detail], 'above'),
  ];
  const [quantity, thickness] = details.split(' · ');
  const narrow = [quantity, thickness].flatMap((t) => (t === undefined ? [] : [detailLine(t, height)]));
  const halves = splitName(name).map((part) => nameLine(part, height));
  blocks.push(
    linesBlock(on.font, [...halves, ...narrow], 'left'),
    linesBlock(on.font, [...halves, ...narrow], 'above'),
  );
  return blocks;
}

/** The name broken at the space nearest to its middle; one part when it has none. */
function splitName(name: string): string[] {
  let at = -1;
  for (let i = 1; i + 1 < name.length; i++) {
    if (name[i] === ' ' && (at < 0 || Math.abs(i - name.length / 2) < Math.abs(at - name.length / 2))) at = i;
  }
  return at < 0 ? [name] : [name.slice(0, at), name.slice(at + 1)];
}

/** The tallest block that fits, upright if that is nearly as tall as any. */
function best(on: PanelLetters, heights: readonly Mm[], blocks: (height: Mm) => Block[]): Found | null {
  const upright = on.up - Math.PI / 2;
  const standing = tallestFit(on, heights, blocks, [upright]);
  const bar = standing ? standing.height / uprightWorth : 0;
  const taller = heights.filter((h) => h > bar);
  if (taller.length === 0) return standing;
  const long = longAxis(on.panel, upright);
  return tallestFit(on, taller, blocks, [long, upright + Math.PI / 2]) ?? standing;
}

function tallestFit(
  on: PanelLetters,
  heights: readonly Mm[],
  blocks: (height: Mm) => Block[],
  angles: readonly Rad[],
): Found | null {
  const spots = on.spots();
  for (const height of heights) {
    for (const block of blocks(height)) {
      const least = Math.min(block.halfWidth, block.halfHeight);
      let tried = 0;
      for (const spot of spots) {
        if (spot.free < least || tried >= spotsTried) break;
        tried++;
        for (const angle of angles) {
          if (on.room.fits(plateOf(block, spot.at, angle), letterClearance, 'inside'))
            return { block, centre: spot.at, angle, height };
        }
      }
    }
  }
  return null;
}

/** Direction of the panel's greatest extent (principal axis of its outline), readable. */
function longAxis(panel: Panel, upright: Rad): Rad {
  const ring = panel.outlines.traced[0] ?? [];
  const n = Math.max(1, ring.length);
  const mx = ring.reduce((sum, p) => sum + p.x, 0) / n;
  const my = ring.reduce((sum, p) => sum + p.y, 0) / n;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (const p of ring) {
    xx += (p.x - mx) ** 2;
    xy += (p.x - mx) * (p.y - my);
    yy += (p.y - my) ** 2;
  }
  const axis = 0.5 * Math.atan2(2 * xy, xx - yy);
  const along = rotate({ x: 1, y: 0 }, axis - upright);
  return along.x < 0 ? axis + Math.PI : axis;
}

/** Places round the outline that a leader may point to, lowest first. */
function rim(on: PanelLetters): LeaderTarget[] {
  const ring = on.panel.outlines.traced[0] ?? [];
  const down = rotate({ x: -1, y: 0 }, on.up);
  return ring
    .flatMap((a, i): (LeaderTarget & { low: number })[] => {
      const b = ring[(i + 1) % ring.length]!;
      const length = Math.hypot(b.x - a.x, b.y - a.y);
      if (length === 0) return [];
      const at = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
      const inward = { x: -(b.y - a.y) / length, y: (b.x - a.x) / length };
      return [{ at, inward, low: at.x * down.x + at.y * down.y }];
    })
    .sort((p, q) => q.low - p.low);
}
