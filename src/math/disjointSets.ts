/**
 * Numbers 0 … size − 1 that are put together by pairs: union and find with the least number as the name of a set, and
 * paths that are shortened on the way (standard; from memory).
 */
export class DisjointSets {
  readonly #root: Int32Array;

  constructor(size: number) {
    this.#root = Int32Array.from({ length: size }, (_, i) => i);
  }

  /** The least number of the set of `i`. */
  find(i: number): number {
    let least = i;
    while (this.#root[least] !== least) least = this.#root[least]!;
    for (let at = i; this.#root[at] !== least; ) {
      const next = this.#root[at]!;
      this.#root[at] = least;
      at = next;
    }
    return least;
  }

  join(a: number, b: number): void {
    const p = this.find(a);
    const q = this.find(b);
    if (p !== q) this.#root[Math.max(p, q)] = Math.min(p, q);
  }
}
