import { useCallback, useEffect, useMemo, useRef, useState } from 'react';
import { formatAngle, formatLength } from '../../src/units';
import { hover, select, session, useSession } from '../document';
import { useUnit } from '../steps/useWork';
import { BrowHandles } from './BrowHandles';
import { breathingPlaces } from './breathing';
import { gapMarks, gapStretches, gapsOn } from './gaps';
import { listenToPointers } from './gestures';
import { BendFigures, GapFigures } from './Labels';
import type { ShellModel } from './model';
import { ballOf, keyed, seenFrom, sightOf, toScreen, type View } from './orbit';
import { placesOf } from './painting';
import { type Hit, pickAt, screenOf } from './pick';
import { foamOn, type Shown } from './shown';
import type { BrowInHand } from './useBrow';
import { useLayers } from './useLayers';
import { drawsOutline, layOnShell, useOutlineOnShell } from './useOutline';
import { useShellTheme, useSize, useStage } from './useStage';

export interface PictureProps {
  readonly model: ShellModel;
  readonly full: boolean;
  readonly shown: Shown;
  readonly brow: BrowInHand;
  readonly view: View;
  readonly onView: (view: View) => void;
  /** This browser draws no 3D. */
  readonly onNoPicture: () => void;
}

const reach = { mouse: 7, pen: 9, touch: 14 } as const;
const reachOf = (kind: string) => reach[kind as keyof typeof reach] ?? reach.mouse;

/** Pick names for the rest of the page: seams by their seam, folds and open edges by their own id, else the piece. */
const idOf = (model: ShellModel, hit: Hit): string => {
  const { piece, face } = model.shell.faces[hit.face]!;
  if (picksFaces()) return face;
  return hit.side ? hit.side.id : piece;
};

/** A click takes single faces, one after the other. */
export const picksFaces = (): boolean => {
  const { pickingFaces, step } = session.getState();
  return pickingFaces && step === 'panels';
};

/** The shell in 3D. */
export function ShellSurface({ model, full, shown, brow, view, onView, onNoPicture }: PictureProps) {
  const surface = useRef<HTMLDivElement>(null);
  const stage = useStage(surface);
  const size = useSize(surface);
  const theme = useShellTheme();
  const unit = useUnit();
  const hovered = useSession((s) => s.hovered);
  const selection = useSession((s) => s.selection);
  const fit = useSession((s) => s.results.fit?.shell ?? null);
  const fitAsk = useSession((s) => s.document?.decisions.fit ?? null);
  const headform = shown.head ? (fit?.headform ?? null) : null;
  const folded = shown.part === 1;

  useEffect(() => {
    if (stage === 'none') onNoPicture();
  }, [stage, onNoPicture]);
  const drawing = stage === 'none' ? null : stage;

  const places = useMemo(() => {
    if (headform && fit && fit.surfaces.inside.length === model.shell.vertices.length)
      return placesOf(model, fit.surfaces.inside);
    if (folded && shown.breath !== 0) return breathingPlaces(model, shown.breath);
    return model.folding.at(shown.part);
  }, [model, fit, headform, folded, shown.part, shown.breath]);
  // Breathing must not make the picture pump: its bounds are those of the shell at rest.
  const resting = folded && shown.breath !== 0;
  const ball = useMemo(() => ballOf(resting ? model.folding.at(1) : places), [model, places, resting]);
  const sight = useMemo(() => sightOf(view, ball, size.width, size.height), [view, ball, size]);

  useEffect(() => {
    if (drawing && size.width > 0) drawing.resize(size.width, size.height, devicePixelRatio || 1);
  }, [drawing, size]);

  const { section } = brow;
  const showsBrow = shown.brow && folded && shown.breath === 0;
  const shownSection = headform ? (fit?.insideBrow ?? null) : section;
  const browLayer = useMemo(
    () => (showsBrow && shownSection ? { section: shownSection, reach: brow.reach } : null),
    [showsBrow, shownSection, brow.reach],
  );
  const fitted = useSession((s) => gapsOn(model, s));
  const gapsShown = shown.gaps && folded && shown.breath === 0 && !headform ? fitted : null;
  const gaps = useMemo(() => gapStretches(gapsShown?.seams ?? []), [gapsShown]);
  const marks = useMemo(
    () => (gapsShown && full ? gapMarks(model.shell.vertices, gapsShown.seams, selection) : []),
    [gapsShown, full, model, selection],
  );
  const wanted = (fitAsk?.padding ?? 0) + (fitAsk?.clearance ?? 0);
  const clearances = fit?.clearances ?? null;
  const head = useMemo(
    () => (headform ? { form: headform, clearances, wanted } : null),
    [headform, clearances, wanted],
  );
  const outline = useOutlineOnShell(model, places, folded);
  const laid = useSession((s) => (shown.layers && folded && shown.breath === 0 ? foamOn(s) : null));
  useLayers({
    outline,
    laid,
    stage: drawing,
    model,
    theme,
    places,
    sight,
    full,
    folded,
    bends: shown.bends,
    gaps,
    hovered,
    selection,
    opening: shown.opening === null ? null : (model.openings[shown.opening] ?? null),
    brow: browLayer,
    head,
  });

  // Listeners live as long as the surface; they look at what is on the screen now.
  const screen = useMemo(() => screenOf(places, sight), [places, sight]);
  const now = useRef({ model, screen, view });
  now.current = { model, screen, view };
  const pick = useCallback((at: { x: number; y: number }, kind: string) => {
    const { model, screen } = now.current;
    return pickAt(screen, model.folding.starts, model.sidesOf, at, reachOf(kind));
  }, []);
  const [under, setUnder] = useState<Hit | null>(null);
  useEffect(() => {
    if (!surface.current) return;
    const stop = listenToPointers(surface.current, {
      view: () => now.current.view,
      setView: (next) => {
        now.current = { ...now.current, view: next };
        onView(next);
      },
      hover(at, kind) {
        const hit = at && kind !== 'touch' ? pick(at, kind) : null;
        setUnder((before) => (before?.face === hit?.face && before?.side === hit?.side ? before : hit));
        hover(hit ? idOf(now.current.model, hit) : null);
      },
      click(at, kind, shift) {
        const add = shift || session.getState().several;
        const hit = pick(at, kind);
        if (drawsOutline()) {
          if (hit) layOnShell(now.current.model, now.current.screen, hit, at);
          return;
        }
        if (hit) select([idOf(now.current.model, hit)], add || picksFaces() ? 'toggle' : 'replace');
        else if (!add && !picksFaces()) select([], 'replace');
      },
    });
    return () => {
      stop();
      // What the pointer was over is no longer under it.
      if (session.getState().hovered !== null) hover(null);
    };
  }, [pick, onView]);

  const words = useDelayed(seenFrom(view));
  const readout = under ? describe(model, under, (mm) => formatLength(mm, unit)) : null;
  const smallest = head?.clearances?.smallest ?? null;
  const spot = smallest ? toScreen(sight, smallest.at) : null;
  return (
    <div className="shell-picture">
      <div
        ref={surface}
        className="shell-surface"
        role="application"
        aria-label="Folded shell"
        aria-roledescription="3D view"
        aria-describedby="shell-keys"
        data-view={`${view.azimuth.toFixed(3)} ${view.elevation.toFixed(3)} ${view.zoom.toFixed(3)}`}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a drawing surface that is worked with keys
        tabIndex={0}
        onKeyDown={(e) => {
          if (e.ctrlKey || e.metaKey || e.altKey || e.target !== e.currentTarget) return;
          const next = keyed(view, e.key, e.shiftKey);
          if (!next) return;
          e.preventDefault();
          onView(next);
        }}
      >
        {shown.bends && folded && full ? <BendFigures model={model} places={places} sight={sight} /> : null}
        {marks.length > 0 ? <GapFigures marks={marks} model={model} places={places} sight={sight} /> : null}
        {spot && smallest ? (
          <span className="shell-label" data-tone="look" style={{ translate: `${spot.x}px ${spot.y}px` }}>
            {formatLength(smallest.room, unit)}
          </span>
        ) : null}
        {full && browLayer && !headform ? <BrowHandles brow={brow} sight={sight} /> : null}
      </div>
      <p id="shell-keys" className="unseen">
        Arrow keys turn the shell, plus and minus zoom, Shift and arrow keys move it, Home turns it back.
      </p>
      <p className="shell-caption">
        <span className="shell-readout">{readout ?? (full ? words : '')}</span>
        {!full && !readout && section ? (
          <span>Brow {formatLength(section.tautGirth, unit, { decimals: unit === 'mm' ? 0 : 1 })}</span>
        ) : null}
      </p>
      <p className="unseen" aria-live="polite">
        {words}.
      </p>
    </div>
  );
}

/** What is under the pointer: name, bend, and for an open edge the girth of its opening. */
function describe(model: ShellModel, { face, side }: Hit, length: (mm: number) => string): string {
  if (!side) return model.nameOf(model.shell.faces[face]!.piece);
  const name = model.nameOf(side.id);
  if (side.bend !== null) return `${name}, bend ${formatAngle(side.bend)}`;
  const opening = model.openingAt(side);
  return opening ? `${name}, opening of ${length(opening.girth)}` : name;
}

/** The text once it has stayed the same for a moment: a turn is read out when it ends. */
function useDelayed(text: string): string {
  const [said, setSaid] = useState(text);
  useEffect(() => {
    const timer = setTimeout(() => setSaid(text), 350);
    return () => clearTimeout(timer);
  }, [text]);
  return said;
}
