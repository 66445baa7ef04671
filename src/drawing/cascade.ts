/**
 * Which declarations hold for an element: presentation attributes, then rules by specificity and order, then the
 * `style` attribute, then the important ones (CSS Cascade 4, section 6; presentation attributes come first with
 * specificity 0: SVG 2, section 6.6).
 */
import { type Selector, SelectorMatcher } from './cssSelectors';
import { type CssRule, type Declaration, readDeclarations, readStyleSheet, type Skipped } from './cssSheets';
import type { IssueLog } from './issueLog';
import { type AttributeProperty, type Property, readStyleValue, type StyleValue } from './styleValues';
import type { XmlNode, XmlTree } from './xmlTree';

export type Declared = { readonly [P in Property]?: StyleValue };

const nothing: Declared = Object.freeze({});
const noRules: readonly OrderedRule[] = [];

/** Comparisons of a selector part with an element per file, about a second; a large honest file needs a million. */
const mostComparisons = 5_000_000;

interface OrderedRule {
  readonly selector: Selector;
  readonly declarations: readonly Declaration[];
  readonly order: number;
}

export class Cascade {
  readonly #root: XmlNode;
  readonly #log: IssueLog;
  readonly #matcher = new SelectorMatcher(() => this.#countComparison());
  /** Rules by what their subject must have: an id, a class, an element name, or nothing. */
  readonly #byId = new Map<string, OrderedRule[]>();
  readonly #byClass = new Map<string, OrderedRule[]>();
  readonly #byTag = new Map<string, OrderedRule[]>();
  readonly #anywhere: OrderedRule[] = [];
  readonly #attributeValues = new Map<string, StyleValue | null>();
  readonly #inline = new Map<string, readonly Declaration[]>();
  /** Results inside trees shown by `use`, which may be asked for many times. */
  readonly #shown = new Map<XmlNode, Map<XmlNode, Declared>>();
  /** Results by everything they depend on, where that is no more than the element's own name, class and styles. */
  readonly #alike = new Map<string, Declared>();
  #placesMatter = false;
  #ruleCount = 0;
  #comparisons = 0;

  constructor(tree: XmlTree, log: IssueLog) {
    this.#root = tree.root;
    this.#log = log;
    let order = 0;
    for (const sheet of tree.styleSheets) {
      const type = sheet.attributes.type?.trim().toLowerCase() ?? '';
      const media = sheet.attributes.media?.trim().toLowerCase() ?? '';
      if ((type !== '' && type !== 'text/css') || !/^(?:|all|screen)$/.test(media)) {
        log.count('css-rule-skipped', sheet.offset, type !== '' && type !== 'text/css' ? type : media);
        continue;
      }
      const text = sheet.children.filter((c) => typeof c === 'string').join('');
      for (const rule of readStyleSheet(text, this.#skippedAt(sheet))) this.#addRule(rule, order++);
    }
  }

  /**
   * The declared values of an element.
   * @param top the element above which selectors see nothing (see `SelectorMatcher`)
   */
  declared(node: XmlNode, top: XmlNode): Declared {
    if (!this.#placesMatter) return this.#declaredAlike(node, top);
    if (top === this.#root) return this.#compute(node, top);
    let known = this.#shown.get(top);
    if (!known) {
      known = new Map();
      this.#shown.set(top, known);
    }
    let result = known.get(node);
    if (!result) {
      result = this.#compute(node, top);
      known.set(node, result);
    }
    return result;
  }

  /** Elements that look alike get the same object, which lets their computed styles be shared too. */
  #declaredAlike(node: XmlNode, top: XmlNode): Declared {
    const { attributes, presentation } = node;
    const { class: classes, style, id } = attributes;
    let key = node.name;
    if (classes !== undefined) key += `\u0001${classes}`;
    if (style !== undefined) key += `\u0002${style}`;
    if (id !== undefined && this.#byId.has(id)) key += `\u0003${id}`;
    for (let i = 0; i < presentation.length; i++) key += `\u0004${presentation[i]}`;
    let result = this.#alike.get(key);
    if (!result) {
      result = this.#compute(node, top);
      this.#alike.set(key, result);
    }
    return result;
  }

  #skippedAt(node: XmlNode): Skipped {
    return (kind, example) => this.#log.count(kind, node.offset, example);
  }

  #addRule(rule: CssRule, order: number): void {
    if (rule.declarations.length === 0) return;
    for (const selector of rule.selectors) {
      this.#ruleCount++;
      const { ids, classes, tag, attributes, places } = selector.parts[0]!.compound;
      if (selector.parts.length > 1 || attributes.length > 0 || places.length > 0) this.#placesMatter = true;
      const entry = { selector, declarations: rule.declarations, order };
      if (ids.length > 0) addTo(this.#byId, ids[0]!, entry);
      else if (classes.length > 0) addTo(this.#byClass, classes[0]!, entry);
      else if (tag !== '*') addTo(this.#byTag, tag, entry);
      else this.#anywhere.push(entry);
    }
  }

  #compute(node: XmlNode, top: XmlNode): Declared {
    const out: { [P in Property]?: StyleValue } = {};
    let any = false;
    for (let i = 0; i < node.presentation.length; i += 2) {
      const name = node.presentation[i] as AttributeProperty;
      const value = this.#attributeValue(name, node.presentation[i + 1]!, node);
      if (value) {
        out[name] = value;
        any = true;
      }
    }
    const rules = this.#matching(node, top);
    const inline = this.#inlineOf(node);
    if (rules.length === 0 && inline.length === 0) return any ? out : nothing;
    for (const important of [false, true]) {
      for (const { declarations } of rules) {
        for (const d of declarations) if (d.important === important) out[d.name] = d.value;
      }
      for (const d of inline) if (d.important === important) out[d.name] = d.value;
    }
    return out;
  }

  #attributeValue(name: Property, text: string, node: XmlNode): StyleValue | null {
    const key = `${name}:${text}`;
    let value = this.#attributeValues.get(key);
    if (value === undefined) {
      value = readStyleValue(name, text, false) ?? null;
      this.#attributeValues.set(key, value);
    }
    if (value === null) this.#log.count('css-value-skipped', node.offset, `${name}: ${text}`);
    return value;
  }

  #inlineOf(node: XmlNode): readonly Declaration[] {
    const text = node.attributes.style;
    if (text === undefined || text === '') return [];
    let list = this.#inline.get(text);
    if (!list) {
      list = readDeclarations(text, this.#skippedAt(node));
      this.#inline.set(text, list);
    }
    return list;
  }

  #countComparison(): void {
    if (++this.#comparisons > mostComparisons) {
      this.#log.stop({
        code: 'style-too-heavy',
        message: 'The style sheet of the drawing takes too much work to apply.',
        remedy: 'Save the drawing with plain style attributes instead of a style sheet.',
      });
    }
  }

  /** Rules that match, weakest first. */
  #matching(node: XmlNode, top: XmlNode): readonly OrderedRule[] {
    if (this.#ruleCount === 0) return noRules;
    const found: OrderedRule[] = [];
    const consider = (rules: readonly OrderedRule[] | undefined): void => {
      if (!rules) return;
      for (const rule of rules) {
        if (this.#matcher.matches(rule.selector, node, top)) found.push(rule);
      }
    };
    if (this.#byId.size > 0 && node.attributes.id !== undefined) consider(this.#byId.get(node.attributes.id));
    if (this.#byClass.size > 0) {
      for (const name of new Set(this.#matcher.index.classes(node))) consider(this.#byClass.get(name));
    }
    consider(this.#byTag.get(node.name));
    consider(this.#anywhere);
    if (found.length > 1) {
      found.sort((a, b) => a.selector.specificity - b.selector.specificity || a.order - b.order);
    }
    return found;
  }
}

function addTo(map: Map<string, OrderedRule[]>, key: string, rule: OrderedRule): void {
  const list = map.get(key);
  if (list) list.push(rule);
  else map.set(key, [rule]);
}
