/**
 * JSON text as a tree in which every value knows where it stands, so that findings can name line and column; the
 * built-in parser keeps no places. Grammar: RFC 8259. Of members with one name the last counts, as in browsers.
 */

export type JsonNode =
  | { readonly kind: 'object'; readonly offset: number; readonly members: ReadonlyMap<string, JsonNode> }
  | { readonly kind: 'array'; readonly offset: number; readonly items: readonly JsonNode[] }
  | { readonly kind: 'string'; readonly offset: number; readonly value: string }
  | { readonly kind: 'number'; readonly offset: number; readonly value: number }
  | { readonly kind: 'boolean'; readonly offset: number; readonly value: boolean }
  | { readonly kind: 'null'; readonly offset: number };

export type JsonObject = Extract<JsonNode, { kind: 'object' }>;
export type JsonArray = Extract<JsonNode, { kind: 'array' }>;

/** What was expected where the text stops being JSON. */
export class JsonFault extends Error {
  readonly offset: number;
  readonly expected: string;
  constructor(offset: number, expected: string) {
    super(`${expected} expected at ${offset}`);
    this.name = 'JsonFault';
    this.offset = offset;
    this.expected = expected;
  }
}

/** How much is read: values inside each other, and values in all. */
export interface JsonLimits {
  readonly nesting: number;
  readonly values: number;
}

/**
 * Reads one JSON value.
 * @throws JsonFault where the text is no JSON or goes beyond the limits.
 */
export function readJson(text: string, limits: JsonLimits): JsonNode {
  const reader = new Reader(text, limits);
  return reader.whole();
}

const numberPattern = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const spacePattern = /[ \t\n\r]*/y;
/** Characters that stand for themselves in a string: no quote, no backslash, nothing below U+0020. */
const plainPattern = /[\u0020\u0021\u0023-\u005b\u005d-\uffff]*/y;
const escapes: Readonly<Record<string, string>> = {
  '"': '"',
  '\\': '\\',
  '/': '/',
  b: '\b',
  f: '\f',
  n: '\n',
  r: '\r',
  t: '\t',
};

class Reader {
  #at = 0;
  #values = 0;

  constructor(
    private readonly text: string,
    private readonly limits: JsonLimits,
  ) {}

  whole(): JsonNode {
    const value = this.value(0);
    this.space();
    if (this.#at < this.text.length) throw new JsonFault(this.#at, 'The end of the file');
    return value;
  }

  private value(depth: number): JsonNode {
    this.space();
    const offset = this.#at;
    if (depth > this.limits.nesting)
      throw new JsonFault(offset, `At most ${this.limits.nesting} levels of brackets`);
    if (++this.#values > this.limits.values)
      throw new JsonFault(offset, `At most ${this.limits.values} values in a file`);
    switch (this.text[offset]) {
      case '{':
        return this.object(offset, depth);
      case '[':
        return this.array(offset, depth);
      case '"':
        return { kind: 'string', offset, value: this.string() };
      case 't':
        this.word('true');
        return { kind: 'boolean', offset, value: true };
      case 'f':
        this.word('false');
        return { kind: 'boolean', offset, value: false };
      case 'n':
        this.word('null');
        return { kind: 'null', offset };
      default:
        return { kind: 'number', offset, value: this.number() };
    }
  }

  private object(offset: number, depth: number): JsonNode {
    const members = new Map<string, JsonNode>();
    this.#at++;
    this.space();
    if (this.take('}')) return { kind: 'object', offset, members };
    for (;;) {
      this.space();
      if (this.text[this.#at] !== '"') throw new JsonFault(this.#at, 'A name in quotes');
      const name = this.string();
      this.space();
      if (!this.take(':')) throw new JsonFault(this.#at, 'A colon');
      members.set(name, this.value(depth + 1));
      this.space();
      if (this.take('}')) return { kind: 'object', offset, members };
      if (!this.take(',')) throw new JsonFault(this.#at, 'A comma or the closing brace');
    }
  }

  private array(offset: number, depth: number): JsonNode {
    const items: JsonNode[] = [];
    this.#at++;
    this.space();
    if (this.take(']')) return { kind: 'array', offset, items };
    for (;;) {
      items.push(this.value(depth + 1));
      this.space();
      if (this.take(']')) return { kind: 'array', offset, items };
      if (!this.take(',')) throw new JsonFault(this.#at, 'A comma or the closing bracket');
    }
  }

  private string(): string {
    this.#at++;
    let out = '';
    for (;;) {
      plainPattern.lastIndex = this.#at;
      const plain = plainPattern.exec(this.text)?.[0] ?? '';
      out += plain;
      this.#at += plain.length;
      if (this.take('"')) return out;
      if (!this.take('\\')) throw new JsonFault(this.#at, 'The closing quote');
      const letter = this.text[this.#at] ?? '';
      const code = letter === 'u' ? this.text.slice(this.#at + 1, this.#at + 5) : '';
      if (letter === 'u' && /^[0-9a-fA-F]{4}$/.test(code)) {
        out += String.fromCharCode(Number.parseInt(code, 16));
        this.#at += 5;
      } else if (Object.hasOwn(escapes, letter)) {
        out += escapes[letter];
        this.#at++;
      } else throw new JsonFault(this.#at, 'A known escape after the backslash');
    }
  }

  private number(): number {
    numberPattern.lastIndex = this.#at;
    const found = numberPattern.exec(this.text)?.[0];
    if (found === undefined) throw new JsonFault(this.#at, 'A value');
    this.#at += found.length;
    return Number(found);
  }

  private word(word: string): void {
    if (!this.text.startsWith(word, this.#at)) throw new JsonFault(this.#at, 'A value');
    this.#at += word.length;
  }

  private space(): void {
    spacePattern.lastIndex = this.#at;
    this.#at += spacePattern.exec(this.text)?.[0].length ?? 0;
  }

  private take(sign: string): boolean {
    if (this.text[this.#at] !== sign) return false;
    this.#at++;
    return true;
  }
}
