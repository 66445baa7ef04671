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
  const shared: Record<string, unknown> = {};
  for (const key of keys) {
    const item = (next as Readonly<Record<string, unknown>>)[key];
    const was = Object.hasOwn(before, key) ? before[key] : undefined;
    const kept: unknown = shareEqual(was, item);
    if (!Object.hasOwn(before, key) || !Object.is(kept, was)) same = false;
    shared[key] = kept;
  }
  return (same ? previous : shared) as T;
}
