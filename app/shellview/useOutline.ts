/** The outline that is being drawn, on the shell: corners laid by clicks on faces, and the line so far. */
import { useMemo } from 'react';
import type { Point } from '../../src/math';
import { facePlace, facePoint } from '../../src/panels';
import { runCommand } from '../commands';
import { session, useSession } from '../document';
import type { ShellModel } from './model';
import { flatUnder, lineOnFaces } from './onFaces';
import type { Hit } from './pick';

export const drawsOutline = (): boolean => session.getState().outline !== null;

/** Lays a corner, or places a shape, where the pointer is on a face. */
export function layOnShell(
  model: ShellModel,
  screen: Float64Array,
  hit: Hit,
  at: { readonly x: number; readonly y: number },
): void {
  const { pattern, recut } = session.getState().results;
  const patch = model.shell.faces[hit.face];
  if (!pattern || !recut || !patch) return;
  const point = facePoint(pattern, recut, patch.piece, flatUnder(model, screen, hit.face, at));
  if (point) runCommand('layOutline', { point });
}

/** Its line in space; none while nothing is drawn. */
export function useOutlineOnShell(
  model: ShellModel,
  places: Float64Array,
  folded: boolean,
): readonly number[] {
  const draft = useSession((s) => s.outline);
  const pattern = useSession((s) => s.results.pattern);
  const recut = useSession((s) => s.results.recut);
  return useMemo(() => {
    if (!draft || !pattern || !recut || !folded || draft.points.length === 0) return nothing;
    const spots = draft.points.flatMap((p) => {
      const place = facePlace(pattern, recut, p);
      const face = place ? faceUnder(model, place.panel, place.at) : -1;
      return place && face >= 0 ? [{ face, at: place.at }] : [];
    });
    return lineOnFaces(model, places, spots, true);
  }, [draft, pattern, recut, model, places, folded]);
}

const nothing: readonly number[] = [];

/** The face of a panel that holds a point, or the nearest by its middle. */
function faceUnder(model: ShellModel, panel: string, at: Point): number {
  let best = -1;
  let least = Number.POSITIVE_INFINITY;
  model.shell.faces.forEach(({ piece, flat }, f) => {
    if (piece !== panel) return;
    const off = inside(flat, at) ? -1 : Math.min(...flat.map((p) => Math.hypot(p.x - at.x, p.y - at.y)));
    if (off < least) [best, least] = [f, off];
  });
  return best;
}

function inside(ring: readonly Point[], p: Point): boolean {
  let odd = false;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) odd = !odd;
  });
  return odd;
}
