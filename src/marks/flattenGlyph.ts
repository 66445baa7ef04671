/// <reference path="./opentypeModule.d.ts" />
import type { PathCommand } from 'opentype.js/dist/opentype.mjs';
import { GirthwiseError, unreachable } from '../base';
import { type Point, ringArea } from '../math';
import { glyphSamePoint } from './tolerance';

/**
 * The contours of one glyph as closed rings in em, y up, first point not repeated. Curves are cut into equal
 * parameter steps; for a quadratic or cubic the chord error of n steps is at most |second difference| / (8 n²)
 * times 2 or 6 (the second derivative's bound). Points in the same place are dropped, and rings without area.
 */
export function flattenGlyph(
  commands: readonly PathCommand[],
  unitsPerEm: number,
  flatness: number,
): Point[][] {
  const rings: Point[][] = [];
  let ring: Point[] = [];
  const close = () => {
    const tidy = dropRepeats(ring);
    if (tidy.length >= 3 && Math.abs(ringArea(tidy)) > glyphSamePoint * glyphSamePoint) rings.push(tidy);
    ring = [];
  };
  const at = (x: number | undefined, y: number | undefined): Point => {
    if (x === undefined || y === undefined)
      throw new GirthwiseError('font-unreadable', 'A letter of the font has an outline without positions.');
    return { x: x / unitsPerEm, y: -y / unitsPerEm };
  };
  for (const command of commands) {
    switch (command.type) {
      case 'M':
        close();
        ring.push(at(command.x, command.y));
        break;
      case 'L':
        ring.push(at(command.x, command.y));
        break;
      case 'Q': {
        const from = ring.at(-1);
        if (!from) break;
        ring.push(...quadratic(from, at(command.x1, command.y1), at(command.x, command.y), flatness));
        break;
      }
      case 'C': {
        const from = ring.at(-1);
        if (!from) break;
        ring.push(
          ...cubic(
            from,
            at(command.x1, command.y1),
            at(command.x2, command.y2),
            at(command.x, command.y),
            flatness,
          ),
        );
        break;
      }
      case 'Z':
        close();
        break;
      default:
        unreachable(command.type);
    }
  }
  close();
  return rings;
}

function quadratic(a: Point, b: Point, c: Point, flatness: number): Point[] {
  const bend = 2 * Math.hypot(a.x - 2 * b.x + c.x, a.y - 2 * b.y + c.y);
  return steps(bend, flatness, (t) => {
    const u = 1 - t;
    return {
      x: u * u * a.x + 2 * u * t * b.x + t * t * c.x,
      y: u * u * a.y + 2 * u * t * b.y + t * t * c.y,
    };
  });
}

function cubic(a: Point, b: Point, c: Point, d: Point, flatness: number): Point[] {
  const bend =
    6 *
    Math.max(
      Math.hypot(a.x - 2 * b.x + c.x, a.y - 2 * b.y + c.y),
      Math.hypot(b.x - 2 * c.x + d.x, b.y - 2 * c.y + d.y),
    );
  return steps(bend, flatness, (t) => {
    const u = 1 - t;
    const k0 = u * u * u;
    const k1 = 3 * u * u * t;
    const k2 = 3 * u * t * t;
    const k3 = t * t * t;
    return {
      x: k0 * a.x + k1 * b.x + k2 * c.x + k3 * d.x,
      y: k0 * a.y + k1 * b.y + k2 * c.y + k3 * d.y,
    };
  });
}

/** Points after the start, so many that the chord error bend / (8 n²) stays within the flatness. */
function steps(bend: number, flatness: number, curve: (t: number) => Point): Point[] {
  const n = Math.max(1, Math.ceil(Math.sqrt(bend / (8 * flatness))));
  return Array.from({ length: n }, (_, i) => curve((i + 1) / n));
}

function dropRepeats(ring: readonly Point[]): Point[] {
  const same = (p: Point, q: Point) => Math.hypot(p.x - q.x, p.y - q.y) < glyphSamePoint;
  const kept: Point[] = [];
  for (const p of ring) {
    const last = kept.at(-1);
    if (!last || !same(last, p)) kept.push(p);
  }
  while (kept.length > 1 && same(kept[0]!, kept.at(-1)!)) kept.pop();
  return kept;
}
