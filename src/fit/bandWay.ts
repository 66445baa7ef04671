/** Where the try-on band runs: round the inside of the finished shell at the brow, and over the crown. */
import { distance, type Point, type Point3 } from '../math';
import type { Shell, ShellFit } from '../model';
import { ellipseGirth, largestPart, sectionOf } from '../shell';
import type { Mm } from '../units';
import { crownRoom, type HeadFrame, inFrame } from './crown';
import type { FinishedShell } from './finishedShell';
import { browFrame } from './headform';

/** Round the brow, from the back middle over the wearer's right to the front, over the left to the back again. */
export interface BrowWay {
  readonly length: Mm;
  /** Distances along it. */
  readonly right: Mm;
  readonly front: Mm;
  readonly left: Mm;
}

/** From the brow at the front over the crown to the brow at the back. */
export interface CrownWay {
  readonly length: Mm;
  readonly crown: Mm;
  /** Measured along the middle of the inside, or along the dome where a hollow crest or an opening lies above it. */
  readonly along: 'middle' | 'dome';
}

export interface BandWays {
  readonly brow: BrowWay;
  /** Null where the shell is open above the brow. */
  readonly crown: CrownWay | null;
}

/** The ways of the band on a finished shell; null when the section is no round. */
export function bandWays(shell: Shell, fit: ShellFit): BandWays | null {
  const finished = finishedOf(shell, fit);
  const frame = browFrame(finished, fit.insideBrow);
  const ring = fit.insideBrow.loop.points.map((p) => inFrame(frame, p));
  const hull = hullOf(ring);
  const brow = hull && browWay(hull);
  return brow ? { brow, crown: crownWay(finished, frame, fit) } : null;
}

/** What was measured, in the form that the measuring functions take. */
function finishedOf(shell: Shell, { scales, surfaces, insideBrow }: ShellFit): FinishedShell {
  return {
    shell,
    scales,
    plane: insideBrow.plane,
    vectors: [],
    depths: { inside: 0, outside: 0 },
    ...surfaces,
  };
}

/** Corners of the hull, counter-clockwise seen from above (monotone chain, Andrew 1979, from memory). */
function hullOf(points: readonly Point[]): Point[] | null {
  const sorted = [...points].sort((p, q) => p.x - q.x || p.y - q.y);
  const half = (list: readonly Point[]) => {
    const out: Point[] = [];
    for (const p of list) {
      while (out.length >= 2) {
        const a = out.at(-2)!;
        const b = out.at(-1)!;
        if ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) > 0) break;
        out.pop();
      }
      out.push(p);
    }
    return out.slice(0, -1);
  };
  const hull = [...half(sorted), ...half([...sorted].reverse())];
  return hull.length < 3 ? null : hull;
}

/** Distances along the hull of the places straight behind, right, in front and left of the middle. */
function browWay(hull: readonly Point[]): BrowWay | null {
  const starts = [0];
  for (let i = 0; i < hull.length; i++)
    starts.push(starts[i]! + distance(hull[i]!, hull[(i + 1) % hull.length]!));
  const length = starts.at(-1)!;
  const towards = (dx: number, dy: number): Mm | null => {
    for (let i = 0; i < hull.length; i++) {
      const a = hull[i]!;
      const b = hull[(i + 1) % hull.length]!;
      const sideA = dx * a.y - dy * a.x;
      const sideB = dx * b.y - dy * b.x;
      if (!(sideA <= 0 && sideB > 0)) continue;
      const t = sideA / (sideA - sideB);
      const ahead = dx * (a.x + t * (b.x - a.x)) + dy * (a.y + t * (b.y - a.y));
      if (ahead > 0) return starts[i]! + t * (starts[i + 1]! - starts[i]!);
    }
    return null;
  };
  const [back, right, front, left] = [towards(0, -1), towards(1, 0), towards(0, 1), towards(-1, 0)];
  if (back === null || right === null || front === null || left === null) return null;
  const from = (at: Mm) => (((at - back) % length) + length) % length;
  return { length, right: from(right), front: from(front), left: from(left) };
}

/**
 * A middle section that rises so much above the room for a dome runs in a hollow crest, where no head goes.
 */
const hollow = 1.08;

function crownWay(finished: FinishedShell, frame: HeadFrame, { insideBrow }: ShellFit): CrownWay | null {
  const { length, breadth } = insideBrow;
  const height = crownRoom(finished, frame, breadth / 2, length / 2);
  if (height === null) return null;
  const dome: CrownWay = {
    length: ellipseGirth(length, 2 * height) / 2,
    crown: ellipseGirth(length, 2 * height) / 4,
    along: 'dome',
  };
  const top = middleLine(finished, frame);
  if (!top || top.highest > hollow * height) return dome;
  return { length: top.length, crown: top.crown, along: 'middle' };
}

/** The taut line over the middle section above the brow, front to back; null where it does not run through. */
function middleLine(finished: FinishedShell, frame: HeadFrame) {
  const offset =
    frame.right.x * frame.middle.x + frame.right.y * frame.middle.y + frame.right.z * frame.middle.z;
  const { loops } = sectionOf(
    { ...largestPart(finished.shell), vertices: finished.inside },
    { normal: frame.right, offset },
  );
  const line: Point3[] = loops.flatMap((loop) => loop.points.map((p) => inFrame(frame, p)));
  const above = line.filter((p) => p.z > 0);
  if (above.length === 0) return null;
  // The two feet: where the section passes the brow plane, farthest to the front and to the back.
  const feet = loops.flatMap((loop) => {
    const points = loop.points.map((p) => inFrame(frame, p));
    return points.flatMap((p, i): Point[] => {
      const q = points[(i + 1) % points.length]!;
      if ((i + 1 === points.length && !loop.closed) || p.z > 0 === q.z > 0) return [];
      const t = p.z / (p.z - q.z);
      return [{ x: p.y + t * (q.y - p.y), y: 0 }];
    });
  });
  if (feet.length < 2) return null;
  const front = feet.reduce((a, b) => (b.x > a.x ? b : a));
  const back = feet.reduce((a, b) => (b.x < a.x ? b : a));
  const hull = hullOf([front, back, ...above.map((p) => ({ x: p.y, y: p.z }))]);
  if (!hull) return null;
  const start = hull.findIndex((p) => p.x === front.x && p.y === 0);
  if (start < 0) return null;
  let length = 0;
  let crown = 0;
  let highest = 0;
  for (let k = 0; k < hull.length; k++) {
    const p = hull[(start + k) % hull.length]!;
    if (p.y > highest) {
      highest = p.y;
      crown = length;
    }
    if (p.x === back.x && p.y === 0) return { length, crown, highest };
    length += distance(p, hull[(start + k + 1) % hull.length]!);
  }
  return null;
}
