/** Page contents as SVG path data, for looking at before printing. Page space: mm, y up; the picture turns y. Pure. */
import type { Point } from '../../../src/math';
import type { Page } from '../../../src/model';

const round = (v: number) => Math.round(v * 100) / 100;

function trace(points: readonly Point[], closed: boolean): string {
  const steps = points.map((p, i) => `${i === 0 ? 'M' : 'L'}${round(p.x)} ${round(p.y)}`);
  return steps.join('') + (closed ? 'Z' : '');
}

export interface KindInk {
  readonly kind: Page['strokes'][number]['kind'];
  readonly path: string;
}

/** All strokes of a page, one path for each kind of line, in order of first use. */
export function strokesByKind(page: Page): KindInk[] {
  const paths = new Map<KindInk['kind'], string[]>();
  for (const stroke of page.strokes) {
    const list = paths.get(stroke.kind) ?? [];
    list.push(trace(stroke.points, stroke.closed));
    paths.set(stroke.kind, list);
  }
  return [...paths].map(([kind, list]) => ({ kind, path: list.join('') }));
}

/** All lettering of a page as one path, to be filled by the non-zero rule. */
export function letteringInk(page: Page): string {
  return page.lettering.flatMap((letter) => letter.rings.map((ring) => trace(ring, true))).join('');
}
