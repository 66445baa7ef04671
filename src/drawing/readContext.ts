/** What every step of reading one file shares, and what changes from element to element. */
import type { Cascade, Declared } from './cascade';
import { computeStyle, type Style } from './computedStyle';
import type { IssueLog } from './issueLog';
import type { LengthContext } from './lengths';
import type { DrawingLimits } from './limits';
import type { Matrix } from './matrix';
import type { PageSize } from './pageSize';
import type { XmlNode, XmlTree } from './xmlTree';

export interface ReadContext {
  readonly tree: XmlTree;
  readonly cascade: Cascade;
  readonly log: IssueLog;
  readonly limits: DrawingLimits;
  /** Number of the file among the files of the document: the first part of every id. */
  readonly file: number;
  readonly page: PageSize;
  readonly rootFontSize: number;
  /** Computed styles by the parent's style and what is declared. */
  readonly styles: Map<Style, Map<Declared, Style>>;
}

/** Where an element stands: everything it gets from the elements around it. */
export interface Frame {
  /** User units around the element -> mm, y up. */
  readonly matrix: Matrix;
  /** The parent's style. */
  readonly style: Style;
  /** Size of the nearest viewport in user units. */
  readonly viewport: { readonly width: number; readonly height: number };
  readonly groups: readonly string[];
  /** Product of the opacities of the elements around. */
  readonly opacity: number;
  /** Numbers of the uses through which it is seen, each with a dot after it. */
  readonly through: string;
  /** What the uses show, outermost first; selectors see nothing above the last. */
  readonly shown: readonly XmlNode[];
  /** The uses themselves, outermost first. */
  readonly uses: readonly XmlNode[];
  readonly depth: number;
}

/** What relative lengths of an element refer to. */
export function lengthsOf(context: ReadContext, frame: Frame, style: Style): LengthContext {
  return {
    viewportWidth: frame.viewport.width,
    viewportHeight: frame.viewport.height,
    fontSize: style.fontSize,
    rootFontSize: context.rootFontSize,
  };
}

/** The computed style of an element in its frame; elements that look alike share one object. */
export function styleIn(context: ReadContext, node: XmlNode, parent: Style, frame: Frame): Style {
  const top = frame.shown[frame.shown.length - 1] ?? context.tree.root;
  return styleUnder(context, node, parent, top);
}

/** As `styleIn`, for an element that selectors see below `top`. */
export function styleUnder(context: ReadContext, node: XmlNode, parent: Style, top: XmlNode): Style {
  const declared = context.cascade.declared(node, top);
  let known = context.styles.get(parent);
  if (!known) {
    known = new Map();
    context.styles.set(parent, known);
  }
  let style = known.get(declared);
  if (!style) {
    style = computeStyle(parent, declared, context.rootFontSize, context.log, node.offset);
    known.set(declared, style);
  }
  return style;
}
