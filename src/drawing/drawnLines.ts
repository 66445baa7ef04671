/** Outlines in user units -> lines of the drawing in mm. */
import type { DrawingLine, LineStyle, Segment } from '../model';
import { type Matrix, mapX, mapY } from './matrix';
import type { Subpath } from './outline';
import type { Frame, ReadContext } from './readContext';
import { sameEnd } from './tolerance';
import type { XmlNode } from './xmlTree';

/** Keeps the lines of a file, their number of points and their extent. */
export class LineCollector {
  readonly lines: DrawingLine[] = [];
  minX = Number.POSITIVE_INFINITY;
  minY = Number.POSITIVE_INFINITY;
  maxX = Number.NEGATIVE_INFINITY;
  maxY = Number.NEGATIVE_INFINITY;
  readonly #context: ReadContext;
  #points = 0;

  constructor(context: ReadContext) {
    this.#context = context;
  }

  /**
   * Adds the subpaths of an element. The segments of a closed line lead back to its start.
   * @throws ReadingStopped when the drawing has too many points.
   */
  add(node: XmlNode, frame: Frame, subpaths: readonly Subpath[], style: LineStyle): void {
    const source = this.#context.log.source(node.offset);
    const id = `${this.#context.file}:${frame.through}${node.order}:`;
    const elementId = node.attributes.id ?? '';
    for (let i = 0; i < subpaths.length; i++) {
      const subpath = subpaths[i]!;
      this.#count(subpath, node);
      const start = {
        x: mapX(frame.matrix, subpath.startX, subpath.startY),
        y: mapY(frame.matrix, subpath.startX, subpath.startY),
      };
      const segments = this.#segments(subpath, frame.matrix, start);
      if (!segments) {
        this.#context.log.tell(
          {
            code: 'coordinates-too-large',
            severity: 'error',
            message: `A ${node.name} has coordinates beyond all measure and is left out.`,
            remedy: 'Delete or mend it in your drawing program.',
          },
          node.offset,
        );
        continue;
      }
      this.lines.push({
        id: id + i,
        element: node.name,
        elementId,
        groups: frame.groups,
        start,
        segments,
        closed: subpath.closed,
        style,
        source,
      });
    }
  }

  #count(subpath: Subpath, node: XmlNode): void {
    const { limits, log } = this.#context;
    this.#points += 1 + subpath.coords.length / 2;
    if (this.#points > limits.points) {
      log.stop(
        {
          code: 'too-many-points',
          message: `The drawing has more than ${limits.points} points.`,
          remedy: 'Simplify its curves in your drawing program, or split it into several files.',
        },
        node.offset,
      );
    }
  }

  /** Undefined when a coordinate is not finite. */
  #segments(
    subpath: Subpath,
    m: Matrix,
    start: { readonly x: number; readonly y: number },
  ): Segment[] | undefined {
    const { kinds, coords, closed } = subpath;
    const out: Segment[] = new Array(kinds.length);
    let { x, y } = start;
    let { minX, minY, maxX, maxY } = this;
    const reach = (px: number, py: number): void => {
      if (px < minX) minX = px;
      if (px > maxX) maxX = px;
      if (py < minY) minY = py;
      if (py > maxY) maxY = py;
    };
    reach(x, y);
    let sum = x + y;
    let at = 0;
    for (let i = 0; i < kinds.length; i++) {
      if (kinds[i] === 'line') {
        x = mapX(m, coords[at]!, coords[at + 1]!);
        y = mapY(m, coords[at]!, coords[at + 1]!);
        at += 2;
        out[i] = { kind: 'line', to: { x, y } };
      } else {
        const c1 = this.#point(m, coords, at);
        const c2 = this.#point(m, coords, at + 2);
        x = mapX(m, coords[at + 4]!, coords[at + 5]!);
        y = mapY(m, coords[at + 4]!, coords[at + 5]!);
        at += 6;
        out[i] = { kind: 'cubic', c1, c2, to: { x, y } };
        reach(c1.x, c1.y);
        reach(c2.x, c2.y);
        sum += c1.x + c1.y + c2.x + c2.y;
      }
      sum += x + y;
      reach(x, y);
    }
    if (!Number.isFinite(sum)) return undefined;
    this.minX = minX;
    this.minY = minY;
    this.maxX = maxX;
    this.maxY = maxY;
    if (closed && (x !== start.x || y !== start.y)) {
      const last = out[out.length - 1]!;
      if (Math.hypot(x - start.x, y - start.y) > sameEnd || out.length === 1) {
        out.push({ kind: 'line', to: start });
      } else {
        out[out.length - 1] = { ...last, to: start };
      }
    }
    return out;
  }

  #point(m: Matrix, coords: readonly number[], at: number): { x: number; y: number } {
    return { x: mapX(m, coords[at]!, coords[at + 1]!), y: mapY(m, coords[at]!, coords[at + 1]!) };
  }
}
