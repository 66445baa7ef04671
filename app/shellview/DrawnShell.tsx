import { type MouseEvent, useMemo, useRef } from 'react';
import { lineLooks, type ShellPictureStroke } from '../../src/model';
import { pictureOf } from '../../src/shell';
import { formatLength } from '../../src/units';
import { hover, select, session, useSession } from '../document';
import { useUnit } from '../steps/useWork';
import { gapSizes } from './gapSizes';
import { barApart, barHalf, type DrawnGap, drawnGaps, gapStretches, gapsOn } from './gaps';
import { drawnLines, partLines } from './onFaces';
import { keyed, pictureSight, seenFrom } from './orbit';
import { pickAt, screenOf } from './pick';
import { type PictureProps, picksFaces } from './ShellSurface';
import { foamOn } from './shown';
import { drawsOutline, layOnShell, useOutlineOnShell } from './useOutline';

/** Weights on the screen, CSS pixels. */
const weight: Readonly<Record<ShellPictureStroke['kind'], number>> = {
  rim: 2.2,
  seam: 1.6,
  mountain: 1,
  valley: 1,
  flat: 1.1,
};

const dashOf = (kind: ShellPictureStroke['kind']): readonly number[] =>
  kind === 'mountain' || kind === 'valley'
    ? lineLooks[kind].dash
    : kind === 'flat'
      ? lineLooks.softBend.dash
      : [];

/** The id of the line that an event came from. */
const lineUnder = (target: EventTarget): string | null =>
  target instanceof SVGElement ? (target.dataset.id ?? null) : null;

/** Where an event is, in the drawing's own coordinates. */
function placeIn(svg: SVGSVGElement | null, e: MouseEvent): { x: number; y: number } | null {
  const way = svg?.getScreenCTM();
  return way ? new DOMPoint(e.clientX, e.clientY).matrixTransform(way.inverse()) : null;
}

/** The shell as a drawing of lines, hidden ones left out: where the browser has no 3D. */
export function DrawnShell({ model, full, shown, brow, view, onView }: PictureProps) {
  const unit = useUnit();
  const svg = useRef<SVGSVGElement>(null);
  const hovered = useSession((s) => s.hovered);
  const selection = useSession((s) => s.selection);
  const { azimuth, elevation } = view;
  const picture = useMemo(
    () => pictureOf(model.shell, model.sides, { azimuth, elevation }),
    [model, azimuth, elevation],
  );
  const fitted = useSession((s) => gapsOn(model, s));
  const gaps = useMemo(
    () => (shown.gaps && fitted ? drawnGaps(model, gapStretches(fitted.seams), { azimuth, elevation }) : []),
    [shown.gaps, fitted, model, azimuth, elevation],
  );
  const laid = useSession((s) => (shown.layers ? foamOn(s) : null));
  const places = useMemo(() => model.folding.at(1), [model]);
  const onTop = useMemo(() => {
    const { edges, hatch } = laid ? partLines(model, places, laid) : { edges: [], hatch: [] };
    const seen = (lines: readonly number[]) => drawnLines(model, lines, { azimuth, elevation });
    return { edges: seen(edges), hatch: seen(hatch) };
  }, [laid, model, places, azimuth, elevation]);
  const outline = useOutlineOnShell(model, places, true);
  const begun = useMemo(
    () => drawnLines(model, outline, { azimuth, elevation }),
    [outline, model, azimuth, elevation],
  );
  const words = seenFrom(view);
  const lit = useMemo(() => {
    const ids = new Set<string>();
    const add = (given: string) => {
      ids.add(given);
      for (const side of model.linesOf(given)) ids.add(side.id);
      for (const face of model.facesOf(given)) for (const side of model.sidesOf(face)) ids.add(side.id);
    };
    for (const id of selection) add(id);
    if (hovered !== null) add(hovered);
    return ids;
  }, [model, hovered, selection]);
  const margin = 0.06 * Math.max(1, picture.width, picture.height);
  const box = [-margin, -margin, picture.width + 2 * margin, picture.height + 2 * margin];
  const { section } = brow;
  return (
    <div className="shell-picture">
      <div
        className="shell-surface"
        role="application"
        aria-label="Folded shell"
        aria-roledescription="drawing"
        aria-describedby="shell-keys"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a drawing that is turned with keys
        tabIndex={0}
        onPointerMove={(e) => hover(lineUnder(e.target))}
        onPointerLeave={() => hover(null)}
        onClick={(e) => {
          if (drawsOutline() || picksFaces()) {
            const at = placeIn(svg.current, e);
            const screen = screenOf(places, pictureSight(model.shell, picture, { azimuth, elevation }));
            const hit = at ? pickAt(screen, model.folding.starts, model.sidesOf, at, 0) : null;
            if (!hit || !at) return;
            if (drawsOutline()) layOnShell(model, screen, hit, at);
            else select([model.shell.faces[hit.face]!.face], 'toggle');
            return;
          }
          const id = lineUnder(e.target);
          if (e.shiftKey || session.getState().several) select(id === null ? [] : [id], 'toggle');
          else select(id === null ? [] : [id]);
        }}
        onKeyDown={(e) => {
          if (e.ctrlKey || e.metaKey || e.altKey || e.shiftKey) return;
          const next = e.key.startsWith('Arrow') || e.key === 'Home' ? keyed(view, e.key, false) : null;
          if (!next) return;
          e.preventDefault();
          onView(next);
        }}
      >
        <svg ref={svg} viewBox={box.join(' ')} role="img" aria-label={words}>
          <title>{words}</title>
          {picture.strokes.map(({ kind, from, to, id }, i) => (
            <line
              key={i}
              className="shell-stroke"
              data-lit={lit.has(id) || undefined}
              x1={from.x}
              y1={picture.height - from.y}
              x2={to.x}
              y2={picture.height - to.y}
              strokeWidth={weight[kind]}
              strokeDasharray={dashOf(kind)
                .map((d) => 1.6 * d)
                .join(' ')}
              data-id={id}
            />
          ))}
          {full ? <Lines lines={onTop.hatch} top={picture.height} look="hatch" /> : null}
          <Lines lines={onTop.edges} top={picture.height} look="laid" />
          <Lines lines={begun} top={picture.height} look="begun" />
          {gaps.map((gap, i) => (
            <GapLine key={i} gap={gap} top={picture.height} worst={gap.seam === fitted?.seams[0]?.seam} />
          ))}
        </svg>
      </div>
      <p id="shell-keys" className="unseen">
        Arrow keys turn the shell, Home turns it back.
      </p>
      <p className="shell-caption">
        <span className="shell-readout">{full ? words : ''}</span>
        {!full && section ? (
          <span>Brow {formatLength(section.tautGirth, unit, { decimals: unit === 'mm' ? 0 : 1 })}</span>
        ) : null}
      </p>
      <p className="unseen" aria-live="polite">
        {words}.
      </p>
    </div>
  );
}

/** Lines of what lies on the shell, or of an outline that is being drawn. */
function Lines({
  lines,
  top,
  look,
}: {
  readonly lines: ReturnType<typeof drawnLines>;
  readonly top: number;
  readonly look: 'hatch' | 'laid' | 'begun';
}) {
  return (
    <g className="shell-laid" data-look={look}>
      {lines.map(({ from, to }, i) => (
        <line key={i} x1={from.x} y1={top - from.y} x2={to.x} y2={top - to.y} />
      ))}
    </g>
  );
}

/** A stretch of the dry fit: dash and weight say how much, bars that it presses, a ring that it is of the worst seam. */
function GapLine({
  gap,
  top,
  worst,
}: {
  readonly gap: DrawnGap;
  readonly top: number;
  readonly worst: boolean;
}) {
  const { width, dash } = gapSizes.find(({ name }) => name === gap.size)!;
  const from = { x: gap.from.x, y: top - gap.from.y };
  const to = { x: gap.to.x, y: top - gap.to.y };
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const length = Math.hypot(dx, dy);
  const [nx, ny] = length > 0 ? [(-dy / length) * barHalf, (dx / length) * barHalf] : [0, 0];
  const bars = gap.presses ? Math.max(1, Math.round(length / barApart)) : 0;
  return (
    <g className="shell-gap" data-size={gap.size} data-presses={gap.presses || undefined}>
      <line
        x1={from.x}
        y1={from.y}
        x2={to.x}
        y2={to.y}
        strokeWidth={width}
        strokeDasharray={dash.map((d) => 1.6 * d).join(' ')}
      />
      {Array.from({ length: bars }, (_, k) => {
        const t = (k + 0.5) / bars;
        const [x, y] = [from.x + dx * t, from.y + dy * t];
        return <line key={k} x1={x - nx} y1={y - ny} x2={x + nx} y2={y + ny} strokeWidth={2} />;
      })}
      {worst ? (
        <circle cx={(from.x + to.x) / 2} cy={(from.y + to.y) / 2} r={2.5 * barHalf} strokeWidth={2} />
      ) : null}
    </g>
  );
}
