/** Small drawings for tests, written as SVG in mm (y down) and read by the project's own reader. */
import { readDrawing } from '../../src/drawing';
import {
  type Drawing,
  defaultDecisions,
  type Pattern,
  type Piece,
  type ReadingDecisions,
} from '../../src/model';
import { readPattern } from '../../src/reading';

/** A page of 300 × 200 mm. The style sheet knows `.cut`, `.m`, `.v`, `.f` and `.thin`, none of which says its role. */
export function sketch(body: string, width = 300, height = 200): Drawing {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}">
<style>
path, rect, line, circle, polygon { fill: none; stroke: #000; stroke-width: 0.5 }
.m { stroke-width: 0.25; stroke-dasharray: 6 1.5 1 1.5 }
.v { stroke-width: 0.25; stroke-dasharray: 4 2 }
.f { stroke-width: 0.25; stroke-dasharray: 2 1 }
.thin { stroke-width: 0.1 }
text { font-size: 3px; text-anchor: middle }
</style>
${body}
</svg>`;
  const outcome = readDrawing({ name: 'sketch.svg', svg }, { file: 0, size: { kind: 'ask' } });
  if (!outcome.ok) throw new Error(outcome.issues.map((i) => i.message).join(' '));
  return outcome.value;
}

export function readSketch(body: string, decisions: Partial<ReadingDecisions> = {}): Pattern {
  return readPattern(sketch(body), { ...defaultDecisions.reading, ...decisions });
}

export const codes = (p: Pattern): string[] => p.issues.map((i) => i.code);

/** Lengths of the outline's edges, rounded to 0.01 mm. */
export const edgeLengths = (piece: Piece): number[] =>
  piece.outline.map((e) => {
    let d = 0;
    for (let i = 1; i < e.points.length; i++)
      d += Math.hypot(e.points[i]!.x - e.points[i - 1]!.x, e.points[i]!.y - e.points[i - 1]!.y);
    return Math.round(d * 100) / 100;
  });
