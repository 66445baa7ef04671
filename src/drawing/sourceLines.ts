/** Line and column of a place in a text, both from 1; columns count UTF-16 units. CR, LF and CR LF end a line. */
export class SourceLines {
  readonly #starts: readonly number[];

  constructor(text: string) {
    const starts = [0];
    if (text.includes('\r')) {
      for (let i = 0; i < text.length; i++) {
        const code = text.charCodeAt(i);
        if (code === 10 || (code === 13 && text.charCodeAt(i + 1) !== 10)) starts.push(i + 1);
      }
    } else {
      for (let i = text.indexOf('\n'); i >= 0; i = text.indexOf('\n', i + 1)) starts.push(i + 1);
    }
    this.#starts = starts;
  }

  at(offset: number): { line: number; column: number } {
    let low = 0;
    let high = this.#starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.#starts[middle]! <= offset) low = middle;
      else high = middle - 1;
    }
    return { line: low + 1, column: offset - this.#starts[low]! + 1 };
  }
}
