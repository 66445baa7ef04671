/** What the maker should know about the panels, in sentences. */
import type { Issue } from '../base';
import { boxOf, type Point } from '../math';
import type { FoamDecisions, FoamSeamRow, MarkDecisions, Pattern, Piece, Seams } from '../model';
import { ringCrossing } from '../shell';
import { formatLength } from '../units';
import type { Bends } from './bends';
import { canLap } from './edgeRules';
import type { NeutralPiece } from './neutralPieces';
import type { PieceShape } from './shapePiece';
import { mismatchWorthSaying, spreadLimit, spreadWorthSaying } from './tolerance';
import type { FaceTrouble } from './troubles';

/** About seams as a whole: square cuts that the program chose, and sides whose lengths differ. */
export function seamIssues(
  seams: Seams,
  rows: readonly FoamSeamRow[],
  squared: ReadonlySet<string>,
): Issue[] {
  const issues: Issue[] = [];
  if (squared.size > 0) {
    const ids = [...squared];
    const numbers = listOf(rows.filter((row) => squared.has(row.seam)).map((row) => row.run));
    issues.push({
      code: 'bevel-collides',
      severity: 'repaired',
      stage: 'foam',
      message: `Bevelled edges would run into each other in a narrow notch, so both sides of seam ${numbers} are cut square.`,
      remedy: 'Fill the open wedge when gluing, or choose thinner foam.',
      place: { ids },
    });
  }
  const worst = rows.reduce<FoamSeamRow | null>(
    (most, row) => (row.mismatch > (most?.mismatch ?? mismatchWorthSaying) ? row : most),
    null,
  );
  if (worst) {
    const apart = rows.filter((row) => row.mismatch > mismatchWorthSaying);
    const seam = seams.seams.find((s) => s.id === worst.seam);
    issues.push({
      code: 'seam-lengths-differ',
      severity: 'warning',
      stage: 'foam',
      message: `The sides of ${apart.length === 1 ? 'one seam' : `${apart.length} seams`} differ by more than ${formatLength(mismatchWorthSaying, 'mm')} on the foam; the most is ${formatLength(worst.mismatch, 'mm')} at seam ${worst.run}.`,
      remedy:
        'Glue from the notches outwards and trim what is left; check the bend angles and the pairing there.',
      place: {
        ids: [worst.seam, ...(seam ? [seam.a.edge, seam.b.edge] : []), ...apart.map((row) => row.seam)],
      },
    });
  }
  return issues;
}

/** "3", "3 and 5", "3, 5 and 7", each once. */
function listOf(numbers: readonly number[]): string {
  const once = [...new Set(numbers)].sort((a, b) => a - b).map(String);
  if (once.length < 2) return once.join('');
  return `${once.slice(0, -1).join(', ')} and ${once.at(-1)}`;
}

/** About one panel: nothing left, in parts, edges gone, edges that still cross. */
export function panelIssues(name: string, piece: Piece, shape: PieceShape, foam: FoamDecisions): Issue[] {
  const at = middleOf(piece.outline.flatMap((edge) => edge.points));
  return shape.troubles.flatMap((trouble): Issue[] => {
    const traced = trouble.skin === foam.traced;
    const place = (ids: readonly string[]) => ({ at, ids: [piece.id, ...ids] });
    if (trouble.parts === 0) {
      return [
        {
          code: 'panel-vanishes',
          severity: 'error',
          stage: 'foam',
          message: `Nothing is left of piece ${name} on its ${trouble.skin} face: it is narrower than the foam needs at its seams.`,
          remedy: 'Use thinner foam there, a larger scale, or join the piece to its neighbour.',
          place: place([]),
        },
      ];
    }
    return [...partsIssue(name, trouble, place), ...edgesIssue(name, trouble, traced, place)];
  });
}

type PlaceOf = (ids: readonly string[]) => Issue['place'];

function partsIssue(name: string, trouble: FaceTrouble, place: PlaceOf): Issue[] {
  if (trouble.parts < 2) return [];
  return [
    {
      code: 'panel-in-parts',
      severity: 'error',
      stage: 'foam',
      message: `Piece ${name} falls into ${trouble.parts} parts on its ${trouble.skin} face: a neck is narrower than the foam needs at its seams.`,
      remedy: 'Cut the piece at the neck in the drawing, or use thinner foam.',
      place: place(trouble.crossings.flat()),
    },
  ];
}

function edgesIssue(name: string, trouble: FaceTrouble, traced: boolean, place: PlaceOf): Issue[] {
  const issues: Issue[] = [];
  const { vanished, crossings, skin } = trouble;
  if (vanished.length > 0) {
    const n = vanished.length === 1 ? 'One edge' : `${vanished.length} edges`;
    issues.push({
      code: 'edge-vanishes',
      severity: traced ? 'warning' : 'note',
      stage: 'foam',
      message: `${n} of piece ${name} ${vanished.length === 1 ? 'has' : 'have'} no length left on the ${skin} face, where the neighbours meet instead.`,
      remedy: traced ? 'Leave the seam out there, or use thinner foam.' : '',
      place: place(vanished),
    });
  }
  if (crossings.length > 0 && trouble.parts === 1) {
    issues.push({
      code: 'outline-collides',
      severity: 'warning',
      stage: 'foam',
      message: `The ${skin} outline of piece ${name} runs into itself in ${crossings.length === 1 ? 'one place' : `${crossings.length} places`}; what overlaps was merged.`,
      remedy: 'Split the piece there, or use thinner foam.',
      place: place(crossings.flat()),
    });
  }
  return issues;
}

function middleOf(points: readonly Point[]): Point {
  const box = boxOf(points);
  return { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
}

/** What a panel was made from. */
export interface MadeFrom {
  readonly piece: Piece;
  /** Null: without the shell. */
  readonly neutral: NeutralPiece | null;
}

/** About panels from the shell: pieces that it does not hold, pieces that overlap themselves flat, spread rings. */
export function surfaceIssues(pattern: Pattern, made: readonly MadeFrom[], marks: MarkDecisions): Issue[] {
  const name = (piece: Piece) => marks.pieceNames[piece.id] ?? piece.name;
  const issues: Issue[] = [];
  const flat = made.filter(({ neutral }) => neutral === null);
  if (flat.length > 0)
    issues.push({
      code: 'panel-without-shell',
      severity: 'note',
      stage: 'foam',
      message: `${namesOf(flat.map(({ piece }) => name(piece)))} ${flat.length === 1 ? 'is' : 'are'} not part of the folded shell as a whole, so the thickness is allowed for on the flat drawing alone; the seam list shows what that leaves.`,
      remedy: 'Pair the open edges, so that the shell holds every piece.',
      place: { ids: flat.map(({ piece }) => piece.id) },
    });
  for (const { piece, neutral } of made) {
    if (!neutral) continue;
    const crossing = ringCrossing([...neutral.flat.outline, ...neutral.flat.holes.flat()]);
    const before = pattern.pieces.find((p) => p.id === piece.id)!;
    // A drawing that crosses itself already is not the unfolding's doing.
    if (!crossing || ringCrossing([...before.outline, ...before.holes.flat()])) continue;
    issues.push({
      code: 'panel-overlaps-itself',
      severity: 'error',
      stage: 'foam',
      message: `Piece ${name(piece)} overlaps itself when it lies flat at the depth of the foam’s neutral layer.`,
      remedy: 'Split the piece at its sharpest fold, or use thinner foam.',
      place: { at: middleOf(piece.outline.flatMap((edge) => edge.points)), ids: [piece.id, ...crossing] },
    });
  }
  const spread = made.filter(({ neutral }) => (neutral?.spread ?? 0) > spreadWorthSaying);
  const most = Math.max(0, ...spread.map(({ neutral }) => neutral!.spread));
  if (spread.length > 0)
    issues.push({
      code: 'ring-spread',
      severity: most > spreadLimit ? 'warning' : 'note',
      stage: 'foam',
      message: `${namesOf(spread.map(({ piece }) => name(piece)))} ${spread.length === 1 ? 'does' : 'do'} not lie quite flat at the foam’s neutral layer: lengths inside change by up to ${formatLength(most, 'mm', { decimals: 2 })}, which the foam has to stretch; edges to glue keep theirs.`,
      remedy:
        most > spreadLimit
          ? 'Cut a relief dart into the panel, or split it there.'
          : 'Soft foam takes that by hand.',
      place: { ids: spread.map(({ piece }) => piece.id) },
    });
  return issues;
}

/** "Piece A", "Pieces A, B and 3 more". */
function namesOf(names: readonly string[]): string {
  const shown = names.slice(0, 6).join(', ');
  const more = names.length > 6 ? ` and ${names.length - 6} more` : '';
  return `${names.length === 1 ? 'Piece' : 'Pieces'} ${shown}${more}`;
}

/** About decisions on edges that cannot be kept. */
export function edgeIssues(foam: FoamDecisions, bends: Bends): Issue[] {
  const issues: Issue[] = [];
  const lapped = [...bends.ofSeam].filter(
    ([seam, bend]) => (foam.preparationOf[seam] ?? foam.preparation) === 'lapped' && !canLap(bend),
  );
  if (lapped.length > 0)
    issues.push({
      code: 'lap-not-square',
      severity: 'note',
      stage: 'foam',
      message: `${lapped.length === 1 ? 'One seam is' : `${lapped.length} seams are`} bent too little or too far for one panel to run past the other (45° to 135°), and bevelled instead.`,
      remedy: 'Lap seams near square corners alone.',
      place: { ids: lapped.map(([seam]) => seam) },
    });
  return issues;
}
