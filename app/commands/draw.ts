/** Lines drawn on panels: laid point by point, looked at, then cut as one step. */
import type { Point } from '../../src/math';
import type { FacePoint } from '../../src/model';
import { facePoint, nearestOnOutline } from '../../src/panels';
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

/** Cuts the panel along the line that was drawn. */
export const cutDrawn = command({
  id: 'cutDrawn',
  label: (s) => (s.drawing.way === 'slit' ? 'Cut this slit' : 'Split along this line'),
  enabled: (s) => (s.step === 'panels' ? reasonOf(s) : 'Lines are drawn in the Panels step.'),
  run: (s) => {
    const reason = reasonOf(s);
    if (reason !== true) return refuse(reason);
    const { way, curved, panel, points } = s.drawing;
    const { pattern, recut } = s.results;
    if (!pattern || !recut || panel === null) return refuse('The panels are being worked out: try again.');
    const anchors = points.map((p) => facePoint(pattern, recut, panel, p));
    if (anchors.some((a) => a === null)) return refuse('That panel has changed: draw the line again.');
    return change(
      way === 'slit' ? 'Cut a slit' : 'Split along a drawn line',
      (d) => withEdit(d, (id) => ({ kind: 'draw', id, way, curved, points: anchors.filter(isPoint) })),
      { select: [] },
    );
  },
});

const isPoint = (p: FacePoint | null): p is FacePoint => p !== null;
