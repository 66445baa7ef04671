import type { StepPicture } from '../../../src/build';

/** The shell so far; what is glued in this step is drawn wide. */
export function StepFigure({ picture }: { readonly picture: StepPicture }) {
  const { width, height, strokes } = picture;
  if (strokes.length === 0) return null;
  const path = (wanted: (s: (typeof strokes)[number]) => boolean) =>
    strokes
      .filter(wanted)
      .map((s) => `M${s.from.x} ${-s.from.y}L${s.to.x} ${-s.to.y}`)
      .join('');
  const rim = Math.max(width, height) * 0.03;
  const unit = Math.max(width, height) / 300;
  return (
    <svg
      className="step-figure"
      viewBox={`${-rim} ${-height - rim} ${width + 2 * rim} ${height + 2 * rim}`}
      role="img"
      aria-label="The shell so far, with the seams of this step drawn wide"
      fill="none"
      stroke="currentColor"
      strokeLinecap="round"
      style={{ width: '100%', maxHeight: '16rem' }}
    >
      <path d={path((s) => !s.lit && s.kind !== 'rim')} strokeWidth={0.6 * unit} />
      <path d={path((s) => !s.lit && s.kind === 'rim')} strokeWidth={1.6 * unit} />
      <path d={path((s) => s.lit)} strokeWidth={5 * unit} />
    </svg>
  );
}
