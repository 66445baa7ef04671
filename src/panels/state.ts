/** Which folds and seams are cut after all edits, and which edits could not be replayed. */
import type { Issue } from '../base';
import {
  type AlikeEdit,
  type DrawnEdit,
  drawnBy,
  isPartOf,
  type PanelEdit,
  type Pattern,
  type Seam,
  type Seams,
  sourceLineId,
  wholeOf,
} from '../model';
import { crossingsOf } from './crossing';
import { drawnLine, ringsOf } from './drawn';
import { frozenPieces, partsOf } from './parts';
import { refine } from './refine';
import { type Surface, surfaceOf } from './surface';

export interface CutState {
  /** The pattern with its faces divided along drawn lines; the one given where there are none. */
  readonly pattern: Pattern;
  readonly seams: Seams;
  readonly surface: Surface;
  /** Pieces that cannot be edited. */
  readonly frozen: ReadonlySet<string>;
  /** By hinge: cut (a seam) or whole (a fold). */
  readonly cut: boolean[];
  /** Edits that named something that is not there (any more). */
  readonly stuck: readonly string[];
  /** By hinge id (of the whole, where it was divided later): the dart that was placed along it. */
  readonly darts: ReadonlyMap<string, PlacedDart>;
  readonly issues: readonly Issue[];
}

export type PlacedDart = NonNullable<Seam['dart']>;

/** The dart along a hinge, or along the whole that it is a part of. */
export function dartOn(darts: CutState['darts'], hinge: string): PlacedDart | null {
  for (let id: string | null = hinge; id !== null; id = wholeOf(id)) {
    const dart = darts.get(id);
    if (dart) return dart;
  }
  return null;
}

/**
 * Replays edits in order on a pattern and its seams. A drawn line whose every stretch is joined again leaves nothing
 * behind: what comes out is as if it had never been drawn.
 */
export function replay(pattern: Pattern, seams: Seams, edits: readonly PanelEdit[]): CutState {
  const dropped = new Set<string>();
  for (;;) {
    const state = replayWithout(pattern, seams, edits, dropped);
    const idle = edits.filter(
      (e) =>
        e.kind === 'draw' &&
        !dropped.has(e.id) &&
        !state.stuck.includes(e.id) &&
        state.surface.hinges.every((h, i) => drawnBy(h.id) !== e.id || !state.cut[i]) &&
        // A line that only ran along folds has no stretch of its own.
        state.surface.hinges.some((h) => drawnBy(h.id) === e.id),
    );
    if (idle.length === 0) return state;
    for (const { id } of idle) dropped.add(id);
  }
}

function replayWithout(
  pattern: Pattern,
  seams: Seams,
  edits: readonly PanelEdit[],
  dropped: ReadonlySet<string>,
): CutState {
  const rings = ringsOf(pattern);
  let now = standing(pattern, seams, new Map());
  const stuck: string[] = [];
  const issues: Issue[] = [];
  const darts = new Map<string, PlacedDart>();
  for (const edit of edits) {
    // Made on the finished panels.
    if (edit.kind === 'alike') continue;
    if (edit.kind === 'draw') {
      if (dropped.has(edit.id)) continue;
      const next = drawOn(now, edit, rings);
      if (typeof next !== 'string') {
        now = next.standing;
        if (edit.way === 'dart')
          for (const line of next.lines) darts.set(line, { edit: edit.id, width: edit.width ?? null });
        continue;
      }
      stuck.push(edit.id);
      issues.push(notDrawn(edit, next));
      continue;
    }
    const { surface, frozen, cut } = now;
    const isFrozen = (h: number) =>
      [surface.hinges[h]!.a, surface.hinges[h]!.b].some((c) =>
        frozen.has(surface.faces[surface.chains[c]!.face]!.piece),
      );
    const missing: string[] = [];
    for (const line of edit.lines) {
      const id = sourceLineId(line);
      const own = surface.hingeAt.get(id);
      const named =
        own !== undefined ? [own] : surface.hinges.flatMap((h, i) => (isPartOf(h.id, id) ? [i] : []));
      const hinges = named.filter((h) => !isFrozen(h));
      const gone = drawnBy(id);
      if (hinges.length === 0 && (gone === null || !dropped.has(gone))) missing.push(line);
      for (const h of hinges) cut[h] = edit.kind === 'cut';
    }
    if (missing.length === 0) continue;
    stuck.push(edit.id);
    const rims = missing.filter((line) => isOnRim(now, sourceLineId(line)));
    const gone = missing.filter((line) => !rims.includes(line));
    if (gone.length > 0) issues.push(lost(edit, gone));
    if (rims.length > 0) issues.push(rimKept(edit.id, rims));
  }
  return { ...now, stuck, darts, issues };
}

type Standing = Pick<CutState, 'pattern' | 'seams' | 'surface' | 'frozen' | 'cut'>;

/** @param before cut or whole by hinge id; parts are as what they are part of, all else as drawn */
function standing(pattern: Pattern, seams: Seams, before: ReadonlyMap<string, boolean>): Standing {
  const surface = surfaceOf(pattern, seams);
  const cut = surface.hinges.map((hinge) => {
    for (let id: string | null = hinge.id; id !== null; id = wholeOf(id)) {
      const known = before.get(id);
      if (known !== undefined) return known;
    }
    return hinge.kind === 'seam';
  });
  return { pattern, seams, surface, frozen: new Set(frozenPieces(pattern, surface)), cut };
}

type NotDrawn = 'gone' | 'frozen' | 'curved' | 'hole' | 'outside' | 'inside' | 'thin';

/** Divides the faces that a line crosses, and cuts along it. */
function drawOn(
  now: Standing,
  edit: DrawnEdit,
  rings: ReadonlyMap<string, readonly { readonly x: number; readonly y: number }[]>,
): { readonly standing: Standing; readonly lines: readonly string[] } | NotDrawn {
  const { pattern, seams, surface, cut } = now;
  const drawn = drawnLine(edit, rings, surface, partsOf(pattern, surface, cut), cut);
  if (!drawn) return 'gone';
  const { part, flat, line } = drawn;
  const { chords, along } = crossingsOf(surface, part.faces, flat.corners, line, edit.way !== 'across');
  if (chords.length + along.length === 0) return 'outside';
  const faces = new Set(chords.map((c) => c.face));
  if ([...faces].some((f) => now.frozen.has(surface.faces[f]!.piece))) return 'frozen';
  const strips = new Set(surface.glued.faces.flatMap((f) => (f.part === undefined ? [] : [f.face])));
  if ([...faces].some((f) => strips.has(surface.faces[f]!.face))) return 'curved';
  const finer =
    chords.length === 0
      ? { pattern, seams, drawn: [] }
      : refine(pattern, seams, surface, flat.corners, chords, edit.id);
  if (finer === 'hole') return finer;
  const before = new Map(surface.hinges.map((h, i) => [h.id, cut[i]!]));
  for (const h of along) before.set(surface.hinges[h]!.id, true);
  for (const id of finer.drawn) before.set(id, true);
  const next = chords.length === 0 ? { ...now, cut: cut.map((c, h) => c || along.includes(h)) } : null;
  const after = next ?? standing(finer.pattern, finer.seams, before);
  // A face of two corners, or a seam too short to be one.
  const lost = ({ glued }: Surface) => glued.unusable.length + glued.leftOut.length;
  if (lost(after.surface) > lost(surface)) return 'thin';
  if (edit.way === 'across') {
    const count = partsOf(after.pattern, after.surface, after.cut).length;
    if (count <= partsOf(pattern, surface, cut).length) return 'inside';
  }
  return { standing: after, lines: [...along.map((h) => surface.hinges[h]!.id), ...finer.drawn] };
}

/** Whether a seam has a side on the rim of a hole inside one face: the table of faces knows no such rims. */
function isOnRim({ seams, surface, pattern }: Standing, id: string): boolean {
  const seam = seams.seams.find((s) => s.id === id);
  if (!seam) return false;
  const rims = new Set(pattern.pieces.flatMap((p) => p.holes.flat().map((e) => e.id)));
  return [seam.a.edge, seam.b.edge].some((e) => rims.has(e) && surface.chains.every((c) => c.side !== e));
}

const rimKept = (edit: string, rims: readonly string[]): Issue => ({
  code: 'panel-edit-on-rim',
  severity: 'warning',
  stage: 'panels',
  message: `A join could not be made because ${rims.length === 1 ? 'its seam lies' : `${rims.length} of its seams lie`} on the rim of a hole inside one face. Such seams stay seams; everything else is as you left it.`,
  remedy: 'Take this join out in the Panels step, and glue there.',
  place: { ids: [edit, ...rims] },
});

function lost(edit: Exclude<PanelEdit, DrawnEdit | AlikeEdit>, missing: readonly string[]): Issue {
  const what = edit.kind === 'cut' ? 'fold' : 'seam';
  const doing = edit.kind === 'cut' ? 'split' : 'join';
  const all = missing.length === edit.lines.length;
  const which =
    missing.length === 1 ? `the ${what} that it names` : `${missing.length} ${what}s that it names`;
  return {
    code: 'panel-edit-lost',
    severity: 'warning',
    stage: 'panels',
    message: `A ${doing} could not be made ${all ? '' : 'in full '}because ${which} ${missing.length === 1 ? 'is' : 'are'} no longer there. Everything else is as you left it.`,
    remedy: 'Take this edit out in the Panels step, or bring back the line or seam that it needs.',
    place: { ids: [edit.id, ...missing] },
  };
}

const why: Readonly<Record<NotDrawn, { readonly message: string; readonly remedy: string }>> = {
  gone: {
    message: 'the faces that it was drawn on are gone, or no longer lie in one panel',
    remedy: 'Take this line out in the Panels step and draw it again, or bring back what it was drawn on.',
  },
  frozen: {
    message: 'it crosses a piece with a face that is not closed',
    remedy: 'Put the drawing of that piece right in the Pattern step, or take this line out.',
  },
  curved: {
    message: 'it crosses a face that bends between curved edges',
    remedy:
      'Draw it along such a face, not across it, or draw the line into the pattern file as a fold and split there.',
  },
  hole: {
    message: 'it ends in a hole, or meets a hole more than twice, or two holes of one face',
    remedy: 'Draw it straight across one hole from outline to outline, or beside the hole.',
  },
  outside: {
    message: 'it crosses no face of its panel',
    remedy: 'Take this line out and draw it across the panel.',
  },
  thin: {
    message: 'it would cut off a strip too thin to be foam',
    remedy: 'Take this line out and draw it farther from the outline.',
  },
  inside: {
    message: 'it does not reach from outline to outline, so it would divide nothing',
    remedy: 'Take this line out, then draw it on to the outline, or draw a slit.',
  },
};

function notDrawn(edit: DrawnEdit, reason: NotDrawn): Issue {
  const { message, remedy } = why[reason];
  return {
    code: 'panel-line-lost',
    severity: 'warning',
    stage: 'panels',
    message: `A drawn line could not be cut because ${message}. Everything else is as you left it.`,
    remedy,
    place: { ids: [edit.id, ...new Set(edit.points.map((p) => p.face))] },
  };
}
