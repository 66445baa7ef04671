import { useMemo } from 'react';
import { pictureLine, pictureName, type StepDrawer } from '../../../src/build';
import type { BuildStep } from '../../../src/model';

interface StepFigureProps {
  readonly step: BuildStep;
  readonly draw: StepDrawer;
  readonly nameOf: (panel: string) => string;
}

/** The shell so far; what is glued in this step, or where its part goes, is drawn wide. */
export function StepFigure({ step, draw, nameOf }: StepFigureProps) {
  const picture = useMemo(() => draw(step), [draw, step]);
  const { width, height, strokes } = picture;
  const line = pictureLine(step, picture);
  const said = line ? <p className="hint">{line}</p> : null;
  if (strokes.length === 0) return said;
  const path = (wanted: (s: (typeof strokes)[number]) => boolean) =>
    strokes
      .filter(wanted)
      .map((s) => `M${s.from.x} ${-s.from.y}L${s.to.x} ${-s.to.y}`)
      .join('');
  const rim = Math.max(width, height) * 0.03;
  const unit = Math.max(width, height) / 300;
  return (
    <>
      <svg
        className="step-figure"
        viewBox={`${-rim} ${-height - rim} ${width + 2 * rim} ${height + 2 * rim}`}
        role="img"
        aria-label={pictureName(step, picture, nameOf)}
        fill="none"
        stroke="currentColor"
        strokeLinecap={picture.broken ? 'butt' : 'round'}
        style={{ width: '100%', maxHeight: '16rem' }}
      >
        <path d={path((s) => !s.lit && s.kind !== 'rim')} strokeWidth={0.6 * unit} />
        <path d={path((s) => !s.lit && s.kind === 'rim')} strokeWidth={1.6 * unit} />
        <path d={path((s) => s.lit)} strokeWidth={5 * unit} />
      </svg>
      {said}
    </>
  );
}
