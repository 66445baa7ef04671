import type { Point } from '../../src/math';
import type { BenchFacts, ToolState } from './types';

/** What the bench draws for a gesture that is under way. */
export type Preview =
  | { readonly kind: 'band'; readonly from: Point; readonly to: Point }
  /** A piece on its way, with what is selected with it. */
  | { readonly kind: 'carry'; readonly id: string; readonly by: Point }
  | { readonly kind: 'tape'; readonly from: Point; readonly to: Point }
  /** A line that is being drawn, and the way on to the pointer. */
  | { readonly kind: 'drawn'; readonly points: readonly Point[]; readonly curved: boolean }
  /** A closed line on panels, by way of the pointer or the pen. */
  | {
      readonly kind: 'closed';
      readonly points: readonly Point[];
      readonly curved: boolean;
      readonly on: Point;
    }
  /** An offcut, the way on to the pointer or the pen, and back to its first corner. */
  | { readonly kind: 'outline'; readonly points: readonly Point[]; readonly on: Point }
  /** A thread from the first edge of a pair to the edge under the pointer, or to the pointer itself. */
  | { readonly kind: 'thread'; readonly from: string; readonly to: string | Point };

/** The preview of a state; null when there is nothing to preview. */
export function previewOf(
  state: ToolState,
  facts: Pick<BenchFacts, 'pairFrom' | 'hovered' | 'drawing' | 'offcut' | 'outline' | 'onGrid'>,
): Preview | null {
  const gesture = state.gesture;
  if (gesture.name === 'banding') return { kind: 'band', from: gesture.from, to: gesture.to };
  if (gesture.name === 'carrying') {
    const { id, from, to } = gesture;
    return { kind: 'carry', id, by: { x: to.x - from.x, y: to.y - from.y } };
  }
  if (gesture.name === 'taping') return { kind: 'tape', from: gesture.from, to: gesture.to };
  if (facts.offcut !== null) {
    const { points, pen } = facts.offcut;
    const on = state.pointerAt === null ? pen : facts.onGrid(state.pointerAt, 'mouse');
    return { kind: 'outline', points, on };
  }
  if (facts.outline !== null) {
    const { points, curved, pen } = facts.outline;
    return { kind: 'closed', points, curved, on: state.pointerAt ?? pen };
  }
  const { points, curved } = facts.drawing;
  if (points.length > 0) {
    const on = state.tool === 'draw' && state.pointerAt !== null ? [state.pointerAt] : [];
    return { kind: 'drawn', points: facts.drawing.done ? points : [...points, ...on], curved };
  }
  if (state.tool !== 'pair' || facts.pairFrom === null) return null;
  if (facts.hovered !== null && facts.hovered !== facts.pairFrom) {
    return { kind: 'thread', from: facts.pairFrom, to: facts.hovered };
  }
  return state.pointerAt === null ? null : { kind: 'thread', from: facts.pairFrom, to: state.pointerAt };
}
