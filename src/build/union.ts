/** Which of many things hang together (union by halving paths). */
export interface Union<T> {
  /** The thing that stands for the group. */
  find(x: T): T;
  join(a: T, b: T): void;
}

export function createUnion<T>(): Union<T> {
  const parent = new Map<T, T>();
  const find = (x: T): T => {
    let at = x;
    for (let up = parent.get(at); up !== undefined && up !== at; up = parent.get(at)) {
      parent.set(at, parent.get(up) ?? up);
      at = up;
    }
    return at;
  };
  return {
    find,
    join: (a, b) => {
      const [p, q] = [find(a), find(b)];
      if (p !== q) parent.set(q, p);
    },
  };
}
