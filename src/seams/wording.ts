/** The findings of pairing, in the maker's words. */
import type { Issue, Severity } from '../base';
import type { OpenEdge, Seam } from '../model';
import type { Mm } from '../units';
import type { EdgePlace } from './edgeTable';
import type { Alignment } from './numberedRun';
import type { AgreeingStretch } from './stretch';

/** Longer lists of pieces are only counted. */
const mostNames = 5;

const mm = (v: number): string => `${v.toFixed(1)} mm`;
const onPiece = (p: EdgePlace): string => `piece ${p.pieceName}`;
const pieceList = (places: readonly EdgePlace[]): string => {
  const names = [...new Set(places.map((p) => p.pieceName))];
  if (names.length === 1) return `piece ${names[0]}`;
  if (names.length > mostNames) return `${names.length} pieces`;
  return `pieces ${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
};

function finding(
  code: string,
  severity: Severity,
  message: string,
  remedy: string,
  places: readonly EdgePlace[],
  ids: readonly string[] = places.map((p) => p.id),
): Issue {
  const first = places[0];
  return {
    code,
    severity,
    stage: 'seams',
    message,
    remedy,
    place: { ...(first ? { at: first.middle } : {}), ids },
  };
}

export const aloneIssue = (number: string, place: EdgePlace): Issue =>
  finding(
    'number-alone',
    'warning',
    `Number ${number} is on one edge only, on ${onPiece(place)} (${mm(place.length)}).`,
    'Pair the edge by hand, or mark it as a border if it stays open.',
    [place],
  );

export const repeatedIssue = (number: string, places: readonly EdgePlace[]): Issue =>
  finding(
    'number-repeated',
    'warning',
    `Number ${number} is on ${places.length} edges, on ${pieceList(places)}; only edges of the same length that had no rival were paired.`,
    'Check the edges with this number, and pair the ones that are still open by hand.',
    places,
  );

export const severalNumbersIssue = (place: EdgePlace, numbers: readonly string[]): Issue =>
  finding(
    'edge-several-numbers',
    'warning',
    `An edge of ${onPiece(place)} carries ${numbers.length} numbers: ${numbers.join(', ')}.`,
    'Check its seam; if one of the numbers belongs to a neighbour, pair both edges by hand.',
    [place],
  );

export const runQuestion = (
  number: string,
  a: EdgePlace,
  b: EdgePlace,
  alignments: readonly Alignment[],
): Issue =>
  finding(
    'number-names-run',
    'warning',
    `Number ${number} is on an edge of ${mm(a.length)} on ${onPiece(a)} and one of ${mm(b.length)} on ${onPiece(b)}; it may stand for a run of edges, ${
      alignments.length === 0 ? 'but no run fits both' : waysToFit(alignments.length)
    }.`,
    'Pair the edges of the run by hand, one after the other.',
    [a, b],
    [a.id, b.id, ...alignments.flat().flatMap((p) => [p.a, p.b])].filter(
      (id, i, all) => all.indexOf(id) === i,
    ),
  );

export const stretchQuestion = (
  number: string,
  a: EdgePlace,
  b: EdgePlace,
  stretch: AgreeingStretch,
): Issue =>
  finding(
    'number-names-run',
    'warning',
    `Number ${number} is on two edges of different length (${mm(a.length)} on ${onPiece(a)}, ${mm(b.length)} on ${onPiece(b)}), but the edges round them add up to ${mm(stretch.lengthA)} and ${mm(stretch.lengthB)}: it may stand for the whole run.`,
    'Pair the edges of the run by hand, one after the other.',
    [a, b],
    [a.id, b.id, ...stretch.a, ...stretch.b].filter((id, i, all) => all.indexOf(id) === i),
  );

const waysToFit = (ways: number): string =>
  ways === 1 ? 'and the edges round them fit' : `which fits in ${ways} ways`;

export const runNumbersIssue = (numbers: number, seams: number): Issue =>
  finding(
    'numbers-stand-for-runs',
    'note',
    `Numbers stand for runs of edges here: ${numbers} numbers led to ${seams} seams, laid out by edge lengths and corners.`,
    'Look over the seams of each number.',
    [],
  );

export const selfSeamIssue = (place: EdgePlace): Issue =>
  finding(
    'seam-with-itself',
    'warning',
    `An edge of ${onPiece(place)} was paired with itself, which is not possible.`,
    'Pair it with another edge, or mark it as a border.',
    [place],
  );

export const overruledIssue = (place: EdgePlace): Issue =>
  finding(
    'seam-made-twice',
    'note',
    `An edge of ${onPiece(place)} was paired by hand more than once; the latest pairing holds.`,
    '',
    [place],
  );

export const lostDecisionsIssue = (ids: readonly string[]): Issue =>
  finding(
    'seam-edge-missing',
    'warning',
    `Choices about ${ids.length === 1 ? 'one edge' : `${ids.length} edges`} can't be kept: the pattern does not have ${ids.length === 1 ? 'it' : 'them'} any more.`,
    'Look through the seams near lines whose role or tab has changed.',
    [],
    ids,
  );

export const unequalIssue = (seam: Seam, a: EdgePlace, b: EdgePlace): Issue =>
  finding(
    'seam-lengths-differ',
    'warning',
    `Seam ${seam.number} joins ${mm(seam.lengthA)} on ${onPiece(a)} to ${mm(seam.lengthB)} on ${onPiece(b)}: a difference of ${mm(Math.abs(seam.lengthA - seam.lengthB))}.`,
    'Check that the two edges belong together; if they do, the difference has to be stretched or trimmed when gluing.',
    [a, b],
    [seam.id, a.id, b.id],
  );

/** One finding for all edges that have no mate and no number to ask about. */
export function openIssue(
  open: readonly OpenEdge[],
  places: readonly EdgePlace[],
  anyNumbers: boolean,
): Issue {
  const count = open.length === 1 ? 'One edge has' : `${open.length} edges have`;
  return finding(
    anyNumbers ? 'edges-open' : 'edges-open-no-numbers',
    'note',
    anyNumbers
      ? `${count} no mate (${pieceList(places)}).`
      : `${count} no mate: no numbers are used to tell which edges belong together.`,
    'Mark edges that stay open (face, neck, rims) as borders, and pair the others by hand.',
    places,
    open.map((o) => o.edge),
  );
}

/** One finding for all edges that geometry leaves open beside edges of the same length. */
export const leftOpenIssue = (open: readonly OpenEdge[], places: readonly EdgePlace[]): Issue =>
  finding(
    'edges-open-candidates',
    'note',
    `${open.length === 1 ? 'One edge has' : `${open.length} edges have`} no mate (${pieceList(places)}), though other open edges are as long; nothing else shows whether they belong together.`,
    'Pair those that are glued by hand, and mark edges that stay open (face, neck, rims) as borders.',
    places,
    open.map((o) => o.edge),
  );

export const crowdedIssue = (places: readonly EdgePlace[]): Issue =>
  finding(
    'edges-alike',
    'warning',
    `${places.length} edges (${pieceList(places)}) are as long as so many others that lengths can't tell them apart; not all of their candidates are listed.`,
    'Print or write numbers beside the edges, or pair a few by hand, and match again.',
    places,
  );

/** A ring of seams fits two ways round. */
export const ringIssue = (places: readonly EdgePlace[], chosen: boolean): Issue =>
  finding(
    'seams-fit-turned',
    'warning',
    chosen
      ? `${places.length / 2} seams in a ring (${pieceList(places)}) fit turned by half a turn as well; the likelier way round was taken.`
      : `${places.length / 2} seams in a ring (${pieceList(places)}) fit turned by half a turn as well, and nothing shows which way round is right; they were left open.`,
    chosen
      ? 'Look at the folded shell: if the part sits the wrong way round, pair one of these edges with its other candidate and match again.'
      : 'Pair one of these edges by hand; the others follow.',
    places,
  );

/** A bridge fits other ways as well. */
export const bridgeIssue = (places: readonly EdgePlace[], chosen: boolean): Issue =>
  finding(
    'seams-fit-otherwise',
    'warning',
    chosen
      ? `${places.length} edges at the ends of a bridge (${pieceList(places)}) fit each other in several ways; the likeliest was taken.`
      : `${places.length} edges at the ends of a bridge (${pieceList(places)}) fit each other in several ways, and nothing shows which is right; they were left open.`,
    chosen
      ? 'Look at the folded shell: if the bridge sits the wrong way round, pair one of these edges with its other candidate.'
      : 'Pair the edges of one end by hand; each lists its candidates, the likeliest first.',
    places,
  );

/** All edges are equally long, and the solid did not come together. */
export const alikeIssue = (places: readonly EdgePlace[]): Issue =>
  finding(
    'all-edges-alike',
    'warning',
    'All edges are equally long, so the pieces fit in many ways, and no way was found that closes all of them to a solid; they were left open.',
    'Print or write numbers beside the edges, or pair a few by hand; each edge lists its candidates.',
    places,
  );

/** Pieces that fit each other's places, or one that fits its own place turned round. */
export interface AlikePieces {
  readonly names: readonly string[];
  /** How likely the way that was taken is, 0 to 1. */
  readonly share: number;
  /** How far corners that lie on each other are off at most. */
  readonly most: Mm;
}

/** Pieces that could change places. */
export const alikePiecesIssue = (places: readonly EdgePlace[], alike: readonly AlikePieces[]): Issue => {
  const most = Math.max(...alike.map((a) => a.most));
  const shown = alike
    .slice(0, mostNames)
    .map(({ names, share }) => {
      const both = `${Math.round(100 * share)} to ${Math.round(100 * (1 - share))}`;
      return names.length === 1 ? `${names[0]} turned round (${both})` : `${names.join(' and ')} (${both})`;
    })
    .join(', ');
  const more = alike.length > mostNames ? ` and ${alike.length - mostNames} more` : '';
  return finding(
    'pieces-alike',
    'note',
    `Some pieces are so alike that each fits the other's place: ${shown}${more}. Lengths make the way that was taken as likely as the first figure says. They differ by ${most.toFixed(2)} mm at most, and so does the shell.`,
    'Nothing to do if either fits; to exchange two of them, take apart one of their seams and pair it with the other piece.',
    places,
  );
};

/** Parts that hung loose were joined. */
export const looseIssue = (
  places: readonly EdgePlace[],
  { parts, eitherWay }: { readonly parts: number; readonly eitherWay: boolean },
): Issue =>
  finding(
    'loose-parts-joined',
    'note',
    `${parts === 1 ? 'One part' : `${parts} parts`} hung loose and ${parts === 1 ? 'was' : 'were'} joined by ${places.length / 2} single edges (${pieceList(places)}) that are equally long and leave the smoothest rims.${eitherWay ? ' One of these pieces looks the same turned round: either way makes the same shell.' : ''}`,
    'Look at these seams on the folded shell; take them apart if a part belongs elsewhere.',
    places,
  );
