/** What the maker should know about the panels, in sentences. */
import type { Issue } from '../base';
import { boxOf, type Point } from '../math';
import type { FoamDecisions, FoamSeamRow, Piece, Seams } from '../model';
import { formatLength } from '../units';
import type { FaceTrouble, PieceShape } from './shapePiece';
import { mismatchWorthSaying } from './tolerance';

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
