/**
 * Walks the elements that are rendered, with what they inherit: groups, links, switches, uses, symbols and nested
 * drawings; and hands shapes and texts on.
 * Sources: SVG 2, chapter 5 (structure: `use` in 5.5, conditional processing in 5.9) and 8 (viewports).
 */
import type { DrawingText } from '../model';
import type { Style } from './computedStyle';
import { shorten } from './countedNotes';
import { LineCollector } from './drawnLines';
import { ownTransform, positiveLength, shapeNames, shapeOutline, toldViewBox, userLength } from './geometry';
import { compose, identity, largestScale, meanScale, translation } from './matrix';
import { LineLooks } from './painting';
import { type Frame, type ReadContext, styleIn } from './readContext';
import { referenced, writtenReference } from './references';
import { collectGlyphs, textMatrix } from './text';
import { layTexts } from './textLayout';
import { arcError } from './tolerance';
import { readAspectRatio, viewBoxMatrix } from './viewBox';
import type { XmlNode } from './xmlTree';

/** Elements that are never drawn where they stand. */
const neverDrawn: ReadonlySet<string> = new Set([
  'defs',
  'symbol',
  'clipPath',
  'mask',
  'marker',
  'pattern',
  'linearGradient',
  'radialGradient',
  'meshgradient',
  'hatch',
  'solidcolor',
  'filter',
  'title',
  'desc',
  'metadata',
  'style',
  'script',
  'view',
  'cursor',
  'color-profile',
  'font',
  'font-face',
  'animate',
  'animateColor',
  'animateMotion',
  'animateTransform',
  'set',
  'discard',
  'tspan',
  'textPath',
  'stop',
]);
/** Elements whose content is no drawing that could be read. */
const pictures: ReadonlySet<string> = new Set(['image', 'video', 'audio', 'canvas', 'iframe']);
/** What a `use` may show. */
const usable: ReadonlySet<string> = new Set([
  ...shapeNames,
  ...pictures,
  'g',
  'a',
  'svg',
  'symbol',
  'use',
  'switch',
  'text',
  'foreignObject',
]);

/** Walks one file; the results are in `collector` and `texts`. */
export class Walk {
  readonly collector: LineCollector;
  readonly texts: DrawingText[] = [];
  readonly #context: ReadContext;
  readonly #looks = new LineLooks();
  #usedElements = 0;

  constructor(context: ReadContext) {
    this.#context = context;
    this.collector = new LineCollector(context);
  }

  /** Draws the children of the outermost element, whose style and place the frame holds. */
  children(parent: XmlNode, frame: Frame): void {
    for (const child of parent.children) if (typeof child !== 'string') this.#element(child, frame);
  }

  #element(node: XmlNode, frame: Frame, use?: { readonly node: XmlNode; readonly style: Style }): void {
    const { name } = node;
    const { log, limits } = this.#context;
    const isUsedSymbol = use !== undefined && name === 'symbol';
    if (name === '' || (neverDrawn.has(name) && !isUsedSymbol)) return;
    if (frame.depth >= limits.nesting) {
      log.stop(
        {
          code: 'nesting-too-deep',
          message: `Elements, uses followed, lie more than ${limits.nesting} deep inside each other.`,
          remedy: 'Ungroup the drawing in your drawing program and save it again.',
        },
        node.offset,
      );
    }
    if (frame.shown.length > 0 && ++this.#usedElements > limits.useElements) {
      log.stop(
        {
          code: 'use-too-many',
          message: `Uses of other elements make more than ${limits.useElements} elements.`,
          remedy: 'Turn the clones into plain copies in your drawing program, and keep only what is needed.',
        },
        node.offset,
      );
    }
    if (!passesConditions(node)) return;
    const style = styleIn(this.#context, node, frame.style, frame);
    if (!style.displayed) {
      for (let i = countDrawn(node); i > 0; i--) log.count('lines-hidden', node.offset);
      return;
    }
    for (const effect of ['clip-path', 'mask', 'filter'] as const) {
      const value = style.declared[effect];
      if (value?.kind === 'word' && value.word !== 'none') log.count(effect, node.offset);
    }
    if (shapeNames.has(name)) this.#shape(node, style, frame);
    else if (name === 'text') this.#text(node, style, frame);
    else if (name === 'g' || name === 'a') this.children(node, this.#inside(node, style, frame));
    else if (name === 'use') this.#use(node, style, frame);
    else if (name === 'svg' || name === 'symbol') this.#viewport(node, style, frame, use);
    else if (name === 'switch') this.#switch(node, style, frame);
    else if (pictures.has(name)) log.count('image', node.offset);
    else if (name === 'foreignObject') log.count('foreign-object', node.offset);
    else log.count('unknown-element', node.offset, name);
  }

  /** The frame of what lies inside a group-like element. */
  #inside(node: XmlNode, style: Style, frame: Frame): Frame {
    const own = ownTransform(this.#context, node, style, frame);
    const label = groupLabel(node);
    return {
      ...frame,
      matrix: own === identity ? frame.matrix : compose(frame.matrix, own),
      style,
      groups: label === '' ? frame.groups : [...frame.groups, label],
      opacity: frame.opacity * style.opacity,
      depth: frame.depth + 1,
    };
  }

  #shape(node: XmlNode, style: Style, frame: Frame): void {
    const context = this.#context;
    if (!style.visible) {
      context.log.count('lines-hidden', node.offset);
      return;
    }
    const own = ownTransform(context, node, style, frame);
    const inner = own === identity ? frame : { ...frame, matrix: compose(frame.matrix, own) };
    // An outline that is squeezed to a line or a point is not painted (SVG 2, section 8.5).
    if (!(meanScale(inner.matrix) > 0)) return;
    const scale = largestScale(inner.matrix);
    let outline = shapeOutline(context, node, style, inner, arcError / scale);
    if (outline.length === 0) return;
    const paint = this.#looks.look(context, node, style, inner);
    if (!paint) {
      context.log.count('lines-without-stroke', node.offset);
      return;
    }
    if (style.markers.start || style.markers.mid || style.markers.end) {
      if (node.name !== 'rect' && node.name !== 'circle' && node.name !== 'ellipse') {
        context.log.count('marker', node.offset);
      }
    }
    let lineLook = paint;
    if (paint.stroke === '') {
      // A fill can't show a single straight stretch.
      const seen = outline.filter((s) => s.kinds.length > 1 || s.kinds[0] === 'cubic');
      for (let i = seen.length; i < outline.length; i++)
        context.log.count('lines-without-stroke', node.offset);
      outline = seen;
    } else if (node.name === 'line' && paint.fill !== '') {
      lineLook = { ...paint, fill: '' };
    }
    this.collector.add(node, inner, outline, lineLook);
  }

  #text(node: XmlNode, style: Style, frame: Frame): void {
    const glyphs = collectGlyphs(this.#context, node, style, frame);
    if (glyphs.length === 0) return;
    const matrix = textMatrix(this.#context, node, style, frame);
    for (const text of layTexts(this.#context, node, frame, matrix, glyphs)) this.texts.push(text);
  }

  #switch(node: XmlNode, style: Style, frame: Frame): void {
    const inside = this.#inside(node, style, frame);
    for (const child of node.children) {
      if (typeof child === 'string' || child.name === '' || !passesConditions(child)) continue;
      if (/^(?:title|desc|metadata|animate\w*|set|script|style)$/.test(child.name)) continue;
      // Web-page content can't be read, so what the file offers instead is taken.
      if (child.name === 'foreignObject' && hasLaterChild(node, child)) {
        this.#context.log.count('foreign-object', child.offset);
        continue;
      }
      this.#element(child, inside);
      return;
    }
  }

  #use(node: XmlNode, style: Style, frame: Frame): void {
    const context = this.#context;
    const target = referenced(context, node);
    if (!target) {
      const reference = writtenReference(node);
      if (reference?.startsWith('#')) {
        context.log.tell(
          {
            code: 'use-missing',
            severity: 'warning',
            message: `A use refers to “${shorten(reference)}”, which is not in the file; it draws nothing.`,
            remedy:
              'If a part is missing, turn clones into plain copies in your drawing program and save again.',
          },
          node.offset,
        );
      }
      return;
    }
    if (!usable.has(target.name)) return;
    // A target that holds this use, or one through which it is seen, would show itself without end.
    const uses = [...frame.uses, node];
    if (frame.shown.includes(target) || uses.some((u) => contains(target, u))) {
      context.log.tell(
        {
          code: 'use-recursive',
          severity: 'error',
          message: `A use of “${shorten(writtenReference(node)!)}” contains itself; this use is left out, the rest is read.`,
          remedy: 'Turn the clone into a plain copy in your drawing program.',
        },
        node.offset,
      );
      return;
    }
    const x = userLength(context, node, style, frame, 'x', 'x', 0);
    const y = userLength(context, node, style, frame, 'y', 'y', 0);
    if (Number.isNaN(x + y)) return;
    const inside = this.#inside(node, style, frame);
    const shown: Frame = {
      ...inside,
      matrix: compose(inside.matrix, translation(x, y)),
      through: `${frame.through}${node.order}.`,
      shown: [...frame.shown, target],
      uses,
    };
    this.#element(target, shown, { node, style });
  }

  /** A nested drawing, or a symbol shown by a use: a viewport of its own. */
  #viewport(
    node: XmlNode,
    style: Style,
    frame: Frame,
    use: { readonly node: XmlNode; readonly style: Style } | undefined,
  ): void {
    const context = this.#context;
    const extent = (name: 'width' | 'height', axis: 'x' | 'y'): number => {
      // The size at the use outweighs that of what it shows (SVG 2, section 5.5.1).
      const atUse = use && positiveLength(context, use.node, use.style, frame, name, axis, undefined);
      const whole = axis === 'x' ? frame.viewport.width : frame.viewport.height;
      return atUse ?? positiveLength(context, node, style, frame, name, axis, whole);
    };
    const x = userLength(context, node, style, frame, 'x', 'x', 0);
    const y = userLength(context, node, style, frame, 'y', 'y', 0);
    const width = extent('width', 'x');
    const height = extent('height', 'y');
    const box = toldViewBox(context, node);
    // A size of zero turns rendering off; an unknown one matters only where a viewBox must be fitted into it.
    if (box === 'disabled' || width === 0 || height === 0 || Number.isNaN(x + y)) return;
    if (box && Number.isNaN(width + height)) {
      context.log.tell(
        {
          code: 'percent-of-unknown',
          severity: 'error',
          message: 'A nested drawing takes the size of the page, but the page has none; it is left out.',
          remedy: 'Give the drawing a width and height in mm, or a viewBox.',
        },
        node.offset,
      );
      return;
    }
    const inside = this.#inside(node, style, frame);
    const fitted = box
      ? viewBoxMatrix(box, readAspectRatio(node.attributes.preserveAspectRatio ?? ''), x, y, width, height)
      : translation(x, y);
    this.children(node, {
      ...inside,
      matrix: compose(inside.matrix, fitted),
      viewport: box ? { width: box.width, height: box.height } : { width, height },
    });
  }
}

/** What a group is called: its `id`, else any attribute named `label`. */
function groupLabel(node: XmlNode): string {
  const { attributes } = node;
  if (attributes.id) return attributes.id;
  for (const name in attributes) {
    if (name === 'label' || name.endsWith(':label')) return attributes[name]!;
  }
  return '';
}

/** Conditional processing: English is understood, no extension is. */
function passesConditions({ attributes }: XmlNode): boolean {
  if (attributes.requiredExtensions !== undefined) return false;
  const languages = attributes.systemLanguage;
  return languages === undefined || languages.split(',').some((l) => /^en(?:-|$)/i.test(l.trim()));
}

function hasLaterChild(parent: XmlNode, child: XmlNode): boolean {
  const later = parent.children.slice(parent.children.indexOf(child) + 1);
  return later.some((c) => typeof c !== 'string' && c.name !== '' && passesConditions(c));
}

function contains(ancestor: XmlNode, node: XmlNode): boolean {
  for (let n: XmlNode | null = node; n; n = n.parent) if (n === ancestor) return true;
  return false;
}

/** Drawn elements in a part of the tree that is not displayed. */
function countDrawn(node: XmlNode): number {
  if (shapeNames.has(node.name) || node.name === 'text' || node.name === 'use') return 1;
  if (neverDrawn.has(node.name)) return 0;
  let sum = 0;
  for (const child of node.children) if (typeof child !== 'string') sum += countDrawn(child);
  return sum;
}
