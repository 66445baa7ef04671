/**
 * Structural sharing: `next` with every part that equals the same part of `previous` replaced by that very part, so
 * that "nothing changed here" can be told by identity. Both are plain data (records, arrays, strings, numbers,
 * booleans, null); `next` is not changed. Returns `previous` itself when the two are equal throughout.
 */
export function shareEqual<T>(previous: unknown, next: T): T {
  if (Object.is(previous, next)) return next;
  if (typeof previous !== 'object' || typeof next !== 'object' || previous === null || next === null)
    return next;
  if (Array.isArray(next)) {
    if (!Array.isArray(previous)) return next;
    let same = previous.length === next.length;
    const shared = next.map((item, i) => {
      const kept: unknown = shareEqual(previous[i], item);
      if (!Object.is(kept, previous[i])) same = false;
      return kept;
    });
    return (same ? previous : shared) as T;
  }
  if (Array.isArray(previous)) return next;
  const before = previous as Readonly<Record<string, unknown>>;
  const keys = Object.keys(next);
  let same = Object.keys(before).length === keys.length;
  const shared = keys.map((key): [string, unknown] => {
    const had = Object.hasOwn(before, key);
    const kept: unknown = shareEqual(
      had ? before[key] : undefined,
      (next as Readonly<Record<string, unknown>>)[key],
    );
    if (!had || !Object.is(kept, before[key])) same = false;
    return [key, kept];
  });
  // fromEntries defines each key as an own one, `__proto__` too.
  return (same ? previous : Object.fromEntries(shared)) as T;
}
