/**
 * Unnumbered patterns to match: open shells by seed, size and cut, drawn in several manners and read back with the
 * readers of the product. Members are `tuned` (looked at while the matcher was made) or `held` back from that.
 */
import { readDrawing } from '../../src/drawing';
import { distance, type Point, pointAlong, polylineLength } from '../../src/math';
import { defaultDecisions, type Pattern } from '../../src/model';
import { readPattern } from '../../src/reading';
import { seamIdOf } from '../../src/seams';
import { drawByHand } from '../reading/otherHands';
import {
  bollardPattern,
  drawPattern,
  gannetPattern,
  type OpenShellOptions,
  openShell,
  placePieces,
  shellPattern,
  type Truth,
  withoutNumbers,
} from '../support/harbourWatch';

export interface Member {
  readonly name: string;
  readonly symmetric: boolean;
  readonly held: boolean;
  readonly make: () => Truth;
}

const shell = (
  seed: number,
  faces: number,
  symmetric: boolean,
  net: OpenShellOptions['net'],
  jitter: number,
  held: boolean,
): Member => ({
  name: `${symmetric ? 'sym' : 'asym'} ${faces} ${net} ${jitter} #${seed}`,
  symmetric,
  held,
  make: () =>
    shellPattern(openShell({ seed, faces, symmetric, net, jitter }), {
      seed,
      darts: seed % 2 === 0,
      maxFaces: [12, 8, 16, 20][seed % 4]!,
    }),
});

/** A mirror-symmetric shell whose pieces cross the middle as they come: no piece has a mirror image. */
const acrossMiddle = (seed: number, faces: number, net: OpenShellOptions['net']): Member => ({
  name: `sym ${faces} ${net} across the middle #${seed}`,
  symmetric: true,
  held: false,
  make: () =>
    shellPattern(openShell({ seed, faces, symmetric: true, net, jitter: 0 }), { seed, mirrored: false }),
});

export const members: readonly Member[] = [
  acrossMiddle(121, 250, 'triangles'),
  acrossMiddle(122, 310, 'quads'),
  shell(101, 60, false, 'triangles', 0.12, false),
  shell(102, 160, false, 'mixed', 0, false),
  shell(103, 320, false, 'quads', 0, false),
  shell(104, 480, false, 'triangles', 0.1, false),
  shell(105, 900, false, 'triangles', 0.1, false),
  shell(111, 60, true, 'quads', 0, false),
  shell(112, 160, true, 'mixed', 0, false),
  shell(113, 320, true, 'triangles', 0.1, false),
  shell(114, 480, true, 'triangles', 0, false),
  shell(115, 900, true, 'triangles', 0, false),
  shell(106, 250, false, 'quads', 0, false),
  shell(107, 400, false, 'mixed', 0, false),
  shell(116, 640, true, 'mixed', 0.1, false),
  shell(117, 880, true, 'triangles', 0.05, false),
  shell(118, 260, true, 'quads', 0, false),
  { name: 'Gannet helm', symmetric: true, held: false, make: gannetPattern },
  { name: 'Bollard pauldron', symmetric: true, held: false, make: bollardPattern },
  shell(201, 50, false, 'mixed', 0.1, true),
  shell(202, 125, false, 'triangles', 0.12, true),
  shell(203, 250, false, 'quads', 0, true),
  shell(204, 400, false, 'mixed', 0, true),
  shell(205, 620, false, 'triangles', 0.12, true),
  shell(206, 900, false, 'triangles', 0, true),
  shell(211, 80, true, 'mixed', 0.08, true),
  shell(212, 125, true, 'triangles', 0.1, true),
  shell(213, 260, true, 'quads', 0, true),
  shell(214, 310, true, 'mixed', 0, true),
  shell(215, 480, true, 'triangles', 0.05, true),
  shell(216, 640, true, 'mixed', 0.1, true),
  shell(217, 880, true, 'triangles', 0, true),
];

export type DrawnAs = 'clean' | 'loose' | 'stacked' | 'tabs' | 'plain';
export const drawnAs: readonly DrawnAs[] = ['clean', 'loose', 'stacked', 'tabs', 'plain'];

export interface Drawn {
  readonly pattern: Pattern;
  /** Seams that the shell has, by seam id over edges as read. */
  readonly seams: readonly string[];
}

/** Draws without numbers and reads back. `loose`: ends off by 0.02 mm, no fold signs. */
export function drawn(flat: Truth, manner: DrawnAs): Drawn {
  let svg: string;
  let truth: Truth;
  if (manner === 'loose') {
    truth = placePieces(withoutNumbers(flat), {
      width: 900,
      height: null,
      margin: 12,
      head: 0,
      pageGap: 20,
      loose: true,
      seed: 5,
    });
    svg = drawByHand(truth, { strokes: 'segments', noise: 0.02, doubles: 0.03, foldSigns: false, seed: 5 });
  } else
    ({ svg, truth } = drawPattern(flat, {
      manner: manner === 'tabs' ? 'inch' : manner,
      numbers: 'none',
      ...(manner === 'stacked' ? { foldSigns: false } : {}),
    }));
  const read = readDrawing({ name: 'drawn', svg }, { file: 0, size: { kind: 'perInch', value: 96 } });
  if (!read.ok) throw new Error(read.issues.map((i) => i.message).join(' '));
  const pattern = readPattern(read.value, defaultDecisions.reading);
  return { pattern, seams: seamsAsRead(truth, pattern) };
}

const middle = (points: readonly Point[]): Point => pointAlong(points, polylineLength(points) / 2).at;

/** Seams of the truth over the edges as read: each true edge is looked up by the place of its middle. */
function seamsAsRead(truth: Truth, pattern: Pattern): string[] {
  const segments = pattern.pieces.flatMap((p) =>
    [p.outline, ...p.holes]
      .flat()
      .flatMap((e) => e.points.slice(1).map((q, i) => ({ id: e.id, p: e.points[i]!, q }))),
  );
  const readEdge = new Map<string, string>();
  for (const piece of truth.pieces)
    for (const e of piece.outline) {
      const m = middle(e.points);
      for (const s of segments) {
        const d = { x: s.q.x - s.p.x, y: s.q.y - s.p.y };
        const l2 = d.x * d.x + d.y * d.y;
        const t = Math.min(1, Math.max(0, ((m.x - s.p.x) * d.x + (m.y - s.p.y) * d.y) / l2));
        if (distance(m, { x: s.p.x + t * d.x, y: s.p.y + t * d.y }) < 0.1) readEdge.set(e.id, s.id);
      }
    }
  const out = new Set<string>();
  for (const [a, b] of truth.mates) {
    const [p, q] = [readEdge.get(a), readEdge.get(b)];
    // A mate that was not read at all still counts as a seam to be found.
    out.add(seamIdOf(p ?? `missing ${a}`, q ?? `missing ${b}`));
  }
  return [...out];
}
