/**
 * File text -> a drawing in millimetres: every visible line and text of the file, uninterpreted. SVG is read here, FOLD
 * in `readFold`. The same code in the page, in a worker and in Node; no document, no network, no clock.
 */
import { fail, GirthwiseError, type Issue, type Outcome, succeed } from '../base';
import {
  type Drawing,
  type DrawingLine,
  isFoldText,
  type PatternSource,
  type ReadingDecisions,
} from '../model';
import type { Mm } from '../units';
import { Cascade } from './cascade';
import { computeStyle, initialStyle, type Style } from './computedStyle';
import { toldViewBox, writtenLength } from './geometry';
import { IssueLog, ReadingStopped } from './issueLog';
import type { LengthText } from './lengths';
import { type DrawingLimits, defaultLimits, refuseTooLarge } from './limits';
import { lineLength } from './lineLength';
import { recogniseOther } from './notSvg';
import { type PageSize, settlePageSize } from './pageSize';
import type { ReadContext } from './readContext';
import { readFold } from './readFold';
import { SourceLines } from './sourceLines';
import { readAspectRatio } from './viewBox';
import { Walk } from './walk';
import { readTree, type XmlTree } from './xmlTree';

export interface DrawingOptions {
  /** Number of the file among the files of the document, from 0: the first part of every id. */
  readonly file: number;
  readonly size: ReadingDecisions['size'];
  readonly limits?: Partial<DrawingLimits>;
}

/**
 * Reads one SVG or FOLD file; what it is, its content says.
 *
 * A file without physical size is read at 96 per inch unless the decision says otherwise; `size.from` tells which,
 * and the issue `size-unknown` says that a question is open. A known length scales the file that holds the named
 * line; `joinDrawings` gives the same scale to others without a size.
 * @returns lines and texts in mm, y up, origin at the page's top-left corner; not ok when the text is neither a readable SVG
 *   nor FOLD file, or is beyond the limits, with the reason as an issue.
 * @throws GirthwiseError when options make no sense (file number, units per inch, known length).
 */
export function readDrawing(source: PatternSource, options: DrawingOptions): Outcome<Drawing> {
  if (!Number.isInteger(options.file) || options.file < 0) {
    throw new GirthwiseError('bad-file-number', `File numbers are whole and from 0, not ${options.file}`);
  }
  const limits = { ...defaultLimits, ...options.limits };
  const text = source.svg.startsWith('\ufeff') ? source.svg.slice(1) : source.svg;
  const lines = new SourceLines(text);
  const once = (factor: number | undefined): Outcome<Drawing> => {
    const log = new IssueLog(source.name, lines);
    return isFoldText(text)
      ? readFold(text, log, { ...options, limits }, factor)
      : readSvg(text, log, limits, options, factor);
  };
  try {
    const first = once(undefined);
    return options.size.kind === 'knownLength' ? withKnownLength(first, options.size, once) : first;
  } catch (reason) {
    if (reason instanceof ReadingStopped) return fail(reason.issue);
    throw reason;
  }
}

function readSvg(
  text: string,
  log: IssueLog,
  limits: DrawingLimits,
  options: DrawingOptions,
  factor: number | undefined,
): Outcome<Drawing> {
  const other = recogniseOther(text);
  if (other) log.stop(other);
  refuseTooLarge(text, limits, log);
  const tree = readTree(text, limits, log);
  const cascade = new Cascade(tree, log);
  const { root } = tree;
  const declared = cascade.declared(root, root);
  const unknown = { viewportWidth: Number.NaN, viewportHeight: Number.NaN };
  const style = computeStyle(initialStyle, declared, initialStyle.fontSize, log, root.offset);
  const box = toldViewBox({ log }, root);
  const aspect = root.attributes.preserveAspectRatio;
  const page = settlePageSize(
    {
      width: writtenLength(root, style, 'width'),
      height: writtenLength(root, style, 'height'),
      viewBox: box === 'disabled' ? undefined : box,
      aspect: aspect === undefined ? undefined : readAspectRatio(aspect),
      lengths: { ...unknown, fontSize: style.fontSize, rootFontSize: style.fontSize },
    },
    options.size,
    factor,
    log,
    root.offset,
  );
  tellRootTrouble(tree, style, log);
  const context: ReadContext = {
    tree,
    cascade,
    log,
    limits,
    file: options.file,
    page,
    rootFontSize: style.fontSize,
    styles: new Map(),
  };
  const walk = new Walk(context);
  const zero = box === 'disabled' || isZero(root.attributes.width) || isZero(root.attributes.height);
  if (style.displayed && !zero) {
    walk.children(root, {
      matrix: page.toMm,
      style,
      viewport: page.viewport,
      groups: [],
      opacity: style.opacity,
      through: '',
      shown: [],
      uses: [],
      depth: 1,
    });
  }
  const { lines, minX, minY, maxX, maxY } = walk.collector;
  const size = {
    width: page.width ?? Math.max(0, Number.isFinite(maxX) ? maxX : 0),
    height: page.height ?? Math.max(0, Number.isFinite(minY) ? -minY : 0),
    from: page.from,
  };
  if (page.from.kind === 'none') tellUnknownSize(root.attributes, page, log, root.offset);
  if (page.from.kind === 'physical' && options.size.kind === 'knownLength' && factor === undefined) {
    tellUnusedKnownLength(lines, options.size.line, log);
  }
  if (lines.length === 0) {
    log.tell({
      code: 'nothing-drawn',
      severity: 'error',
      message: 'The file is an SVG drawing, but no line in it can be seen.',
      remedy: 'Check that the pattern’s lines have a stroke and are not hidden, and save it again.',
    });
  }
  const inside = minX >= 0 && maxX <= size.width && maxY <= 0 && minY >= -size.height;
  if (!inside && page.width !== undefined && page.height !== undefined) countOutside(lines, size, log, tree);
  return succeed({ size, lines, texts: walk.texts, issues: log.finish() });
}

/** A known length: measure the named line at 96 per inch, then read again at the scale that makes it right. */
function withKnownLength(
  first: Outcome<Drawing>,
  known: Extract<ReadingDecisions['size'], { kind: 'knownLength' }>,
  again: (factor: number) => Outcome<Drawing>,
): Outcome<Drawing> {
  if (!(known.length > 0 && Number.isFinite(known.length))) {
    throw new GirthwiseError('bad-known-length', `A known length must be above 0 mm, not ${known.length}`);
  }
  if (!first.ok || first.value.size.from.kind !== 'none') return first;
  const line = first.value.lines.find((l) => l.id === known.line);
  const measured = line ? lineLength(line) : 0;
  if (measured > 0) return again(known.length / measured);
  const issue: Issue = {
    code: 'known-line-missing',
    severity: 'warning',
    stage: 'drawing',
    message: line
      ? 'The line whose length you gave has no length on the drawing, so the size is still open.'
      : 'The line whose length you gave is not in this file, so its size is still open.',
    remedy: 'Pick the line again, or say how many units make an inch.',
    place: { ids: [known.line] },
  };
  return succeed({ ...first.value, issues: [...first.value.issues, issue] });
}

function tellUnknownSize(
  attributes: Readonly<Record<string, string>>,
  page: PageSize,
  log: IssueLog,
  offset: number,
): void {
  const stated = [attributes.width, attributes.height].filter((s) => s !== undefined);
  const why =
    stated.length === 0
      ? 'it has neither width nor height'
      : stated.some((s) => /%\s*$/.test(s))
        ? 'its width or height is a percentage'
        : 'its width and height are in pixels';
  const shown = page.width === undefined ? '' : ` (${tidy(page.width)} × ${tidy(page.height ?? 0)} mm)`;
  log.tell(
    {
      code: 'size-unknown',
      severity: 'warning',
      message: `The drawing does not say how large it is on paper: ${why}. It is shown at 96 units per inch${shown}.`,
      remedy:
        'Say how many units make an inch (96, 90 and 72 are usual), or give the length of a line that you know.',
    },
    offset,
  );
}

function tellRootTrouble(tree: XmlTree, style: Style, log: IssueLog): void {
  const { attributes, offset } = tree.root;
  for (const name of ['width', 'height'] as const) {
    const written: LengthText | undefined = writtenLength(tree.root, style, name);
    const negative = typeof written === 'object' && written.value < 0;
    if (written === 'unsupported' || written === 'invalid' || negative) {
      log.tell(
        {
          code: 'size-unreadable',
          severity: 'warning',
          message: `The ${name} of the drawing is “${attributes[name] ?? written}”, which is no usable length; it is taken as not given.`,
          remedy: `Set the ${name} in mm in your drawing program.`,
        },
        offset,
      );
    }
  }
  if (attributes.transform !== undefined || style.declared.transform !== undefined) {
    log.count('transform-skipped', offset, attributes.transform ?? 'transform on the drawing itself');
  }
  if (isZero(attributes.width) || isZero(attributes.height)) {
    log.tell(
      {
        code: 'size-zero',
        severity: 'error',
        message: 'The width or height of the drawing is zero, which means that nothing is drawn.',
        remedy: 'Set its size in mm in your drawing program.',
      },
      offset,
    );
  }
}

const isZero = (text: string | undefined): boolean =>
  text !== undefined && /^\s*[+-]?0*\.?0+\s*(?:[a-z]+|%)?\s*$/i.test(text);

function tellUnusedKnownLength(lines: readonly DrawingLine[], id: string, log: IssueLog): void {
  if (!lines.some((l) => l.id === id)) return;
  log.tell({
    code: 'known-length-unused',
    severity: 'note',
    message: 'The drawing states its real size, so the known length is not used.',
    remedy: 'To change the size of the finished piece, set its scale in the size step.',
  });
}

function countOutside(
  lines: readonly DrawingLine[],
  size: { readonly width: Mm; readonly height: Mm },
  log: IssueLog,
  tree: XmlTree,
): void {
  for (const line of lines) {
    let [minX, minY, maxX, maxY] = [line.start.x, line.start.y, line.start.x, line.start.y];
    const reach = (x: number, y: number): void => {
      minX = Math.min(minX, x);
      minY = Math.min(minY, y);
      maxX = Math.max(maxX, x);
      maxY = Math.max(maxY, y);
    };
    for (const s of line.segments) {
      reach(s.to.x, s.to.y);
      if (s.kind === 'cubic') {
        reach(s.c1.x, s.c1.y);
        reach(s.c2.x, s.c2.y);
      }
    }
    if (maxX < 0 || minX > size.width || minY > 0 || maxY < -size.height) {
      log.count('outside-page', tree.root.offset);
    }
  }
}

const tidy = (mm: number): string => String(Math.round(mm * 10) / 10);
