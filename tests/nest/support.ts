import { seededRandom } from '../../src/base';
import type { Point } from '../../src/math';
import type { NestPanel, NestSettings, NestSheet } from '../../src/nest';

/** An outline with lobes and dents, counter-clockwise, about `size` mm across, its lower-left corner near `at`. */
export function blob(seed: number, size: number, vertices: number, at: Point = { x: 0, y: 0 }): Point[] {
  const random = seededRandom(seed);
  const [a, b, c] = [random() * 0.3, random() * 6, 2 + Math.floor(random() * 3)];
  const squash = 0.5 + random() * 0.5;
  return Array.from({ length: vertices }, (_, k) => {
    const angle = (2 * Math.PI * k) / vertices;
    const r = (size / 2) * (1 + a * Math.cos(c * angle + b)) * 0.8;
    return { x: at.x + size / 2 + r * Math.cos(angle), y: at.y + size / 2 + r * squash * Math.sin(angle) };
  });
}

export function panel(id: string, outline: readonly Point[], more: Partial<NestPanel> = {}): NestPanel {
  return {
    id,
    outline,
    holes: [],
    thickness: 5,
    quantity: 1,
    turns: 'quarter',
    mayMirror: false,
    locked: [],
    ...more,
  };
}

export function rectangle(id: string, width: number, height: number, count = 10, thickness = 5): NestSheet {
  return { id, thickness, count, shape: { kind: 'rectangle', width, height } };
}

export const box = (width: number, height: number): Point[] => [
  { x: 0, y: 0 },
  { x: width, y: 0 },
  { x: width, y: height },
  { x: 0, y: height },
];

/** Settings with a budget in evaluations: the same answer on every machine. */
export function settings(evaluations: number, more: Partial<NestSettings> = {}): NestSettings {
  return {
    gap: 3,
    margin: 5,
    seed: 1,
    effort: { kind: 'evaluations', evaluations },
    clock: () => 0,
    ...more,
  };
}
