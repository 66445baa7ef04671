/**
 * What is painted of an element: stroke, fill, width and dashes, as a style of a drawn line; or that nothing of it
 * can be seen.
 * Source: SVG 2, chapter 13 (a stroke of width 0 is none, section 13.5.2; dashes: section 13.5.6).
 */
import type { LineStyle } from '../model';
import type { Colour } from './colours';
import { resolveStrokeLength, type Style } from './computedStyle';
import { meanScale } from './matrix';
import { type Frame, lengthsOf, type ReadContext } from './readContext';
import type { Paint } from './styleValues';
import type { XmlNode } from './xmlTree';

const solid: readonly number[] = [];

/** The colour of a paint; null for none. Gradients and patterns that are there count as black, and are told. */
export function paintColour(context: ReadContext, node: XmlNode, paint: Paint, style: Style): Colour | null {
  switch (paint.kind) {
    case 'none':
      return null;
    case 'colour':
      return paint.colour;
    case 'current':
      return style.color;
    case 'server': {
      if (!paint.id.startsWith('#')) {
        context.log.count('external-reference', node.offset, paint.id);
        return paintColour(context, node, paint.fallback, style);
      }
      const target = context.tree.byId.get(paint.id.slice(1));
      if (!target || !/^(?:linearGradient|radialGradient|pattern)$/.test(target.name)) {
        return paintColour(context, node, paint.fallback, style);
      }
      context.log.count('paint-server', node.offset);
      return { hex: '#000000', alpha: 1 };
    }
  }
}

/** Line styles of the same look, so that lines that look alike share one object. */
export class LineLooks {
  readonly #known = new Map<
    Style,
    { readonly frame: Frame; readonly scale: number; look: LineStyle | null }
  >();

  /** As `lineStyle`, remembering the last result of each computed style. */
  look(context: ReadContext, node: XmlNode, style: Style, frame: Frame): LineStyle | null {
    // Gradients are told for each element, so nothing is remembered for them.
    if (style.stroke.kind === 'server' || style.fill.kind === 'server') {
      return lineStyle(context, node, style, frame);
    }
    const scale = meanScale(frame.matrix);
    const known = this.#known.get(style);
    if (
      known &&
      known.scale === scale &&
      known.frame.opacity === frame.opacity &&
      known.frame.viewport === frame.viewport &&
      (known.look === null || known.look.className === (node.attributes.class ?? ''))
    ) {
      return known.look;
    }
    const look = lineStyle(context, node, style, frame);
    this.#known.set(style, { frame, scale, look });
    return look;
  }
}

/**
 * The style of a drawn line; null when neither stroke nor fill can be seen.
 */
function lineStyle(context: ReadContext, node: XmlNode, style: Style, frame: Frame): LineStyle | null {
  const strokeColour = paintColour(context, node, style.stroke, style);
  const strokeAlpha = strokeColour ? strokeColour.alpha * style.strokeOpacity : 0;
  const lengths = lengthsOf(context, frame, style);
  const width = strokeAlpha > 0 ? resolveStrokeLength(style.strokeWidth, lengths) : 0;
  const stroked = strokeAlpha > 0 && width > 0;
  const fillColour = paintColour(context, node, style.fill, style);
  const fillAlpha = fillColour ? fillColour.alpha * style.fillOpacity : 0;
  const opacity = frame.opacity * style.opacity * (stroked ? strokeAlpha : fillAlpha);
  if (!(opacity > 0)) return null;
  const scale = style.widthStays ? context.page.mmPerPx : meanScale(frame.matrix);
  return {
    stroke: stroked ? strokeColour!.hex : '',
    fill: fillAlpha > 0 ? fillColour!.hex : '',
    strokeWidth: stroked ? width * scale : 0,
    dash: stroked && style.dash.length > 0 ? dashOf(style, lengths, scale) : solid,
    className: node.attributes.class ?? '',
    opacity,
  };
}

/** Dash lengths in mm, an even number of them; empty for a solid line. */
function dashOf(style: Style, lengths: ReturnType<typeof lengthsOf>, scale: number): readonly number[] {
  const dash = style.dash.map((d) => resolveStrokeLength(d, lengths) * scale);
  if (dash.some((d) => !Number.isFinite(d)) || !dash.some((d) => d > 0)) return solid;
  return dash.length % 2 === 0 ? dash : [...dash, ...dash];
}
