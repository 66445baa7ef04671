/**
 * The pattern as it is cut from foam: pieces split along folds, panels joined across seams. See README.
 *
 * Input and output are at the drawing's size; nothing here depends on scale or thickness, so a change of either keeps
 * every edit.
 */
import type { Issue } from '../base';
import type { PanelDecisions, PanelOrigin, Pattern, Piece, Recut, Seams, Shell } from '../model';
import { standAside } from './apart';
import { type Draft, draftPanel, indexPattern } from './draft';
import { finerShell } from './finerShell';
import { type FlatPanel, layFlat } from './flat';
import { liesOnItself } from './overlap';
import { type PanelPart, partsOf } from './parts';
import { movePiece, seen } from './place';
import { reseam } from './reseam';
import { reshell } from './reshell';
import { replay } from './state';
import type { Surface } from './surface';
import { traceLoops } from './trace';

/**
 * Replays the edits in order. An edit that names a line that is no longer there is reported and the rest still applies.
 * Without edits, and where edits undo each other, the very objects given come back.
 * @param folded the shell of this pattern and these seams, or null
 */
export function recutPattern(
  drawn: Pattern,
  drawnSeams: Seams,
  folded: Shell | null,
  { edits }: Pick<PanelDecisions, 'edits'>,
): Recut {
  const same: Recut = {
    pattern: drawn,
    seams: drawnSeams,
    shell: folded,
    panels: drawn.pieces.map(asDrawn),
    added: [],
    stuck: [],
    laid: {},
    issues: [],
  };
  if (edits.length === 0) return same;
  const { pattern, seams, surface, cut, stuck, darts, issues: lost } = replay(drawn, drawnSeams, edits);
  const issues = [...lost, ...openedAgain(pattern, surface, cut)];
  const told = { ...same, stuck, issues };
  const parts = partsOf(pattern, surface, cut);
  if (pattern === drawn && parts.every((p) => p.untouched !== null)) return told;
  const finer = folded && pattern !== drawn ? finerShell(folded, surface) : null;
  const shell = finer?.shell ?? folded;
  const index = indexPattern(pattern, surface);
  const bendOf = (id: string) => shell?.bends[id] ?? null;
  const drafts = new Map<string, Draft>();
  const origins = new Map<string, PanelOrigin>();
  const flats = new Map<string, FlatPanel>();
  const overlapping: PanelPart[] = [];
  const pieces = parts.map((part): Piece => {
    if (part.untouched) {
      origins.set(part.id, asDrawn(part.untouched));
      return part.untouched;
    }
    const flat = layFlat(surface, part.faces, cut, part.lead);
    const draft = draftPanel(surface, index, part, flat, cut, bendOf);
    const piece = backHome(draft.piece, surface, part.lead);
    drafts.set(part.id, { ...draft, piece });
    flats.set(part.id, flat);
    origins.set(part.id, {
      id: part.id,
      pieces: part.pieces,
      faces: part.faces.map((f) => surface.faces[f]!.face),
      changed: true,
      misfit: flat.misfit,
    });
    if (part.pieces.length > 1 && liesOnItself(surface, flat)) overlapping.push(part);
    return piece;
  });
  const placed = standAside(inOrder(pieces, pattern), (piece) => !drafts.has(piece.id));
  const recut: Pattern = { ...pattern, pieces: placed, labels: labelsOf(pattern, placed) };
  const again = reseam(seams, surface, cut, parts, placed, drafts, darts);
  const untouched = new Set(placed.filter((p) => !drafts.has(p.id)).map((p) => p.id));
  return {
    pattern: recut,
    seams: again,
    shell:
      shell &&
      reshell(shell, surface, finer?.vertexOf ?? verticesOf(shell, surface), recut, again, untouched),
    panels: placed.map((p) => origins.get(p.id)!),
    added: finer?.added ?? [],
    stuck,
    laid: laidFaces(surface, parts, flats, placed),
    issues: [...issues, ...misfitIssues(placed, origins), ...overlapping.map(overlapIssue)],
  };
}

/**
 * Joins that would leave a panel without any outline, a closed solid, are taken back: its seams stay seams. Changes
 * `cut`, and tells.
 */
function openedAgain(pattern: Pattern, surface: Surface, cut: boolean[]): Issue[] {
  return partsOf(pattern, surface, cut).flatMap((part): Issue[] => {
    if (part.faces.length === 0 || part.untouched || traceLoops(surface, part.faces, cut).length > 0)
      return [];
    const inside = new Set(part.faces);
    surface.hinges.forEach((hinge, h) => {
      if (hinge.kind === 'seam' && inside.has(surface.chains[hinge.a]!.face)) cut[h] = true;
    });
    return [
      {
        code: 'panel-closed',
        severity: 'error',
        stage: 'panels',
        message: `Joined everywhere, panel ${part.name} would have no outline left to cut, so its seams stay seams.`,
        remedy: 'Take joins out of the list of edits until the panel can lie flat.',
        place: { ids: [part.id] },
      },
    ];
  });
}

/** Corners of the faces of changed panels, as drawn and where the panels stand now. */
function laidFaces(
  surface: Surface,
  parts: readonly PanelPart[],
  flats: ReadonlyMap<string, FlatPanel>,
  placed: readonly Piece[],
): Recut['laid'] {
  const pieceOf = new Map(placed.map((p) => [p.id, p]));
  return Object.fromEntries(
    parts.flatMap((part) => {
      const flat = flats.get(part.id);
      const polygons = new Map(pieceOf.get(part.id)?.faces.map((f) => [f.id, f.polygon]));
      if (!flat) return [];
      // Panels are moved as a whole: one corner tells how far.
      const first = surface.faces[part.lead]!;
      const [was, now] = [flat.corners.get(part.lead)![0]!, polygons.get(first.face)?.[0] ?? null];
      if (!now) return [];
      const [dx, dy] = [now.x - was.x, now.y - was.y];
      return part.faces.map((f) => {
        const { face, flat: ring, over } = surface.faces[f]!;
        const laid = flat.corners.get(f)!.map((p) => ({ x: p.x + dx, y: p.y + dy }));
        return [face, { drawn: ring.map((p) => seen(p, over)), laid }] as const;
      });
    }),
  );
}

const asDrawn = (piece: Piece): PanelOrigin => ({
  id: piece.id,
  pieces: [piece.id],
  faces: piece.faces.map((f) => f.id),
  changed: false,
  misfit: 0,
});

/** Panels in the order of the pieces that they are named after; cut-off parts follow theirs. */
function inOrder(pieces: readonly Piece[], pattern: Pattern): Piece[] {
  const home = new Map<string, number>();
  pattern.pieces.forEach((p, i) => {
    home.set(p.id, i);
    for (const f of p.faces) home.set(f.id, i);
  });
  const placeOf = (p: Piece) => home.get(p.id) ?? home.get(p.faces[0]?.id ?? '') ?? pattern.pieces.length;
  return pieces
    .map((piece, i) => ({ piece, i }))
    .sort(
      (p, q) =>
        placeOf(p.piece) - placeOf(q.piece) ||
        Number(home.has(q.piece.id)) - Number(home.has(p.piece.id)) ||
        p.i - q.i,
    )
    .map(({ piece }) => piece);
}

/** A panel seen from outside stands mirrored on the drawing where its piece was drawn from inside: moved back. */
function backHome(piece: Piece, surface: Surface, lead: number): Piece {
  const { flat, over } = surface.faces[lead]!;
  if (!over) return piece;
  const middle = flat.reduce((sum, p) => sum + p.x, 0) / flat.length;
  return movePiece(piece, -2 * middle, 0);
}

/** Printed numbers go with their edges. */
function labelsOf(pattern: Pattern, pieces: readonly Piece[]): Pattern['labels'] {
  const edgesOf = (all: readonly Piece[]) =>
    new Map(all.flatMap((p) => [...p.outline, ...p.holes.flat()]).map((e) => [e.id, e]));
  const before = edgesOf(pattern.pieces);
  const after = edgesOf(pieces);
  return pattern.labels.flatMap((label) => {
    const was = before.get(label.edge);
    const now = after.get(label.edge);
    if (!was || !now) return [];
    if (was === now) return [label];
    const [a, b, c, d] = [was.points[0]!, was.points.at(-1)!, now.points[0]!, now.points.at(-1)!];
    const turn = Math.atan2(d.y - c.y, d.x - c.x) - Math.atan2(b.y - a.y, b.x - a.x);
    const x = label.at.x - a.x;
    const y = label.at.y - a.y;
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
    return [
      {
        ...label,
        at: { x: c.x + cos * x - sin * y, y: c.y + sin * x + cos * y },
        angle: label.angle + turn,
      },
    ];
  });
}

/** Shell vertex of each vertex of the table, by the faces that both know. */
export function verticesOf(shell: Shell, surface: Surface): ReadonlyMap<number, number> {
  const patches = new Map(shell.faces.map((f) => [`${f.piece} ${f.face} ${f.part ?? 0}`, f] as const));
  const vertexOf = new Map<number, number>();
  for (const face of surface.glued.faces) {
    const patch = patches.get(`${face.piece} ${face.face} ${face.part ?? 0}`);
    if (!patch || patch.vertices.length !== face.vertices.length) continue;
    face.vertices.forEach((v, i) => {
      vertexOf.set(v, patch.vertices[i]!);
    });
  }
  return vertexOf;
}

/** Worth saying: a panel of joined pieces whose edges had to be stretched by more, mm, than a knife cuts off. */
const misfitWorthSaying = 0.5;

function misfitIssues(pieces: readonly Piece[], origins: ReadonlyMap<string, PanelOrigin>): Issue[] {
  return pieces.flatMap((piece): Issue[] => {
    const { misfit } = origins.get(piece.id)!;
    if (misfit <= misfitWorthSaying) return [];
    return [
      {
        code: 'panel-misfit',
        severity: 'warning',
        stage: 'panels',
        message: `Panel ${piece.name} does not lie quite flat: foam has to give by up to ${misfit.toFixed(1)} mm along an edge.`,
        remedy: 'Cut a dart into it where it is bent most, or split it again.',
        place: { ids: [piece.id] },
      },
    ];
  });
}

const overlapIssue = (part: PanelPart): Issue => ({
  code: 'panel-overlaps',
  severity: 'error',
  stage: 'panels',
  message: `Panel ${part.name} would lie on itself: its joined pieces do not fit side by side on a flat sheet.`,
  remedy: 'Undo the join or take it out of the list of edits, or split the panel where it bends most.',
  place: { ids: [part.id] },
});
