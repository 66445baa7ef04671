/**
 * CSS selectors: elements, `*`, classes, ids, attributes, the four combinators, `:root`, `:first-child` and
 * `:last-child`. States that a still drawing never has (`:hover` and its like) match nothing.
 * Source: Selectors 4, sections 5 to 15 as far as named; specificity: its section 17.
 */
import type { XmlNode } from './xmlTree';

type AttributeTest = (value: string | undefined) => boolean;

interface Compound {
  readonly tag: string;
  readonly ids: readonly string[];
  readonly classes: readonly string[];
  readonly attributes: readonly { readonly name: string; readonly test: AttributeTest }[];
  readonly places: readonly ('root' | 'first-child' | 'last-child' | 'never')[];
}

type Combinator = ' ' | '>' | '+' | '~';

/** A complex selector, its subject first. `combinator` joins a part to the one before it (to its right in the text). */
export interface Selector {
  readonly parts: readonly { readonly compound: Compound; readonly combinator: Combinator }[];
  readonly specificity: number;
}

const name = String.raw`(?:--|-?(?:[a-zA-Z_\u0080-\uffff]|\\[0-9a-fA-F]{1,6}\s?|\\[^\s0-9a-fA-F]))(?:[\w-]|[\u0080-\uffff]|\\[0-9a-fA-F]{1,6}\s?|\\[^\s0-9a-fA-F])*`;
const tagPattern = new RegExp(String.raw`(?:(${name}|\*)?\|)?(\*|${name})`, 'y');
const partPattern = new RegExp(
  String.raw`\.(${name})|#((?:[\w-]|[\u0080-\uffff]|\\[0-9a-fA-F]{1,6}\s?|\\[^\s0-9a-fA-F])+)` +
    String.raw`|\[\s*(?:(?:${name}|\*)?\|)?(${name})\s*(?:([~|^$*]?=)\s*(?:"([^"]*)"|'([^']*)'|(${name}))\s*([iIsS])?\s*)?\]` +
    '|::?([a-zA-Z-]+)',
  'y',
);
const combinatorPattern = /\s*([>+~])\s*|\s+/y;

const restingStates = new Set([
  'hover',
  'active',
  'focus',
  'visited',
  'target',
  'focus-within',
  'focus-visible',
]);

/** Prefixes declared by `@namespace`, each with whether it stands for SVG. */
export type SelectorPrefixes = ReadonlyMap<string, boolean>;

/**
 * Reads a list of selectors; undefined when any of them is not understood, which voids the rule (Selectors 4, 3.9),
 * as does a prefix that is not declared.
 */
export function readSelectors(text: string, prefixes: SelectorPrefixes): Selector[] | undefined {
  const out: Selector[] = [];
  let at = 0;
  const list = text.trim();
  while (at <= list.length) {
    const read = readOne(list, at, prefixes);
    if (!read) return undefined;
    out.push(read.selector);
    if (read.end >= list.length) return out;
    if (list[read.end] !== ',') return undefined;
    at = read.end + 1;
    while (/\s/.test(list[at] ?? '')) at++;
  }
  return undefined;
}

function readOne(
  text: string,
  start: number,
  prefixes: SelectorPrefixes,
): { selector: Selector; end: number } | undefined {
  const parts: { compound: Compound; combinator: Combinator }[] = [];
  let combinator: Combinator = ' ';
  let specificity = 0;
  let at = start;
  for (;;) {
    const read = readCompound(text, at, prefixes);
    if (!read) return undefined;
    parts.unshift({ compound: read.compound, combinator });
    specificity += read.specificity;
    at = read.end;
    combinatorPattern.lastIndex = at;
    const join = combinatorPattern.exec(text);
    const after = join ? combinatorPattern.lastIndex : at;
    if (after >= text.length || text[after] === ',') {
      if (join?.[1]) return undefined;
      // Each part was stored with the combinator before it in the text, which joins it to the part on its left.
      const shifted = parts.map((p, i) => ({
        compound: p.compound,
        combinator: i === 0 ? (' ' as const) : parts[i - 1]!.combinator,
      }));
      return { selector: { parts: shifted, specificity }, end: after };
    }
    if (!join) return undefined;
    combinator = (join[1] as Combinator | undefined) ?? ' ';
    at = after;
  }
}

function readCompound(
  text: string,
  start: number,
  prefixes: SelectorPrefixes,
): { compound: Compound; specificity: number; end: number } | undefined {
  let at = start;
  let tag = '*';
  tagPattern.lastIndex = at;
  const tagMatch = tagPattern.exec(text);
  let ofSvg = true;
  if (tagMatch) {
    tag = unescapeName(tagMatch[2]!);
    at = tagPattern.lastIndex;
    const prefix = tagMatch[1];
    if (prefix !== undefined && prefix !== '*') {
      const declared = prefixes.get(unescapeName(prefix));
      if (declared === undefined) return undefined;
      ofSvg = declared;
    }
  }
  const compound = {
    tag,
    ids: [] as string[],
    classes: [] as string[],
    attributes: [] as Compound['attributes'][number][],
    places: (ofSvg ? [] : ['never']) as Compound['places'][number][],
  };
  let specificity = tag === '*' ? 0 : 1;
  for (;;) {
    partPattern.lastIndex = at;
    const match = partPattern.exec(text);
    if (!match) break;
    at = partPattern.lastIndex;
    const [, className, id, attribute, operator, double, single, bare, flag, pseudo] = match;
    if (className !== undefined) compound.classes.push(unescapeName(className));
    else if (id !== undefined) compound.ids.push(unescapeName(id));
    else if (attribute !== undefined) {
      const value = double ?? single ?? (bare === undefined ? undefined : unescapeName(bare));
      compound.attributes.push({
        name: unescapeName(attribute),
        test: attributeTest(operator, value, flag?.toLowerCase() === 'i'),
      });
    } else if (pseudo === 'root' || pseudo === 'first-child' || pseudo === 'last-child') {
      compound.places.push(pseudo);
    } else if (restingStates.has(pseudo!)) compound.places.push('never');
    else return undefined;
    specificity += id !== undefined ? 1_000_000 : 1000;
  }
  return at === start ? undefined : { compound, specificity, end: at };
}

function unescapeName(written: string): string {
  return written.replace(/\\(?:([0-9a-fA-F]{1,6})\s?|(.))/g, (_, hex: string | undefined, other: string) =>
    hex === undefined ? other : String.fromCodePoint(Math.min(Number.parseInt(hex, 16), 0x10ffff)),
  );
}

function attributeTest(
  operator: string | undefined,
  written: string | undefined,
  anyCase: boolean,
): AttributeTest {
  if (operator === undefined || written === undefined) return (v) => v !== undefined;
  const wanted = anyCase ? written.toLowerCase() : written;
  const compare = (test: (value: string) => boolean): AttributeTest => {
    return (v) => v !== undefined && test(anyCase ? v.toLowerCase() : v);
  };
  switch (operator) {
    case '=':
      return compare((v) => v === wanted);
    case '~=':
      return compare((v) => wanted !== '' && v.split(/\s+/).includes(wanted));
    case '|=':
      return compare((v) => v === wanted || v.startsWith(`${wanted}-`));
    case '^=':
      return compare((v) => wanted !== '' && v.startsWith(wanted));
    case '$=':
      return compare((v) => wanted !== '' && v.endsWith(wanted));
    default:
      return compare((v) => wanted !== '' && v.includes(wanted));
  }
}

/** What matching asks of elements again and again, worked out once. */
class MatchIndex {
  readonly #classes = new Map<string, readonly string[]>();
  readonly #children = new Map<XmlNode, Children>();

  /** Class names of an element. */
  classes(node: XmlNode): readonly string[] {
    const text = node.attributes.class;
    if (text === undefined) return [];
    let list = this.#classes.get(text);
    if (!list) {
      list = text.split(/\s+/).filter((c) => c !== '');
      this.#classes.set(text, list);
    }
    return list;
  }

  /** Child elements of a parent, and the place of each among them. */
  children(parent: XmlNode): Children {
    let found = this.#children.get(parent);
    if (!found) {
      const list = parent.children.filter((c): c is XmlNode => typeof c !== 'string');
      found = { list, placeOf: new Map(list.map((c, i) => [c, i])) };
      this.#children.set(parent, found);
    }
    return found;
  }
}

interface Children {
  readonly list: readonly XmlNode[];
  readonly placeOf: ReadonlyMap<XmlNode, number>;
}

/** `never`: no ancestor further up can make it match either; this keeps matching from trying every combination. */
type Match = 'yes' | 'no' | 'never';

/** Matches selectors against elements of one file. */
export class SelectorMatcher {
  readonly index = new MatchIndex();
  readonly #count: () => void;

  /** @param count called once per part of a selector that is compared, to bound the work */
  constructor(count: () => void) {
    this.#count = count;
  }

  /**
   * Whether a selector matches an element.
   * @param top the element above which nothing is seen: the root, or the element that a `use` shows (SVG 2, section
   *   5.5.3: the copies stand in a tree of their own); it is `:root` only when it is the document's root
   */
  matches(selector: Selector, node: XmlNode, top: XmlNode): boolean {
    return this.#from(selector, 0, node, top) === 'yes';
  }

  #from(selector: Selector, at: number, n: XmlNode, top: XmlNode): Match {
    if (!this.#fits(selector.parts[at]!.compound, n, top)) return 'no';
    const next = selector.parts[at + 1];
    if (!next) return 'yes';
    switch (next.combinator) {
      case '>': {
        const parent = parentBelow(n, top);
        return parent ? this.#from(selector, at + 1, parent, top) : 'never';
      }
      case '+': {
        const sibling = this.#before(n, top);
        return sibling ? this.#from(selector, at + 1, sibling, top) : 'no';
      }
      case '~':
        for (let s = this.#before(n, top); s; s = this.#before(s, top)) {
          const result = this.#from(selector, at + 1, s, top);
          if (result !== 'no') return result;
        }
        return 'no';
      default:
        for (let p = parentBelow(n, top); p; p = parentBelow(p, top)) {
          const result = this.#from(selector, at + 1, p, top);
          if (result !== 'no') return result;
        }
        return 'never';
    }
  }

  #fits(c: Compound, n: XmlNode, top: XmlNode): boolean {
    this.#count();
    if (c.tag !== '*' && c.tag !== n.name) return false;
    for (const id of c.ids) if (n.attributes.id !== id) return false;
    if (c.classes.length > 0) {
      const own = this.index.classes(n);
      for (const name of c.classes) if (!own.includes(name)) return false;
    }
    for (const { name: attribute, test } of c.attributes) if (!test(n.attributes[attribute])) return false;
    for (const place of c.places) if (!this.#standsAt(place, n, top)) return false;
    return true;
  }

  #standsAt(place: Compound['places'][number], n: XmlNode, top: XmlNode): boolean {
    if (place === 'never') return false;
    if (place === 'root') return n.parent === null;
    const parent = parentBelow(n, top);
    if (!parent) return true;
    const { list } = this.index.children(parent);
    return n === (place === 'first-child' ? list[0] : list[list.length - 1]);
  }

  /** The element before this one under the same parent. */
  #before(n: XmlNode, top: XmlNode): XmlNode | null {
    const parent = parentBelow(n, top);
    if (!parent) return null;
    const { list, placeOf } = this.index.children(parent);
    return list[placeOf.get(n)! - 1] ?? null;
  }
}

const parentBelow = (n: XmlNode, top: XmlNode): XmlNode | null => (n === top ? null : n.parent);
