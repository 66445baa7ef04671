/**
 * Line groups that cannot be part of a piece and would only tie everything together: graph paper, and groups that are
 * named as notes. They are left out of the first look at the drawing.
 */
import { distance } from '../math';
import type { Mm } from '../units';
import type { Ink } from './ink';
import type { LookGroup } from './styleGroups';

/** Lines of a grid run in at most two directions, this many or more, at one spacing, and most of the page long. */
const leastLines = 8;
const longShare = 0.5;
const spacingSlack = 0.02;

/** Keys of the groups to leave out. */
export function backgroundGroups(
  groups: readonly LookGroup[],
  ink: Ink,
  page: { readonly width: Mm; readonly height: Mm },
): Set<string> {
  const out = new Set<string>();
  for (const g of groups) {
    if (g.named?.sense === 'notes' || isGrid(g, ink, page)) out.add(g.key);
  }
  // When nothing else is left, names are no reason.
  return out.size < groups.length ? out : new Set();
}

function isGrid(g: LookGroup, ink: Ink, page: { readonly width: Mm; readonly height: Mm }): boolean {
  if (g.lines.length < leastLines) return false;
  const families = new Map<'across' | 'up', number[]>();
  for (const line of g.lines) {
    const l = ink.lines[line]!;
    const only = l.strokes.length === 1 ? ink.strokes[l.strokes[0]!] : undefined;
    if (!only) return false;
    const length = distance(only.a, only.b);
    const flat = Math.abs(only.a.y - only.b.y) <= spacingSlack;
    const upright = Math.abs(only.a.x - only.b.x) <= spacingSlack;
    if (flat === upright || length < longShare * (flat ? page.width : page.height)) return false;
    const key = flat ? 'across' : 'up';
    families.set(key, [...(families.get(key) ?? []), flat ? only.a.y : only.a.x]);
  }
  return [...families.values()].every(evenlySpaced);
}

function evenlySpaced(places: readonly number[]): boolean {
  const sorted = [...places].sort((a, b) => a - b);
  const step = (sorted[sorted.length - 1]! - sorted[0]!) / Math.max(1, sorted.length - 1);
  return (
    sorted.length > 2 && sorted.every((v, i) => Math.abs(v - sorted[0]! - i * step) <= spacingSlack * step)
  );
}
