import { useMemo } from 'react';
import { type Point3, point3 } from '../../src/math';
import { formatAngle } from '../../src/units';
import { useUnit } from '../steps/useWork';
import { type GapMark, gapWords } from './gaps';
import type { ShellModel } from './model';
import { type Sight, toScreen } from './orbit';
import { endsOf } from './painting';
import { faceAt, screenOf } from './pick';

/** A figure needs so much room, CSS pixels. */
const room = { width: 40, height: 16 } as const;
/** A corner hides a figure on it when a face lies nearer by more than this part of the size. */
const behind = 0.02;
/** Bends below this are not worth a figure. */
const leastBend = (2 * Math.PI) / 180;

interface Figure {
  readonly key: string;
  readonly text: string;
  readonly x: number;
  readonly y: number;
}

/**
 * The bends of the folds and seams that are seen, in degrees, largest first where there is no room for all. The same
 * figures are in the tables of the Foam step, so they are not read out here.
 */
export function BendFigures({
  model,
  places,
  sight,
}: {
  readonly model: ShellModel;
  readonly places: Float64Array;
  readonly sight: Sight;
}) {
  const figures = useMemo(() => bendFigures(model, places, sight), [model, places, sight]);
  return (
    <div className="shell-labels" aria-hidden="true">
      {figures.map(({ key, text, x, y }) => (
        <span key={key} className="shell-label" style={{ translate: `${x}px ${y}px` }}>
          {text}
        </span>
      ))}
    </div>
  );
}

/** How far the worst places of the dry fit gape or press. The list of the Foam step has the same figures. */
export function GapFigures({
  marks,
  model,
  places,
  sight,
}: {
  readonly marks: readonly GapMark[];
  readonly model: ShellModel;
  readonly places: Float64Array;
  readonly sight: Sight;
}) {
  const unit = useUnit();
  const screen = useMemo(() => screenOf(places, sight), [places, sight]);
  return (
    <div className="shell-labels" aria-hidden="true">
      {marks.map(({ seam, at, gap }) => {
        const { x, y, near } = toScreen(sight, at);
        const cover = faceAt(screen, model.folding.starts, x, y);
        if (cover && cover.near > near + behind * sight.radius) return null;
        return (
          <span key={seam} className="shell-spot" style={{ translate: `${x}px ${y}px` }}>
            <span className="shell-label" data-tone="look">
              {gapWords(gap, unit)}
            </span>
          </span>
        );
      })}
    </div>
  );
}

export function bendFigures(model: ShellModel, places: Float64Array, sight: Sight): Figure[] {
  const screen = screenOf(places, sight);
  const seen = new Set<string>();
  const wanted: { id: string; bend: number; at: Point3 }[] = [];
  for (const side of model.sides) {
    if (side.bend === null || Math.abs(side.bend) < leastBend) continue;
    const key = `${side.id} ${Math.min(side.from, side.to)}`;
    if (seen.has(key)) continue;
    seen.add(key);
    const [p, q] = endsOf(model, places, side);
    wanted.push({ id: key, bend: side.bend, at: point3((p.x + q.x) / 2, (p.y + q.y) / 2, (p.z + q.z) / 2) });
  }
  wanted.sort((a, b) => Math.abs(b.bend) - Math.abs(a.bend) || (a.id < b.id ? -1 : 1));
  const taken: Figure[] = [];
  for (const { id, bend, at } of wanted) {
    const { x, y, near } = toScreen(sight, at);
    if (x < 0 || y < 0 || x > sight.width || y > sight.height) continue;
    if (taken.some((t) => Math.abs(t.x - x) < room.width && Math.abs(t.y - y) < room.height)) continue;
    const cover = faceAt(screen, model.folding.starts, x, y);
    if (cover && cover.near > near + behind * sight.radius) continue;
    taken.push({ key: id, text: formatAngle(Math.round((bend * 180) / Math.PI) * (Math.PI / 180)), x, y });
  }
  return taken;
}
