import { type PointerEvent, useRef } from 'react';
import { formatAngle, formatLength } from '../../src/units';
import { useUnit } from '../steps/useWork';
import { type Sight, toScreen } from './orbit';
import { type BrowInHand, browRange } from './useBrow';
import { planeCorners } from './useLayers';

/** One arrow key's worth: a hundredth of the height, one degree. */
const keyStep = { at: 0.01, tilt: Math.PI / 180 } as const;
/** Seen from far above, travel on the screen says little about height; it counts at most so many times. */
const leastSlope = 0.35;

/** Two handles on the brow plane: its front end tilts it, its side moves it up and down. */
export function BrowHandles({ brow, sight }: { readonly brow: BrowInHand; readonly sight: Sight }) {
  const unit = useUnit();
  const start = useRef<{ y: number; value: number } | null>(null);
  const { section } = brow;
  if (!section) return null;
  const [frontRight, frontLeft, backLeft, backRight] = planeCorners(section, brow.reach);
  const between = (p: typeof frontRight, q: typeof frontRight) =>
    toScreen(sight, { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2, z: (p.z + q.z) / 2 });
  // The side that is nearer to the viewer carries the handle, so that it is never behind the shell.
  const sides = [between(frontRight, backRight), between(frontLeft, backLeft)];
  const side = sides[0]!.near >= sides[1]!.near ? sides[0]! : sides[1]!;
  const front = between(frontRight, frontLeft);
  const slope = Math.max(leastSlope, sight.axes.up.z);
  const mmPerPixel = 1 / (sight.scale * slope);

  const handle = (kind: 'at' | 'tilt', place: { x: number; y: number }, label: string, text: string) => {
    const value = brow[kind];
    // A pixel of travel in height, or in tilt by the lever of the front end.
    const perPixel = kind === 'at' ? mmPerPixel / brow.height : mmPerPixel / brow.reach;
    const { least, most } = browRange[kind];
    const move = (e: PointerEvent) => {
      if (!start.current) return;
      brow.drag({ [kind]: start.current.value + (start.current.y - e.clientY) * perPixel });
    };
    return (
      <div
        className="shell-handle"
        data-kind={kind}
        style={{ translate: `${place.x}px ${place.y}px` }}
        role="slider"
        tabIndex={0}
        aria-label={label}
        aria-orientation="vertical"
        aria-valuemin={Math.round(least * 1000) / 1000}
        aria-valuemax={Math.round(most * 1000) / 1000}
        aria-valuenow={Math.round(value * 1000) / 1000}
        aria-valuetext={text}
        title={label}
        onPointerDown={(e) => {
          if (e.button !== 0) return;
          e.currentTarget.setPointerCapture(e.pointerId);
          start.current = { y: e.clientY, value };
        }}
        onPointerMove={move}
        onPointerUp={() => {
          start.current = null;
          brow.drop();
        }}
        onPointerCancel={() => {
          start.current = null;
          brow.cancel();
        }}
        onKeyDown={(e) => {
          if (e.key === 'Escape' && start.current) {
            start.current = null;
            brow.cancel();
            e.preventDefault();
            return;
          }
          const steps = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: 5, PageDown: -5 };
          const step = steps[e.key as keyof typeof steps];
          if (step === undefined) return;
          e.preventDefault();
          brow.nudge({ [kind]: value + step * keyStep[kind] });
        }}
      >
        <span aria-hidden="true" />
      </div>
    );
  };
  const taut = formatLength(section.tautGirth, unit, { decimals: unit === 'mm' ? 0 : 1 });
  const percent = Math.round(brow.at * 100);
  return (
    <>
      {handle('at', side, 'Height of the brow plane', `${percent} % of the height, taut girth ${taut}`)}
      {handle(
        'tilt',
        front,
        'Tilt of the brow plane',
        `${formatAngle(brow.tilt)}, + higher in front, taut girth ${taut}`,
      )}
    </>
  );
}
