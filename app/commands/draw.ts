/** Lines drawn on panels: laid point by point, looked at, then cut as one step. */
import type { Point } from '../../src/math';
import type { DrawnEdit, FacePoint } from '../../src/model';
import { facePoint, nearestOnOutline, type TriedEdit, tryEdit } from '../../src/panels';
import { type DrawnDraft, type Session, setDrawing, shownIn } from '../document';
import { change, command, effect, refuse, withDocument } from './command';
import { withEdit } from './panels';

/** An end lies on the outline when it is this near, mm: rounding. */
const onOutline = 1e-6;

const isDone = (
  s: Session,
  { way, panel, points }: Pick<DrawnDraft, 'way' | 'panel' | 'points'>,
): boolean => {
  const last = points.at(-1);
  const piece = shownIn(s).pattern?.pieces.find((p) => p.id === panel);
  if (!piece || !last || points.length < 2) return false;
  return way === 'slit' || (nearestOnOutline(piece, last, 0)?.off ?? 1) <= onOutline;
};

/** The points of the line so far, where its panel stands on the bench. */
export const layLine = command<{ readonly panel: string | null; readonly points: readonly Point[] }>({
  id: 'layLine',
  label: () => 'Lay a line on a panel',
  enabled: withDocument,
  run: (s, line) => effect(() => setDrawing({ ...line, done: isDone(s, { ...s.drawing, ...line }) })),
});

/** Straight or curved, across the panel or a slit. */
export const chooseLine = command<Partial<Pick<DrawnDraft, 'way' | 'curved'>>>({
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
  return drawing.way === 'slit'
    ? 'A slit needs an end inside the panel.'
    : 'A line across a panel ends on its outline.';
};

/** The line that is drawn as an edit; null while it lacks something, or its panel is not there. */
function drawnEdit({ drawing, results }: Pick<Session, 'drawing' | 'results'>): DrawnEdit | null {
  const { way, curved, panel, points, done } = drawing;
  const { pattern, recut } = results;
  if (!done || !pattern || !recut || panel === null) return null;
  const anchors = points.map((p) => facePoint(pattern, recut, panel, p)).filter(isPoint);
  return anchors.length === points.length ? { kind: 'draw', id: tryId, way, curved, points: anchors } : null;
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

/** Cuts the panel along the line that was drawn. */
export const cutDrawn = command({
  id: 'cutDrawn',
  label: (s) => (s.drawing.way === 'slit' ? 'Cut this slit' : 'Split along this line'),
  enabled: (s) => (s.step === 'panels' ? reasonOf(s) : 'Lines are drawn in the Panels step.'),
  run: (s) => {
    const reason = reasonOf(s);
    if (reason !== true) return refuse(reason);
    const edit = drawnEdit(s);
    if (!edit) return refuse('That panel has changed: draw the line again.');
    const tried = tryDrawn(s);
    if (tried?.issue) return refuse(`${tried.issue.message} ${tried.issue.remedy}`);
    return change(
      edit.way === 'slit' ? 'Cut a slit' : 'Split along a drawn line',
      (d) => withEdit(d, (id) => ({ ...edit, id })),
      { select: [] },
    );
  },
});

const isPoint = (p: FacePoint | null): p is FacePoint => p !== null;
