/** The outline of a panel as loops of chains: sides of its faces that nothing holds together. */
import type { Surface } from './surface';

/** Loops of chain numbers, material on the left; the loop of the lowest chain first. */
export function traceLoops(surface: Surface, faces: readonly number[], cut: readonly boolean[]): number[][] {
  const inside = new Set(faces);
  const open = (h: number) => {
    const hinge = surface.chains[surface.chainOf[h]!]!.hinge;
    return hinge < 0 || cut[hinge]! || surface.twin[h]! < 0;
  };
  const next = (h: number) => {
    const f = surface.faceOf[h]!;
    const n = surface.faces[f]!.vertices.length;
    return surface.start[f]! + ((h - surface.start[f]! + 1) % n);
  };
  const done = new Set<number>();
  const loops: number[][] = [];
  for (const f of [...inside].sort((p, q) => p - q)) {
    const n = surface.faces[f]!.vertices.length;
    for (let i = 0; i < n; i++) {
      const first = surface.start[f]! + i;
      // Loops begin where a chain begins, so that none is torn.
      if (!open(first) || done.has(first) || surface.chains[surface.chainOf[first]!]!.first !== i) continue;
      const loop: number[] = [];
      for (let h = first; !done.has(h); ) {
        done.add(h);
        if (loop.at(-1) !== surface.chainOf[h]) loop.push(surface.chainOf[h]!);
        let turn = next(h);
        while (!open(turn)) turn = next(surface.twin[turn]!);
        h = turn;
      }
      if (loop.length > 1 && loop.at(-1) === loop[0]) loop.pop();
      loops.push(loop);
    }
  }
  return loops;
}
