/**
 * What Chromium makes of an SVG text: runs inside a page, so it must stand on its own. Positions are millimetres from
 * the top-left corner of the outermost element, y down.
 */
export interface MeasuredElement {
  /** Number of the element in document order, the root being 0. */
  order: number;
  name: string;
  id: string;
  /** Something of it is painted. */
  visible: boolean;
  /** Points at equal lengths along it. */
  samples: [number, number][];
  /** left, top, right, bottom of its bounding box, where its axes are the page's. */
  corners: [number, number, number, number] | null;
  /** Length in user units. */
  length: number;
  /** mm in a user unit (square root of the area scale). */
  scale: number;
  /** Lengths scale alike in all directions. */
  similar: boolean;
  largestCoordinate: number;
  stroke: string;
  fill: string;
  strokeWidth: number;
  dash: number[];
  opacity: number;
}

export interface MeasuredUse {
  order: number;
  /** Bounding box in the user units of the use: left, top, right, bottom; null when it shows nothing. */
  box: [number, number, number, number] | null;
  /** Page px -> user units of the use. */
  toUser: { a: number; b: number; c: number; d: number; e: number; f: number };
  scale: number;
}

/** One character of a text that is no white space. */
export interface MeasuredCharacter {
  character: string;
  /** Start on the baseline. */
  start: [number, number];
  /** Middle of its cell. */
  middle: [number, number];
}

export interface MeasuredText {
  order: number;
  id: string;
  characters: MeasuredCharacter[];
}

export interface MeasuredFile {
  error: string;
  elements: MeasuredElement[];
  uses: MeasuredUse[];
  texts: MeasuredText[];
}

export function measureInPage(input: {
  svg: string;
  size: { width: string; height: string } | null;
}): MeasuredFile {
  const mmPerPx = 25.4 / 96;
  const parsed = new DOMParser().parseFromString(input.svg.replace(/^\ufeff/, ''), 'image/svg+xml');
  const trouble = parsed.querySelector('parsererror');
  if (trouble) return { error: trouble.textContent ?? 'not well-formed', elements: [], uses: [], texts: [] };
  const root = document.adoptNode(parsed.documentElement) as unknown as SVGSVGElement;
  root.style.display = 'block';
  if (input.size) {
    root.setAttribute('width', input.size.width);
    root.setAttribute('height', input.size.height);
  }
  document.body.appendChild(root);
  const origin = root.getBoundingClientRect();
  const svgNamespace = 'http://www.w3.org/2000/svg';
  const all = [root, ...Array.from(root.querySelectorAll('*'))] as SVGElement[];

  // Viewports of no size show nothing (looked at in a screenshot), but their elements keep boxes and lengths.
  const withoutSize = (e: Element): boolean => {
    const attribute = e.getAttribute('viewBox');
    const numbers =
      attribute
        ?.trim()
        .split(/[\s,]+/)
        .map(Number) ?? [];
    return (
      numbers[2] === 0 ||
      numbers[3] === 0 ||
      e.getAttribute('width') === '0' ||
      e.getAttribute('height') === '0'
    );
  };
  const alphaOf = (colour: string): number => {
    const parts = /^rgba?\((.*)\)$/.exec(colour)?.[1]?.split(/[\s,/]+/) ?? [];
    return parts.length > 3 ? Number(parts[3]) : 1;
  };
  const hexOf = (paint: string): string => {
    if (paint === 'none') return '';
    if (paint.startsWith('url(')) {
      const id = /#([^"')]+)/.exec(paint)?.[1];
      const there = /url\(["']?#/.test(paint) && id !== undefined && root.querySelector(`#${CSS.escape(id)}`);
      const rest = paint.replace(/^url\([^)]*\)\s*/, '');
      return there ? '#000000' : hexOf(rest === '' ? 'none' : rest);
    }
    const parts = /^rgba?\((.*)\)$/.exec(paint)![1]!.split(/[\s,/]+/);
    return `#${parts
      .slice(0, 3)
      .map((p) => Math.round(Number(p)).toString(16).padStart(2, '0'))
      .join('')}`;
  };
  const paintAlpha = (paint: string): number => {
    const rest = paint.startsWith('url(') ? paint.replace(/^url\([^)]*\)\s*/, '') : paint;
    return rest === '' || rest === 'none' ? 1 : alphaOf(rest);
  };
  const inPx = (text: string, diagonal: number): number =>
    text.endsWith('%') ? (Number.parseFloat(text) / 100) * diagonal : Number.parseFloat(text);

  const elements: MeasuredElement[] = [];
  const uses: MeasuredUse[] = [];
  const texts: MeasuredText[] = [];
  all.forEach((element, order) => {
    if (element.namespaceURI !== svgNamespace) return;
    const name = element.localName;
    if (name === 'use') {
      // Uses inside what is only shown by other uses have no box of their own.
      if (element.closest('defs, symbol, clipPath, mask, marker, pattern')) return;
      const use = element as SVGUseElement;
      const box = use.getBBox();
      const ctm = use.getScreenCTM();
      if (!ctm) return;
      const style = getComputedStyle(use);
      const shown = style.display !== 'none' && !withoutSize(use) && (box.width > 0 || box.height > 0);
      const inverse = DOMMatrix.fromMatrix(ctm).inverse();
      const moved = inverse.multiply(new DOMMatrix([1, 0, 0, 1, origin.left, origin.top]));
      uses.push({
        order,
        box: shown ? [box.x, box.y, box.x + box.width, box.y + box.height] : null,
        toUser: { a: moved.a, b: moved.b, c: moved.c, d: moved.d, e: moved.e, f: moved.f },
        scale: Math.sqrt(Math.abs(ctm.a * ctm.d - ctm.b * ctm.c)) * mmPerPx,
      });
      return;
    }
    if (element instanceof SVGTextElement && element.getNumberOfChars() > 0) {
      const ctm = element.getScreenCTM();
      const own = getComputedStyle(element);
      if (!ctm || (own.fill === 'none' && own.stroke === 'none')) return;
      const at = (p: DOMPoint): [number, number] => {
        const mapped = p.matrixTransform(ctm);
        return [(mapped.x - origin.left) * mmPerPx, (mapped.y - origin.top) * mmPerPx];
      };
      // The characters as laid out: white space collapsed, in the order of the text.
      const written = (element.textContent ?? '').replace(/[ \t\r\n]+/g, ' ').trim();
      const characters: MeasuredCharacter[] = [];
      for (let i = 0; i < element.getNumberOfChars(); i++) {
        if (written[i] === ' ' || written[i] === undefined) continue;
        const cell = element.getExtentOfChar(i);
        characters.push({
          character: written[i]!,
          start: at(DOMPoint.fromPoint(element.getStartPositionOfChar(i))),
          middle: at(new DOMPoint(cell.x + cell.width / 2, cell.y + cell.height / 2)),
        });
      }
      texts.push({ order, id: element.id, characters });
      return;
    }
    if (!(element instanceof SVGGeometryElement)) return;
    const style = getComputedStyle(element);
    let rendered = element.checkVisibility();
    let opacity = 1;
    for (let e: Element | null = element; e && e !== document.body; e = e.parentElement) {
      opacity *= Number(getComputedStyle(e).opacity);
      if (getComputedStyle(e).display === 'none' || (e.localName === 'svg' && withoutSize(e)))
        rendered = false;
      if (e !== element && /^(defs|symbol|clipPath|mask|marker|pattern)$/.test(e.localName)) rendered = false;
    }
    const ctm = element.getScreenCTM();
    const length = element.getTotalLength();
    const viewport = element.viewportElement;
    const view = viewport instanceof SVGSVGElement ? viewport.viewBox.baseVal : null;
    const [w, h] =
      view && view.width > 0
        ? [view.width, view.height]
        : viewport instanceof SVGSVGElement
          ? [viewport.width.baseVal.value, viewport.height.baseVal.value]
          : [0, 0];
    const diagonal = Math.sqrt((w * w + h * h) / 2);
    const m = ctm ?? new DOMMatrix();
    const area = Math.abs(m.a * m.d - m.b * m.c);
    const scale = Math.sqrt(area) * mmPerPx;
    const lineScale = style.vectorEffect === 'non-scaling-stroke' ? mmPerPx : scale;
    const width = inPx(style.strokeWidth, diagonal);
    const strokeAlpha = paintAlpha(style.stroke) * Number(style.strokeOpacity);
    const fillAlpha = paintAlpha(style.fill) * Number(style.fillOpacity);
    const strokeHex = hexOf(style.stroke);
    const fillHex = hexOf(style.fill);
    const stroked = strokeHex !== '' && width > 0 && strokeAlpha > 0;
    const filled = fillHex !== '' && fillAlpha > 0;
    const box = ctm ? element.getBBox() : new DOMRect();
    // Shapes of no width or height are not rendered (SVG 2, sections 10.2 to 10.4), though they have a length here.
    const empty = /^(rect|circle|ellipse)$/.test(name) && !(box.width > 0 && box.height > 0);
    const hasArea = name !== 'line' && box.width > 0 && box.height > 0;
    opacity *= stroked ? strokeAlpha : fillAlpha;
    const dash =
      !stroked || style.strokeDasharray === 'none'
        ? []
        : style.strokeDasharray.split(/\s*,\s*|\s+/).map((d) => inPx(d, diagonal) * lineScale);
    const solid = !dash.some((d) => d > 0);
    const toPage = (x: number, y: number): [number, number] => [
      (m.a * x + m.c * y + m.e - origin.left) * mmPerPx,
      (m.b * x + m.d * y + m.f - origin.top) * mmPerPx,
    ];
    const count = 64;
    const samples: [number, number][] = [];
    let largest = 0;
    if (length > 0) {
      for (let i = 0; i <= count; i++) {
        // The first point stands a hair along, so that a lone move before the line is passed.
        const p = element.getPointAtLength(i === 0 ? length * 1e-5 : (length * i) / count);
        largest = Math.max(largest, Math.abs(p.x), Math.abs(p.y));
        samples.push(toPage(p.x, p.y));
      }
    }
    const [x0, y0] = toPage(box.x, box.y);
    const [x1, y1] = toPage(box.x + box.width, box.y + box.height);
    const straightAxes = Math.abs(m.b) + Math.abs(m.c) < 1e-6 * (Math.abs(m.a) + Math.abs(m.d));
    elements.push({
      order,
      name,
      id: element.id,
      visible:
        rendered &&
        ctm !== null &&
        area > 0 &&
        length > 0 &&
        !empty &&
        style.visibility === 'visible' &&
        opacity > 0 &&
        (stroked || (filled && hasArea)),
      samples,
      corners: straightAxes ? [Math.min(x0, x1), Math.min(y0, y1), Math.max(x0, x1), Math.max(y0, y1)] : null,
      length,
      scale,
      similar:
        Math.abs(Math.hypot(m.a, m.b) - Math.hypot(m.c, m.d)) < 1e-6 * Math.hypot(m.a, m.b) &&
        Math.abs(m.a * m.c + m.b * m.d) < 1e-6 * area,
      largestCoordinate: largest,
      stroke: stroked ? strokeHex : '',
      fill: filled ? fillHex : '',
      strokeWidth: stroked ? width * lineScale : 0,
      dash: solid ? [] : dash.length % 2 === 0 ? dash : [...dash, ...dash],
      opacity,
    });
  });
  return { error: '', elements, uses, texts };
}
