/**
 * The last result of one stage, kept with the very inputs it was made from. Inputs are compared by identity, so they
 * must be immutable; unchanged parts of a changed document keep their identity (see `shareEqual`).
 */
export interface Memo<T> {
  /** The kept result when all inputs are the same, else `make()`'s, which is kept from then on. */
  recall(inputs: readonly unknown[], make: () => T): T;
  /** The same for work that takes time; nothing is kept when it fails or is cancelled. */
  recallLater(inputs: readonly unknown[], make: () => Promise<T>): Promise<T>;
}

export function createMemo<T>(): Memo<T> {
  let kept: { readonly inputs: readonly unknown[]; readonly result: T } | null = null;
  const same = (inputs: readonly unknown[]) =>
    kept !== null &&
    kept.inputs.length === inputs.length &&
    kept.inputs.every((input, i) => Object.is(input, inputs[i]));
  return {
    recall(inputs, make) {
      if (!kept || !same(inputs)) kept = { inputs, result: make() };
      return kept.result;
    },
    async recallLater(inputs, make) {
      if (kept && same(inputs)) return kept.result;
      const result = await make();
      kept = { inputs, result };
      return result;
    },
  };
}
