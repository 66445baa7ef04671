/** Panels of a step lying flat side by side, where there is no shell to show them on: their seams or their edge lit. */
import { boxOf, type Point } from '../math';
import type { BuildStep, FoamResult, Panel } from '../model';
import type { PictureStroke, StepPicture } from './stepPicture';

/** Room between panels, as a part of the larger side of the largest one. */
const apart = 0.12;

export function flatPicture({ adds, runs }: BuildStep, { panels }: FoamResult): StepPicture {
  const ids = new Set([...adds, ...runs.flatMap((r) => r.panels)]);
  const own = panels.filter((p) => ids.has(p.id) && p.outlines.traced.length > 0);
  const seams = new Set(runs.flatMap((r) => r.seams));
  const boxes = own.map((p) => boxOf(p.outlines.traced.flat()));
  const cell = Math.max(0, ...boxes.flatMap((b) => [b.maxX - b.minX, b.maxY - b.minY])) * (1 + apart);
  const perRow = Math.ceil(Math.sqrt(own.length));
  const rows = Math.ceil(own.length / Math.max(1, perRow));
  const strokes: PictureStroke[] = [];
  let [width, height] = [0, 0];
  own.forEach((panel, i) => {
    const box = boxes[i]!;
    const left = (i % perRow) * cell;
    const bottom = (rows - 1 - Math.floor(i / perRow)) * cell;
    const move = (p: Point): Point => ({ x: p.x - box.minX + left, y: p.y - box.minY + bottom });
    strokes.push(...strokesOf(panel, seams).map((s) => ({ ...s, from: move(s.from), to: move(s.to) })));
    width = Math.max(width, left + box.maxX - box.minX);
    height = Math.max(height, bottom + box.maxY - box.minY);
  });
  const part = own.length > 0 && own.every((p) => p.extra);
  return { width, height, strokes, shows: part ? 'part' : 'panels', broken: null };
}

/** Seams of the step are lit; with none, the outline. */
function strokesOf({ outlines, loops, folds, guides }: Panel, seams: ReadonlySet<string>): PictureStroke[] {
  const glued = loops.flat().filter((e) => e.seam !== null && seams.has(e.seam));
  const closed = (ring: readonly Point[]) => [...ring, ...ring.slice(0, 1)];
  return [
    ...outlines.traced.flatMap((ring) => drawn(closed(ring), 'rim', glued.length === 0)),
    ...folds.flatMap((f) => drawn(f.points, 'flat', false)),
    ...(guides ?? []).flatMap((g) => drawn(g.closed ? closed(g.points) : g.points, 'flat', false)),
    ...glued.flatMap((e) => drawn(e.points, 'seam', true)),
  ];
}

const drawn = (line: readonly Point[], kind: PictureStroke['kind'], lit: boolean): PictureStroke[] =>
  line.slice(1).map((to, i) => ({ kind, from: line[i]!, to, id: '', lit }));
