/** Lines drawn on panels: laid point by point, looked at, then cut as one step. */
import type { Point } from '../../src/math';
import type { DrawnEdit, DrawnWay, FacePoint } from '../../src/model';
import { facePoint, nearestOnOutline, type TriedEdit, tryEdit } from '../../src/panels';
import type { Mm } from '../../src/units';
import { type DrawnDraft, type Session, setDrawing, shownIn } from '../document';
import { change, command, effect, refuse, withDocument } from './command';
import { panels, withEdit } from './panels';

/** An end lies on the outline when it is this near, mm: rounding. */
const onOutline = 1e-6;

const isDone = (
  s: Session,
  { way, panel, points }: Pick<DrawnDraft, 'way' | 'panel' | 'points'>,
): boolean => {
  const last = points.at(-1);
  const piece = shownIn(s).pattern?.pieces.find((p) => p.id === panel);
  if (!piece || !last || points.length < 2) return false;
  return way !== 'across' || (nearestOnOutline(piece, last, 0)?.off ?? 1) <= onOutline;
};

/** The points of the line so far, where its panel stands on the bench. */
export const layLine = command<{ readonly panel: string | null; readonly points: readonly Point[] }>({
  id: 'layLine',
  label: () => 'Lay a line on a panel',
  enabled: withDocument,
  run: (s, line) => effect(() => setDrawing({ ...line, done: isDone(s, { ...s.drawing, ...line }) })),
});

/** Straight or curved, across the panel or a slit. */
export const chooseLine = command<Partial<Pick<DrawnDraft, 'way' | 'curved' | 'width'>>>({
  id: 'chooseLine',
  label: () => 'Kind of line',
  enabled: withDocument,
  run: (s, part) => effect(() => setDrawing({ ...part, done: isDone(s, { ...s.drawing, ...part }) })),
});

export const dropLine = command({
  id: 'dropLine',
  label: () => 'Drop this line',
  enabled: (s) => (s.drawing.points.length > 0 ? true : 'No line is begun.'),
  run: () => effect(() => setDrawing({ panel: null, points: [], done: false })),
});

const reasonOf = ({ drawing }: Session): true | string => {
  if (drawing.points.length === 0) return 'Draw a line on a panel first.';
  if (drawing.done) return true;
  return drawing.way === 'across'
    ? 'A line across a panel ends on its outline.'
    : `A ${drawing.way} needs an end inside the panel.`;
};

/** The line that is drawn as an edit; null while it lacks something, or its panel is not there. */
function drawnEdit({ drawing, results }: Pick<Session, 'drawing' | 'results'>): DrawnEdit | null {
  const { way, curved, width, panel, points, done } = drawing;
  const { pattern, recut } = results;
  if (!done || !pattern || !recut || panel === null) return null;
  const anchors = points.map((p) => facePoint(pattern, recut, panel, p)).filter(isPoint);
  return anchors.length === points.length
    ? { kind: 'draw', id: tryId, way, curved, points: anchors, ...(way === 'dart' ? { width } : {}) }
    : null;
}

/** Id of an edit that is only tried; those of edits that are made are `e` and a number. */
const tryId = 'try';

/** What cutting along the drawn line would do; null while there is nothing to cut along. */
export function tryDrawn(s: Pick<Session, 'drawing' | 'results' | 'document'>): TriedEdit | null {
  const { pattern, seams } = s.results;
  const edit = drawnEdit(s);
  if (!edit || !pattern || !seams || !s.document) return null;
  return tryEdit(pattern, seams, s.document.decisions.panels.edits, edit);
}

const cutLabels: Readonly<Record<DrawnWay, string>> = {
  across: 'Split along this line',
  slit: 'Cut this slit',
  dart: 'Place this dart',
};
const doneLabels: Readonly<Record<DrawnWay, string>> = {
  across: 'Split along a drawn line',
  slit: 'Cut a slit',
  dart: 'Place a relief dart',
};

/** Another width for a dart that was placed; null: as wide as the panel opens by itself. */
export const setDartWidth = command<{
  readonly edit: string;
  readonly width: Mm | null;
  readonly merge?: string;
}>({
  id: 'setDartWidth',
  label: () => 'Width of a dart',
  enabled: withDocument,
  run: (s, { edit, width, merge }) => {
    const { edits } = s.document!.decisions.panels;
    const own = edits.find((e) => e.id === edit);
    if (own?.kind !== 'draw' || own.way !== 'dart') return refuse('That dart is no longer there.');
    if (width !== null && !(width > 0)) return refuse('A dart has some width.');
    return change(
      'Width of a dart',
      (d) => panels(d, { edits: edits.map((e) => (e === own ? { ...own, width } : e)) }),
      merge === undefined ? {} : { merge },
    );
  },
});

/** Cuts the panel along the line that was drawn. */
export const cutDrawn = command({
  id: 'cutDrawn',
  label: (s) => cutLabels[s.drawing.way],
  enabled: (s) => (s.step === 'panels' ? reasonOf(s) : 'Lines are drawn in the Panels step.'),
  run: (s) => {
    const reason = reasonOf(s);
    if (reason !== true) return refuse(reason);
    const edit = drawnEdit(s);
    if (!edit) return refuse('That panel has changed: draw the line again.');
    const tried = tryDrawn(s);
    if (tried?.issue) return refuse(`${tried.issue.message} ${tried.issue.remedy}`);
    return change(doneLabels[edit.way], (d) => withEdit(d, (id) => ({ ...edit, id })), { select: [] });
  },
});

const isPoint = (p: FacePoint | null): p is FacePoint => p !== null;
