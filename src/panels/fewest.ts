/**
 * Fewest panels that foam can follow: the flattest and shortest seams are joined first, as long as every limit holds;
 * on a mirror-symmetric shell always both halves alike. A greedy search, so "fewest" is what it finds, not a proof.
 */
import type { Work } from '../base';
import { type Block, type Ground, type Joined, leastOpen, normalSum, runEnds, tryJoin } from './block';
import type { Mirror } from './mirror';

interface Pair {
  readonly a: Block;
  readonly b: Block;
  readonly shared: readonly number[];
  /** Σ |bend| · length over what may fold. */
  readonly score: number;
}

/** Stretches of a run that are tried when the whole run does not hold, those that leave the least open first. */
const stretches = 5;

/**
 * @param blocks panels at first
 * @param cut by hinge; not changed
 * @returns hinges to close, in the order of joining, and the panels that come out
 * @throws Cancelled
 */
export async function fewestPanels(
  ground: Ground,
  blocks: readonly Block[],
  cut: readonly boolean[],
  mirror: Mirror | null,
  work: Work,
): Promise<{ readonly closed: readonly number[]; readonly blocks: readonly Block[] }> {
  const state = new State(ground, blocks, cut);
  const first = blocks.length;
  const failed = new Set<string>();
  const closed: number[] = [];
  for (;;) {
    const next = state.pairs().find((p) => !failed.has(keyOf(p.a, p.b)));
    if (!next) break;
    const made = joinBoth(state, next, mirror);
    if (!made) {
      failed.add(keyOf(next.a, next.b));
      continue;
    }
    closed.push(...made);
    await work.step(first - state.blocks.size, first, 'Joining panels');
  }
  return { closed, blocks: [...state.blocks.values()] };
}

const keyOf = (a: Block, b: Block) => `${Math.min(a.key, b.key)} ${Math.max(a.key, b.key)}`;

/** Panels and the hinges between them. */
export class State {
  readonly blocks = new Map<number, Block>();
  readonly ground: Ground;
  readonly open: boolean[];
  private readonly home: number[] = [];
  private count = 0;
  private sorted: Pair[] | null = null;

  constructor(ground: Ground, blocks: readonly Block[], cut: readonly boolean[]) {
    this.ground = ground;
    this.open = [...cut];
    for (const block of blocks) this.put(block);
  }

  private put(block: Block): void {
    this.blocks.set(block.key, block);
    this.count = Math.max(this.count, block.key + 1);
    for (const f of block.faces) this.home[f] = block.key;
    this.sorted = null;
  }

  nextKey(): number {
    return this.count++;
  }

  of(face: number): Block {
    return this.blocks.get(this.home[face]!)!;
  }

  /** Pairs of panels with a seam between them, the flattest and shortest first. */
  pairs(): readonly Pair[] {
    if (this.sorted) return this.sorted;
    const { surface, bends, lengths, limits } = this.ground;
    const found = new Map<string, { a: Block; b: Block; shared: number[]; score: number }>();
    surface.hinges.forEach((hinge, h) => {
      if (!this.open[h]) return;
      const a = this.of(surface.chains[hinge.a]!.face);
      const b = this.of(surface.chains[hinge.b]!.face);
      if (a === b) return;
      const key = keyOf(a, b);
      const pair = found.get(key) ?? {
        a: a.key < b.key ? a : b,
        b: a.key < b.key ? b : a,
        shared: [],
        score: 0,
      };
      pair.shared.push(h);
      if (bends[h]! <= limits.bend) pair.score += bends[h]! * lengths[h]!;
      found.set(key, pair);
    });
    this.sorted = [...found.values()].sort(
      (p, q) => p.score - q.score || p.a.key - q.a.key || p.b.key - q.b.key,
    );
    return this.sorted;
  }

  /** The join of two panels that holds and closes most, or null. */
  attempt(a: Block, b: Block): Joined | null {
    const pair = this.pairs().find((p) => keyOf(p.a, p.b) === keyOf(a, b));
    if (!pair) return null;
    const { ground } = this;
    for (const run of runsAlong(ground, pair.shared)) {
      const whole = tryJoin(ground, pair.a, pair.b, run, pair.shared, this.nextKey());
      if (whole) return whole;
      if (run.length === 1) continue;
      for (const part of leastOpen(ground, pair.a, pair.b, run, pair.shared).slice(0, stretches)) {
        const some = tryJoin(ground, pair.a, pair.b, part, pair.shared, this.nextKey());
        if (some) return some;
      }
    }
    return null;
  }

  take(a: Block, b: Block, { block, closed }: Joined): () => void {
    for (const h of closed) this.open[h] = false;
    this.blocks.delete(a.key);
    this.blocks.delete(b.key);
    this.put(block);
    return () => {
      for (const h of closed) this.open[h] = true;
      this.blocks.delete(block.key);
      this.put(a);
      this.put(b);
    };
  }
}

/** Connected stretches of the hinges that may fold, longest first. */
function runsAlong({ surface, bends, lengths, limits }: Ground, shared: readonly number[]): number[][] {
  const ends = (h: number) => runEnds(surface, h);
  const may = shared.filter((h) => bends[h]! <= limits.bend);
  const done = new Set<number>();
  const runs: number[][] = [];
  for (const h of may) {
    if (done.has(h)) continue;
    const run = [h];
    done.add(h);
    for (let q = 0; q < run.length; q++)
      for (const g of may) {
        if (done.has(g) || !ends(g).some((v) => ends(run[q]!).includes(v))) continue;
        done.add(g);
        run.push(g);
      }
    runs.push(run);
  }
  const length = (run: readonly number[]) => run.reduce((sum, h) => sum + lengths[h]!, 0);
  return runs.sort((p, q) => length(q) - length(p) || p[0]! - q[0]!);
}

/** The panel that is the mirror image of this one, or null. */
function imageOf(state: State, block: Block, mirror: Mirror): Block | null {
  const first = mirror.face[block.faces[0]!]!;
  if (first < 0) return null;
  const image = state.of(first);
  if (image.faces.length !== block.faces.length) return null;
  const inside = new Set(image.faces);
  return block.faces.every((f) => inside.has(mirror.face[f]!)) ? image : null;
}

/** Joins a pair and its mirror image, or neither. Panels without an image are joined alone. */
function joinBoth(state: State, { a, b }: Pair, mirror: Mirror | null): readonly number[] | null {
  const one = state.attempt(a, b);
  if (!one) return null;
  const [imageA, imageB] = mirror ? [imageOf(state, a, mirror), imageOf(state, b, mirror)] : [null, null];
  const undo = state.take(a, b, one);
  if (!mirror || !imageA || !imageB) return one.closed;
  const itself = (imageA === a && imageB === b) || (imageA === b && imageB === a);
  if (itself) {
    const images = new Set(one.closed.map((h) => mirror.hinge[h]!));
    if (one.closed.every((h) => images.has(h))) return one.closed;
    undo();
    return null;
  }
  // A panel across the middle is part of both joins: its other neighbour is joined to what came out.
  const left = imageA === a || imageA === b ? one.block : imageA;
  const right = imageB === a || imageB === b ? one.block : imageB;
  const two = left === right ? null : mirrored(state, left, right, one, mirror);
  if (!two) {
    undo();
    return null;
  }
  state.take(left, right, two);
  return [...one.closed, ...two.closed];
}

/** The image of a join: along the images of its hinges, so that both come out alike. */
function mirrored(state: State, a: Block, b: Block, one: Joined, mirror: Mirror): Joined | null {
  const run = one.closed.map((h) => mirror.hinge[h]!);
  if (run.some((h) => h < 0)) return null;
  const pair = state.pairs().find((p) => keyOf(p.a, p.b) === keyOf(a, b));
  if (!pair || !run.every((h) => pair.shared.includes(h))) return null;
  const two = tryJoin(state.ground, pair.a, pair.b, run, pair.shared, state.nextKey());
  return two && two.closed.length === one.closed.length ? two : null;
}

/** A panel as it is laid out now. */
export function blockOf(ground: Ground, key: number, faces: readonly number[], at: Block['at']): Block {
  return { key, faces, at, normal: normalSum(ground, faces) };
}
