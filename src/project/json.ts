/**
 * Reads JSON (RFC 8259) that may be damaged. A sound text goes through the built-in parser; when that refuses, this
 * reader says where the damage is (line and column from 1) and keeps what can still be read: a member that can't be
 * read is dropped and reading goes on with the next line, and what is open at the end of a cut-off text is closed.
 * That works because project files are written one entry a line.
 */

export interface JsonFault {
  readonly line: number;
  readonly column: number;
  /** What is wrong, as the second half of a sentence. */
  readonly what: string;
}

export interface JsonReading {
  /** Undefined when nothing could be read at all. */
  readonly value: unknown;
  readonly faults: readonly JsonFault[];
}

/** A text damaged in more places than this is read no further. */
const faultLimit = 20;
/** Deeper nesting than any project file has; keeps the reader's own stack safe. */
const depthLimit = 100;

class Fault extends Error {
  readonly at: number;
  readonly what: string;
  constructor(at: number, what: string) {
    super(what);
    this.at = at;
    this.what = what;
  }
}

export function readJson(text: string): JsonReading {
  try {
    return { value: JSON.parse(text), faults: [] };
  } catch {
    return new DamagedText(text).read();
  }
}

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

class DamagedText {
  private readonly text: string;
  private at = 0;
  private readonly faults: JsonFault[] = [];
  /** The end of the text was met inside something; said once. */
  private cutOff = false;

  constructor(text: string) {
    this.text = text;
  }

  read(): JsonReading {
    let value: unknown;
    try {
      value = this.value(0);
      this.blank();
      if (this.at < this.text.length) this.note(this.at, 'there is more text after the end');
    } catch (fault) {
      if (!(fault instanceof Fault)) throw fault;
      this.note(fault.at, fault.what);
    }
    return { value, faults: this.faults };
  }

  private note(at: number, what: string): void {
    const before = this.text.slice(0, at);
    const line = before.split('\n').length;
    this.faults.push({ line, column: at - (before.lastIndexOf('\n') + 1) + 1, what });
  }

  private blank(): void {
    while (this.at < this.text.length && ' \t\r\n'.includes(this.text[this.at]!)) this.at++;
  }

  private value(depth: number): unknown {
    if (depth > depthLimit) throw new Fault(this.at, 'it is nested too deeply');
    this.blank();
    const c = this.text[this.at];
    if (c === undefined) throw new Fault(this.at, 'the text ends too early');
    if (c === '{') return this.members(depth);
    if (c === '[') return this.items(depth);
    if (c === '"') return this.string();
    for (const [word, value] of [
      ['true', true] as const,
      ['false', false] as const,
      ['null', null] as const,
    ]) {
      if (this.text.startsWith(word, this.at)) {
        this.at += word.length;
        return value;
      }
    }
    const number = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
    number.lastIndex = this.at;
    const found = number.exec(this.text);
    if (!found) throw new Fault(this.at, `“${c}” does not belong here`);
    this.at += found[0].length;
    return Number(found[0]);
  }

  private members(depth: number): Record<string, unknown> {
    const entries: [string, unknown][] = [];
    this.entries('}', () => {
      if (this.text[this.at] !== '"') throw new Fault(this.at, 'a name in quotes is expected');
      const key = this.string();
      this.blank();
      if (this.text[this.at] !== ':') throw new Fault(this.at, 'a colon is expected');
      this.at++;
      entries.push([key, this.value(depth + 1)]);
    });
    return Object.fromEntries(entries);
  }

  private items(depth: number): unknown[] {
    const items: unknown[] = [];
    this.entries(']', () => {
      items.push(this.value(depth + 1));
    });
    return items;
  }

  /** What stands between an opening bracket and `end`, comma-separated; faults inside are noted and skipped. */
  private entries(end: '}' | ']', entry: () => void): void {
    this.at++;
    /** After the opening bracket and after a skipped fault an entry may follow without a comma. */
    let fresh = true;
    for (;;) {
      this.blank();
      const c = this.text[this.at];
      if (c === undefined) {
        if (!this.cutOff) this.note(this.at, 'the text ends too early');
        this.cutOff = true;
        return;
      }
      if (c === end) {
        this.at++;
        return;
      }
      if (c === '}' || c === ']') {
        // The other bracket: this one was never closed; the container around takes it.
        this.note(this.at, `“${end}” is expected`);
        return;
      }
      if (!fresh || c === ',') {
        if (c === ',') this.at++;
        else this.note(this.at, 'a comma is expected');
        this.blank();
        if (this.text[this.at] === end) {
          this.note(this.at, 'there is a comma too many');
          continue;
        }
      }
      fresh = false;
      try {
        entry();
      } catch (fault) {
        if (!(fault instanceof Fault) || this.faults.length >= faultLimit) throw fault;
        this.note(fault.at, fault.what);
        if (fault.at >= this.text.length) this.cutOff = true;
        const newline = this.text.indexOf('\n', Math.max(fault.at, this.at));
        this.at = newline < 0 || this.cutOff ? this.text.length : newline + 1;
        fresh = true;
      }
    }
  }

  private string(): string {
    const start = this.at++;
    let out = '';
    for (;;) {
      const c = this.text[this.at];
      if (c === undefined) throw new Fault(this.text.length, 'the text ends inside quotes');
      this.at++;
      if (c === '"') return out;
      if (c < ' ') throw new Fault(this.at - 1, 'a line breaks off inside quotes');
      if (c !== '\\') {
        out += c;
        continue;
      }
      const e = this.text[this.at++] ?? '';
      const simple = escapes[e];
      const hex = e === 'u' ? /^[0-9a-fA-F]{4}/.exec(this.text.slice(this.at, this.at + 4)) : null;
      if (simple !== undefined) out += simple;
      else if (hex) {
        out += String.fromCharCode(Number.parseInt(hex[0], 16));
        this.at += 4;
      } else throw new Fault(start, 'a text in quotes has a wrong escape');
    }
  }
}
