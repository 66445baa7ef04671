/**
 * SVG text -> a light tree of elements, by a standard XML parser (saxes) that never touches a page, a network or a
 * file. Names are bound by namespace, so `svg:path` is a path and a foreign element is not.
 *
 * What is inert by construction: scripts and handlers are attributes and text here; external entities and document
 * types are never fetched. Entities of the document type are refused when used, except those that stand for a single
 * character, and plain texts where a namespace name is written (both can't grow the text).
 */
import { SaxesParser } from 'saxes';
import type { CountedKind } from './countedNotes';
import type { IssueLog } from './issueLog';
import type { DrawingLimits } from './limits';
import { isAttributeProperty } from './styleValues';

export interface XmlNode {
  /** Local name; empty for elements outside the SVG namespace. */
  readonly name: string;
  /** By name as written, except that `href` of the XLink namespace is always `xlink:href`. */
  readonly attributes: Readonly<Record<string, string>>;
  /** The presentation attributes among them, in order, as name and value in turn. */
  readonly presentation: readonly string[];
  /** Elements in order; character data only inside text and style elements. */
  readonly children: (XmlNode | string)[];
  readonly parent: XmlNode | null;
  /** Number of the element in document order, the root being 0. */
  readonly order: number;
  /** Place of its “<” in the text. */
  readonly offset: number;
}

export interface XmlTree {
  readonly root: XmlNode;
  /** First element of each `id`. */
  readonly byId: ReadonlyMap<string, XmlNode>;
  readonly styleSheets: readonly XmlNode[];
}

const svgNamespace = 'http://www.w3.org/2000/svg';
const xlinkNamespace = 'http://www.w3.org/1999/xlink';
/** What undeclared prefixes are taken for; others get a name of their own. */
const usualPrefixes: Readonly<Record<string, string>> = {
  svg: svgNamespace,
  xlink: xlinkNamespace,
  xml: 'http://www.w3.org/XML/1998/namespace',
};
const noAttributes: string[] = [];
const predefinedEntities = new Set(['amp', 'lt', 'gt', 'quot', 'apos']);
/** Longest entity text accepted in a namespace name; real ones have under 80 characters. */
const longestNamespace = 256;

/** Elements that are told wherever they stand, since nothing of them is done. */
const inertElements: Readonly<Record<string, CountedKind>> = {
  script: 'script',
  animate: 'animation',
  animateColor: 'animation',
  animateMotion: 'animation',
  animateTransform: 'animation',
  set: 'animation',
};

type Scope = Record<string, string>;

/**
 * Reads the tree of a whole document.
 * @param text the document, without a byte order mark
 * @throws ReadingStopped when it is not well-formed, not SVG, beyond the limits or uses entities.
 */
export function readTree(text: string, limits: DrawingLimits, log: IssueLog): XmlTree {
  const parser = new SaxesParser();
  const byId = new Map<string, XmlNode>();
  const styleSheets: XmlNode[] = [];
  const scopes: Scope[] = [Object.assign(Object.create(null) as Scope, { xml: usualPrefixes.xml })];
  const open: XmlNode[] = [];
  let root: XmlNode | null = null;
  /** The namespace of SVG elements: none at all in documents that declare none. */
  let drawingNamespace = svgNamespace;
  let elements = 0;
  /** Depth in elements whose character data is kept. */
  let keepText = 0;
  /** An entity that was just replaced and must turn out to stand in a namespace name. */
  let pendingEntity: string | null = null;

  const refuseEntity = (name: string): never =>
    log.stop(
      {
        code: 'entities-refused',
        message: `The file defines the entity “${name}” and uses it, which is not allowed here: such texts can grow without bound.`,
        remedy: 'Save the drawing as plain SVG in your drawing program; that writes the text out.',
      },
      parser.position,
    );
  const settleEntity = (): void => {
    if (pendingEntity !== null) refuseEntity(pendingEntity);
  };

  const resolve = (prefix: string, scope: Scope, offset: number): string => {
    const bound = scope[prefix];
    if (bound !== undefined) return bound;
    if (prefix === '') return '';
    log.count('prefix-unbound', offset, prefix);
    return usualPrefixes[prefix] ?? `unbound:${prefix}`;
  };

  parser.on('error', (error) => {
    const detail = error.message.replace(/^\d+:\d+: /, '').replace(/\.$/, '');
    if (/undefined entity/.test(detail) && /<!DOCTYPE[^>]*\[/.test(text.slice(0, parser.position))) {
      log.stop(
        {
          code: 'entities-refused',
          message: 'The file uses an entity that its document type does not define plainly.',
          remedy: 'Save the drawing as plain SVG in your drawing program; that writes the text out.',
        },
        parser.position,
      );
    }
    log.stop(
      {
        code: 'xml-broken',
        message: `The file is not well-formed: ${detail} (line ${parser.line}, column ${parser.column}).`,
        remedy:
          'If the file was cut off or edited by hand, mend it at that place; otherwise save it again from your drawing program.',
      },
      Math.max(0, Math.min(text.length, parser.position) - 1),
    );
  });

  parser.on('doctype', (doctype) => {
    const declared = declaredEntities(doctype);
    if (declared.size === 0) return;
    for (const [name, value] of declared) {
      if (predefinedEntities.has(name)) continue;
      const character = singleCharacter(value);
      if (character !== null) {
        parser.ENTITIES[name] = character;
        continue;
      }
      Object.defineProperty(parser.ENTITIES, name, {
        get: () => {
          if (value === null || value.length > longestNamespace || /[&<%]/.test(value)) refuseEntity(name);
          pendingEntity = name;
          return value;
        },
      });
    }
  });

  // Each attribute is looked at once, here: going through them again for every question is what takes time.
  let presentation: string[] = noAttributes;
  let prefixed = false;
  let declares = false;
  parser.on('attribute', ({ name, value }) => {
    if (pendingEntity !== null) {
      if (name === 'xmlns' || name.startsWith('xmlns:') || name === 'requiredExtensions')
        pendingEntity = null;
      else refuseEntity(pendingEntity);
    }
    if (isAttributeProperty(name)) {
      if (presentation === noAttributes) presentation = [];
      presentation.push(name, value);
      return;
    }
    if (name.startsWith('xmlns')) declares = true;
    else if (name.includes(':')) prefixed = true;
    else if (name.startsWith('on') && /^on[a-z]+$/.test(name))
      log.count('event-handler', parser.position - 1);
  });

  parser.on('processinginstruction', ({ target }) => {
    if (target === 'xml-stylesheet') log.count('external-reference', parser.position - 1, 'xml-stylesheet');
  });

  parser.on('opentag', (tag) => {
    const parent = open.length > 0 ? open[open.length - 1]! : null;
    const offset = text.lastIndexOf('<', parser.position - 1);
    if (++elements > limits.elements) {
      log.stop(
        {
          code: 'too-many-elements',
          message: `The drawing has more than ${limits.elements} elements.`,
          remedy: 'Delete what is not part of the pattern, or split the drawing into several files.',
        },
        offset,
      );
    }
    if (open.length >= limits.nesting) {
      log.stop(
        {
          code: 'nesting-too-deep',
          message: `Elements lie more than ${limits.nesting} deep inside each other.`,
          remedy: 'Ungroup the drawing in your drawing program and save it again.',
        },
        offset,
      );
    }
    let attributes = tag.attributes as Record<string, string>;
    let scope = scopes[scopes.length - 1]!;
    if (declares) {
      scope = Object.create(scope) as Scope;
      for (const name in attributes) {
        if (name === 'xmlns' || name.startsWith('xmlns:')) scope[name.slice(6)] = attributes[name]!.trim();
      }
    }
    const colon = tag.name.indexOf(':');
    const uri = resolve(colon < 0 ? '' : tag.name.slice(0, colon), scope, offset);
    const local = tag.name.slice(colon + 1);
    if (parent === null) {
      if (local === 'svg' && uri === '') {
        drawingNamespace = '';
        log.tell(
          {
            code: 'svg-namespace-missing',
            severity: 'note',
            message: 'The file does not declare the SVG namespace; it is read as SVG all the same.',
            remedy: '',
          },
          offset,
        );
      } else if (local !== 'svg' || uri !== svgNamespace) {
        log.stop(
          {
            code: 'not-svg',
            message: `The file is XML, but its outermost element is “${tag.name}”, not an SVG drawing.`,
            remedy: 'Save or export the pattern as plain SVG and read that file.',
          },
          offset,
        );
      }
    }
    if (prefixed) attributes = withXlinkNames(attributes, (prefix) => resolve(prefix, scope, offset));
    const name = uri === drawingNamespace || uri === svgNamespace ? local : '';
    const node: XmlNode = {
      name,
      attributes,
      presentation,
      children: [],
      parent,
      order: elements - 1,
      offset,
    };
    presentation = noAttributes;
    prefixed = false;
    declares = false;
    if (parent) parent.children.push(node);
    else root = node;
    const id = attributes.id;
    if (id !== undefined && id !== '' && !byId.has(id)) byId.set(id, node);
    if (name === 'style') styleSheets.push(node);
    else if (Object.hasOwn(inertElements, name)) log.count(inertElements[name]!, offset);
    if (keepText > 0 || name === 'text' || name === 'style') keepText++;
    open.push(node);
    scopes.push(scope);
  });

  parser.on('closetag', () => {
    settleEntity();
    if (keepText > 0) keepText--;
    open.pop();
    scopes.pop();
  });

  const onText = (data: string): void => {
    settleEntity();
    if (keepText > 0) open[open.length - 1]!.children.push(data);
  };
  parser.on('text', onText);
  parser.on('cdata', onText);

  parser.write(text).close();
  if (root === null) {
    // The parser reports a missing root by itself; this keeps the type honest.
    return log.stop(
      { code: 'xml-broken', message: 'The file holds no element.', remedy: 'Save it again.' },
      0,
    );
  }
  return { root, byId, styleSheets };
}

/** Attributes with `href` of the XLink namespace under its usual name, whatever prefix the file gives it. */
function withXlinkNames(
  attributes: Record<string, string>,
  resolve: (prefix: string) => string,
): Record<string, string> {
  let out = attributes;
  for (const name in attributes) {
    const colon = name.indexOf(':');
    if (colon <= 0 || name.startsWith('xmlns:')) continue;
    const uri = resolve(name.slice(0, colon));
    if (uri === xlinkNamespace && name.slice(colon + 1) === 'href' && name !== 'xlink:href') {
      if (out === attributes) out = Object.assign(Object.create(null) as Record<string, string>, attributes);
      out['xlink:href'] = attributes[name]!;
    }
  }
  return out;
}

/** General entities that a document type declares; null for those kept in other files. Nothing is expanded. */
function declaredEntities(doctype: string): Map<string, string | null> {
  const out = new Map<string, string | null>();
  const declaration = /<!ENTITY\s+([^\s%"'>]+)\s+(?:"([^"]*)"|'([^']*)'|(?:SYSTEM|PUBLIC)\b)/g;
  for (const [, name, double, single] of doctype.replace(/<!--[\s\S]*?-->/g, '').matchAll(declaration)) {
    // The first declaration of a name counts (XML 1.0, section 4.2).
    if (!out.has(name!)) out.set(name!, double ?? single ?? null);
  }
  return out;
}

/** The character that an entity stands for, if it is one plain character or one reference to a character. */
function singleCharacter(value: string | null): string | null {
  if (value === null) return null;
  const reference = /^&#(?:x([0-9a-fA-F]{1,6})|([0-9]{1,7}));$/.exec(value);
  if (reference) {
    const code = reference[1] ? Number.parseInt(reference[1], 16) : Number.parseInt(reference[2]!, 10);
    if (code === 0x26 || code === 0x3c || code > 0x10ffff || code < 0x20) return null;
    return String.fromCodePoint(code);
  }
  return [...value].length === 1 && !/[&<%]/.test(value) ? value : null;
}
