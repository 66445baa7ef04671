/** Which folds and seams are cut after all edits, and which edits could not be replayed. */
import type { Issue } from '../base';
import {
  type AlikeEdit,
  type DrawnEdit,
  drawnBy,
  isPartBeside,
  isPartOf,
  type PanelEdit,
  type Pattern,
  rootOf,
  type Seam,
  type Seams,
  sourceLineId,
  wholeOf,
} from '../model';
import { bridgeHole, type FaceHole, holesOf } from './bridges';
import { crossingsOf } from './crossing';
import { drawnLine, ringsOf } from './drawn';
import { frozenPieces, partsOf } from './parts';
import { refine } from './refine';
import { isIdleRim, rimKept, standsUp, type Upright } from './rimJoins';
import { type BentGroup, bentGroups, divideBent } from './rulings';
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
  /** Holes whose faces were made ready for joins on their rims. */
  readonly bridged: readonly FaceHole[];
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
 * behind: what comes out is as if it had never been drawn. The same holds for a join on the rim of a hole.
 * @param rims seams that are about to be joined: where one lies on the rim of a hole, its face is made ready for that
 */
export function replay(
  pattern: Pattern,
  seams: Seams,
  edits: readonly PanelEdit[],
  rims: readonly string[] = [],
): CutState {
  const past: Past = {
    dropped: new Set(),
    upright: new Map(),
    divided: new Set(),
    undivided: new Set(),
    refused: new Map(),
  };
  for (;;) {
    const state = replayWithout(pattern, seams, edits, rims, past);
    const idle = edits.filter(
      (e) =>
        e.kind === 'draw' &&
        !past.dropped.has(e.id) &&
        !state.stuck.includes(e.id) &&
        state.surface.hinges.every((h, i) => drawnBy(h.id) !== e.id || !state.cut[i]) &&
        // A line that only ran along folds has no stretch of its own.
        state.surface.hinges.some((h) => drawnBy(h.id) === e.id),
    );
    const idleRims = state.bridged.filter((hole) => rims.length === 0 && isIdleRim(state, hole));
    const risen = state.bridged.flatMap((hole) => {
      const why = standsUp(state, hole);
      return why ? [{ hole, why }] : [];
    });
    const opened = state.wanted.filter((id) => !past.divided.has(id) && !past.undivided.has(id));
    const shut = state.groups.filter((g) => past.divided.has(g.id) && !isChanged(state, g));
    if (idle.length + idleRims.length + risen.length + opened.length + shut.length === 0) return state;
    for (const { id } of [...idle, ...idleRims]) past.dropped.add(id);
    for (const { hole, why } of risen) past.upright.set(hole.id, why);
    for (const id of opened) past.divided.add(id);
    for (const { id } of shut) {
      past.divided.delete(id);
      past.undivided.add(id);
      for (const [edit, reason] of state.refused) past.refused.set(edit, reason);
    }
  }
}

/** What earlier rounds of replaying found. */
interface Past {
  /** Drawn lines, and holes made ready, that leave nothing behind. */
  readonly dropped: Set<string>;
  readonly upright: Map<string, Upright>;
  /** Bent faces that are divided along their rulings, and those that need not be. */
  readonly divided: Set<string>;
  readonly undivided: Set<string>;
  /** Why lines were not drawn on bent faces while these were divided. */
  readonly refused: Map<string, NotDrawn>;
}

interface Replayed extends CutState {
  readonly groups: readonly BentGroup[];
  /** Groups that have to be divided for what was asked. */
  readonly wanted: readonly string[];
  readonly refused: ReadonlyMap<string, NotDrawn>;
}

/** Whether anything on the faces of a group is not as it was drawn: cut or joined, or divided by a line beside it. */
function isChanged({ pattern, surface, cut }: Standing, { id: group, faces }: BentGroup): boolean {
  const own = (face: string) => faces.has(rootOf(face));
  const divided = pattern.pieces.some((p) =>
    p.faces.some((f) => own(f.id) && f.sides.some((side) => isPartBeside(side.id, group))),
  );
  return (
    divided ||
    surface.hinges.some(
      (hinge, h) =>
        cut[h] !== (hinge.kind === 'seam') &&
        [hinge.a, hinge.b].some((c) => own(surface.faces[surface.chains[c]!.face]!.face)),
    )
  );
}

function replayWithout(
  pattern: Pattern,
  seams: Seams,
  edits: readonly PanelEdit[],
  rims: readonly string[],
  { dropped, upright, divided, refused: before }: Past,
): Replayed {
  const rings = ringsOf(pattern);
  let now = standing(pattern, seams, new Map());
  const groups = bentGroups(now.surface, seams);
  const whole: BentGroup[] = [];
  for (const group of groups) {
    const made = divided.has(group.id) ? divideBent(now.pattern, now.seams, now.surface, group) : null;
    if (made) now = standing(made.pattern, made.seams, new Map());
    else whole.push(group);
  }
  const wanted = new Set<string>();
  const refused = new Map<string, NotDrawn>();
  const stuck: string[] = [];
  const issues: Issue[] = [];
  const bridged: FaceHole[] = [];
  const darts = new Map<string, PlacedDart>();
  const rimOf = (id: string): FaceHole | null => {
    if (now.surface.hingeAt.has(id)) return null;
    const seam = now.seams.seams.find((s) => isPartOf(id, s.id));
    if (!seam) return null;
    return holesOf(now.pattern).find((h) => [seam.a, seam.b].some((s) => h.rim.includes(s.edge))) ?? null;
  };
  /** Makes the holes ready whose rims these seams are on; which of the seams cannot be joined, and why. */
  const readyRims = (lines: readonly string[]) => {
    let why: Upright | null = null;
    const kept = lines.filter((line) => {
      const hole = rimOf(sourceLineId(line));
      if (!hole || dropped.has(hole.id)) return false;
      const known = upright.get(hole.id);
      const ready = known ? null : bridgeHole(now.pattern, now.seams, hole);
      why = known ?? why;
      if (!ready) return true;
      now = standing(ready.pattern, ready.seams, cutById(now));
      bridged.push(hole);
      return false;
    });
    return { kept, why };
  };
  for (const edit of edits) {
    // Made on the finished panels.
    if (edit.kind === 'alike') continue;
    if (edit.kind === 'draw') {
      if (dropped.has(edit.id)) continue;
      const next = drawOn(
        now,
        edit,
        rings,
        groups.filter((g) => !divided.has(g.id)),
        wanted,
      );
      if (typeof next !== 'string') {
        now = next.standing;
        if (edit.way === 'dart')
          for (const line of next.lines) darts.set(line, { edit: edit.id, width: edit.width ?? null });
        continue;
      }
      const reason = (next === 'curved' && before.get(edit.id)) || next;
      refused.set(edit.id, reason);
      stuck.push(edit.id);
      issues.push(notDrawn(edit, reason));
      continue;
    }
    const { kept, why } = readyRims(edit.kind === 'join' ? edit.lines : []);
    if (kept.length > 0) issues.push(rimKept(edit.id, kept, why));
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
      const known = (gone !== null && dropped.has(gone)) || rimOf(id) !== null;
      if (hinges.length === 0 && !known) missing.push(line);
      for (const h of hinges) cut[h] = edit.kind === 'cut';
    }
    if (missing.length > 0) issues.push(lost(edit, missing));
    if (missing.length > 0 || kept.length > 0) stuck.push(edit.id);
  }
  readyRims(rims);
  for (const group of groups) if (group.ruled && isChanged(now, group)) wanted.add(group.id);
  return { ...now, stuck, darts, issues, bridged, groups, wanted: [...wanted], refused };
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

const cutById = ({ surface, cut }: Standing) => new Map(surface.hinges.map((h, i) => [h.id, cut[i]!]));

/**
 * Divides the faces that a line crosses, and cuts along it.
 * @param bent faces that bend and are not divided along their rulings
 * @param wanted gets those of them that the line crosses
 */
function drawOn(
  now: Standing,
  edit: DrawnEdit,
  rings: ReadonlyMap<string, readonly { readonly x: number; readonly y: number }[]>,
  bent: readonly BentGroup[],
  wanted: Set<string>,
): { readonly standing: Standing; readonly lines: readonly string[] } | NotDrawn {
  const { pattern, seams, surface, cut } = now;
  const drawn = drawnLine(edit, rings, surface, partsOf(pattern, surface, cut), cut);
  if (!drawn) return 'gone';
  const { part, flat, line } = drawn;
  const { chords, along } = crossingsOf(surface, part.faces, flat.corners, line, edit.way !== 'across');
  if (chords.length + along.length === 0) return 'outside';
  const faces = new Set(chords.map((c) => c.face));
  if ([...faces].some((f) => now.frozen.has(surface.faces[f]!.piece))) return 'frozen';
  const crossed = bent.filter((g) => [...faces].some((f) => g.faces.has(rootOf(surface.faces[f]!.face))));
  for (const { id } of crossed) wanted.add(id);
  if (crossed.length > 0) return 'curved';
  const finer =
    chords.length === 0
      ? { pattern, seams, drawn: [] }
      : refine(pattern, seams, surface, flat.corners, chords, edit.id);
  if (finer === 'hole') return finer;
  const before = cutById(now);
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

const notDrawnWords: Readonly<Record<NotDrawn, { readonly message: string; readonly remedy: string }>> = {
  gone: {
    message: 'the faces that it was drawn on are gone, or no longer lie in one panel',
    remedy: 'Take this line out in the Panels step and draw it again, or bring back what it was drawn on.',
  },
  frozen: {
    message: 'it crosses a piece with a face that is not closed',
    remedy: 'Put the drawing of that piece right in the Pattern step, or take this line out.',
  },
  curved: {
    message: 'it crosses a face that bends and has a hole across its rulings',
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
  const { message, remedy } = notDrawnWords[reason];
  return {
    code: 'panel-line-lost',
    severity: 'warning',
    stage: 'panels',
    message: `A drawn line could not be cut because ${message}. Everything else is as you left it.`,
    remedy,
    place: { ids: [edit.id, ...new Set(edit.points.map((p) => p.face))] },
  };
}
