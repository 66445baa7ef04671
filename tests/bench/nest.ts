/**
 * Density of nesting on published strip-packing instances beside the published figures: `npm run bench -- nest FOLDER`.
 * Longest of all with `--seconds 2,10,60 --seeds 1,2,3`: 47 minutes of processor time.
 *
 * FOLDER holds instances as JSON files: {name, strip_height, items: [{demand, allowed_orientations, shape: {data}}]}.
 * They are not part of this project. Time is processor time of this one process, so that a busy machine matters less;
 * a crowded one still does less in a second, which the evaluations per second beside the densities tell.
 * Options after the folder: `--seconds 2,10,60`, `--seeds 1,2,3`, `--only swim,fu`; `--results FILE` keeps every run in
 * a file as it ends, one line each, takes runs that are there already from it, and so goes on where it was broken off.
 *
 * Published best and mean densities: J. Gardeyn, G. Vanden Berghe, T. Wauters, "An open-source heuristic to reboot 2D
 * nesting research", arXiv 2509.13329v1 (2025), tables 2 and 3: best and mean of 100 runs of 20 minutes on 3 threads.
 */
import { appendFileSync, existsSync, readdirSync, readFileSync } from 'node:fs';
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

/** What one run came to: the first layout and the last, densities in %. */
interface Run {
  readonly instance: string;
  readonly budget: number;
  readonly seed: number;
  readonly first: number;
  readonly firstSeconds: number;
  readonly density: number;
  readonly evaluations: number;
}

async function runOne(instance: Instance, budget: number, seed: number): Promise<Run> {
  const first: { density: number; seconds: number }[] = [];
  const end = await nestStrip(
    panelsOf(instance),
    stripHeight,
    { gap: 0, margin: 0, seed, effort: { kind: 'seconds', seconds: budget }, clock: processorClock },
    unwatched,
    (layout) => {
      if (first.length === 0) first.push(layout);
    },
  );
  return {
    instance: instance.name,
    budget,
    seed,
    first: 100 * first[0]!.density,
    firstSeconds: first[0]!.seconds,
    density: 100 * end.density,
    evaluations: end.evaluations,
  };
}

const median = (values: readonly number[]) => {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
};

const mean = (values: readonly number[]) => values.reduce((s, v) => s + v, 0) / values.length;

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
  const results = option('results', '');
  const instances = readdirSync(folder)
    .filter((f) => f.endsWith('.json') && (!only.length || only.includes(f.slice(0, -5))))
    .sort()
    .map((f) => JSON.parse(readFileSync(join(folder, f), 'utf8')) as Instance);
  if (instances.length === 0) throw new Error(`No instances in ${folder}`);

  const lines = results && existsSync(results) ? readFileSync(results, 'utf8').trim().split('\n') : [];
  const runs = lines.filter(Boolean).map((line) => JSON.parse(line) as Run);
  // Seed after seed, so that a run that is broken off has whole columns of fewer seeds.
  for (const seed of seeds)
    for (const budget of seconds)
      for (const instance of instances) {
        if (runs.some((r) => r.instance === instance.name && r.budget === budget && r.seed === seed))
          continue;
        const run = await runOne(instance, budget, seed);
        runs.push(run);
        if (results) appendFileSync(results, `${JSON.stringify(run)}\n`);
      }
  printTable(
    instances.map((i) => i.name),
    seconds,
    runs.filter((r) => seeds.includes(r.seed)),
    seeds,
  );
}

function printTable(
  names: readonly string[],
  seconds: readonly number[],
  runs: readonly Run[],
  seeds: readonly number[],
): void {
  console.log(
    `Strip packing, density in %, median of seeds ${seeds.join(', ')}; seconds are processor time; every layout checked.`,
  );
  const head = ['instance', 'best', 'mean', 'first', 'after s', ...seconds.map((s) => `${s} s`), 'Meval/s'];
  const line = (cells: readonly string[]) =>
    console.log(cells.map((h, k) => (k === 0 ? h.padEnd(10) : h.padStart(8))).join(''));
  line(head);
  const columns: number[][] = [];
  for (const name of names) {
    const mine = runs.filter((r) => r.instance === name);
    const cells = [
      ...(published[name] ?? [Number.NaN, Number.NaN]),
      median(mine.map((r) => r.first)),
      median(mine.map((r) => r.firstSeconds)),
      ...seconds.map((s) => median(mine.filter((r) => r.budget === s).map((r) => r.density))),
      mine.reduce((s, r) => s + r.evaluations, 0) / mine.reduce((s, r) => s + r.budget, 0) / 1e6,
    ];
    columns.push(cells);
    line([name, ...cells.map((v) => v.toFixed(2))]);
  }
  line(['mean', ...head.slice(1).map((_, k) => mean(columns.map((row) => row[k]!)).toFixed(2))]);
}
