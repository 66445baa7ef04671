import type { Issue } from '../base';
import type { KnownResult, Pattern, Seam, Seams, Unsure } from '../model';
import { formatAngle, formatLength, type Mm, type Rad } from '../units';
import type { FoldedUp } from './foldResult';
import { doubtfulResidual, doubtfulRho, doubtfulShape, wrongSignBend } from './tolerance';
import type { ShellTopology } from './topology';

/** What the maker should know about the shell, in sentences. */

interface PartFacts {
  readonly topology: ShellTopology;
  readonly result: FoldedUp;
  readonly idOfEdge: readonly string[];
}

interface Worst {
  readonly ids: readonly string[];
  readonly what: string;
}

/** The fold or seam that fits worst: most off its length, else most against its drawn direction. */
export function worstPlace(
  pattern: Pattern,
  seams: Seams,
  parts: readonly PartFacts[],
  foldSign: ReadonlyMap<string, number>,
): Worst | null {
  let off = { id: '', by: 0 as Mm };
  let against = { id: '', by: wrongSignBend };
  for (const { topology, result, idOfEdge } of parts) {
    topology.edges.forEach((_, e) => {
      const id = idOfEdge[e]!;
      if (id === '') return;
      if (result.offOfEdge[e]! > off.by) off = { id, by: result.offOfEdge[e]! };
      const by = -(foldSign.get(id) ?? 0) * (result.bends[e]! || 0);
      if (by > against.by) against = { id, by };
    });
  }
  if (off.by > doubtfulResidual)
    return {
      ids: [off.id],
      what: `${nameOf(pattern, seams, off.id)} is ${formatLength(off.by, 'mm', { decimals: 2 })} off its drawn length`,
    };
  if (against.id !== '')
    return {
      ids: [against.id],
      what: `${nameOf(pattern, seams, against.id)} bends ${formatAngle(against.by)} against its drawn direction`,
    };
  return off.id === ''
    ? null
    : { ids: [off.id], what: `${nameOf(pattern, seams, off.id)} fits worst, within ${off.by.toFixed(4)} mm` };
}

function nameOf(pattern: Pattern, seams: Seams, id: string): string {
  const seam = seams.seams.find((s) => s.id === id);
  const pieceName = (pieceId: string) => pattern.pieces.find((p) => p.id === pieceId)?.name ?? pieceId;
  if (seam) {
    const a = pieceName(seam.a.piece);
    const b = pieceName(seam.b.piece);
    const run = seams.runs.find((r) => r.seams.includes(id));
    const where = a === b ? `within piece ${a}` : `between pieces ${a} and ${b}`;
    return `seam ${run?.number ?? seam.number} ${where}`;
  }
  const folded = pattern.pieces.find((p) => p.folds.some((f) => f.id === id));
  if (folded) return `a fold of piece ${folded.name}`;
  const edged = pattern.pieces.find((p) => p.outline.some((e) => e.id === id));
  return edged ? `an open edge of piece ${edged.name}` : 'an open edge';
}

export function shellIssues(
  pattern: Pattern,
  seams: Seams,
  glued: {
    readonly leftOut: readonly { readonly seam: Seam; readonly why: string }[];
    readonly turnedOver: readonly string[];
    readonly unusable: readonly string[];
  },
  facts: {
    readonly residual: { readonly rms: Mm; readonly max: Mm };
    readonly rho: number;
    readonly wrongSigns: readonly string[];
    readonly worst: Worst | null;
    readonly knownResults: readonly KnownResult[];
    readonly flexes: number;
    readonly bentFaces: boolean;
    /** Faces that bend over no drawn fold, by less than drawings show. */
    readonly slight: readonly { readonly face: string; readonly bend: Rad }[];
    readonly unsure: Unsure;
  },
): Issue[] {
  const issues: Issue[] = [];
  const add = (
    code: string,
    severity: Issue['severity'],
    message: string,
    remedy: string,
    ids: readonly string[],
  ) => issues.push({ code, severity, stage: 'shell', message, remedy, place: { ids } });
  for (const { seam, why } of glued.leftOut) {
    const name = nameOf(pattern, seams, seam.id);
    const reason =
      why === 'edge-taken'
        ? 'one of its edges already belongs to a surer seam'
        : why === 'no-face'
          ? 'one of its edges borders no face of the drawing'
          : 'the surface would run through itself there';
    add(
      'shell-seam-left-out',
      'warning',
      `The shell is folded without ${name}: ${reason}.`,
      why === 'no-face'
        ? 'Draw a fold from that edge to the outline of its piece, or take this pairing apart.'
        : 'Check this pairing, or take it apart.',
      [seam.id, seam.a.edge, seam.b.edge],
    );
  }
  if (glued.turnedOver.length > 0)
    add(
      'shell-piece-turned',
      'repaired',
      `${glued.turnedOver.length === 1 ? 'One piece was' : `${glued.turnedOver.length} pieces were`} turned over for the shell, because the seams show them to be drawn from inside.`,
      'Check the direction of these seams if that is wrong.',
      glued.turnedOver,
    );
  if (glued.unusable.length > 0)
    add(
      'shell-face-unused',
      'warning',
      `${glued.unusable.length === 1 ? 'One face' : `${glued.unusable.length} faces`} of the drawing could not be part of the shell.`,
      'Check the folds and the outline of that piece.',
      glued.unusable,
    );
  if (facts.residual.rms > doubtfulResidual)
    add(
      'shell-not-closed',
      'warning',
      `The pieces do not close to a shell: edges are ${formatLength(facts.residual.max, 'mm', { decimals: 2 })} off at most${facts.worst ? `, and ${facts.worst.what}` : ''}. A seam may be paired wrongly.`,
      'Check the seams there; the bend angles of this shell are doubtful until it closes.',
      facts.worst?.ids ?? [],
    );
  else if (facts.rho > doubtfulRho)
    add(
      'shell-strained',
      'warning',
      'Some corner of the shell seems pressed in where it should stand out.',
      'Compare the shell with the pattern; give fold directions or a known angle there.',
      facts.worst?.ids ?? [],
    );
  if (facts.wrongSigns.length > 0)
    add(
      'shell-folds-against',
      'warning',
      `${facts.wrongSigns.length === 1 ? 'One fold bends' : `${facts.wrongSigns.length} folds bend`} against the drawn direction.`,
      'Check the fold directions there, or the seams around.',
      facts.wrongSigns,
    );
  if (facts.bentFaces)
    add(
      'shell-bent-faces',
      'warning',
      'Faces between curves bend without a fold, and the lengths do not say how: the bends along them are a guess.',
      'Type the bends that you know of the folds and seams there, or a width of an opening.',
      [],
    );
  const slight = new Set(facts.slight.map((f) => f.face));
  if (slight.size > 0)
    add(
      'shell-faces-slightly-bent',
      'note',
      `${slight.size === 1 ? 'One face is' : `${slight.size} faces are`} slightly bent, by up to ${formatAngle(Math.max(...facts.slight.map((f) => f.bend)))}: the drawing leaves its mildest folds out. The shell closes so, and this is no defect.`,
      'Nothing to do: foam follows so slight a bend without a cut.',
      [...slight],
    );
  const about = `${formatLength(facts.unsure.rms, 'mm')} (${(100 * facts.unsure.part).toFixed(1)} % of its size)`;
  if (facts.unsure.part > doubtfulShape)
    add(
      'shell-unsure',
      'warning',
      `Lengths alone leave the shape open: corners may be off by about ${about}, and bends with them.`,
      'Type a girth or a width that you have measured, or a bend that you know.',
      [],
    );
  if (facts.flexes > 0)
    add(
      'shell-flexible',
      'note',
      `The lengths leave the shell ${facts.flexes === 1 ? 'one free motion' : `${facts.flexes} free motions`}; its bends are the smoothest that fit, and its corners are sure to about ${about}.`,
      'Type a girth, a width or a bend that you know to hold it.',
      [],
    );
  for (const known of facts.knownResults) {
    if (Number.isNaN(known.got))
      add(
        'shell-known-missing',
        'note',
        'A known measure concerns a place that the shell does not have.',
        'Take the measure again.',
        known.ids,
      );
    else if (known.kind === 'bend' && Math.abs(known.got - known.wanted) > degreesSlack)
      add(
        'shell-known-missed',
        'warning',
        `A bend of ${formatAngle(known.wanted)} was typed, but the lengths of the pattern allow ${formatAngle(known.got)}.`,
        'Check the typed angle.',
        known.ids,
      );
    else if (known.kind === 'distance' && Math.abs(known.got - known.wanted) > distanceSlack)
      add(
        'shell-known-missed',
        'warning',
        `A distance of ${formatLength(known.wanted, 'mm')} was typed, but the pattern allows ${formatLength(known.got, 'mm')}.`,
        'Check the measure.',
        known.ids,
      );
    else if (known.kind === 'girth' && Math.abs(known.got - known.wanted) > distanceSlack)
      add(
        'shell-known-missed',
        'warning',
        `A girth of ${formatLength(known.wanted, 'mm')} was asked for, but the pattern allows ${formatLength(known.got, 'mm')}.`,
        'Check the measure, its height and its tilt.',
        known.ids,
      );
  }
  return issues;
}

/** A typed bend within a degree, a typed distance within a millimetre counts as met: no better is measured by hand. */
const degreesSlack = Math.PI / 180;
const distanceSlack: Mm = 1;
