/** Closed lines drawn on the shell or its panels corner by corner, then taken as a layer or a stencil in one step. */
import type { Point } from '../../src/math';
import { boxOf } from '../../src/math';
import type { ExtraPart, FacePoint, ShellOutline } from '../../src/model';
import { facePlace, facePoint } from '../../src/panels';
import { decide, type OutlineDraft, type Session, setOutline } from '../document';
import { command, effect, refuse } from './command';
import { withNewPart } from './extras';

const here = (s: Session): true | string => {
  if (!s.document) return 'Open a pattern first.';
  if (s.step !== 'panels') return 'Outlines are drawn in the Panels step.';
  return s.results.recut && s.results.pattern ? true : 'There are no panels yet.';
};

const begun = (s: Session): true | string => (s.outline ? true : 'No outline is being drawn.');

/** Begins an outline, or the placing of a part's shape. */
export const startOutline = command<Pick<OutlineDraft, 'as' | 'places'>>({
  id: 'startOutline',
  label: () => 'Draw an outline',
  enabled: here,
  run: (s, wanted) => {
    const able = here(s);
    if (able !== true) return refuse(able);
    const { curved = false, within = 'shell' } = s.outline ?? {};
    return effect(() => setOutline({ ...wanted, curved, within, points: [], pen: penOf(s) }));
  },
});

/** The middle of the selected panel, else of the first: where the pen begins. */
function penOf(s: Session): Point {
  const pieces = s.results.recut?.pattern.pieces ?? [];
  const piece = pieces.find((p) => s.selection.includes(p.id)) ?? pieces[0];
  const box = boxOf(piece?.outline.flatMap((e) => e.points) ?? []);
  return piece ? { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 } : { x: 0, y: 0 };
}

/** The tool of the bench. */
export const outlineTool = command({
  id: 'outlineTool',
  label: () => 'Draw on the shell',
  enabled: here,
  run: (s) => (s.outline ? effect(() => {}) : startOutline.run(s, { as: 'layer', places: null })),
});

/** Where the next corner is laid by keys. */
export const moveOutlinePen = command<{ readonly pen: Point }>({
  id: 'moveOutlinePen',
  label: () => 'Move the pen',
  enabled: begun,
  run: (s, { pen }) => effect(() => s.outline && setOutline({ ...s.outline, pen })),
});

/** A corner on a face; while a shape is placed: its place. */
export const layOutline = command<{ readonly point: FacePoint }>({
  id: 'layOutline',
  label: () => 'Lay a corner of an outline',
  enabled: begun,
  run: (s, { point }) => {
    const { outline } = s;
    if (!outline) return refuse('No outline is being drawn.');
    if (outline.places !== null) return place(s, outline.places, point);
    return effect(() => setOutline({ ...outline, points: [...outline.points, point] }));
  },
});

/** The same where a panel stands on the bench. */
export const layOutlineAt = command<{ readonly at: Point }>({
  id: 'layOutlineAt',
  label: () => 'Lay a corner of an outline here',
  enabled: begun,
  run: (s, { at }) => {
    const { pattern, recut } = s.results;
    if (!pattern || !recut) return refuse('The panels are being worked out: try again.');
    for (const piece of recut.pattern.pieces) {
      const point = facePoint(pattern, recut, piece.id, at);
      const there = point ? facePlace(pattern, recut, point) : null;
      if (point && there?.panel === piece.id && Math.hypot(there.at.x - at.x, there.at.y - at.y) < onPanel)
        return layOutline.run({ ...s, outline: s.outline && { ...s.outline, pen: at } }, { point });
    }
    return refuse('Corners lie on panels: click on one.');
  },
});

/** A click so near to a panel, mm, is on it. */
const onPanel = 1;

function place(s: Session, id: string, at: FacePoint) {
  const part = s.document?.decisions.extras.parts.find((p) => p.id === id);
  const outline = part && 'outline' in part ? part.outline : undefined;
  if (!part || outline?.kind !== 'shape') return refuse('That shape is not there any more.');
  const moved = { ...part, outline: { ...outline, at } } as ExtraPart;
  return effect(() => {
    decide(`Place ${part.name}`, (d) => ({
      ...d,
      extras: { ...d.extras, parts: d.extras.parts.map((p) => (p.id === id ? moved : p)) },
    }));
    setOutline(null);
  });
}

/** Straight or curved, on one panel or over seams, what it becomes. */
export const chooseOutline = command<Partial<Pick<OutlineDraft, 'curved' | 'within' | 'as'>>>({
  id: 'chooseOutline',
  label: () => 'Kind of outline',
  enabled: begun,
  run: (s, part) => effect(() => s.outline && setOutline({ ...s.outline, ...part })),
});

export const outlineBack = command({
  id: 'outlineBack',
  label: () => 'Take the last corner back',
  enabled: (s) => ((s.outline?.points.length ?? 0) > 0 ? true : 'There is no corner yet.'),
  run: (s) => effect(() => s.outline && setOutline({ ...s.outline, points: s.outline.points.slice(0, -1) })),
});

export const dropOutline = command({
  id: 'dropOutline',
  label: () => 'Drop this outline',
  enabled: begun,
  run: () => effect(() => setOutline(null)),
});

const whole = ({ outline }: Session): true | string => {
  if (!outline) return 'No outline is being drawn.';
  return outline.points.length > 2 ? true : 'An outline needs three corners or more.';
};

/** Closes the line and makes the part. */
export const keepOutline = command({
  id: 'keepOutline',
  label: (s) => (s.outline?.as === 'stencil' ? 'Make it a stencil' : 'Make it a raised layer'),
  enabled: whole,
  run: (s) => {
    const able = whole(s);
    if (able !== true || !s.outline) return refuse(able === true ? 'No outline is being drawn.' : able);
    const { points, curved, within, as } = s.outline;
    const outline: ShellOutline = { kind: 'drawn', points, curved, within };
    return effect(() => {
      decide(as === 'stencil' ? 'Draw a stencil' : 'Draw a layer', (d) => withNewPart(d, as, outline));
      setOutline(null);
    });
  },
});
