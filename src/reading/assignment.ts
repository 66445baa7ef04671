/**
 * The cheapest pairing of two sets: successive shortest augmenting paths with potentials (Kuhn–Munkres in its sparse
 * form, with Dijkstra's search). Items of the first set may stay alone at a price, so nothing is forced together.
 */

export interface PairOption {
  readonly left: number;
  readonly right: number;
  readonly cost: number;
}

/**
 * For each left item the right item it is paired with, or −1. The total of the costs of the pairs, plus `alone` for
 * each unpaired left item, is the least possible. Costs must be 0 or more; pairs that cost more than `alone` are
 * never made. Ties are settled by the order of the options.
 */
export function cheapestPairing(
  leftCount: number,
  rightCount: number,
  options: readonly PairOption[],
  alone: number,
): Int32Array {
  const edges: { right: number; cost: number }[][] = Array.from({ length: leftCount }, () => []);
  for (const o of options) if (o.cost < alone) edges[o.left]!.push({ right: o.right, cost: o.cost });
  // A private right item for each left one stands for staying alone.
  const total = rightCount + leftCount;
  for (let l = 0; l < leftCount; l++) edges[l]!.push({ right: rightCount + l, cost: alone });
  const mateOfLeft = new Int32Array(leftCount).fill(-1);
  const mateOfRight = new Int32Array(total).fill(-1);
  const leftPrice = new Float64Array(leftCount);
  const rightPrice = new Float64Array(total);
  for (let l = 0; l < leftCount; l++) leftPrice[l] = Math.min(...edges[l]!.map((e) => e.cost));
  for (let root = 0; root < leftCount; root++) augment(root);
  return mateOfLeft.map((r) => (r < rightCount ? r : -1));

  function augment(root: number): void {
    const best = new Map<number, number>();
    const from = new Map<number, number>();
    const settled = new Set<number>();
    const visited: { left: number; at: number }[] = [{ left: root, at: 0 }];
    const heap: { right: number; at: number; left: number }[] = [];
    const open = (left: number, at: number) => {
      for (const e of edges[left]!) {
        if (settled.has(e.right)) continue;
        const d = at + Math.max(0, e.cost - leftPrice[left]! - rightPrice[e.right]!);
        const seen = best.get(e.right);
        if (seen !== undefined && seen <= d) continue;
        best.set(e.right, d);
        from.set(e.right, left);
        push(heap, { right: e.right, at: d, left });
      }
    };
    open(root, 0);
    let end = -1;
    let reach = 0;
    while (heap.length > 0) {
      const top = pop(heap);
      if (settled.has(top.right) || best.get(top.right) !== top.at) continue;
      settled.add(top.right);
      reach = top.at;
      const mate = mateOfRight[top.right]!;
      if (mate < 0) {
        end = top.right;
        break;
      }
      visited.push({ left: mate, at: top.at });
      open(mate, top.at);
    }
    // New prices keep all reduced costs at 0 or above, and at 0 along the pairs.
    for (const v of visited) leftPrice[v.left]! += reach - v.at;
    for (const r of settled) if (r !== end) rightPrice[r]! -= reach - best.get(r)!;
    for (let r = end; r >= 0; ) {
      const l = from.get(r)!;
      const before = mateOfLeft[l]!;
      mateOfLeft[l] = r;
      mateOfRight[r] = l;
      r = l === root ? -1 : before;
    }
  }
}

interface HeapItem {
  readonly right: number;
  readonly at: number;
  readonly left: number;
}

function push(heap: HeapItem[], item: HeapItem): void {
  heap.push(item);
  let i = heap.length - 1;
  while (i > 0) {
    const up = (i - 1) >> 1;
    if (heap[up]!.at <= heap[i]!.at) break;
    [heap[up], heap[i]] = [heap[i]!, heap[up]!];
    i = up;
  }
}

function pop(heap: HeapItem[]): HeapItem {
  const top = heap[0]!;
  const last = heap.pop()!;
  if (heap.length > 0) {
    heap[0] = last;
    let i = 0;
    for (;;) {
      const l = 2 * i + 1;
      const r = l + 1;
      let least = i;
      if (l < heap.length && heap[l]!.at < heap[least]!.at) least = l;
      if (r < heap.length && heap[r]!.at < heap[least]!.at) least = r;
      if (least === i) break;
      [heap[least], heap[i]] = [heap[i]!, heap[least]!];
      i = least;
    }
  }
  return top;
}
