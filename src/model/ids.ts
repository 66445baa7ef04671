import type { Point } from '../math';

/**
 * An id made from where a thing lies on its page, so that it survives changes of role, unit and settings: the
 * position is taken as a part of `reach` (the longer side of all pages together) and rounded to 1/200,000 of it.
 * `taken` collects ids in use; a second thing at the same place gets a suffix, in the order of creation.
 */
export function stableId(prefix: string, at: Point, reach: number, taken: Set<string>): string {
  const grid = 200_000;
  const code = (v: number) =>
    Math.round((v / reach) * grid)
      .toString(36)
      .replace('-', 'm');
  const base = `${prefix}${code(at.x)}.${code(-at.y)}`;
  let id = base;
  for (let n = 2; taken.has(id); n++) id = `${base}.${n}`;
  taken.add(id);
  return id;
}
