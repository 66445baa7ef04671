/**
 * When two edges with one number are unequal, and their neighbours don't match edge by edge, the two sides may still be
 * one run that is divided differently. This looks whether the stretches round them agree as wholes: grown over edges
 * without a number, up to a corner or to another number.
 */
import type { Mm, Rad } from '../units';
import type { EdgePlace, EdgeTable } from './edgeTable';
import { areSame } from './lengths';
import { turnBetween } from './numberedRun';
import { cornerTurn } from './tolerance';

export interface AgreeingStretch {
  /** Edge ids along each outline. */
  readonly a: readonly string[];
  readonly b: readonly string[];
  readonly lengthA: Mm;
  readonly lengthB: Mm;
}

/** The stretches round two edges when they agree in length and at least one has several edges; else null. */
export function agreeingStretch(
  a: EdgePlace,
  b: EdgePlace,
  edges: EdgeTable,
  hasNumber: (edge: string) => boolean,
): AgreeingStretch | null {
  for (const stopAtCorners of [true, false]) {
    const sideA = stretchRound(a, edges, hasNumber, stopAtCorners);
    const sideB = stretchRound(b, edges, hasNumber, stopAtCorners);
    const lengthA = sideA.reduce((sum, p) => sum + p.length, 0);
    const lengthB = sideB.reduce((sum, p) => sum + p.length, 0);
    if (sideA.length + sideB.length > 2 && areSame(lengthA, lengthB))
      return { a: sideA.map((p) => p.id), b: sideB.map((p) => p.id), lengthA, lengthB };
  }
  return null;
}

function stretchRound(
  start: EdgePlace,
  edges: EdgeTable,
  hasNumber: (edge: string) => boolean,
  stopAtCorners: boolean,
): EdgePlace[] {
  const found = [start];
  const goOn = (from: EdgePlace, to: EdgePlace, turn: Rad) =>
    !found.includes(to) &&
    !hasNumber(to.id) &&
    from !== to &&
    !(stopAtCorners && Math.abs(turn) > cornerTurn);
  for (let at = start; ; ) {
    const next = edges.neighbour(at.id, 1);
    if (!goOn(at, next, turnBetween(at, next))) break;
    found.push(next);
    at = next;
  }
  for (let at = start; ; ) {
    const before = edges.neighbour(at.id, -1);
    if (!goOn(at, before, turnBetween(before, at))) break;
    found.unshift(before);
    at = before;
  }
  return found;
}
