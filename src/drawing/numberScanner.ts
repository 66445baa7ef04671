/**
 * Numbers out of text, one after the other, as path data and point lists write them (SVG 2, section 9.3.9).
 * A number of up to 15 digits is the quotient of two exact doubles, which rounds as the language's own reader does.
 */
const powersOfTen = Array.from({ length: 16 }, (_, k) => 10 ** k);
const mostDigits = 15;

const isSpace = (c: number): boolean => c === 32 || c === 10 || c === 9 || c === 13 || c === 12;
const isDigit = (c: number): boolean => c >= 48 && c <= 57;

export class NumberScanner {
  at = 0;
  readonly text: string;

  constructor(text: string) {
    this.text = text;
  }

  skipSpaces(): void {
    let i = this.at;
    while (isSpace(this.text.charCodeAt(i))) i++;
    this.at = i;
  }

  /** Skips white space with at most one comma in it; says whether there was a comma. */
  skipComma(): boolean {
    this.skipSpaces();
    if (this.text.charCodeAt(this.at) !== 44) return false;
    this.at++;
    this.skipSpaces();
    return true;
  }

  /** True when a number may start here. */
  get startsNumber(): boolean {
    const c = this.text.charCodeAt(this.at);
    return isDigit(c) || c === 43 || c === 45 || c === 46;
  }

  /** The number that starts here; NaN, without moving, when there is none. */
  number(): number {
    const { text } = this;
    const start = this.at;
    let i = start;
    let c = text.charCodeAt(i);
    const negative = c === 45;
    if (negative || c === 43) c = text.charCodeAt(++i);
    let whole = 0;
    let digits = 0;
    let decimals = 0;
    while (isDigit(c)) {
      whole = whole * 10 + (c - 48);
      digits++;
      c = text.charCodeAt(++i);
    }
    if (c === 46) {
      c = text.charCodeAt(++i);
      while (isDigit(c)) {
        whole = whole * 10 + (c - 48);
        digits++;
        decimals++;
        c = text.charCodeAt(++i);
      }
    }
    if (digits === 0) return Number.NaN;
    let exponent = false;
    if (c === 101 || c === 69) {
      let j = i + 1;
      let e = text.charCodeAt(j);
      if (e === 43 || e === 45) e = text.charCodeAt(++j);
      if (isDigit(e)) {
        while (isDigit(e)) e = text.charCodeAt(++j);
        i = j;
        exponent = true;
      }
    }
    let value: number;
    if (exponent || digits > mostDigits) {
      value = Number(text.slice(start, i));
      if (!Number.isFinite(value)) return Number.NaN;
    } else {
      value = whole / powersOfTen[decimals]!;
      if (negative) value = -value;
    }
    this.at = i;
    return value;
  }

  /** A flag of an arc, one character; NaN, without moving, when there is none. */
  flag(): number {
    const c = this.text.charCodeAt(this.at);
    if (c !== 48 && c !== 49) return Number.NaN;
    this.at++;
    return c - 48;
  }
}

/** The number that a whole text is; NaN when it is anything else (a unit, white space around it). */
export function plainNumber(text: string): number {
  const scanner = new NumberScanner(text);
  const value = scanner.number();
  return scanner.at === text.length ? value : Number.NaN;
}
