/** Discs, rings and straight strips: cut for themselves, with lines of their middle. */
import { type Point, point } from '../math';
import { type BarPart, type DiscPart, extraPanelId, type FoamDecisions, type PanelGuide } from '../model';
import type { Mm } from '../units';
import { type MadePart, made, stuck } from './part';
import { sagitta } from './tolerance';

/** A circle round the origin, counter-clockwise; the chords enclose its true area. */
export function circle(radius: Mm): Point[] {
  const count = Math.max(24, 4 * Math.ceil(Math.PI / (4 * Math.acos(Math.max(0, 1 - sagitta / radius)))));
  // A regular n-gon of this radius has the circle's area: n/2 · R² sin(2π/n) = π r².
  const grown = radius * Math.sqrt((2 * Math.PI) / count / Math.sin((2 * Math.PI) / count));
  return Array.from({ length: count }, (_, i) => {
    const angle = (2 * Math.PI * i) / count;
    return point(grown * Math.cos(angle), grown * Math.sin(angle));
  });
}

export function makeDisc(part: DiscPart, foam: FoamDecisions): MadePart {
  const { diameter, inner } = part;
  if (inner >= diameter)
    return stuck(part, 'its hole is as large as the disc', 'Give it a smaller hole or a larger diameter.');
  const id = extraPanelId(part.id);
  const rings = [circle(diameter / 2), ...(inner > 0 ? [circle(inner / 2).reverse()] : [])];
  // A disc has a cross in its middle; the centre of a ring is in the air, so the foam has its axes.
  const [from, to] = inner > 0 ? [inner / 2, diameter / 2] : [0, Math.min(6, diameter / 4)];
  const guides = [0, 1, 2, 3].map((k): PanelGuide => {
    const c = Math.round(Math.cos((k * Math.PI) / 2));
    const s = Math.round(Math.sin((k * Math.PI) / 2));
    return {
      id: `${id}:axis-${k}`,
      points: [point(from * c, from * s), point(to * c, to * s)],
      closed: false,
      label: '',
    };
  });
  const thickness = part.thickness ?? foam.thickness;
  return made([{ id, name: part.name, rings, quantity: part.quantity, thickness, folds: [], guides }]);
}

export function makeBar(part: BarPart, foam: FoamDecisions): MadePart {
  const id = extraPanelId(part.id);
  const { length, width } = part;
  const rings = [[point(0, 0), point(length, 0), point(length, width), point(0, width)]];
  const guides: PanelGuide[] = [
    { id: `${id}:axis`, points: [point(0, width / 2), point(length, width / 2)], closed: false, label: '' },
  ];
  const thickness = part.thickness ?? foam.thickness;
  return made([{ id, name: part.name, rings, quantity: part.quantity, thickness, folds: [], guides }]);
}
