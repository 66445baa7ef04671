/**
 * Pointers on the shell: one turns, one with Shift or another button moves, two move and zoom, the wheel zooms. A press
 * that does not travel is a click.
 */
import { fill, panned, turned, type View, zoomed } from './orbit';

export interface GestureHooks {
  view(): View;
  setView(view: View): void;
  /** The pointer rests here (CSS pixels from the upper left of the surface), or has left. */
  hover(at: { readonly x: number; readonly y: number } | null, kind: string): void;
  click(at: { readonly x: number; readonly y: number }, kind: string, add: boolean): void;
}

/** A press that travels less is a click. */
const still = 4;
/** Half a turn for so many pixels. */
const halfTurn = 420;
/** Pixels of the wheel for twice the size, as on the bench. */
const wheelDouble = 320;

/** Starts listening; the function returned stops. */
export function listenToPointers(surface: HTMLElement, hooks: GestureHooks): () => void {
  const aborter = new AbortController();
  const options = { signal: aborter.signal };
  const down = new Map<number, { x: number; y: number }>();
  let start = { x: 0, y: 0 };
  let travelled = false;

  const at = (e: MouseEvent) => {
    const box = surface.getBoundingClientRect();
    return { x: e.clientX - box.left, y: e.clientY - box.top };
  };
  /** Radii of what is shown at zoom 1 for a pixel; see `sightOf`. */
  const perPixel = () => 2 / (fill * Math.max(1, Math.min(surface.clientWidth, surface.clientHeight)));
  const about = (p: { x: number; y: number }) => ({
    x: (p.x - surface.clientWidth / 2) * perPixel(),
    y: (surface.clientHeight / 2 - p.y) * perPixel(),
  });

  surface.addEventListener(
    'pointerdown',
    (e) => {
      if (e.target instanceof Element && e.target.closest('[role="slider"]')) return;
      surface.setPointerCapture(e.pointerId);
      down.set(e.pointerId, at(e));
      if (down.size === 1) {
        start = at(e);
        travelled = false;
      } else travelled = true;
    },
    options,
  );
  surface.addEventListener(
    'pointermove',
    (e) => {
      const now = at(e);
      const before = down.get(e.pointerId);
      if (!before) {
        if (down.size === 0) hooks.hover(now, e.pointerType);
        return;
      }
      if (!travelled && Math.hypot(now.x - start.x, now.y - start.y) < still) return;
      if (!travelled) hooks.hover(null, e.pointerType);
      travelled = true;
      const [dx, dy] = [now.x - before.x, now.y - before.y];
      const view = hooks.view();
      if (down.size === 1) {
        const moves = e.shiftKey || (e.buttons & 1) === 0;
        hooks.setView(
          moves
            ? panned(view, dx * perPixel(), -dy * perPixel())
            : turned(view, (dx * Math.PI) / halfTurn, (dy * Math.PI) / halfTurn),
        );
      } else {
        const others = [...down].filter(([id]) => id !== e.pointerId).map(([, p]) => p);
        const other = others[0]!;
        const apart = (p: { x: number; y: number }) => Math.hypot(p.x - other.x, p.y - other.y);
        const by = apart(now) / Math.max(1, apart(before));
        const moved = panned(view, (dx / 2) * perPixel(), (-dy / 2) * perPixel());
        hooks.setView(zoomed(moved, by, about({ x: (now.x + other.x) / 2, y: (now.y + other.y) / 2 })));
      }
      down.set(e.pointerId, now);
    },
    options,
  );
  const lift = (e: PointerEvent, taken: boolean) => {
    if (!down.delete(e.pointerId)) return;
    if (taken && !travelled && e.button === 0)
      hooks.click(at(e), e.pointerType, e.shiftKey || e.ctrlKey || e.metaKey);
  };
  surface.addEventListener('pointerup', (e) => lift(e, true), options);
  surface.addEventListener('pointercancel', (e) => lift(e, false), options);
  surface.addEventListener('pointerleave', (e) => hooks.hover(null, e.pointerType), options);
  surface.addEventListener('contextmenu', (e) => e.preventDefault(), options);
  surface.addEventListener(
    'wheel',
    (e) => {
      e.preventDefault();
      const lines = e.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
      hooks.setView(zoomed(hooks.view(), 2 ** ((-e.deltaY * lines) / wheelDouble), about(at(e))));
    },
    { ...options, passive: false },
  );
  return () => aborter.abort();
}
