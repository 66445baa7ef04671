/** Several drawings laid side by side as one. */
import { GirthwiseError, type Issue } from '../base';
import type { Point } from '../math';
import type { Drawing, DrawingLine, DrawingSize, DrawingText, Segment } from '../model';
import type { Mm } from '../units';

/** Room between two drawings, mm: more than any line width, little enough to see both. */
const gap: Mm = 20;

/**
 * Places drawings side by side, each page 20 mm right of the one before, top edges in line; content that sticks out
 * of its page sideways makes room for itself. Ids are unique already, since they start with the file number.
 *
 * Where one drawing got its scale from a known length, others that state no size are given the same scale, and an
 * issue says so. The size of the whole counts as unknown while any part is.
 * @throws GirthwiseError when there is no drawing.
 */
export function joinDrawings(drawings: readonly Drawing[]): Drawing {
  const [first] = drawings;
  if (!first) throw new GirthwiseError('no-drawings', 'There must be at least one drawing to join');
  if (drawings.length === 1) return first;
  const sized = withSharedScale(drawings);
  const lines: DrawingLine[] = [];
  const texts: DrawingText[] = [];
  const issues: Issue[] = [];
  let right = 0;
  let height = 0;
  sized.forEach((drawing, i) => {
    const extent = sideways(drawing);
    const dx = i === 0 ? 0 : right + gap - extent.min;
    const moved = dx === 0 ? drawing : mapDrawing(drawing, 1, dx);
    // One by one: a call can't take hundreds of thousands of arguments.
    for (const line of moved.lines) lines.push(line);
    for (const text of moved.texts) texts.push(text);
    for (const issue of moved.issues) issues.push(issue);
    right = extent.max + dx;
    height = Math.max(height, drawing.size.height);
  });
  return { size: { width: right, height, from: weakest(sized) }, lines, texts, issues };
}

function withSharedScale(drawings: readonly Drawing[]): Drawing[] {
  const known = drawings.find((d) => d.size.from.kind === 'knownLength');
  if (known?.size.from.kind !== 'knownLength') return [...drawings];
  const from = known.size.from;
  return drawings.map((drawing) => {
    if (drawing.size.from.kind !== 'none') return drawing;
    const scaled = mapDrawing(drawing, from.factor, 0);
    const open = new Set(['size-unknown', 'known-line-missing']);
    const at = drawing.issues.find((i) => i.code === 'size-unknown')?.place ?? {};
    const issue: Issue = {
      code: 'size-shared',
      severity: 'warning',
      stage: 'drawing',
      message: `This file states no size; it is taken at the same scale as the file with the known length (${Math.round(from.factor * 1e4) / 100} % of 96 units per inch).`,
      remedy: 'Check a length on it: files from different programs may need their own scale.',
      place: at,
    };
    return {
      ...scaled,
      size: { ...scaled.size, from },
      issues: [...scaled.issues.filter((i) => !open.has(i.code)), issue],
    };
  });
}

/** The origin of scale that is least sure. */
function weakest(drawings: readonly Drawing[]): DrawingSize['from'] {
  const order = ['none', 'knownLength', 'perInch', 'physical'] as const;
  const kinds = drawings.map((d) => d.size.from);
  for (const kind of order) {
    const found = kinds.find((k) => k.kind === kind);
    if (found) return found;
  }
  return { kind: 'none' };
}

function sideways(drawing: Drawing): { min: Mm; max: Mm } {
  let min = 0;
  let max = drawing.size.width;
  const reach = (p: Point): void => {
    if (p.x < min) min = p.x;
    if (p.x > max) max = p.x;
  };
  for (const line of drawing.lines) {
    reach(line.start);
    for (const s of line.segments) {
      reach(s.to);
      if (s.kind === 'cubic') {
        reach(s.c1);
        reach(s.c2);
      }
    }
  }
  for (const text of drawing.texts) reach(text.centre);
  return { min, max };
}

/** A drawing scaled about the origin, then moved right by `dx`. */
function mapDrawing(drawing: Drawing, k: number, dx: Mm): Drawing {
  const map = (p: Point): Point => ({ x: p.x * k + dx, y: p.y * k });
  const segment = (s: Segment): Segment =>
    s.kind === 'line'
      ? { kind: 'line', to: map(s.to) }
      : { kind: 'cubic', c1: map(s.c1), c2: map(s.c2), to: map(s.to) };
  const looks = new Map<DrawingLine['style'], DrawingLine['style']>();
  const look = (style: DrawingLine['style']): DrawingLine['style'] => {
    if (k === 1) return style;
    let scaled = looks.get(style);
    if (!scaled) {
      scaled = { ...style, strokeWidth: style.strokeWidth * k, dash: style.dash.map((d) => d * k) };
      looks.set(style, scaled);
    }
    return scaled;
  };
  return {
    size: { ...drawing.size, width: drawing.size.width * k, height: drawing.size.height * k },
    lines: drawing.lines.map((line) => ({
      ...line,
      start: map(line.start),
      segments: line.segments.map(segment),
      style: look(line.style),
    })),
    texts: drawing.texts.map((text) => ({
      ...text,
      at: map(text.at),
      centre: map(text.centre),
      size: text.size * k,
    })),
    issues: drawing.issues.map((issue) =>
      issue.place.at ? { ...issue, place: { ...issue.place, at: map(issue.place.at) } } : issue,
    ),
  };
}
