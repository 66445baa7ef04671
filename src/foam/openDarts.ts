/**
 * Relief darts that a person gave a width. The flat panel is as it unfolds; then the two sides of a dart turn about its
 * tip, each by half, until its mouth is as wide as was asked for. So both sides stay equally long, and glued together
 * they pull the panel in (or, narrower than it opens by itself, leave the foam to give).
 */
import type { Issue } from '../base';
import { add, cross, distance, dot, type Point, rotate, subtract } from '../math';
import type { Piece, Seams } from '../model';
import type { Mm, Rad } from '../units';

/** What goes round a flat outline: stretches with the corners that they run between. */
interface Side {
  readonly edge: string;
  readonly startNode: number;
  readonly endNode: number;
}

/** A dart in a flat outline; material to the left of the way in along `inwards`, and of the way out along `outwards`. */
export interface OpenedDart {
  readonly edit: string;
  readonly width: Mm;
  /** Corners from the mouth to before the tip, and from after the tip to the mouth. */
  readonly inwards: readonly number[];
  readonly tip: number;
  readonly outwards: readonly number[];
}

/** Darts with a width, by their two sides meeting at the tip. */
export function dartsRound(loop: readonly Side[], darts: DartSides): OpenedDart[] {
  const n = loop.length;
  const at = (k: number) => loop[((k % n) + n) % n]!;
  const mates = (p: Side, q: Side, edit: string) => {
    const own = darts.get(p.edge);
    return own !== undefined && own.edit === edit && (own.mate === q.edge || p.edge === q.edge);
  };
  return loop.flatMap((side, k): OpenedDart[] => {
    const own = darts.get(side.edge);
    const next = at(k + 1);
    if (!own || own.mate !== next.edge || own.mate === side.edge) return [];
    const inwards: number[] = [];
    const outwards: number[] = [];
    for (let i = 0; 2 * i + 2 <= n && mates(at(k - i), at(k + 1 + i), own.edit); i++) {
      inwards.unshift(at(k - i).startNode);
      outwards.push(at(k + 1 + i).endNode);
    }
    if (inwards.length === 0 || inwards[0] === outwards.at(-1)) return [];
    return [{ edit: own.edit, width: own.width, inwards, tip: side.endNode, outwards }];
  });
}

export type DartSides = ReadonlyMap<
  string,
  { readonly edit: string; readonly mate: string; readonly width: Mm }
>;

/** Edges of darts that have a width of their own. */
export function dartSides({ seams }: Pick<Seams, 'seams'>, scale = 1): DartSides {
  const sides = new Map<string, { edit: string; mate: string; width: Mm }>();
  for (const { a, b, dart } of seams) {
    if (!dart || dart.width === null || a.piece !== b.piece) continue;
    const { edit } = dart;
    const width = dart.width / scale;
    sides.set(a.edge, { edit, mate: b.edge, width });
    sides.set(b.edge, { edit, mate: a.edge, width });
  }
  return sides;
}

/** Widest angle at the tip: beyond it no panel is left beside the dart. */
const widest: Rad = Math.PI / 2;

/**
 * Corners with every dart opened. A dart that would be wider than a right angle at its tip stays as it is; see
 * {@link tooWide}.
 */
export function openDarts(corners: readonly Point[], darts: readonly OpenedDart[]): readonly Point[] {
  if (darts.length === 0) return corners;
  const out = [...corners];
  for (const dart of darts) {
    const turn = turnOf(corners, dart);
    if (turn === null) continue;
    const about = corners[dart.tip]!;
    const move = (node: number, by: Rad) => {
      out[node] = add(about, rotate(subtract(corners[node]!, about), by));
    };
    for (const node of dart.inwards) move(node, -turn / 2);
    for (const node of dart.outwards) move(node, turn / 2);
  }
  return out;
}

/** By how much a dart opens beyond what it opens by itself, as an angle at its tip; null: it would be too wide. */
function turnOf(corners: readonly Point[], dart: OpenedDart): Rad | null {
  const tip = corners[dart.tip]!;
  const a = subtract(corners[dart.inwards[0]!]!, tip);
  const b = subtract(corners[dart.outwards.at(-1)!]!, tip);
  const length = (Math.hypot(a.x, a.y) + Math.hypot(b.x, b.y)) / 2;
  return dartTurn(dart.width, length, Math.atan2(cross(a, b), dot(a, b)));
}

/** The same from the length of its sides and the angle that it opens by itself. */
export function dartTurn(width: Mm, length: Mm, open: Rad): Rad | null {
  const half = width / 2 / length;
  return half <= Math.sin(widest / 2) ? 2 * Math.asin(half) - open : null;
}

/** Width of the mouth as the panel unfolds, + open, − where it would lie on itself. */
export function mouthOf(corners: readonly Point[], { inwards, tip, outwards }: OpenedDart): Mm {
  const [p, q, t] = [corners[inwards[0]!]!, corners[outwards.at(-1)!]!, corners[tip]!];
  return distance(p, q) * (cross(subtract(p, t), subtract(q, t)) < 0 ? -1 : 1);
}

/** A piece made without a shell, its darts opened. Widths of `darts` are at the size of the piece. */
export function openPiece(
  piece: Piece,
  darts: DartSides,
): { readonly piece: Piece; readonly found: readonly FoundDart[] } {
  const loops = [piece.outline, ...piece.holes];
  if (!loops.some((loop) => loop.some((e) => darts.has(e.id)))) return { piece, found: [] };
  let moved = piece;
  const all: FoundDart[] = [];
  loops.forEach((loop, l) => {
    const found = dartsRound(
      loop.map((e, k) => ({ edge: e.id, startNode: k, endNode: (k + 1) % loop.length })),
      darts,
    );
    const corners = loop.map((e) => e.points[0]!);
    const opened = openDarts(corners, found);
    const ends = loop.map((e, k) => {
      const next = (k + 1) % loop.length;
      const start = opened[k] === corners[k] ? e.points[0]! : opened[k]!;
      const end = opened[next] === corners[next] ? e.points.at(-1)! : opened[next]!;
      return { ...e, points: [start, ...e.points.slice(1, -1), end] };
    });
    if (l === 0) moved = { ...moved, outline: ends };
    else moved = { ...moved, holes: moved.holes.map((h, i) => (i === l - 1 ? ends : h)) };
    all.push(...found.map((dart) => ({ dart, corners })));
  });
  return { piece: moved, found: all };
}

/** A dart with the corners that it is told in, before it was opened. */
export interface FoundDart {
  readonly dart: OpenedDart;
  readonly corners: readonly Point[];
}

/** What the maker has to know of darts with a width: what the panel asks for, or that they are too wide. */
export function dartIssues(name: string, piece: Piece, found: readonly FoundDart[], scale: number): Issue[] {
  return found.map(({ dart, corners }): Issue => {
    const asked = mouthOf(corners, dart) * scale;
    const width = dart.width * scale;
    const place = { ids: [piece.id, dart.edit] };
    if (turnOf(corners, dart) === null)
      return {
        code: 'dart-too-wide',
        severity: 'warning',
        stage: 'foam',
        message: `The dart in panel ${name} is ${width.toFixed(1)} mm wide, wider than it is deep allows, so it is left as it opens by itself, ${asked.toFixed(1)} mm.`,
        remedy: 'Make it narrower or deeper in the Panels step.',
        place,
      };
    const pull = width - asked;
    return {
      code: 'dart-width',
      severity: 'note',
      stage: 'foam',
      message: `The dart in panel ${name} is ${width.toFixed(1)} mm wide; by itself it opens ${asked.toFixed(1)} mm. ${pull >= 0 ? `Glued shut it pulls the panel in by ${pull.toFixed(1)} mm at its mouth, and the edge there is that much shorter than what it meets.` : `The foam has to give by ${(-pull).toFixed(1)} mm at its mouth.`}`,
      remedy:
        Math.abs(pull) > pullWorthSaying
          ? 'Where the mouth lies on a seam, place a like dart opposite, or take the width that the panel asks for.'
          : '',
      place,
    };
  });
}

/** A pull that foam takes up along a seam, mm. */
const pullWorthSaying: Mm = 1;
