import { boxOf, joinBoxes, type Point } from '../../../src/math';
import { lineLooks, type Panel } from '../../../src/model';

const path = (points: readonly Point[], closed: boolean): string =>
  points.length === 0 ? '' : `M${points.map((p) => `${p.x} ${-p.y}`).join('L')}${closed ? 'Z' : ''}`;

/** The flat part as it is cut: outline, lines on it, folds by their dash. */
export function ExtraPicture({ panels, name }: { readonly panels: readonly Panel[]; readonly name: string }) {
  const rings = panels.flatMap((p) => p.outlines.traced);
  if (rings.length === 0) return null;
  const box = rings.map(boxOf).reduce(joinBoxes);
  const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
  const rim = 0.03 * Math.max(width, height);
  const weight = Math.max(width, height) / 220;
  const dashed = (kind: 'placement' | 'mountain' | 'valley') =>
    lineLooks[kind].dash.map((d) => d * Math.max(1, weight)).join(' ');
  return (
    <svg
      viewBox={`${box.minX - rim} ${-box.maxY - rim} ${width + 2 * rim} ${height + 2 * rim}`}
      role="img"
      aria-label={`${name} laid flat`}
      fill="none"
      stroke="currentColor"
      style={{ width: '100%', maxHeight: '9rem' }}
    >
      <path d={rings.map((r) => path(r, true)).join('')} strokeWidth={1.4 * weight} />
      {panels.flatMap((p) => [
        ...(p.guides ?? []).map((g) => (
          <path
            key={g.id}
            d={path(g.points, g.closed)}
            strokeWidth={0.7 * weight}
            strokeDasharray={dashed('placement')}
          />
        )),
        ...p.folds.map((f) => (
          <path
            key={f.id}
            d={path(f.points, false)}
            strokeWidth={0.7 * weight}
            strokeDasharray={dashed(f.role === 'valley' ? 'valley' : 'mountain')}
          />
        )),
      ])}
    </svg>
  );
}
