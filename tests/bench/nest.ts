/**
 * Density of nesting on published strip-packing instances beside the published figures: `npm run bench -- nest FOLDER`.
 *
 * FOLDER holds instances as JSON files: {name, strip_height, items: [{demand, allowed_orientations, shape: {data}}]}.
 * They are not part of this project. Time is processor time of this one process, so that a busy machine matters less.
 * Options after the folder: `--seconds 2,10,60`, `--seeds 1,2,3`, `--only swim,fu`.
 *
 * Published best and mean densities: J. Gardeyn, G. Vanden Berghe, T. Wauters, "An open-source heuristic to reboot 2D
 * nesting research", arXiv 2509.13329v1 (2025), tables 2 and 3: best and mean of 100 runs of 20 minutes on 3 threads.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { unwatched } from '../../src/base';
import { ringArea } from '../../src/math';
import { type AllowedTurns, type NestPanel, nestStrip } from '../../src/nest';

const published: Readonly<Record<string, readonly [best: number, mean: number]>> = {
  albano: [89.82, 89.47],
  blaz1: [86.23, 84.68],
  dagli: [90.17, 89.26],
  fu: [92.41, 92.24],
  jakobs1: [89.26, 89.09],
  jakobs2: [87.73, 84.77],
  mao: [86.87, 86.14],
  marques: [92.02, 90.93],
  shapes0: [69.98, 68.6],
  shapes1: [76.73, 75.69],
  shirts: [90.92, 89.66],
  swim: [79.83, 78.26],
  trousers: [92.62, 91.73],
};

/** Strips are scaled to this height, mm: about the width of a sheet of foam. */
const stripHeight = 1000;

interface Instance {
  readonly name: string;
  readonly strip_height: number;
  readonly items: readonly {
    readonly demand: number;
    readonly allowed_orientations?: readonly number[];
    readonly shape: { readonly data: readonly (readonly [number, number])[] };
  }[];
}

/** Processor time of this process, seconds. */
export function processorClock(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}

/** @throws when the file does not hold turns that nesting knows */
export function panelsOf(instance: Instance): NestPanel[] {
  const scale = stripHeight / instance.strip_height;
  return instance.items.map((item, k) => {
    const ring = item.shape.data.map(([x, y]) => ({ x: x * scale, y: y * scale }));
    const [first, last] = [ring[0]!, ring[ring.length - 1]!];
    if (first.x === last.x && first.y === last.y) ring.pop();
    if (ringArea(ring) < 0) ring.reverse();
    return {
      id: `${k}`,
      outline: ring,
      holes: [],
      thickness: 5,
      quantity: item.demand,
      turns: turnsOf(item.allowed_orientations),
      mayMirror: false,
      locked: [],
    };
  });
}

function turnsOf(degrees: readonly number[] | undefined): AllowedTurns {
  switch (degrees?.join(',')) {
    case undefined:
      return 'free';
    case '0':
      return 'fixed';
    case '0,180':
      return 'half';
    case '0,90,180,270':
      return 'quarter';
    default:
      throw new Error(`Turns ${degrees?.join(', ')} are not known`);
  }
}

const median = (values: readonly number[]) => {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
};

export async function benchNest(args: readonly string[]): Promise<void> {
  const option = (name: string, otherwise: string) => {
    const at = args.indexOf(`--${name}`);
    return at >= 0 ? (args[at + 1] ?? otherwise) : otherwise;
  };
  const folder = args[0];
  if (!folder || folder.startsWith('--'))
    throw new Error('Name the folder of instances: npm run bench -- nest FOLDER');
  const seconds = option('seconds', '2,10').split(',').map(Number);
  const seeds = option('seeds', '1').split(',').map(Number);
  const only = option('only', '').split(',').filter(Boolean);
  const files = readdirSync(folder).filter(
    (f) => f.endsWith('.json') && (!only.length || only.includes(f.slice(0, -5))),
  );
  if (files.length === 0) throw new Error(`No instances in ${folder}`);

  console.log(
    `Strip packing, density in %, one process, median of seeds ${seeds.join(', ')}; every layout checked.`,
  );
  const head = ['instance', 'best', 'mean', 'first', 'after s', ...seconds.map((s) => `${s} s`), 'Meval/s'];
  console.log(head.map((h, k) => (k === 0 ? h.padEnd(10) : h.padStart(8))).join(''));
  const columns: number[][] = [[], [], [], ...seconds.map(() => [])];
  for (const file of files.sort()) {
    const instance = JSON.parse(readFileSync(join(folder, file), 'utf8')) as Instance;
    const panels = panelsOf(instance);
    const first: { density: number; seconds: number }[] = [];
    let evaluations = 0;
    let spent = 0;
    const results: number[] = [];
    for (const budget of seconds) {
      const ends: number[] = [];
      for (const seed of seeds) {
        let started = false;
        const end = await nestStrip(
          panels,
          stripHeight,
          { gap: 0, margin: 0, seed, effort: { kind: 'seconds', seconds: budget }, clock: processorClock },
          unwatched,
          (layout) => {
            if (!started) first.push(layout);
            started = true;
          },
        );
        ends.push(100 * end.density);
        evaluations += end.evaluations;
        spent += budget;
      }
      results.push(median(ends));
    }
    const [best, mean] = published[instance.name] ?? [Number.NaN, Number.NaN];
    const start = 100 * median(first.map((f) => f.density));
    const row = [best, mean, start, ...results];
    row.forEach((v, k) => {
      columns[k]!.push(v);
    });
    const cells = [
      best,
      mean,
      start,
      median(first.map((f) => f.seconds)),
      ...results,
      evaluations / spent / 1e6,
    ];
    console.log(instance.name.padEnd(10) + cells.map((v) => v.toFixed(2).padStart(8)).join(''));
  }
  const means = columns.map((c) => c.reduce((s, v) => s + v, 0) / c.length);
  console.log(
    `${'mean'.padEnd(10)}${[means[0]!, means[1]!, means[2]!].map((v) => v.toFixed(2).padStart(8)).join('')}${''.padStart(8)}${means
      .slice(3)
      .map((v) => v.toFixed(2).padStart(8))
      .join('')}`,
  );
}
