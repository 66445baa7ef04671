/** Extra parts in words and figures. Pure. */

import type { Issue } from '../../../src/base';
import type { PaddingRegion } from '../../../src/extras';
import { boxOf } from '../../../src/math';
import type { ExtraPart, FoamResult, OpeningChoice, Panel } from '../../../src/model';
import { formatLength } from '../../../src/units';
import type { NewPart } from '../../commands';
import { counted } from '../names';

type Unit = 'mm' | 'in';

export interface ExtraRow {
  readonly part: ExtraPart;
  /** Its panels, none when it can't be made. */
  readonly panels: readonly Panel[];
  readonly stuck: boolean;
  /** Sizes, e.g. "612 × 30 mm". */
  readonly size: string;
  /** What there is to say of it: how it fits, what is missing and the way out. */
  readonly findings: readonly Issue[];
}

export const kindWords: Readonly<Record<ExtraPart['kind'], string>> = {
  layer: 'Raised layer',
  band: 'Band for an opening',
  seamStrip: 'Strip along a seam',
  disc: 'Disc or ring',
  bar: 'Straight strip',
  visor: 'Visor blank',
  stencil: 'Stencil for painting',
};

export function extraRows(parts: readonly ExtraPart[], foam: FoamResult | null, unit: Unit): ExtraRow[] {
  return parts.map((part) => {
    const panels = foam?.panels.filter((p) => p.extra?.part === part.id) ?? [];
    const findings = foam?.issues.filter((i) => i.stage === 'panels' && i.place.ids?.includes(part.id)) ?? [];
    return {
      findings,
      part,
      panels,
      stuck: foam?.stuckExtras?.includes(part.id) ?? false,
      size: sizeOf(panels, unit),
    };
  });
}

function sizeOf(panels: readonly Panel[], unit: Unit): string {
  const shown = (mm: number) => formatLength(mm, unit, { decimals: unit === 'mm' ? 1 : 2 });
  const sizes = panels.slice(0, 3).map(({ outlines, quantity }) => {
    const box = boxOf(outlines.traced.flat());
    const size = `${shown(box.maxX - box.minX)} × ${shown(box.maxY - box.minY)}`;
    return quantity > 1 ? `${quantity} of ${size}` : size;
  });
  return panels.length > 3 ? `${counted(panels.length, 'part')}` : sizes.join('; ');
}

/** "Opening below, 612 mm round". */
export function openingWords({ where, girth }: OpeningChoice, unit: Unit): string {
  const place = {
    bottom: 'below',
    top: 'on top',
    front: 'in front',
    back: 'at the back',
    left: 'on the left',
    right: 'on the right',
  };
  return `Opening ${place[where]}, ${formatLength(girth, unit, { decimals: unit === 'mm' ? 0 : 1 })} round`;
}

/** The choice that a band means: that with most of its edges. −1: none. */
export const chosenOpening = (edges: readonly string[], choices: readonly OpeningChoice[]): number => {
  const own = new Set(edges);
  const shared = choices.map((c) => c.edges.filter((e) => own.has(e)).length);
  const most = Math.max(0, ...shared);
  return most === 0 ? -1 : shared.indexOf(most);
};

/** Parts to start from; every figure can be changed afterwards. */
export const startingParts = {
  band: (edges: readonly string[]): NewPart => ({
    kind: 'band',
    name: 'Band',
    thickness: null,
    edges,
    side: 'outside',
    width: 30,
    shape: 'straight',
    overlap: 20,
  }),
  seamStrip: (seams: readonly string[]): NewPart => ({
    kind: 'seamStrip',
    name: 'Seam strip',
    thickness: 2,
    seams,
    side: 'outside',
    width: 20,
  }),
  layer: (faces: readonly string[]): NewPart => ({
    kind: 'layer',
    name: 'Layer',
    thickness: null,
    faces,
    side: 'outside',
    margin: 6,
  }),
  padding: ({ name, faces }: PaddingRegion, thickness: number): NewPart => ({
    kind: 'layer',
    name: `Padding ${name.toLowerCase()}`,
    thickness,
    faces,
    side: 'inside',
    margin: 8,
  }),
  visor: (edges: readonly string[], rim: 'whole' | 'part'): NewPart => ({
    kind: 'visor',
    name: 'Visor',
    thickness: null,
    edges,
    rim,
    side: 'outside',
    margin: 12,
    eyes: null,
  }),
  disc: (): NewPart => ({ kind: 'disc', name: 'Disc', thickness: null, diameter: 40, inner: 0, quantity: 2 }),
  bar: (): NewPart => ({ kind: 'bar', name: 'Strip', thickness: null, length: 250, width: 20, quantity: 1 }),
};
