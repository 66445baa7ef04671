/**
 * Lines that share a look. The key is made of the look alone: stroke, width, dash, class, and the words with a
 * meaning in the names of the layers, groups and the element around the line. It does not depend on other lines.
 */
import type { DrawingLine, LineStyle } from '../model';
import { isPlainLineWord, roleWordsIn, senseIn, type WordSense } from './roleWords';

export interface LookGroup {
  readonly key: string;
  readonly label: string;
  readonly style: LineStyle;
  /** What its names speak of, and the word that says so. */
  readonly named: Naming | null;
  /** Indices of the drawing's lines. */
  readonly lines: readonly number[];
  readonly dashKind: DashKind;
}

export interface Naming {
  readonly sense: WordSense;
  readonly word: string;
}

/** `chain`: long and short dashes in turn; `dots`: dashes hardly longer than wide. */
export type DashKind = 'solid' | 'dashes' | 'chain' | 'dots';

/** Groups in the order of their keys. */
export function lookGroups(lines: readonly DrawingLine[]): LookGroup[] {
  const byKey = new Map<string, number[]>();
  const naming = namer();
  // Lines of one look mostly come one after the other.
  let last: { line: DrawingLine; named: Naming | null; key: string } | null = null;
  lines.forEach((line, i) => {
    const named = naming(line);
    const key: string =
      last && last.named === named && sameStyle(last.line.style, line.style)
        ? last.key
        : lookKey(line, named);
    last = { line, named, key };
    const list = byKey.get(key);
    if (list) list.push(i);
    else byKey.set(key, [i]);
  });
  return [...byKey.entries()]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, members]) => {
      const first = lines[members[0]!]!;
      const dashKind = dashKindOf(first.style);
      return {
        key,
        label: labelOf(first, dashKind, naming(first)),
        style: first.style,
        named: naming(first),
        lines: members,
        dashKind,
      };
    });
}

function sameStyle(a: LineStyle, b: LineStyle): boolean {
  return (
    a.stroke === b.stroke &&
    a.strokeWidth === b.strokeWidth &&
    a.fill === b.fill &&
    a.className === b.className &&
    a.assigned === b.assigned &&
    a.dash.length === b.dash.length &&
    a.dash.every((d, i) => d === b.dash[i])
  );
}

function lookKey(line: DrawingLine, naming: Naming | null): string {
  const s = line.style;
  const ink = s.stroke ? `stroke ${s.stroke} ${rounded(s.strokeWidth)}` : `fill ${s.fill}`;
  const key = [ink, s.dash.map(rounded).join(' '), stableClass(s.className), naming?.word ?? ''].join('|');
  return s.assigned ? `${key}|${s.assigned}` : key;
}

/** Class names that number single elements (`e17`, `piece-3`) are not a look. */
function stableClass(className: string): string {
  return className
    .split(/\s+/)
    .filter(
      (c) =>
        c !== '' && (!/\d$/.test(c) || /^(st|cls-?|style|s|c|l)\d+$/i.test(c) || roleWordsIn([c]).length > 0),
    )
    .map((c) => (roleWordsIn([c]).length > 0 ? c.replace(/[-_]?\d+$/, '') : c))
    .join(' ');
}

/**
 * The line's own class and id speak first, then the groups round it from the inside out. Groups are often named after
 * what they hold ("ridge", "window", "page 2"), so of their names only the plain words for lines count.
 */
function namer(): (line: DrawingLine) => Naming | null {
  const known = new Map<string, Naming | null>();
  const sense = (name: string, plainOnly: boolean): Naming | null => {
    if (name === '') return null;
    const key = `${plainOnly ? 'g' : 'l'}${name}`;
    const seen = known.get(key);
    if (seen !== undefined) return seen;
    const found = senseIn([name]);
    const answer = found && plainOnly && !isPlainLineWord(found.word) ? null : found;
    known.set(key, answer);
    return answer;
  };
  return (line) => {
    const own = sense(line.style.className, false) ?? sense(line.elementId, false);
    if (own) return own;
    for (let i = line.groups.length - 1; i >= 0; i--) {
      const found = sense(line.groups[i]!, true);
      if (found) return found;
    }
    return null;
  };
}

/** Three digits: looks that differ by less are one look written by different transforms. */
const rounded = (v: number): string => String(Number((v + 1e-9).toPrecision(3)));

function labelOf(line: DrawingLine, kind: DashKind, naming: Naming | null): string {
  const s = line.style;
  const look = s.stroke
    ? `${{ solid: 'solid', dashes: 'dashed', chain: 'dash and dot', dots: 'dotted' }[kind]} ${rounded(s.strokeWidth)} mm`
    : 'filled shape without a line';
  const parts = [look];
  const className = stableClass(s.className);
  if (className) parts.push(`class ${className}`);
  if (naming && !className.includes(naming.word)) parts.push(`named ${naming.word}`);
  if (s.stroke && s.stroke !== '#000000') parts.push(s.stroke);
  return parts.join(', ');
}

/** A dash that is at most this many line widths long reads as a dot. */
const dotWidths = 1.6;

export function dashKindOf(style: LineStyle): DashKind {
  const dash = style.dash.length % 2 === 1 ? [...style.dash, ...style.dash] : style.dash;
  if (dash.length < 2 || dash.every((d) => d === 0)) return 'solid';
  const marks = dash.filter((_, i) => i % 2 === 0);
  const longest = Math.max(...marks);
  if (Math.min(...marks) <= 0.6 * longest) return 'chain';
  return longest <= dotWidths * style.strokeWidth && longest < (dash[1] ?? 0) ? 'dots' : 'dashes';
}

/**
 * How alike two looks are, 0 (dash differs) to 1 (same dash, width and colour). The same dash at another scale, as
 * nested transforms make it, counts less.
 */
export function lookLikeness(a: LineStyle, b: LineStyle): number {
  if (dashKindOf(a) !== dashKindOf(b) || a.dash.length !== b.dash.length) return 0;
  const colour = a.stroke === b.stroke ? 0.3 : 0;
  const width = alike(a.strokeWidth, b.strokeWidth) ? 0.3 : 0;
  if (a.dash.every((d, i) => alike(d, b.dash[i]!))) return 0.4 + width + colour;
  const k = b.strokeWidth / a.strokeWidth;
  return a.dash.every((d, i) => alike(d * k, b.dash[i]!)) ? 0.4 + colour : 0;
}

const alike = (p: number, q: number): boolean => Math.abs(p - q) <= 0.08 * Math.max(p, q);
