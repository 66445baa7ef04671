/**
 * Style sheets and `style` attributes -> rules and declarations. @-rules and nested rules are skipped and counted.
 * Source: CSS Syntax 3, section 5 (recovery from errors by skipping to the next `;` or `}` at the same depth).
 */
import { readSelectors, type Selector } from './cssSelectors';
import { isProperty, type Property, readStyleValue, type StyleValue } from './styleValues';

export interface Declaration {
  readonly name: Property;
  readonly value: StyleValue;
  readonly important: boolean;
}

export interface CssRule {
  readonly selectors: readonly Selector[];
  readonly declarations: readonly Declaration[];
}

/** What could not be used, to be counted where it was met. */
export type Skipped = (
  kind: 'css-rule-skipped' | 'css-selector-skipped' | 'css-value-skipped' | 'external-reference',
  example: string,
) => void;

/** Reads a style sheet; errors void the smallest part that CSS says and are passed to `skipped`. */
export function readStyleSheet(source: string, skipped: Skipped): CssRule[] {
  const text = withoutComments(source);
  const rules: CssRule[] = [];
  const prefixes = new Map<string, boolean>();
  let at = 0;
  while (at < text.length) {
    const start = /^(?:\s|<!--|-->)*/.exec(text.slice(at, at + 4096))![0].length;
    if (start > 0) {
      at += start;
      continue;
    }
    if (text[at] === '@') {
      at = skipAtRule(text, at, prefixes, skipped);
      continue;
    }
    const open = findOutside(text, at, '{');
    if (open < 0) {
      skipped('css-rule-skipped', text.slice(at));
      break;
    }
    const close = endOfBlock(text, open);
    const prelude = text.slice(at, open).trim();
    const selectors = readSelectors(prelude, prefixes);
    if (selectors)
      rules.push({ selectors, declarations: readDeclarations(text.slice(open + 1, close), skipped) });
    else skipped('css-selector-skipped', prelude);
    at = close + 1;
  }
  return rules;
}

/** What a shorthand sets. */
const shorthands: { readonly [P in Property]?: readonly Property[] } = {
  font: ['font-size'],
  marker: ['marker-start', 'marker-mid', 'marker-end'],
};

/** Reads the inside of a block, or of a `style` attribute. Properties that don't matter for lines are left out. */
export function readDeclarations(source: string, skipped: Skipped): Declaration[] {
  const text = source.includes('/*') ? withoutComments(source) : source;
  const out: Declaration[] = [];
  let at = 0;
  while (at < text.length) {
    const found = findOutside(text, at, ';');
    const end = found < 0 ? text.length : found;
    const part = text.slice(at, end);
    at = end + 1;
    const match = /^\s*([a-zA-Z-][\w-]*)\s*:([\s\S]*)$/.exec(part);
    if (!match) {
      if (part.includes('{')) skipped('css-rule-skipped', part);
      continue;
    }
    const name = match[1]!.toLowerCase();
    if (/url\(\s*["']?\s*(?:https?:|\/\/|file:|data:)/i.test(match[2]!)) skipped('external-reference', name);
    if (!isProperty(name)) continue;
    const important = /!\s*important\s*$/i.exec(match[2]!);
    const written = important ? match[2]!.slice(0, important.index) : match[2]!;
    const value = readStyleValue(name, written, true);
    if (value) {
      for (const target of shorthands[name] ?? [name]) {
        out.push({ name: target, value, important: important !== null });
      }
    } else skipped('css-value-skipped', `${name}: ${written.trim()}`);
  }
  return out;
}

/** Passes over an @-rule, keeping the prefixes that it may declare. */
function skipAtRule(text: string, at: number, prefixes: Map<string, boolean>, skipped: Skipped): number {
  const keyword = /^@[\w-]*/.exec(text.slice(at, at + 64))![0].toLowerCase();
  const end = findOutside(text, at, ';{');
  const namespace =
    keyword === '@namespace' &&
    /^@namespace\s+([\w-]+)\s+(?:url\(\s*)?["']?([^"')]*)/i.exec(text.slice(at, end < 0 ? undefined : end));
  if (namespace) prefixes.set(namespace[1]!, namespace[2]!.trim() === 'http://www.w3.org/2000/svg');
  if (keyword === '@import') skipped('external-reference', keyword);
  else if (keyword !== '@charset' && keyword !== '@namespace' && keyword !== '@font-face') {
    skipped('css-rule-skipped', keyword);
  }
  if (end < 0) return text.length;
  return (text[end] === '{' ? endOfBlock(text, end) : end) + 1;
}

/** Comments replaced by a space each; comment signs inside strings stay. */
function withoutComments(text: string): string {
  return text.replace(/"(?:[^"\\]|\\[\s\S])*"|'(?:[^'\\]|\\[\s\S])*'|\/\*[\s\S]*?(?:\*\/|$)/g, (part) =>
    part.startsWith('/*') ? ' ' : part,
  );
}

/** Place of the first of the `wanted` characters outside strings and brackets from `at` on; −1 if there is none. */
function findOutside(text: string, at: number, wanted: ';' | '{' | ';{'): number {
  let depth = 0;
  for (let i = at; i < text.length; i++) {
    const c = text[i]!;
    if (depth === 0 && wanted.includes(c)) return i;
    if (c === '"' || c === "'") i = endOfString(text, i);
    else if (c === '\\') i++;
    else if (c === '(' || c === '[' || c === '{') depth++;
    else if ((c === ')' || c === ']' || c === '}') && depth > 0) depth--;
  }
  return -1;
}

/** Place of the `}` that ends the block opened at `open`, or the end of the text. */
function endOfBlock(text: string, open: number): number {
  let depth = 0;
  for (let i = open; i < text.length; i++) {
    const c = text[i]!;
    if (c === '"' || c === "'") i = endOfString(text, i);
    else if (c === '\\') i++;
    else if (c === '{') depth++;
    else if (c === '}' && --depth === 0) return i;
  }
  return text.length;
}

function endOfString(text: string, quote: number): number {
  for (let i = quote + 1; i < text.length; i++) {
    if (text[i] === '\\') i++;
    else if (text[i] === text[quote] || text[i] === '\n') return i;
  }
  return text.length;
}
