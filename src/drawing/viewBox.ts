/**
 * `viewBox` and `preserveAspectRatio`: the map from the inside of a viewport to the viewport.
 * Source: SVG 2, sections 8.2 (the algorithm of the equivalent transform) and 8.6, 8.7.
 */
import type { Matrix } from './matrix';

export interface ViewBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** `disabled`: width or height is zero, which turns rendering off. `invalid`: not four numbers, or negative. */
export type ViewBoxText = ViewBox | 'none' | 'disabled' | 'invalid';

export function readViewBox(text: string | undefined): ViewBoxText {
  if (text === undefined) return 'none';
  const parts = text.trim().split(/\s*,\s*|\s+/);
  const pattern = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;
  if (parts.length !== 4 || !parts.every((p) => pattern.test(p))) return 'invalid';
  const [x, y, width, height] = parts.map(Number) as [number, number, number, number];
  if (!Number.isFinite(x + y + width + height) || width < 0 || height < 0) return 'invalid';
  return width === 0 || height === 0 ? 'disabled' : { x, y, width, height };
}

/** Where the viewBox stands in the viewport, 0 (min), 0.5 (mid) or 1 (max) along each axis. */
export interface AspectRatio {
  readonly fit: 'none' | 'meet' | 'slice';
  readonly alignX: number;
  readonly alignY: number;
}

const defaultAspect: AspectRatio = { fit: 'meet', alignX: 0.5, alignY: 0.5 };
const places: Readonly<Record<string, number>> = { Min: 0, Mid: 0.5, Max: 1 };

/** Reads `preserveAspectRatio`; undefined when it is written wrongly (the default applies then). */
export function readAspectRatio(text: string): AspectRatio | undefined {
  const match = /^\s*(?:defer\s+)?(?:(none)|x(Min|Mid|Max)Y(Min|Mid|Max))(?:\s+(meet|slice))?\s*$/.exec(text);
  if (!match) return undefined;
  if (match[1]) return { fit: 'none', alignX: 0, alignY: 0 };
  return {
    fit: match[4] === 'slice' ? 'slice' : 'meet',
    alignX: places[match[2]!]!,
    alignY: places[match[3]!]!,
  };
}

/** The map from user units inside the viewBox to the viewport (x, y, width, height). */
export function viewBoxMatrix(
  box: ViewBox,
  aspect: AspectRatio | undefined,
  x: number,
  y: number,
  width: number,
  height: number,
): Matrix {
  const { fit, alignX, alignY } = aspect ?? defaultAspect;
  let a = width / box.width;
  let d = height / box.height;
  if (fit === 'meet') a = d = Math.min(a, d);
  else if (fit === 'slice') a = d = Math.max(a, d);
  const e = x - box.x * a + (width - box.width * a) * (fit === 'none' ? 0 : alignX);
  const f = y - box.y * d + (height - box.height * d) * (fit === 'none' ? 0 : alignY);
  return { a, b: 0, c: 0, d, e, f };
}
