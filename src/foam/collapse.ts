/**
 * Where the foam folds over itself: an edge or a face of a panel that is gone before its skin is reached, at a sharp
 * concave fold or a part thinner than the foam, and what would help. Places go with the depth in straight lines, so an
 * edge is gone where its length along itself is nought (`collapseDepths`), a face where its area is: a root of a
 * quadratic.
 */
import type { Issue } from '../base';
import { add3, cross3, distance3, dot3, type Point, type Point3, point3, scaleBy, subtract3 } from '../math';
import type { FoamDecisions, MarkDecisions, Piece } from '../model';
import { collapseWarning } from '../shell';
import { formatLength, type Mm } from '../units';
import { panelFoam } from './edgeRules';
import type { NeutralPiece } from './neutralPieces';
import type { FoamNet } from './surface';

/** The edge or face of a panel that a skin uses up most. */
interface UsedPart {
  readonly what: 'edge' | 'face';
  /** Depth of the skin in parts of the depth at which it is gone; 1 and more: it is gone. */
  readonly used: number;
  /** Length of the edge, least height of the face, on the paper's surface. */
  readonly size: Mm;
  /** Where it lies on the flat panel. */
  readonly at: Point;
  /** Fold, seam or edge; face. */
  readonly id: string;
}

type Skin = 'inside' | 'outside';

/** @param depth of the skin, + outward; null where nothing is used up to more than `collapseWarning` */
function mostUsed(net: FoamNet, { faces, corners }: NeutralPiece, depth: Mm): UsedPart | null {
  let worst: UsedPart | null = null;
  const take = (part: () => UsedPart, used: number) => {
    if (used > collapseWarning && used > (worst?.used ?? 0)) worst = part();
  };
  for (const { patch, ring } of faces) {
    const flat = ring.map((node) => corners[node]!);
    for (const { from, to, corner, id } of net.sides[patch]!) {
      const used = depth / net.goneAt(from, to);
      const at = middleOf([flat[corner]!, flat[(corner + 1) % flat.length]!]);
      const size = distance3(net.places[from]!, net.places[to]!);
      take(() => ({ what: 'edge', used, size, at, id }), used);
    }
    const { vertices, face } = net.patches[patch]!;
    const used = depth / faceGone(net, vertices, net.normals[patch]!, Math.sign(depth));
    take(
      () => ({ what: 'face', used, size: leastHeight(net, vertices, patch), at: middleOf(flat), id: face }),
      used,
    );
  }
  return worst;
}

const middleOf = (points: readonly Point[]): Point =>
  scaleBy(
    points.reduce((sum, p) => ({ x: sum.x + p.x, y: sum.y + p.y }), { x: 0, y: 0 }),
    1 / points.length,
  );

/** Twice the area vector of a fan that moves by `vectors` times the depth, in powers of the depth, along a normal. */
function areaPowers(net: FoamNet, vertices: readonly number[], normal: Point3): [number, number, number] {
  let sums = [point3(0, 0, 0), point3(0, 0, 0), point3(0, 0, 0)];
  for (let i = 1; i + 1 < vertices.length; i++) {
    const side = (k: number, of: readonly Point3[]) => subtract3(of[vertices[k]!]!, of[vertices[0]!]!);
    const [p, q] = [side(i, net.places), side(i + 1, net.places)];
    const [u, v] = [side(i, net.vectors), side(i + 1, net.vectors)];
    const more = [cross3(p, q), add3(cross3(p, v), cross3(u, q)), cross3(u, v)];
    sums = sums.map((sum, k) => add3(sum, more[k]!));
  }
  return sums.map((sum) => dot3(sum, normal)) as [number, number, number];
}

/** Depth at which a face has no area left on its way in (−1) or out (+1); infinite where it keeps some. */
function faceGone(net: FoamNet, vertices: readonly number[], normal: Point3, way: number): Mm {
  const [c, b, a] = areaPowers(net, vertices, normal);
  const roots =
    a === 0 ? [-c / b] : [-1, 1].map((s) => (-b + s * Math.sqrt(Math.max(0, b * b - 4 * a * c))) / (2 * a));
  if (b * b < 4 * a * c) return way * Number.POSITIVE_INFINITY;
  const ahead = roots.map((d) => d * way).filter((d) => d > 0);
  return way * Math.min(Number.POSITIVE_INFINITY, ...ahead);
}

function leastHeight(net: FoamNet, vertices: readonly number[], patch: number): Mm {
  const [twice] = areaPowers(net, vertices, net.normals[patch]!);
  const sides = vertices.map((v, i) =>
    distance3(net.places[v]!, net.places[vertices[(i + 1) % vertices.length]!]!),
  );
  return twice / Math.max(...sides);
}

/**
 * One finding for each skin: the panels, the worst of them with its place, and what would be thin or large enough.
 * @param scale by which the panels are larger than the pieces on the drawing, where findings have their places
 */
export function collapseIssues(
  net: FoamNet | null,
  made: readonly { readonly piece: Piece; readonly neutral: NeutralPiece | null }[],
  scale: number,
  foam: FoamDecisions,
  marks: MarkDecisions,
): Issue[] {
  if (!net) return [];
  return (['inside', 'outside'] as const).flatMap((skin) => {
    const list = made
      .flatMap(({ piece, neutral }) => {
        const { depths } = panelFoam(piece.id, foam);
        const worst = neutral && mostUsed(net, neutral, skin === 'inside' ? -depths.inside : depths.outside);
        return worst ? [{ piece, worst }] : [];
      })
      .sort((p, q) => q.worst.used - p.worst.used || (p.piece.id < q.piece.id ? -1 : 1));
    return list.length > 0 ? [foldsOver(skin, list, scale, foam, marks)] : [];
  });
}

function foldsOver(
  skin: Skin,
  list: readonly { readonly piece: Piece; readonly worst: UsedPart }[],
  scale: number,
  foam: FoamDecisions,
  marks: MarkDecisions,
): Issue {
  const { piece, worst } = list[0]!;
  const gone = worst.used >= 1;
  const { thickness } = panelFoam(piece.id, foam);
  const name = (p: Piece) => marks.pieceNames[p.id] ?? p.name;
  const names = list.slice(0, 6).map(({ piece: p }) => name(p));
  const others = list.length > 6 ? ` and ${list.length - 6} more` : '';
  const size = formatLength(worst.size, 'mm');
  const part = worst.what === 'edge' ? `an edge of ${size}` : `a face ${size} high`;
  const most = `${list.length > 1 ? `Most of all in ${name(piece)}, where` : 'There'} ${part}`;
  return {
    code: 'foam-folds-over',
    severity: gone ? 'warning' : 'note',
    stage: 'foam',
    message: `${list.length === 1 ? 'Panel' : 'Panels'} ${names.join(', ')}${others}: the foam is ${gone ? 'too thick' : 'almost too thick'} and ${gone ? 'folds' : 'nearly folds'} over itself on the ${skin}. ${most} ${gone ? 'is gone before' : 'is almost gone when'} foam of ${formatLength(thickness, 'mm')} ends.`,
    remedy: gone
      ? `Foam under ${formatLength(Math.floor((10 * thickness) / worst.used) / 10, 'mm')} there, a scale ${Math.ceil(worst.used * 100) / 100} times as large, or leave that part off.`
      : 'Soft foam takes that; thinner foam lies better.',
    place: {
      at: scaleBy(worst.at, 1 / scale),
      ids: [piece.id, worst.id, ...list.slice(1).map(({ piece: p }) => p.id)],
    },
  };
}
