/**
 * How large the drawing is: `width`, `height`, `viewBox` and `preserveAspectRatio` of the outermost element, and what
 * the person said when the file has no physical size.
 *
 * Rules: a unit of CSS that is a length on paper (mm, cm, Q, in, pt, pc) states a size; px, bare numbers, em and
 * percentages do not, since drawing programs differ in what they take a pixel for. One physical side is enough, the
 * other follows from the viewBox. Without a physical side 1 px counts as 1/96 inch, or as the person says.
 * Sources: SVG 2, sections 8.2, 8.6 and 8.7; CSS Values and Units 4, section 5.2.
 */
import { GirthwiseError } from '../base';
import type { DrawingSize, ReadingDecisions } from '../model';
import { type CssUnit, cssUnits, type Mm } from '../units';
import type { IssueLog } from './issueLog';
import { isPhysical, type LengthContext, type LengthText, mmPerPx, toUserUnits } from './lengths';
import { compose, type Matrix, scaling } from './matrix';
import { sameScale } from './tolerance';
import { type AspectRatio, type ViewBox, viewBoxMatrix } from './viewBox';

export interface PageSize {
  /** User units of the outermost element -> mm, y up, origin at the page's top-left corner. */
  readonly toMm: Matrix;
  /** Size of the viewport in its own user units, which percentages refer to; NaN where the file leaves it open. */
  readonly viewport: { readonly width: number; readonly height: number };
  /** Size on paper; undefined where only the content tells it. */
  readonly width: Mm | undefined;
  readonly height: Mm | undefined;
  readonly from: DrawingSize['from'];
  /** Millimetres in a pixel outside the viewBox. */
  readonly mmPerPx: Mm;
}

export interface RootAttributes {
  readonly width: LengthText | undefined;
  readonly height: LengthText | undefined;
  readonly viewBox: ViewBox | undefined;
  readonly aspect: AspectRatio | undefined;
  /** Font sizes for em, ex and rem. */
  readonly lengths: LengthContext;
}

/** One side of the page, in px or, where it is physical, in mm: no detour over px blurs the last digit. */
interface Side {
  readonly length: number;
  readonly physical: boolean;
}

/**
 * Settles the size of the page.
 * @param factor known when a known length has been measured: how many times larger than at 96 per inch the drawing is
 * @throws GirthwiseError when the decision holds no usable number.
 */
export function settlePageSize(
  root: RootAttributes,
  decision: ReadingDecisions['size'],
  factor: number | undefined,
  log: IssueLog,
  offset: number,
): PageSize {
  let width = sideOf(root.width, root.lengths);
  let height = sideOf(root.height, root.lengths);
  const physical = Boolean(width?.physical || height?.physical);
  const box = root.viewBox;
  if (box) {
    const ratio = box.height / box.width;
    // A physical side outweighs one in px; of two equal kinds both count.
    if (width && height && width.physical !== height.physical) {
      const stated = (width.physical ? height.length : width.length) * mmPerPx;
      const implied = width.physical ? width.length * ratio : height.length / ratio;
      if (Math.abs(stated - implied) > sameScale * implied) {
        log.tell(
          {
            code: 'size-mixed',
            severity: 'warning',
            message: `One side of the drawing has a real size and the other is in px, and they disagree; the ${width.physical ? 'width' : 'height'} is taken.`,
            remedy: 'Check a length on the drawing, and set both sides in mm in your drawing program.',
          },
          offset,
        );
      }
      if (width.physical) height = null;
      else width = null;
    }
    if (width && !height) height = { length: width.length * ratio, physical };
    else if (height && !width) width = { length: height.length / ratio, physical };
    else if (!width || !height) {
      width = { length: box.width, physical };
      height = { length: box.height, physical };
    }
  }
  const { from, perPx } = scaleOf(physical, decision, factor);
  const toMm = (side: Side | null): Mm | undefined =>
    side === null ? undefined : side.physical ? side.length : side.length * perPx;
  const [widthMm, heightMm] = [toMm(width), toMm(height)];
  const inner =
    box && widthMm !== undefined && heightMm !== undefined
      ? viewBoxMatrix(box, root.aspect, 0, 0, widthMm, heightMm)
      : scaling(perPx, perPx);
  if (Math.abs(inner.a - inner.d) > sameScale * Math.min(inner.a, inner.d)) {
    const percent = Math.round((inner.d / inner.a) * 1000) / 10;
    log.tell(
      {
        code: 'size-uneven',
        severity: 'warning',
        message: `The file stretches the drawing: heights are ${percent} % of what they would be at the scale of the widths.`,
        remedy: 'If that is not wanted, set preserveAspectRatio back to its default in your drawing program.',
      },
      offset,
    );
  }
  return {
    toMm: compose(scaling(1, -1), inner),
    viewport: {
      width: box?.width ?? (widthMm ?? Number.NaN) / perPx,
      height: box?.height ?? (heightMm ?? Number.NaN) / perPx,
    },
    width: widthMm,
    height: heightMm,
    from,
    mmPerPx: perPx,
  };
}

function sideOf(text: LengthText | undefined, lengths: LengthContext): Side | null {
  if (text === undefined || typeof text === 'string' || text.unit === '%') return null;
  const physical = isPhysical(text.unit);
  const length = physical ? text.value * cssUnits[text.unit as CssUnit] : toUserUnits(text, 'x', lengths);
  return length > 0 ? { length, physical } : null;
}

function scaleOf(
  physical: boolean,
  decision: ReadingDecisions['size'],
  factor: number | undefined,
): { from: DrawingSize['from']; perPx: Mm } {
  if (physical) return { from: { kind: 'physical' }, perPx: mmPerPx };
  if (factor !== undefined) return { from: { kind: 'knownLength', factor }, perPx: mmPerPx * factor };
  if (decision.kind === 'perInch') {
    if (!(decision.value > 0 && Number.isFinite(decision.value))) {
      throw new GirthwiseError('bad-per-inch', `Units per inch must be above 0, not ${decision.value}`);
    }
    return { from: { kind: 'perInch', value: decision.value }, perPx: 25.4 / decision.value };
  }
  return { from: { kind: 'none' }, perPx: mmPerPx };
}
