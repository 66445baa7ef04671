/** Timing for benchmarks. */

const median = (values: number[]) =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

export type Interleave = <K extends string>(
  rounds: number,
  what: Record<K, () => unknown>,
  warmUps?: number,
) => Promise<Record<K, number>>;

/** Median times, ms. Runs the candidates in turn, so that a busy moment of the machine hits all of them. */
export const interleave: Interleave = async <K extends string>(
  rounds: number,
  what: Record<K, () => unknown>,
  warmUps = 2,
) => {
  const times = {} as Record<K, number[]>;
  const names = Object.keys(what) as K[];
  for (const name of names) times[name] = [];
  for (let round = -warmUps; round < rounds; round++) {
    for (const name of names) {
      const start = performance.now();
      await what[name]();
      if (round >= 0) times[name].push(performance.now() - start);
    }
  }
  return Object.fromEntries(names.map((n) => [n, median(times[n])])) as Record<K, number>;
};

/** The exponent k of time ~ size^k: slope of the straight line through the logarithms (least squares). */
export function growth(sizes: readonly number[], times: readonly number[]): number {
  const x = sizes.map(Math.log);
  const y = times.map(Math.log);
  const mean = (list: readonly number[]) => list.reduce((s, v) => s + v, 0) / list.length;
  const [mx, my] = [mean(x), mean(y)];
  const top = x.reduce((s, v, i) => s + (v - mx) * (y[i]! - my), 0);
  return top / x.reduce((s, v) => s + (v - mx) ** 2, 0);
}
