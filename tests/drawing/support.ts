/** Short ways to read a drawing in tests. */
import type { Issue, Outcome } from '../../src/base';
import { type DrawingOptions, readDrawing } from '../../src/drawing';
import type { Drawing, DrawingLine, DrawingText } from '../../src/model';

export const ask: DrawingOptions = { file: 0, size: { kind: 'ask' } };

/** A drawing whose user units are millimetres: 200 × 100, unfilled black lines. */
export const page = (content: string, attributes = ''): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="200mm" height="100mm" viewBox="0 0 200 100" fill="none" stroke="black" stroke-width=".3" ${attributes}>${content}</svg>`;

export const outcomeOf = (svg: string, options: DrawingOptions = ask): Outcome<Drawing> =>
  readDrawing({ name: 'test.svg', svg }, options);

/** Reads a whole file that must be readable. */
export function readFile(svg: string, options: DrawingOptions = ask): Drawing {
  const outcome = outcomeOf(svg, options);
  if (!outcome.ok) throw new Error(outcome.issues.map((i) => `${i.code}: ${i.message}`).join('\n'));
  return outcome.value;
}

/** Reads content on the usual page. */
export const read = (content: string, attributes = ''): Drawing => readFile(page(content, attributes));

export const codes = (result: { readonly issues: readonly Issue[] }): string[] =>
  result.issues.map((i) => i.code);

export function issueOf(result: { readonly issues: readonly Issue[] }, code: string): Issue {
  const found = result.issues.find((i) => i.code === code);
  if (!found) throw new Error(`no issue ${code} among ${codes(result).join(', ')}`);
  return found;
}

export function lineById(drawing: Drawing, elementId: string): DrawingLine {
  const found = drawing.lines.find((l) => l.elementId === elementId);
  if (!found) throw new Error(`no line of #${elementId}`);
  return found;
}

export const lineIds = (drawing: Drawing): string[] => drawing.lines.map((l) => l.elementId);

/** Corners of a line of straight stretches as `x,y` pairs, y down as in the file, rounded to a micrometre. */
export function corners(line: DrawingLine): string {
  const round = (v: number): number => Math.round(v * 1000) / 1000 + 0;
  return [line.start, ...line.segments.map((s) => s.to)].map((p) => `${round(p.x)},${round(-p.y)}`).join(' ');
}

export function textOf(drawing: Drawing, text: string): DrawingText {
  const found = drawing.texts.find((t) => t.text === text);
  if (!found) throw new Error(`no text “${text}” among ${drawing.texts.map((t) => t.text).join(', ')}`);
  return found;
}
